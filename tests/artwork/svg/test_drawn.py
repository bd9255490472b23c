"""SVG files drawn exactly, against resvg, an independent renderer of SVG 2's static part.

Only the ink is left out: a style that changes nothing draws what the reader has found.
"""

import io

import numpy as np
import pytest
import resvg
from PIL import Image
from scipy.ndimage import binary_dilation, label

from inkline.artwork.size import PictureSize
from inkline.finishing.drawn import sheet_png
from inkline.finishing.request import FinishRequest, open_finish
from inkline.ink.style import EXACT
from inkline.output.look import Ground
from svg_cases import BODIES, HEAD, case

AS_IT_STANDS = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0)
"""The map that changes nothing, row by row, as resvg's binding takes it."""


def drawn(text, tmp_path):
    """Red, green and blue times alpha, and alpha, 0 to 255, as this package draws a file."""
    file = tmp_path / "case.svg"
    file.write_text(text, encoding="utf-8")
    size = PictureSize(ppi=96.0)
    request = FinishRequest(files=(file,), ground=Ground.CLEAR, size=size)
    opened = open_finish(request, style=EXACT)
    return multiplied(sheet_png(opened, opened.sheets[0]))


def as_resvg_draws(text):
    tree = resvg.usvg.Tree.from_str(text, resvg.usvg.Options.default())
    return multiplied(bytes(resvg.render(tree, AS_IT_STANDS)))


def multiplied(data):
    with Image.open(io.BytesIO(data)) as picture:
        values = np.asarray(picture.convert("RGBA")).astype(np.float64)
    values[..., :3] *= values[..., 3:] / 255.0
    return values


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


def misses(ours, theirs):
    """Whether one picture has a piece of ink of which the other has not half."""
    pieces, n = label(theirs[..., 3] > 128)
    return any(
        ours[..., 3][pieces == piece].mean() < 0.5 * theirs[..., 3][pieces == piece].mean()
        for piece in range(1, n + 1)
    )


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
