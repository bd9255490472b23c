"""SVG files drawn exactly, against resvg, an independent renderer of SVG 2's static part.

Only the ink is left out: a style that changes nothing draws what the reader has found.
"""

from pathlib import Path

import font_lato
import numpy as np
import pytest

from svg_cases import ALIKE, BODIES, HEAD, TEXTS, case
from svg_drawn import as_resvg_draws, drawn, mean_off, misses

FONT = Path(font_lato.__file__).parent / "files" / "Lato-Black.ttf"
"""So black that no pen writes its letters: they are its contours."""
AS_LARGE = 'viewBox="0 0 160 120" font-size="16"'


def in_sight(body, more=""):
    return HEAD.format(more=more, body=body)


def written(body):
    """A file with text, four times as large as its units."""
    text = in_sight(body, more=AS_LARGE)
    return text.replace('width="160" height="120"', 'width="640" height="480"', 1)


@pytest.mark.parametrize("name", BODIES)
def test_a_file_is_drawn_as_by_another_renderer(name, tmp_path):
    ours, theirs = drawn(case(name), tmp_path), as_resvg_draws(case(name))
    assert ours.shape == theirs.shape
    assert (ours[..., 3] > 2).any()
    assert mean_off(ours, theirs) < 4.0
    assert not misses(ours, theirs)
    assert not misses(theirs, ours)


def test_there_are_many_of_them():
    assert len(BODIES) >= 100


def test_a_missing_shape_is_seen(tmp_path):
    both = in_sight(BODIES["circle"] + '<rect width="9" height="9"/>')
    assert misses(drawn(case("circle"), tmp_path), as_resvg_draws(both))


@pytest.mark.parametrize("name", ALIKE)
def test_what_another_renderer_lacks_is_drawn_as_its_like(name, tmp_path):
    ours, older = ALIKE[name]
    picture = drawn(in_sight(ours), tmp_path)
    assert mean_off(picture, as_resvg_draws(in_sight(older))) < 4.0


@pytest.mark.parametrize("name", TEXTS)
def test_text_stands_where_another_renderer_sets_it(name, tmp_path):
    """In one font: letters that stand 1 px aside at this size are 20 of 255 off."""
    text = written(TEXTS[name])
    ours, theirs = drawn(text, tmp_path, font=FONT), as_resvg_draws(text, font=FONT)
    assert mean_off(ours, theirs) < 7.0
    assert not misses(ours, theirs)
    assert not misses(theirs, ours)


def test_text_that_stands_aside_is_seen(tmp_path):
    text = written(TEXTS["on a path"])
    ours, theirs = drawn(text, tmp_path, font=FONT), as_resvg_draws(text, font=FONT)
    assert mean_off(ours, np.roll(theirs, 1, axis=1)) > 9.0


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
    text = in_sight(BODIES["hole"] + BODIES["circle line"], more=more)
    assert mean_off(drawn(text, tmp_path), as_resvg_draws(text)) < 4.0
