"""How figures of known shape stand, and how far apart they lie; polygons filled by shapely's exact areas."""

import math

import numpy as np
import pytest
import shapely

from inkline.proof.numeral import half_ink_outline, outline_distance, stance, stance_change


def filled(region, *, size=(90, 130)):
    """The picture of a shapely region: its exact area in each pixel."""
    columns, rows = np.meshgrid(np.arange(size[0]), np.arange(size[1]))
    pixels = shapely.box(columns, rows, columns + 1, rows + 1)
    return np.rint(255 * shapely.area(shapely.intersection(pixels, region))).astype(np.uint8)


def seven(*, slant_deg=0.0, scale=1.0, shift=(0.0, 0.0), origin=(40.0, 110.0), width=10.0):
    """A seven of two strokes 80 px high about its baseline point."""
    points = np.array([[-20.0, -75.0], [20.0, -75.0], [-5.0, -5.0]]) * scale
    leaning = points + np.outer(-points[:, 1] * math.tan(math.radians(slant_deg)), [1.0, 0.0])
    return filled(shapely.LineString(leaning + np.array(origin) + np.array(shift)).buffer(width / 2, cap_style="round"))


ORIGIN = (40.0, 110.0)


def test_stance_reads_top_and_bottom_to_a_tenth_of_a_pixel():
    box = filled(shapely.box(20.3, 30.25, 60.1, 99.6))
    found = stance(box, origin=(20.0, 100.0))
    assert found.top_px == pytest.approx(30.25 - 100, abs=0.1)
    assert found.bottom_px == pytest.approx(99.6 - 100, abs=0.1)
    assert found.height_px == pytest.approx(99.6 - 30.25, abs=0.15)
    assert found.lean_rad == pytest.approx(0.0, abs=1e-3)


@pytest.mark.parametrize("slant_deg", [-3.0, -0.5, 1.5, 4.0])
def test_slant_is_that_by_which_a_numeral_was_sheared(slant_deg):
    change = stance_change(stance(seven(slant_deg=slant_deg), origin=ORIGIN), stance(seven(), origin=ORIGIN))
    assert change.slant_deg == pytest.approx(slant_deg, rel=0.05, abs=0.05)
    assert change.height_share == pytest.approx(0.0, abs=0.003)


def test_a_leaning_bar_leans_by_its_angle():
    bar = filled(shapely.Polygon([(30, 110), (40, 110), (60, 10), (50, 10)]))
    assert math.tan(stance(bar, origin=ORIGIN).lean_rad) == pytest.approx(20 / 100, rel=0.01)


def test_size_and_baseline_are_shares_of_the_height():
    exact = stance(seven(), origin=ORIGIN)
    grown = stance_change(stance(seven(scale=1.05), origin=ORIGIN), exact)
    sunk = stance_change(stance(seven(shift=(0.0, 2.0)), origin=ORIGIN), exact)
    assert grown.height_share == pytest.approx(0.05 * 70 / 80, abs=0.003)
    assert sunk.baseline_share == pytest.approx(2 / 80, abs=0.001)
    assert sunk.height_share == pytest.approx(0.0, abs=0.001)
    assert sunk.slant_deg == pytest.approx(0.0, abs=0.01)


def test_stance_is_about_the_origin():
    here = stance(seven(), origin=ORIGIN)
    there = stance(seven(shift=(3.0, 4.0)), origin=(43.0, 114.0))
    assert (there.top_px, there.bottom_px) == pytest.approx((here.top_px, here.bottom_px))


def test_outline_follows_a_disc():
    places = half_ink_outline(filled(shapely.Point(45, 60).buffer(30, quad_segs=128)), origin=(45, 60))
    radii = np.hypot(*places.T)
    assert np.abs(radii - 30).max() < 0.12
    angles = np.sort(np.arctan2(places[:, 1], places[:, 0]))
    assert (30 * np.diff(angles)).max() <= 1.25


def test_outlines_reach_the_picture_edge():
    assert np.ptp(half_ink_outline(np.full((10, 20), 255, np.uint8)), axis=0) == pytest.approx([20, 10], abs=0.5)


@pytest.mark.parametrize("shift_px", [2.0, 5.0, 9.0])
def test_distance_of_concentric_discs_is_that_of_their_radii(shift_px):
    one, other = (
        half_ink_outline(filled(shapely.Point(45, 60).buffer(r, quad_segs=64))) for r in (28.0, 28.0 + shift_px)
    )
    assert outline_distance(one, other) == pytest.approx(shift_px, abs=0.15)
    assert outline_distance(other, one) == outline_distance(one, other)


def test_distance_is_a_percentile_and_forgives_few_places():
    disc = shapely.Point(45, 60).buffer(28, quad_segs=64)
    spur = shapely.union_all([disc, shapely.box(44, 85, 46, 96)])
    one, other = half_ink_outline(filled(disc)), half_ink_outline(filled(spur))
    assert outline_distance(one, one) == 0.0
    assert outline_distance(one, other, percentile=50) < 0.6
    assert outline_distance(one, other, percentile=100) == pytest.approx(8.0, abs=0.7)


def test_nothing_drawn_has_neither_stance_nor_distance():
    empty = np.zeros((20, 20), np.uint8)
    with pytest.raises(ValueError, match="no pixel of the picture is half full"):
        stance(empty, origin=(0, 0))
    with pytest.raises(ValueError, match="outlines need places, not 0 and 0"):
        outline_distance(half_ink_outline(empty), half_ink_outline(empty))
