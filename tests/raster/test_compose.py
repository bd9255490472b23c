"""From inked marks to one picture."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from inkline.drawing import Cap, Drawing, Layer, Role, Stroke
from inkline.ink.engine import draw
from inkline.ink.style import EXACT, Paper
from inkline.raster.compose import render


def box(x0, y0, x1, y1):
    return np.array([(x0, y0), (x0, y1), (x1, y1), (x1, y0)], dtype=float)


def inked(*marks, canvas=(12, 9)):
    return SimpleNamespace(
        canvas=canvas,
        fillet_px=0.0,
        cut=None,
        marks=[SimpleNamespace(contours=contours, tooth=None) for contours in marks],
    )


def test_no_marks_make_a_black_picture():
    picture = render(inked())
    assert picture.shape == (9, 12)
    assert picture.dtype == np.uint8
    assert not picture.any()


def test_marks_side_by_side_are_both_full():
    picture = render(inked((box(1, 1, 4, 4),), (box(6, 2, 11, 8), box(8, 4, 9, 6)[::-1])))
    assert (picture[1:4, 1:4] == 255).all()
    assert picture.sum() == 255 * (9 + 30 - 2)


def test_overlapping_marks_are_one_union_without_seams():
    picture = render(inked((box(1, 1, 6, 5),), (box(4.5, 2, 11, 8),), (box(4.5, 2, 7, 3),)))
    assert (picture[1:5, 1:6] == 255).all()
    assert (picture[2:8, 6:11] == 255).all()
    assert picture[6, 4] == 128


def test_crossing_rules_meet_as_a_union():
    """Two bars with level and upright edges at quarters of a pixel.

    Their areas were worked out by hand.
    """
    picture = render(inked((box(0, 3.25, 12, 5.75),), (box(4.25, 0, 6.75, 9),)))
    assert picture[3, 4] == round(255 * (1 - 0.25 * 0.25))
    assert picture[5, 6] == round(255 * (1 - 0.25 * 0.25))
    assert picture[3, 5] == 255
    assert picture[3, 1] == round(255 * 0.75)


def stroke(name, start, end, width):
    return Stroke(
        name=name,
        group=name,
        role=Role.RULE,
        points=np.linspace(start, end, 201),
        width_px=width,
        cap=Cap.BUTT,
        origin=start,
    )


def drawn(paper, *strokes):
    drawing = Drawing(
        name="t", canvas=(1000, 400), sheet_px=2500, layers=(Layer(name="rules", marks=strokes),)
    )
    return draw(drawing, replace(EXACT, paper=paper), 5)


@pytest.mark.parametrize("dryness", [0.05, 0.15, 0.4, 0.6])
def test_tooth_leaves_the_asked_share_bare(dryness):
    """Sum of ink after over before, on a stroke of 45 000 px2: within one point."""
    rule = stroke("t/1", (40.0, 200.5), (960.0, 203.0), 49.0)
    before = render(drawn(Paper(), rule))
    after = render(drawn(Paper(dryness=dryness), rule))
    assert 1 - after.sum() / before.sum() == pytest.approx(dryness, abs=0.01)
    assert (after <= before).all()
    assert after.max() == 255


def test_bare_paper_under_one_mark_does_not_bare_the_other():
    """Where a dry rule crosses a solid one the crossing is as solid as before."""
    dry, solid = (
        drawn(Paper(dryness=0.5), stroke("t/1", (40.0, 200.0), (960.0, 200.0), 40.0)),
        drawn(Paper(), stroke("t/2", (500.0, 40.0), (500.0, 360.0), 60.0)),
    )
    both = render(replace(dry, marks=dry.marks + solid.marks))
    assert (both[40:360, 470:530] == 255).all()
    assert (both[180:220, 40:460] == render(dry)[180:220, 40:460]).all()
    assert (both[180:220, 40:460] < 255).mean() > 0.3


def test_a_dry_mark_beyond_the_canvas_leaves_nothing():
    beyond = Stroke(
        name="t/1",
        group="t/1",
        role=Role.RULE,
        points=np.array([[30.0, -40.0], [80.0, -40.0]]),
        width_px=10.0,
        cap=Cap.BUTT,
        origin=(30.0, -40.0),
    )
    layer = Layer(name="all", marks=(beyond,))
    scene = Drawing(name="t", canvas=(100, 50), sheet_px=2500.0, layers=(layer,))
    assert not render(draw(scene, replace(EXACT, paper=Paper(dryness=0.3)), 1)).any()


@pytest.mark.parametrize("medium", ["contact", "bristles", "film", "wash"])
def test_small_pictures_of_dry_ink_are_means_of_larger_ones(medium):
    drawing = Drawing(
        name="small",
        canvas=(600, 200),
        sheet_px=2500.0,
        layers=(
            Layer(
                name="all",
                marks=(
                    stroke("small/a", (30, 60), (570, 60), 26),
                    stroke("small/b", (300, 20), (300, 180), 26),
                ),
            ),
        ),
    )
    style = replace(EXACT, paper=Paper(dryness=0.3, medium=medium, grain=0.03))
    whole = draw(drawing, style, number=5)
    half = render(whole.at_scale(0.5)).astype(float)
    for times in (2, 10):
        small = render(whole.at_scale(0.5 / times))
        means = half.reshape(100 // times, times, 300 // times, times).mean(axis=(1, 3))
        assert np.abs(small - means).max() <= 0.5
    full = render(whole).reshape(10, 20, 30, 20).mean(axis=(1, 3))
    assert np.abs(small - full)[full > 0].mean() < 1.0
