"""Measurements of synthetic rules whose true figures are known.

The pictures are made here by integrating known profiles over pixels; nothing of the ink or the
raster takes part. Check values worked out from the definitions of ISO/IEC 13660 and 24790 (clause
texts not seen) and of SEMI P47 are marked where used.
"""

import math

import numpy as np
import pytest
from scipy.special import erf

from inkline.proof.rule import raggedness, rule_measurement
from inkline.proof.slices import ExactRule, slices_across

LENGTH, HEIGHT, WIDTH = 2000, 140, 20.83
MIDDLE = 70.3


def ink_below(edge):
    """Share of each pixel of a column below `edge`, `(HEIGHT, n)`.

    It is integrated exactly over the pixel's height.
    """
    rows = np.arange(HEIGHT)[:, None]
    return np.clip(rows + 1 - edge, 0, 1)


def picture(near, far):
    return np.rint(255 * (ink_below(near) - ink_below(far))).astype(np.uint8)


def columns():
    return np.arange(LENGTH) + 0.5


def soft_picture(line, deviation):
    """A rule whose edges are steps blurred by a Gaussian, integrated over each pixel's height."""

    def integral(distance):
        z = distance / deviation
        return distance * 0.5 * (1 + erf(z / math.sqrt(2))) + deviation * np.exp(
            -(z**2) / 2
        ) / math.sqrt(2 * math.pi)

    rows = np.arange(HEIGHT)[:, None]
    below = [
        integral(rows + 1 - line - side * WIDTH / 2) - integral(rows - line - side * WIDTH / 2)
        for side in (-1, 1)
    ]
    return np.rint(255 * (below[0] - below[1])).astype(np.uint8)


def rule(slope=0.0, width=WIDTH):
    return ExactRule(
        start=(0.0, MIDDLE), end=(float(LENGTH), MIDDLE + slope * LENGTH), width_px=width
    )


def test_exact_rule_measures_exactly():
    measured = rule_measurement(
        picture(MIDDLE - WIDTH / 2 + 0 * columns(), MIDDLE + WIDTH / 2), rule()
    )
    assert measured.offset_px == pytest.approx(0, abs=0.005)
    assert measured.drift_px == pytest.approx(0, abs=1e-9)
    assert measured.width_px == pytest.approx(WIDTH, abs=0.005)
    assert measured.raggedness_px == pytest.approx(0, abs=1e-9)
    assert measured.weight_variation == pytest.approx(0, abs=1e-9)
    assert measured.path_rms < 0.005
    assert measured.solid_share == 1


def test_moved_and_turned_rule_shows_offset_and_drift():
    middle = MIDDLE + 1.7 + 0.0015 * (columns() - LENGTH / 2)
    measured = rule_measurement(picture(middle - 8, middle + 9), rule())
    assert measured.offset_px == pytest.approx(1.7 + 0.5, abs=0.005)
    assert measured.drift_px == pytest.approx(0.0015 * LENGTH, abs=0.01)
    assert measured.width_px == pytest.approx(17, abs=0.005)


def test_upright_and_backward_rules_measure_as_level_ones():
    """Offsets keep to the page's axes.

    Drift is along the direction in which the rule was laid out.
    """
    middle = MIDDLE + 0.9 + 0.001 * (columns() - LENGTH / 2)
    grey = picture(middle - 9, middle + 9)
    level = rule_measurement(grey, rule())
    upright = rule_measurement(
        grey.T, ExactRule(start=(MIDDLE, 0), end=(MIDDLE, LENGTH), width_px=WIDTH)
    )
    backward = rule_measurement(
        grey, ExactRule(start=(LENGTH, MIDDLE), end=(0, MIDDLE), width_px=WIDTH)
    )
    assert upright == level
    assert backward.offset_px == pytest.approx(level.offset_px)
    assert backward.drift_px == pytest.approx(-level.drift_px)


