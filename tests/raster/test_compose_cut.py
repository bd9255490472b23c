"""What is left on each pixel when white is cut out of ink.

It is held against areas by GEOS (through shapely) and against the pictures of both.
"""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.drawing import Cap, Drawing, Layer, Leaves, Role, Shape, Stroke
from inkline.ink.engine import draw
from inkline.ink.style import EXACT, Edge, Hand, Nib, Paper
from inkline.raster.compose import render

CANVAS = (60, 44)
LIVELY = replace(
    EXACT,
    name="lively",
    hand=Hand(drift=0.15, stray=0.4),
    nib=Nib(pressure=0.1),
    edge=Edge(raggedness=0.03, softening=0.05),
)
DRY = replace(LIVELY, paper=Paper(dryness=0.3))


def block(x0, y0, x1, y1, name="t/blocks/r1c1"):
    contour = np.array([(x1, y0), (x1, y1), (x0, y1), (x0, y0)], dtype=float)
    return Shape(name=name, group=name, role=Role.BLOCK, contours=(contour,), origin=(x0, y0))


def stroke(points, width, name="t/dates-1/7/1"):
    return Stroke(
        name=name,
        group=name.rsplit("/", 1)[0],
        role=Role.NUMERAL,
        points=np.array(points, dtype=float),
        width_px=width,
        cap=Cap.BUTT,
        origin=points[0],
    )


def scene(ink, cut, *, canvas=CANVAS):
    layers = (
        Layer(name="ink", marks=tuple(ink)),
        Layer(name="cut", marks=tuple(cut), leaves=Leaves.WHITE),
    )
    return Drawing(name="t/cut", canvas=canvas, sheet_px=2500.0, layers=layers)


def alone(marks, *, canvas=CANVAS):
    return Drawing(
        name="t/alone",
        canvas=canvas,
        sheet_px=2500.0,
        layers=(Layer(name="ink", marks=tuple(marks)),),
    )


def areas(shape, canvas=CANVAS):
    """Area of `shape` on each pixel, 0 to 1."""
    x, y = np.meshgrid(np.arange(canvas[0]), np.arange(canvas[1]))
    return shapely.area(shapely.intersection(shapely.box(x, y, x + 1, y + 1), shape))


def exact(mark):
    if isinstance(mark, Stroke):
        return shapely.LineString(mark.points).buffer(
            mark.width_px / 2, cap_style="flat", join_style="mitre"
        )
    return shapely.Polygon(mark.contours[0])


coordinate = st.floats(2.0, 40.0)


@settings(max_examples=25, deadline=None)
@given(
    x=coordinate,
    y=coordinate,
    dx=st.floats(3.0, 30.0),
    dy=st.floats(-20.0, 30.0),
    width=st.floats(2.0, 9.0),
)
def test_what_is_left_is_the_exact_difference_of_areas(x, y, dx, dy, width):
    """Nothing is lost where the cut runs over the block's edge.

    A product of coverages would be off there by up to a quarter.
    """
    ink = (block(5.3, 6.2, 29.6, 35.7), block(33.1, 6.2, 55.4, 35.7, name="t/blocks/r1c2"))
    cut = (stroke([(x, y), (x + dx, y + dy)], width),)
    picture = render(draw(scene(ink, cut), EXACT, 3))
    left = shapely.difference(shapely.union_all([exact(mark) for mark in ink]), exact(cut[0]))
    assert np.abs(picture - 255 * areas(left)).max() <= 1.01


def test_a_product_of_coverages_would_fail_that():
    """Nothing is left on a pixel whose left half is covered and cut.

    A product of coverages would leave a quarter.
    """
    ink, cut = (block(5.0, 5.0, 20.5, 30.0),), (stroke([(20.25, 8.0), (20.25, 20.0)], 0.5),)
    assert render(draw(scene(ink, cut), EXACT, 1))[12, 20] == 0
    assert render(draw(alone(ink), EXACT, 1))[12, 20] == 128


