"""What stamps measure at the size of use, for pictures whose figures are known."""

import numpy as np
import pytest

from inkline.proof.at_use import figures_at_use

SIDE, PPI = 400, 300.0


def picture_of_bars(*widths):
    """Upright bars of these widths in px, far apart."""
    grey = np.zeros((SIDE, SIDE), np.uint8)
    for number, width in enumerate(widths, start=1):
        grey[40:360, 80 * number : 80 * number + width] = 255
    return grey


def figures(grey, *, used_at=25.0, **geometry):
    return figures_at_use(grey, {"name": "bars", **geometry}, used_at=used_at, ppi=PPI)


def test_strokes_of_less_than_half_a_small_px_are_lost():
    """At 25 % a pixel is the mean of 4 x 4; a bar of 1 px leaves a quarter of its ink there."""
    found = figures(picture_of_bars(1, 12))
    assert found.lost_share == pytest.approx(0.5, abs=0.05)
    assert found.contrast == pytest.approx(0.25, abs=0.01)
    assert found.thinnest_px == pytest.approx(12, abs=2)
    assert figures(picture_of_bars(4, 12)).lost_share == 0.0


@pytest.mark.parametrize(("distance_mm", "height_mm"), [(300, 1.396), (400, 1.862), (500, 2.327)])
def test_digits_are_read_from_where_they_are_16_minutes_of_arc_high(distance_mm, height_mm):
    """Heights at 16 minutes of arc, computed from the angle that ISO 9241-3 asks for."""
    height_px = height_mm / 25.4 * PPI / 0.25
    glyph = {"text": "1", "cell": [0, 0, SIDE, SIDE], "ink": [10, 10, 40, 10 + height_px]}
    found = figures(picture_of_bars(20), glyphs=[glyph])
    assert found.digit_mm == pytest.approx(height_mm, rel=1e-6)
    assert found.distance_mm == pytest.approx(distance_mm, rel=1e-3)


def test_rules_are_off_by_a_share_of_a_small_px():
    grey = picture_of_bars(8)
    line = {"from": [82.0, 40.0], "to": [82.0, 360.0], "width_px": 8.0}
    assert figures(grey, lines=[line]).register_px == pytest.approx(0.5, abs=0.01)
    assert figures(picture_of_bars(8)).register_px is None


def test_what_has_no_ink_has_no_figures():
    found = figures(np.zeros((SIDE, SIDE), np.uint8))
    assert (found.thinnest_px, found.lost_share, found.contrast) == (None, None, None)