@pytest.mark.parametrize("slope", [0.013, -0.02])
def test_slanted_rule_is_measured_square_to_itself(slope):
    upright_half = 0.5 * WIDTH * math.hypot(1, slope)
    middle = MIDDLE + slope * columns()
    measured = rule_measurement(picture(middle - upright_half, middle + upright_half), rule(slope))
    assert measured.width_px == pytest.approx(WIDTH, rel=1e-3)
    assert measured.offset_px == pytest.approx(0, abs=0.005)
    assert measured.raggedness_px < 0.04


@pytest.mark.parametrize("amplitude", [0.3, 1.0, 2.5])
def test_sine_edge_has_the_raggedness_of_a_sine(amplitude):
    """A / sqrt 2, from the definition of raggedness as a standard deviation.

    Source: ISO/IEC 13660, computed.
    """
    wave = amplitude * np.sin(2 * np.pi * columns() / 40)
    grey = picture(MIDDLE - WIDTH / 2 + wave, MIDDLE + WIDTH / 2 + np.roll(wave, 13))
    assert rule_measurement(grey, rule()).raggedness_px == pytest.approx(
        amplitude / math.sqrt(2), rel=0.015
    )


def test_edge_of_one_pixel_box_is_0_8_px_blurry():
    """From 10 % to 90 % of a ramp one pixel long (computed).

    A slight slope shows the edge at all places in a pixel.
    """
    slope = 0.013
    middle = MIDDLE + slope * columns()
    measured = rule_measurement(picture(middle - WIDTH / 2, middle + WIDTH / 2), rule(slope))
    assert measured.blurriness_px == pytest.approx(0.8, abs=0.01)


@pytest.mark.parametrize("deviation", [2.0, 3.0])
def test_gaussian_edge_has_known_blurriness_and_threshold_shift(deviation):
    """10-90 width 2.5631 s; the contour at 60 % ink narrows a line by 0.5067 s.

    Source: computed from the normal distribution.

    Averaging over a pixel adds 1/12 px2 to the variance.
    """
    slope = 0.007
    spread = math.sqrt(deviation**2 + 1 / 12)
    measured = rule_measurement(soft_picture(MIDDLE + slope * columns(), deviation), rule(slope))
    assert measured.blurriness_px == pytest.approx(2.5631 * spread, rel=0.01)
    assert measured.threshold_shift_px == pytest.approx(-0.5067 * spread, rel=0.03)
    assert measured.width_px == pytest.approx(WIDTH, rel=1e-3)


def test_wandering_path_is_measured_at_quarter_size():
    """A wander of 4 px amplitude is one of 1 px at a quarter, RMS 1 / sqrt 2 over whole waves.

    Its weight does not vary.
    """
    clear_length = LENGTH - 4 * WIDTH
    wander = 4 * np.sin(2 * np.pi * columns() / (clear_length / 5))
    measured = rule_measurement(
        picture(MIDDLE - WIDTH / 2 + wander, MIDDLE + WIDTH / 2 + wander), rule()
    )
    assert measured.path_rms == pytest.approx(1 / math.sqrt(2), rel=0.01)
    assert measured.weight_variation < 0.005
    assert abs(measured.offset_px) < 0.15


def test_pressure_is_measured_as_weight_variation():
    """Both edges move apart and together by A.

    The width's deviation is sqrt 2 A, here over waves long against the weight.
    """
    wave = 1.2 * np.sin(2 * np.pi * columns() / 400)
    measured = rule_measurement(
        picture(MIDDLE - WIDTH / 2 - wave, MIDDLE + WIDTH / 2 + wave), rule()
    )
    assert measured.weight_variation == pytest.approx(math.sqrt(2) * 1.2 / WIDTH, rel=0.02)
    assert measured.path_rms < 0.005


