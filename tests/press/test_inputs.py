"""Digests of what a picture depends on: whatever changes it changes them, and nothing else does."""

import numpy as np
import pytest

from inkline.drawing import Cap, Drawing, Layer, Role, Shape, Stroke
from inkline.ink.style import EXACT
from inkline.press.inputs import drawing_digest, sheet_digest


def stroke(**changes):
    values = {
        "name": "standard/grid-5/across-1",
        "group": "standard/grid-5/across-1",
        "role": Role.RULE,
        "points": np.array([[10.0, 20.0], [150.0, 20.0]]),
        "width_px": 3.0,
        "cap": Cap.BUTT,
        "origin": (10.0, 20.0),
    }
    return Stroke(**(values | changes))


def digest_of(
    *marks,
    name="standard/grid-5",
    number=7,
    again=None,
    style=None,
    ppi=300.0,
    canvas=(160, 160),
    sheet=160.0,
):
    drawing = Drawing(
        name=name, canvas=canvas, sheet_px=sheet, layers=(Layer(name="rules", marks=marks),)
    )
    style = EXACT.to_dict() if style is None else style
    return drawing_digest(drawing, number=number, again=again or {}, style=style, ppi=ppi)


BOX = np.array([[10.0, 20.0], [150.0, 20.0], [150.0, 90.0]])


@pytest.mark.parametrize(
    "change",
    [
        {"points": np.array([[10.0, 20.0], [150.0, 20.001]])},
        {"width_px": 3.001},
        {"cap": Cap.ROUND},
        {"origin": (10.0, 20.1)},
        {"crossings": (4.0,)},
        {"room_px": (5.0, np.inf)},
        {"shared": "across"},
        {"closed": True},
        {"group": "other"},
        {"role": Role.WORD},
        {"name": "other"},
        {"profile": np.array([1.0, 1.2])},
    ],
)
def test_whatever_changes_in_a_stroke_changes_the_digest(change):
    assert digest_of(stroke()) != digest_of(stroke(**change))


@pytest.mark.parametrize(
    "change",
    [
        {"number": 8},
        {"again": {"standard/grid-5/across-1": 1}},
        {"again": {"standard": 1}},
        {"style": {}},
        {"ppi": 301.0},
        {"canvas": (161, 160)},
        {"sheet": 161.0},
        {"name": "standard/grid-6"},
    ],
)
def test_whatever_else_changes_the_picture_changes_the_digest(change):
    assert digest_of(stroke()) != digest_of(stroke(), **change)


def test_what_belongs_to_other_stamps_changes_nothing():
    assert digest_of(stroke()) == digest_of(
        stroke(), again={"standard/grid-50": 1, "tall/dates-3/17": 2}
    )
    assert digest_of(stroke()) == digest_of(
        stroke(points=np.array([[10.0, 20.0], [150.0, 20.0 + 1e-9]]))
    )


def test_shapes_count_by_their_contours():
    def shape(*contours):
        return Shape(name="b", group="b", role=Role.BLOCK, contours=contours, origin=(0.0, 0.0))

    digests = {
        digest_of(shape(BOX)),
        digest_of(shape(BOX, BOX + 1)),
        digest_of(shape(BOX + 1)),
        digest_of(stroke()),
    }
    assert len(digests) == 4


def test_sheets_depend_on_version_and_pictures():
    assert sheet_digest(1, "a", ["b"]) == sheet_digest(1, "a", ["b"])
    assert (
        len({sheet_digest(1, "a", ["b"]), sheet_digest(2, "a", ["b"]), sheet_digest(1, "a", ["c"])})
        == 3
    )
