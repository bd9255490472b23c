"""How figures of known shape stand, and how far apart they lie.

Polygons filled by shapely's exact areas.
"""

import math

import numpy as np
import pytest
import shapely

from inkline.proof.numeral import half_ink_outline, outline_distance, stance_change


def filled(region, *, size=(90, 130)):
    """The picture of a shapely region: its exact area in each pixel."""
    columns, rows = np.meshgrid(np.arange(size[0]), np.arange(size[1]))
    pixels = shapely.box(columns, rows, columns + 1, rows + 1)
    return np.rint(255 * shapely.area(shapely.intersection(pixels, region))).astype(np.uint8)


def seven(*, slant_deg=0.0, scale=1.0, shift=(0.0, 0.0), origin=(40.0, 110.0), width=10.0):
    """A seven of two strokes 80 px high about its baseline point."""
    points = np.array([[-20.0, -75.0], [20.0, -75.0], [-5.0, -5.0]]) * scale
    leaning = points + np.outer(-points[:, 1] * math.tan(math.radians(slant_deg)), [1.0, 0.0])
    return filled(
        shapely.LineString(leaning + np.array(origin) + np.array(shift)).buffer(
            width / 2, cap_style="round"
        )
    )


ORIGIN = (40.0, 110.0)
UPRIGHT = half_ink_outline(seven(), origin=ORIGIN)


@pytest.mark.parametrize("slant_deg", [-3.0, -0.5, 0.0, 1.5, 4.0])
def test_slant_is_that_by_which_a_numeral_was_sheared(slant_deg):
    change = stance_change(half_ink_outline(seven(slant_deg=slant_deg), origin=ORIGIN), UPRIGHT)
    assert change.slant_deg == pytest.approx(slant_deg, rel=0.1, abs=0.05)
    assert change.height_share == pytest.approx(0.0, abs=0.003)
    assert change.baseline_share == pytest.approx(0.0, abs=0.003)


def test_weight_alone_tells_nothing_of_slant():
    """A bar twice as heavy as the stem would tilt a slant by moments; an outline's does not."""
    heavier = stance_change(half_ink_outline(seven(width=13.0), origin=ORIGIN), UPRIGHT)
    assert heavier.weight_px == pytest.approx(1.5, abs=0.1)
    assert heavier.slant_deg == pytest.approx(0.0, abs=0.1)
    bar = shapely.LineString([(20, 35), (60, 35)]).buffer(8)
    stem = shapely.LineString([(60, 35), (35, 105)]).buffer(5)
    uneven = stance_change(
        half_ink_outline(filled(shapely.union_all([bar, stem])), origin=ORIGIN), UPRIGHT
    )
    assert abs(uneven.slant_deg) < 0.7


def test_size_and_baseline_are_shares_of_the_height():
    grown = stance_change(half_ink_outline(seven(scale=1.05), origin=ORIGIN), UPRIGHT)
    sunk = stance_change(half_ink_outline(seven(shift=(0.0, 2.0)), origin=ORIGIN), UPRIGHT)
    aside = stance_change(half_ink_outline(seven(shift=(3.0, 0.0)), origin=ORIGIN), UPRIGHT)
    assert grown.height_share == pytest.approx(0.05 * 70 / 80, abs=0.003)
    assert sunk.baseline_share == pytest.approx(2 / 80, abs=0.002)
    assert sunk.height_share == pytest.approx(0.0, abs=0.003)
    assert sunk.slant_deg == pytest.approx(0.0, abs=0.05)
    assert (aside.slant_deg, aside.height_share, aside.baseline_share) == pytest.approx(
        (0.0, 0.0, 0.0), abs=0.02
    )


def test_a_lone_stem_has_a_slant_and_a_height():
    """The width of a 1 is told by nothing, and must not spoil what is."""

    def stem(lean, height):
        ends = [(40 + lean * height, 110 - height), (40, 110)]
        return half_ink_outline(
            filled(shapely.LineString(ends).buffer(5, cap_style="round")), origin=ORIGIN
        )

    change = stance_change(stem(0.05, 84.0), stem(0.0, 80.0))
    assert math.tan(math.radians(change.slant_deg)) == pytest.approx(0.05, abs=0.002)
    assert change.height_share == pytest.approx(4 / 90, abs=0.003)


def test_a_tapered_stem_keeps_its_slant_and_its_height():
    """A fit alone would take the taper for a shrunken stem."""
    points = [(34, 30), (46, 30), (41, 110), (39, 110)]
    blunt = half_ink_outline(filled(shapely.box(34, 30, 46, 110)), origin=ORIGIN)
    change = stance_change(half_ink_outline(filled(shapely.Polygon(points)), origin=ORIGIN), blunt)
    assert change.slant_deg == pytest.approx(0.0, abs=0.2)
    assert change.height_share == pytest.approx(0.0, abs=0.01)


def test_stance_is_about_the_origin():
    there = half_ink_outline(seven(shift=(3.0, 4.0)), origin=(43.0, 114.0))
    change = stance_change(there, UPRIGHT)
    assert (change.slant_deg, change.height_share, change.weight_px) == pytest.approx(
        (0.0, 0.0, 0.0), abs=1e-3
    )


def test_outline_follows_a_disc():
    outline = half_ink_outline(
        filled(shapely.Point(45, 60).buffer(30, quad_segs=128)), origin=(45, 60)
    )
    places = outline.places
    radii = np.hypot(*places.T)
    assert (outline.normals * places).sum(axis=1) / radii == pytest.approx(1.0, abs=0.01)
    assert np.abs(radii - 30).max() < 0.12
    angles = np.sort(np.arctan2(places[:, 1], places[:, 0]))
    assert (30 * np.diff(angles)).max() <= 1.25


def test_outlines_reach_the_picture_edge():
    assert np.ptp(
        half_ink_outline(np.full((10, 20), 255, np.uint8)).places, axis=0
    ) == pytest.approx([20, 10], abs=0.5)


@pytest.mark.parametrize("shift_px", [2.0, 5.0, 9.0])
def test_distance_of_concentric_discs_is_that_of_their_radii(shift_px):
    one, other = (
        half_ink_outline(filled(shapely.Point(45, 60).buffer(r, quad_segs=64)))
        for r in (28.0, 28.0 + shift_px)
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
    nothing = half_ink_outline(np.zeros((20, 20), np.uint8))
    for measure in (stance_change, outline_distance):
        with pytest.raises(
            ValueError, match=f"outlines need places, not 0 and {len(UPRIGHT.places)}"
        ):
            measure(nothing, UPRIGHT)