def test_edges_obey_the_identity_of_width_and_middle():
    """s_w^2 / 4 + s_c^2 = (s_L^2 + s_R^2) / 2 for any data.

    Source: line-edge-roughness literature; exact algebra.
    """
    rng = np.random.default_rng(5)
    near = MIDDLE - WIDTH / 2 + rng.normal(0, 0.8, LENGTH)
    far = MIDDLE + WIDTH / 2 + rng.normal(0, 1.3, LENGTH)
    slices = slices_across(picture(near, far), rule(), reach_px=2 * WIDTH)
    left, right = slices.edges_by_sum()
    assert np.var(right - left) / 4 + np.var((left + right) / 2) == pytest.approx(
        (np.var(left) + np.var(right)) / 2
    )
    assert np.std(left) == pytest.approx(0.8, rel=0.05)
    assert np.std(right) == pytest.approx(1.3, rel=0.05)
    np.testing.assert_allclose(left, near - MIDDLE, atol=0.03)
    np.testing.assert_allclose(right, far - MIDDLE, atol=0.03)
    np.testing.assert_allclose(right - left, slices.widths(), atol=1e-9)


def test_independent_edges_make_the_width_sqrt_2_times_as_rough_as_an_edge():
    """LWR = sqrt 2 LER for equal, uncorrelated edges, within sampling error.

    Source: line-edge-roughness literature.
    """
    rng = np.random.default_rng(6)
    near, far = (MIDDLE + side * WIDTH / 2 + rng.normal(0, 1, LENGTH) for side in (-1, 1))
    slices = slices_across(picture(near, far), rule(), reach_px=2 * WIDTH)
    assert np.std(slices.widths()) == pytest.approx(math.sqrt(2), rel=0.06)
    measured = rule_measurement(picture(near, far), rule())
    assert measured.width_deviation_px == pytest.approx(math.sqrt(2), rel=0.06)
    assert measured.raggedness_px == pytest.approx(1, rel=0.06)


def test_raggedness_fits_each_stretch_of_each_edge():
    """Steps and slopes between stretches are no raggedness."""
    along = np.arange(300.0)
    number = np.repeat([1, 2, 3], 100)
    edge = 0.01 * along * number + 7.0 * number
    assert raggedness([edge, -edge], along, number) == pytest.approx(0, abs=1e-9)
    wave = np.sqrt(2) * np.sin(2 * np.pi * along / 10)
    assert raggedness([edge + wave, edge - wave], along, number) == pytest.approx(1, rel=0.01)


def test_crossings_are_left_out_and_bridged():
    """The wander is level over the whole rule but not over what lies between the crossings."""
    wander = 3 * np.cos(2 * np.pi * columns() / 500)
    grey = picture(MIDDLE - WIDTH / 2 + wander, MIDDLE + WIDTH / 2 + wander)
    others = [ExactRule(start=(x, 5), end=(x, 135), width_px=WIDTH) for x in (500, 1000, 1500)]
    for other in others:
        x = int(other.start[0])
        grey[5:135, x - 11 : x + 11] = 255
    measured = rule_measurement(grey, rule(), others=others)
    assert measured.clear_share == pytest.approx(
        1 - (3 * (5 * WIDTH) + 4 * WIDTH) / LENGTH, abs=0.003
    )
    assert measured.width_px == pytest.approx(WIDTH, abs=0.01)
    assert abs(measured.offset_px) < 0.15
    assert abs(measured.drift_px) < 0.4
    assert measured.solid_share == 1


def test_nothing_to_read_gives_nan():
    measured = rule_measurement(np.zeros((HEIGHT, LENGTH), np.uint8), rule())
    assert all(math.isnan(getattr(measured, name)) for name in type(measured).__dataclass_fields__)


def test_rule_beyond_the_canvas_reads_no_ink_there():
    grey = np.full((20, 50), 255, np.uint8)
    slices = slices_across(grey, ExactRule(start=(-10, 5), end=(60, 5), width_px=4), reach_px=30)
    assert slices.ink.sum() == 20 * 50


def test_bare_spots_lower_the_solid_share():
    grey = picture(MIDDLE - WIDTH / 2 + 0 * columns(), MIDDLE + WIDTH / 2)
    rng = np.random.default_rng(1)
    grey[rng.random(grey.shape) < 0.1] //= 2
    assert rule_measurement(grey, rule()).solid_share == pytest.approx(0.9, abs=0.01)
