"""Unions by stitching, against GEOS (through shapely) and against the general union."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.geometry import stitching
from inkline.geometry.polygon import total_area
from inkline.geometry.stitching import united_shapes
from inkline.geometry.union import union_of_contours

# Places on a grid of 1/64 px: GEOS divides by zero, with a warning, where two coordinates differ by
# a denormal number.
PLACES = st.integers(0, 100 * 64).map(lambda steps: steps / 64)


def region(contours):
    """The contours as a GEOS geometry.

    They lie apart, so what is inside an odd number of them is ink.
    """
    whole = shapely.Polygon()
    for contour in contours:
        whole = whole.symmetric_difference(shapely.Polygon(contour))
    return whole


def blob(x, y, radius, seed, n_points=40):
    """A star-shaped contour about a centre, positive, with a rough edge."""
    angles = np.linspace(0, 2 * np.pi, n_points, endpoint=False)
    radii = radius * (1 + 0.3 * np.random.default_rng(seed).uniform(-1, 1, n_points))
    return np.column_stack((x + radii * np.cos(angles), y + radii * np.sin(angles)))


def box(x0, y0, x1, y1):
    return np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]], dtype=float)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(
        st.tuples(PLACES, PLACES, st.floats(1, 40), st.integers(0, 999)), min_size=1, max_size=7
    )
)
def test_rough_blobs_unite_as_geos_unites_them(places):
    blobs = [blob(*place) for place in places]
    result = united_shapes([[contour] for contour in blobs])
    reference = shapely.union_all([shapely.Polygon(contour) for contour in blobs])
    assert region(result).symmetric_difference(reference).area < 1e-5 * max(reference.area, 1)
    assert total_area(result) == pytest.approx(reference.area, rel=1e-6, abs=1e-5)


def test_rings_keep_their_holes_and_lose_what_lies_in_ink(monkeypatch):
    monkeypatch.setattr(
        stitching, "union_of_contours", None
    )  # the general union must not be needed
    ring = [blob(50, 50, 40, 1), blob(50, 50, 15, 2)[::-1]]
    bar, dot_in_hole, dot_in_ink = (
        [box(2.5, 47.1, 99.2, 52.3)],
        [blob(50, 60, 2, 3)],
        [blob(50.3, 76.7, 2, 4)],
    )
    result = united_shapes([ring, bar, dot_in_hole, dot_in_ink])
    reference = shapely.union_all(
        [
            shapely.Polygon(ring[0], [ring[1]]),
            *(shapely.Polygon(shape[0]) for shape in (bar, dot_in_hole, dot_in_ink)),
        ]
    )
    assert region(result).symmetric_difference(reference).area < 1e-9
    assert len(result) == 4  # outside, two halves of the hole, and the dot in it


def test_a_grid_of_bars_has_a_hole_for_every_cell():
    bars = [[box(10.1, y, 90.3, y + 4)] for y in (20.2, 40.7, 60.9)]
    bars += [[box(x, 10.4, x + 4, 80.6)] for x in (20.3, 50.8, 70.9)]
    result = united_shapes(bars)
    assert len(result) == 5
    assert total_area(result) == pytest.approx(
        shapely.union_all([shapely.Polygon(bar[0]) for bar in bars]).area
    )


@pytest.mark.parametrize(
    "shapes",
    [
        pytest.param([[box(0, 0, 10, 10)], [box(0, 0, 10, 10)]], id="the same"),
        pytest.param([[box(0, 0, 10, 10)], [box(10, 0, 20, 10)]], id="an edge in common"),
        pytest.param([[box(0, 0, 10, 10)], [box(5, 10, 8, 14)]], id="edges on each other"),
        pytest.param([[box(0, 0, 10, 10)], [box(10, 10, 20, 20)]], id="a corner in common"),
    ],
)
def test_what_is_not_in_general_position_goes_to_the_general_union(shapes):
    expected = union_of_contours([contour for shape in shapes for contour in shape])
    assert total_area(united_shapes(shapes)) == pytest.approx(total_area(expected))


def test_nothing_and_one_shape():
    assert united_shapes([]) == ()
    (only,) = united_shapes([[box(0, 0, 2, 2)]])
    assert only.tolist() == box(0, 0, 2, 2).tolist()
