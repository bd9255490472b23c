"""Strokes and styles at their limits draw without error.

Their contours are finite and simple and keep their ink. What breaks at a limit may lie in any
module of `ink`, so the file is named for what it tries.
"""

import dataclasses

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from ink_scenes import LIVELY, box, drawing, numeral_stroke, rule
from inkline.drawing import Role
from inkline.geometry.polygon import total_area
from inkline.ink.engine import draw
from inkline.ink.inked import united_contours
from inkline.ink.style import EXACT, Edge, Firmness, Hand, Nib, Paper, Style, style_from_dict
from inkline.raster.compose import render

PX_PER_MM = 2500 / 84
EVERYTHING = style_from_dict(
    {
        **LIVELY,
        "hand": {
            **LIVELY["hand"],
            "hook": "0.2 mm",
            "lift_every": "20 mm",
            "lift_jump": "80 um",
            "from_far_end": 0.5,
        },
        "nib": {**LIVELY["nib"], "contrast": 0.4, "ends": "tapered"},
        "edge": {
            **LIVELY["edge"],
            "events": 2.0,
            "creep": "60 um",
            "spread": "20 um",
            "fillet": "0.2 mm",
        },
        "paper": {"dryness": 0.2, "streaks": 0.5, "rim": 1.0, "emptying": 1.0, "specks": 4.0},
    },
    where="test",
)


def circle(radius, n_points=120):
    angles = np.linspace(0, 2 * np.pi, n_points, endpoint=False)
    return 150 + radius * np.column_stack((np.cos(angles), np.sin(angles)))


MARKS = {
    "a rule of 20 000 px": rule("t/1", (50.0, 100.0), (20050.0, 100.0)),
    "a stroke 1 px wide": numeral_stroke("t/1", [[50, 50], [200, 60], [220, 200]], width_px=1.0),
    "three points": numeral_stroke("t/1", [[50, 50], [51, 50], [51, 51]]),
    "a closed circle": numeral_stroke("t/1", circle(60.0), closed=True),
    "a closed circle no wider than its pen": numeral_stroke("t/1", circle(8.0), closed=True),
    "a circle that runs over its start": numeral_stroke(
        "t/1", np.concatenate((circle(60.0), circle(60.0)[:9]))
    ),
    "a hairpin": numeral_stroke("t/1", [[50, 50], [250, 50], [250, 51], [50, 52]]),
    "back over itself": numeral_stroke("t/1", [[50, 50], [250, 50], [60, 50]]),
    "a block": box("t/1", 40, 40, 260, 240),
    "a sliver": box("t/1", 40, 40, 260, 41),
}


@pytest.mark.parametrize("mark", MARKS.values(), ids=MARKS.keys())
@pytest.mark.parametrize("style", [EXACT, EVERYTHING], ids=["exact", "everything at once"])
def test_hard_marks_draw(mark, style):
    canvas = (
        (20100, 200)
        if "20 000" in next(name for name, one in MARKS.items() if one is mark)
        else (300, 300)
    )
    inked = draw(drawing("t", [mark], canvas=canvas), style, 3)
    contours = united_contours(inked)
    assert all(np.isfinite(contour).all() for contour in contours)
    assert total_area(contours) > 0
    assert render(inked).max() > 0


@pytest.mark.parametrize("part", ["hand", "nib", "edge", "paper"])
def test_each_part_alone_can_be_zero(part):
    style = dataclasses.replace(EVERYTHING, **{part: getattr(EXACT, part)})
    marks = [
        rule("t/1", (30, 40), (270, 40)),
        numeral_stroke("t/2/1", [[50, 80], [200, 90], [120, 250]]),
    ]
    assert render(draw(drawing("t", marks, canvas=(300, 300)), style, 1)).max() == 255


def test_raggedness_of_half_the_width_leaves_a_stroke():
    width_mm = 18.0 / PX_PER_MM
    rough = dataclasses.replace(
        EXACT, edge=Edge(raggedness=0.5 * width_mm, correlation=0.2, liveliness=1.0)
    )
    inked = draw(drawing("t", [rule("t/1", (50, 50), (650, 50))]), rough, 2)
    assert total_area(united_contours(inked)) > 0.3 * 600 * 18


styles = st.builds(
    Style,
    hand=st.builds(
        Hand,
        speed=st.floats(1, 500),
        drift=st.floats(0, 2),
        drift_length=st.floats(0.5, 100),
        tremor=st.floats(0, 0.3),
        stray=st.floats(0.01, 3),
        pinned=st.floats(0, 1),
        run_over=st.floats(0, 2),
        fall_short=st.floats(0, 2),
        hook=st.floats(0, 1),
        from_far_end=st.floats(0, 1),
        lift_every=st.floats(0, 30),
        tilt=st.floats(0, 10),
        size_play=st.floats(0, 0.1),
        bounce=st.floats(0, 1),
    ),
    nib=st.builds(
        Nib,
        pressure=st.floats(0, 0.5),
        touchdown=st.floats(-0.9, 1),
        lift=st.floats(-0.9, 1),
        pooling=st.floats(0, 1),
        contrast=st.floats(0, 0.9),
        ends=st.sampled_from(["own", "round", "blunt", "tapered"]),
    ),
    edge=st.builds(
        Edge,
        raggedness=st.floats(0, 0.5),
        correlation=st.floats(0.02, 3),
        exponent=st.floats(0.1, 1),
        liveliness=st.floats(0, 1),
        softening=st.floats(0, 0.5),
        events=st.floats(0, 5),
        creep=st.floats(0, 0.3),
        fillet=st.floats(0, 0.5),
    ),
    paper=st.builds(
        Paper,
        dryness=st.sampled_from([0.0, 0.1, 0.5]),
        streaks=st.floats(0, 1),
        rim=st.floats(-2, 2),
        specks=st.floats(0, 5),
    ),
    firmness=st.builds(Firmness, rule=st.floats(0, 1), numeral=st.floats(0, 1)),
)


@settings(max_examples=150, deadline=None)
@given(styles, st.integers(0, 10**6), st.floats(1.0, 60.0))
def test_any_style_draws_any_stroke(style, number, width_px):
    """A few hundred each run; many thousands were tried once."""
    marks = [
        rule("t/1", (30, 40), (270, 40), width_px=width_px, crossings=[60, 120]),
        numeral_stroke("t/2/1", [[50, 80], [200, 90], [120, 250], [60, 90]], width_px=width_px),
        dataclasses.replace(box("t/3", 60, 60, 220, 230), role=Role.BLOCK),
    ]
    inked = draw(drawing("t", marks, canvas=(300, 300)), style, number)
    contours = united_contours(inked)
    assert all(np.isfinite(contour).all() for contour in contours)
    for contour in contours:
        assert shapely.LinearRing(contour).length > 0
    assert render(inked).dtype == np.uint8
