"""Edges of straight lines whose true course is known.

The pictures are integrated here, without the ink or the raster.
"""

import math

import numpy as np
import pytest

from inkline.proof.edges import LineEdges, _residuals_of, line_edges, roughness
from inkline.proof.slices import ExactRule

LENGTH, HEIGHT, WIDTH, MIDDLE = 1500, 90, 20.83, 45.3


def picture(near, far):
    rows = np.arange(HEIGHT)[:, None]
    return np.rint(255 * (np.clip(rows + 1 - near, 0, 1) - np.clip(rows + 1 - far, 0, 1))).astype(
        np.uint8
    )


def line():
    return ExactRule(start=(0.0, MIDDLE), end=(float(LENGTH), MIDDLE), width_px=WIDTH)


def waves(amplitude, length_px, shift=0.0):
    return amplitude * np.sin(2 * np.pi * (np.arange(LENGTH) + shift) / length_px)


def test_edges_are_read_where_they_are():
    near, far = MIDDLE - WIDTH / 2 + waves(2.0, 75), MIDDLE + WIDTH / 2 + waves(1.0, 50)
    edges = line_edges(picture(near, far), line(), reach_px=30)
    kept = slice(62, LENGTH - 62)
    assert len(edges.along) == LENGTH - 124
    assert edges.length_px == pytest.approx(LENGTH - 124)
    np.testing.assert_allclose(edges.near, (near - MIDDLE)[kept], atol=0.03)
    np.testing.assert_allclose(edges.far, (far - MIDDLE)[kept], atol=0.03)
    np.testing.assert_allclose(edges.widths, (far - near)[kept], atol=0.03)
    np.testing.assert_allclose(edges.middles, (0.5 * (far + near) - MIDDLE)[kept], atol=0.03)


def test_upright_lines_are_read_as_level_ones():
    grey = picture(MIDDLE - WIDTH / 2 + waves(2.0, 75), MIDDLE + WIDTH / 2 + waves(1.0, 50))
    upright = ExactRule(start=(MIDDLE, 0.0), end=(MIDDLE, float(LENGTH)), width_px=WIDTH)
    level = line_edges(grey, line(), reach_px=30)
    turned = line_edges(np.ascontiguousarray(grey.T), upright, reach_px=30)
    np.testing.assert_array_equal(turned.near, level.near)
    np.testing.assert_array_equal(turned.far, level.far)


@pytest.mark.parametrize("amplitude", [0.3, 1.0, 2.0])
def test_a_sine_has_the_roughness_of_a_sine(amplitude):
    """A / sqrt 2 over whole periods (computed), by sums and at a threshold after a blur."""
    grey = picture(
        MIDDLE - WIDTH / 2 + waves(amplitude, 60),
        MIDDLE + WIDTH / 2 + waves(amplitude, 60, shift=15),
    )
    for reading in ("sums", "threshold"):
        rough = roughness([line_edges(grey, line(), reach_px=30, reading=reading)])
        assert rough.edge_px == pytest.approx(amplitude / math.sqrt(2), rel=0.02)
        assert rough.width_px == pytest.approx(amplitude, rel=0.02)


def test_threshold_is_a_named_share_of_ink_and_shifts_the_width():
    """On a soft edge a contour at more ink lies farther inside; sums don't know of thresholds."""
    still = np.zeros(LENGTH)
    grey = picture(MIDDLE - WIDTH / 2 + still, MIDDLE + WIDTH / 2 + still)
    widths = [
        line_edges(grey, line(), reach_px=30, reading="threshold", ink_share=share).widths.mean()
        for share in (0.4, 0.6)
    ]
    # 0.2533 deviations an edge to either side of the half (normal distribution, computed); pixels
    # add 1/12 px2 to the 1 px of blur.
    assert widths[0] - widths[1] == pytest.approx(4 * 0.2533 * math.sqrt(1 + 1 / 12), rel=0.06)
    assert line_edges(grey, line(), reach_px=30).widths.mean() == pytest.approx(WIDTH, abs=0.01)


def edges_of(near, far):
    return LineEdges(along=np.arange(float(len(near))), near=near, far=far)


def test_wobble_has_no_width_and_pressure_no_middle():
    """Correlation 1: width 0; correlation -1: middle 0 and width twice the edge.

    Source: identity of the roughness literature.
    """
    wave = waves(1.0, 50)
    wobble, pressure = (
        roughness([edges_of(wave, wave + 20)]),
        roughness([edges_of(-wave, wave + 20)]),
    )
    assert wobble.correlation == pytest.approx(1.0)
    assert wobble.width_px == pytest.approx(0.0, abs=1e-7)
    assert wobble.middle_px == pytest.approx(wobble.edge_px)
    assert pressure.correlation == pytest.approx(-1.0)
    assert pressure.middle_px == pytest.approx(0.0, abs=1e-7)
    assert pressure.width_px == pytest.approx(2 * pressure.edge_px)


def test_many_lines_give_the_mean_of_their_variances():
    rough = roughness([edges_of(waves(a, 50), waves(a, 30)) for a in (1.0, 3.0)])
    assert rough.near_px == pytest.approx(math.sqrt((1 + 9) / 2 / 2), rel=0.01)
    assert rough.edge_px == pytest.approx(math.hypot(rough.near_px, rough.far_px) / math.sqrt(2))


def test_lines_of_best_fit_are_taken_off():
    along = np.arange(200.0)
    assert _residuals_of(along, 3.0 - 0.7 * along) == pytest.approx(np.zeros(200), abs=1e-10)
    noise = np.random.default_rng(1).normal(size=200)
    expected = noise - np.polyval(np.polyfit(along, noise, 1), along)
    np.testing.assert_allclose(_residuals_of(along, noise + 0.2 * along + 5), expected, atol=1e-10)


def test_an_empty_picture_has_no_edges():
    with pytest.raises(
        ValueError, match="at least three inked columns between the cut ends, not 0"
    ):
        line_edges(np.zeros((HEIGHT, LENGTH), np.uint8), line(), reach_px=30)
