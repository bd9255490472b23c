"""The paper as it is read off pictures.

How much of a stroke stays bare, against the dryness that the style asks.
"""

import dataclasses

import numpy as np
import pytest

from ink_scenes import LIVELY, box, drawing, numeral_stroke, rule
from inkline.geometry.polygon import bounds
from inkline.ink.engine import draw
from inkline.ink.inked import InkedDrawing
from inkline.ink.style import style_from_dict
from inkline.kit.letters import face_of
from inkline.kit.recipe.loading import default_recipe
from inkline.kit.stamps.catalogue import plan_by_name
from inkline.proof.picture import specks
from inkline.raster.compose import render
from inkline.styles.files import load_style, style_files

POINT = 0.01
SMALLEST_PX2 = 2000.0
STYLES = {name: load_style(path) for name, path in style_files().items()}
DRY_STYLES = {name: style for name, style in STYLES.items() if style.paper.dryness > 0.0}
BASES = {"test": style_from_dict(LIVELY, where="test")} | DRY_STYLES
SHARES = (0.05, 0.15, 0.3, 0.45, 0.6)


def with_dryness(style, dryness):
    return dataclasses.replace(
        style, paper=dataclasses.replace(style.paper, dryness=dryness, specks=0.0)
    )


def inks(scene, style, dryness, number):
    """Ink in px2 of each mark by itself, before composing, without and with dryness, `(n, 2)`."""
    drawings = [draw(scene, with_dryness(style, share), number) for share in (0.0, dryness)]
    return np.array(
        [
            [ink_alone(mark) for mark in marks]
            for marks in zip(*(d.marks for d in drawings), strict=True)
        ]
    )


def ink_alone(mark):
    """Sum of the picture of one mark, on a canvas just large enough."""
    x0, y0, x1, y1 = bounds(mark.contours)
    corner = np.floor([x0, y0]) - 1.0
    moved = dataclasses.replace(
        mark,
        contours=tuple(contour - corner for contour in mark.contours),
        origin=(mark.origin[0] - corner[0], mark.origin[1] - corner[1]),
    )
    canvas = (int(x1 - corner[0]) + 2, int(y1 - corner[1]) + 2)
    alone = InkedDrawing(name="t", canvas=canvas, marks=(moved,), masters=(), n_drawn=1)
    return render(alone).sum(dtype=np.int64) / 255


def bare_share(marks):
    """1 - ink after / before, of all marks together."""
    before, after = marks.sum(axis=0)
    return 1.0 - after / before


def bowl(radius_px):
    """A numeral's open bowl: thin, curved, its load running out along it."""
    angles = np.linspace(-2.4, 2.4, 60)
    return numeral_stroke(
        "t/3/1",
        np.column_stack((150 + radius_px * np.cos(angles), 150 + radius_px * np.sin(angles))),
    )


SCENES = {
    "rule": drawing("t", [rule("t/1", (60, 90.4), (1500, 90.4))], canvas=(1560, 180)),
    "leaning rule": drawing(
        "t", [rule("t/2", (60, 60), (500, 420), width_px=30)], canvas=(560, 480)
    ),
    "bowl": drawing("t", [bowl(80.0)], canvas=(320, 320)),
    "block": drawing("t", [box("t/b", 40.3, 40.2, 260.4, 240.9)], canvas=(300, 280)),
}


@pytest.mark.parametrize("style", BASES.values(), ids=BASES)
@pytest.mark.parametrize("scene", SCENES.values(), ids=SCENES)
def test_dryness_is_the_bare_share_of_every_stroke(scene, style):
    """Bare share is 1 - ink after / before, for single strokes of at least 2000 px2.

    Each drawing is measured by itself.
    """
    for dryness in SHARES:
        for number in range(3):
            marks = inks(scene, style, dryness, number)
            assert marks[0, 0] >= SMALLEST_PX2
            assert bare_share(marks) == pytest.approx(dryness, abs=POINT)


@pytest.mark.parametrize("style", BASES.values(), ids=BASES)
def test_dryness_is_the_bare_share_over_a_stamp_of_numerals(style):
    recipe = default_recipe()
    scene = plan_by_name(recipe, face_of(recipe), "standard/dates-3").drawing()
    for dryness in (0.2, 0.6):
        marks = inks(scene, style, dryness, 1)
        assert len(marks) > 40
        assert bare_share(marks) == pytest.approx(dryness, abs=POINT)
        for mark in marks[marks[:, 0] >= SMALLEST_PX2]:
            assert bare_share(mark[None, :]) == pytest.approx(dryness, abs=POINT)


def test_no_dryness_leaves_the_picture_as_it_is():
    scene, style = SCENES["rule"], BASES["test"]
    solid = render(draw(scene, with_dryness(style, 0.0), 1))
    other_tooth = dataclasses.replace(style.paper, dryness=0.0, tooth=3.0, softness=1.0)
    assert np.array_equal(
        solid, render(draw(scene, dataclasses.replace(style, paper=other_tooth), 1))
    )


@pytest.mark.parametrize("style", BASES.values(), ids=BASES)
def test_there_are_no_specks_unless_asked(style):
    """Ink apart from the stroke: none with `specks` at zero, some when asked."""
    scene = SCENES["rule"]

    def counted(asked):
        paper = dataclasses.replace(
            style.paper, dryness=0.0, specks=asked, speck_size=0.12, speck_reach=1.0
        )
        return len(
            specks(
                render(draw(scene, dataclasses.replace(style, paper=paper), 5)), largest_px2=400.0
            )
        )

    assert counted(0.0) == 0
    assert counted(4.0) >= 5