@pytest.mark.parametrize(
    "style", [EXACT, LIVELY, DRY], ids=lambda style: f"{style.name}-{style.paper.dryness}"
)
def test_inside_a_block_the_picture_is_the_block_times_what_the_cut_leaves(style):
    canvas = (700, 500)
    ink, cut = (block(80.2, 60.3, 620.4, 430.8),), (stroke([(200.0, 140.0), (480.0, 360.0)], 30.0),)
    got = render(draw(scene(ink, cut, canvas=canvas), style, 5)).astype(float)
    whole, out = (
        render(draw(alone(marks, canvas=canvas), style, 5)).astype(float) for marks in (ink, cut)
    )
    assert np.abs(got - whole * (1.0 - out / 255.0)).max() <= 1.0
    assert (got < whole).sum() > 5000


def test_what_the_paper_leaves_bare_in_a_numeral_is_not_cut():
    canvas = (700, 500)
    ink, cut = (block(80.2, 60.3, 620.4, 430.8),), (stroke([(200.0, 140.0), (480.0, 360.0)], 60.0),)
    drawing = scene(ink, cut, canvas=canvas)
    got = render(draw(drawing, EXACT, 5, cut_style=replace(EXACT, paper=Paper(dryness=0.3))))
    smooth = render(draw(drawing, EXACT, 5))
    gone, most = int((got < 128).sum()), int((smooth < 128).sum())
    outside = 700 * 500 - int((render(draw(alone(ink, canvas=canvas), EXACT, 5)) >= 128).sum())
    assert (gone - outside) / (most - outside) == pytest.approx(0.7, abs=0.02)


def test_a_cut_beside_the_ink_takes_nothing():
    ink, cut = (block(5.0, 5.0, 20.0, 30.0),), (stroke([(30.0, 8.0), (50.0, 20.0)], 6.0),)
    assert np.array_equal(render(draw(scene(ink, cut), DRY, 1)), render(draw(alone(ink), DRY, 1)))


def test_a_cut_in_nothing_leaves_nothing():
    assert not render(draw(scene((), (stroke([(30.0, 8.0), (50.0, 20.0)], 6.0),)), EXACT, 1)).any()


def test_a_hole_of_the_cut_stays_ink():
    """As the counters of an 8 do."""
    corners = [(12.0, 10.0), (40.0, 10.0), (40.0, 34.0), (12.0, 34.0)]
    ring = replace(stroke(corners, 6.0), closed=True)
    picture = render(draw(scene((block(2.0, 2.0, 58.0, 42.0),), (ring,)), EXACT, 1))
    assert (picture[16:28, 18:34] == 255).all()
    assert (picture[9:11, 14:38] == 0).all()


def test_masters_of_both_are_kept_in_the_drawing_s_order_and_used_again():
    ink, cut = (block(5.0, 5.0, 20.0, 30.0),), (stroke([(30.0, 8.0), (50.0, 20.0)], 6.0),)
    first = draw(scene(ink, cut), LIVELY, 1)
    assert (len(first.masters), first.n_drawn) == (2, 2)
    kept = {master.key: master for master in first.masters}
    again = draw(scene(ink, cut), LIVELY, 1, kept=kept)
    assert again.n_drawn == 0
    assert [master.key for master in again.masters] == [master.key for master in first.masters]
    assert np.array_equal(render(first), render(again))
    assert draw(alone(cut), LIVELY, 1).masters[0].key == first.masters[1].key


def test_layers_that_leave_white_come_last():
    white, ink = Layer(name="w", marks=(), leaves=Leaves.WHITE), Layer(name="i", marks=())
    with pytest.raises(
        ValueError,
        match=r"drawing 't' has ink over a layer that leaves white, which must come last",
    ):
        Drawing(name="t", canvas=(1, 1), sheet_px=1.0, layers=(ink, white, ink))
    assert (
        Drawing(name="t", canvas=(1, 1), sheet_px=1.0, layers=(ink, white, white)).marks_that_leave(
            Leaves.INK
        )
        == ()
    )
