"""With all four parts at zero, what is drawn is the exact drawing.

Shapely unites it, GEOS measures each pixel. This holds for all of `ink` and the raster together, so
the file is named for what it shows.
"""

import dataclasses

import numpy as np
import pytest
import shapely

from ink_scenes import box, drawing, numeral_stroke, rule, small_grid
from inkline.drawing import Cap, Shape, Stroke
from inkline.ink.engine import draw
from inkline.ink.style import EXACT
from inkline.raster.compose import render


def exact_region(exact):
    """The union of all marks by shapely.

    Butt or round buffers of centrelines, polygons with their holes.
    """
    parts = []
    for mark in exact.marks:
        if isinstance(mark, Shape):
            rings = [shapely.Polygon(contour) for contour in mark.contours]
            region = rings[0]
            for ring in rings[1:]:
                region = region.symmetric_difference(ring)
            parts.append(region)
        else:
            parts.append(exact_stroke(mark))
    return shapely.union_all(parts)


def exact_stroke(stroke: Stroke):
    line = shapely.LinearRing(stroke.points) if stroke.closed else shapely.LineString(stroke.points)
    style = "flat" if stroke.cap is Cap.BUTT else "round"
    return line.buffer(stroke.width_px / 2, cap_style=style, join_style="round", quad_segs=256)


def exact_grey(region, canvas):
    """GEOS's area of the region in every pixel, as grey.

    Pixels away from the boundary are full or empty.
    """
    width, height = canvas
    columns, rows = np.meshgrid(np.arange(width), np.arange(height))
    pixels = shapely.box(columns.ravel(), rows.ravel(), columns.ravel() + 1, rows.ravel() + 1)
    shapely.prepare(region)
    shares = shapely.covers(region, pixels).astype(float)
    boundary = np.flatnonzero(shapely.intersects(region, pixels) & (shares == 0))
    shares[boundary] = shapely.area(shapely.intersection(pixels[boundary], region))
    return np.rint(255 * shares).reshape(height, width)


CASES = {
    "grid": small_grid(),
    "hairpin": drawing(
        "t/h",
        [numeral_stroke("t/h/1", [[60, 100], [300, 100], [300, 108], [60, 110]])],
        canvas=(360, 200),
    ),
    "figure of eight": drawing(
        "t/8",
        [numeral_stroke("t/8/1", [[60, 50], [140, 150], [60, 150], [140, 50], [62, 48]])],
        canvas=(200, 200),
    ),
    "joined strokes": drawing(
        "t/4",
        [
            numeral_stroke("t/4/1", [[100, 40], [40.3, 130.2], [150, 130.2]]),
            numeral_stroke("t/4/2", [[118.4, 70.1], [118.4, 180.9]]),
        ],
        canvas=(200, 220),
    ),
    "block": drawing("t/b", [box("t/b/1", 20.25, 30.5, 150.75, 120.1)], canvas=(200, 200)),
    "closed": drawing(
        "t/o",
        [numeral_stroke("t/o/1", [[60, 60], [140, 62], [138, 150], [58, 140]], closed=True)],
        canvas=(200, 200),
    ),
}


@pytest.mark.parametrize("exact", CASES.values(), ids=CASES.keys())
def test_a_style_at_zero_draws_the_exact_drawing(exact):
    drawn = render(draw(exact, EXACT, 1))
    reference = exact_grey(exact_region(exact), exact.canvas)
    assert np.abs(drawn - reference).max() <= 1


def test_crossings_are_neither_seams_nor_darker():
    picture = render(draw(small_grid(), EXACT, 1))
    inside = picture[230:251, 440:461]
    assert inside.max() == 255
    assert (picture[236:244, 446:455] == 255).all()


def test_a_profile_makes_a_stroke_as_wide_as_it_says():
    """A stroke from half to one and a half times nominal width has the nominal area.

    Its ends are butt, so it is a trapezium.
    """
    even = rule("t/p/1", (50.0, 80.0), (250.0, 80.0), width_px=20.0)
    swelling = dataclasses.replace(even, profile=np.array([0.5, 1.5]))
    corners = [(50.0, 75.0), (250.0, 65.0), (250.0, 95.0), (50.0, 85.0)]
    drawn = render(draw(drawing("t/p", [swelling], canvas=(300, 160)), EXACT, 1))
    assert np.abs(drawn - exact_grey(shapely.Polygon(corners), (300, 160))).max() <= 1


def test_a_profile_that_does_not_fit_is_refused():
    even = rule("t/p/1", (50.0, 80.0), (250.0, 80.0))
    with pytest.raises(ValueError, match="one finite width above 0 for each of 2 points"):
        dataclasses.replace(even, profile=np.array([1.0, 1.0, 1.0]))
    with pytest.raises(ValueError, match="one finite width above 0"):
        dataclasses.replace(even, profile=np.array([1.0, 0.0]))


def test_a_hairline_of_its_own_stays_a_line_under_a_nib_that_tapers():
    """It ends at 0.3 of the pen, within ink: at the pen's end 0.24 of it must be left."""
    nib = dataclasses.replace(EXACT.nib, ends="tapered", taper=20.0)
    style = dataclasses.replace(EXACT, nib=nib)
    even = numeral_stroke("t/p/1", [(50.0, 80.0), (250.0, 80.0)], width_px=20.0)
    hairline = dataclasses.replace(even, profile=np.array([1.0, 0.3]))
    (master,) = draw(drawing("t/p", [hairline], canvas=(300, 160)), style, 1).masters
    assert master.pressures[-1] == pytest.approx(0.24)
    (plain,) = draw(drawing("t/p", [even], canvas=(300, 160)), style, 1).masters
    assert plain.pressures[-1] < 0.24
