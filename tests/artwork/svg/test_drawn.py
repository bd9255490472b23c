"""SVG files drawn exactly, against resvg, an independent renderer of SVG 2's static part.

Only the ink is left out: a style that changes nothing draws what the reader has found.
"""

import numpy as np
import pytest
from scipy.ndimage import binary_dilation

from svg_cases import BODIES, HEAD, case
from svg_drawn import as_resvg_draws, drawn, misses


@pytest.mark.parametrize("name", BODIES)
def test_a_file_is_drawn_as_by_another_renderer(name, tmp_path):
    ours, theirs = drawn(case(name), tmp_path), as_resvg_draws(case(name))
    assert ours.shape == theirs.shape
    off = np.abs(ours - theirs).max(axis=2)
    ink = (ours[..., 3] > 2) | (theirs[..., 3] > 2)
    assert ink.any()
    assert off[binary_dilation(ink, iterations=2)].mean() < 4.0
    assert not misses(ours, theirs)
    assert not misses(theirs, ours)


def test_a_missing_shape_is_seen(tmp_path):
    both = HEAD.format(more="", body=BODIES["circle"] + '<rect width="9" height="9"/>')
    assert misses(drawn(case("circle"), tmp_path), as_resvg_draws(both))


@pytest.mark.parametrize(
    "more",
    [
        'viewBox="0 0 80 60"',
        'viewBox="10 10 100 100"',
        'viewBox="0 0 320 120" preserveAspectRatio="xMinYMax meet"',
        'viewBox="0 0 100 100" preserveAspectRatio="none"',
        'viewBox="0 0 100 100" preserveAspectRatio="xMaxYMid slice"',
    ],
)
def test_the_whole_is_fitted_as_by_another_renderer(more, tmp_path):
    text = HEAD.format(more=more, body=BODIES["hole"] + BODIES["circle line"])
    ours, theirs = drawn(text, tmp_path), as_resvg_draws(text)
    off = np.abs(ours - theirs).max(axis=2)
    ink = (ours[..., 3] > 2) | (theirs[..., 3] > 2)
    assert off[binary_dilation(ink, iterations=2)].mean() < 4.0
