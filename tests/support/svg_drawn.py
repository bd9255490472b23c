"""SVG files as this package draws them exactly, and as resvg does, an independent renderer."""

import io

import numpy as np
import resvg
from fontTools.ttLib import TTFont
from PIL import Image
from scipy.ndimage import binary_dilation, label

from inkline.artwork.size import PictureSize
from inkline.finishing.drawn import sheet_png
from inkline.finishing.request import FinishRequest, open_finish
from inkline.ink.style import EXACT
from inkline.output.look import Ground

AS_IT_STANDS = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0)
"""The map that changes nothing, row by row, as resvg's binding takes it."""


def drawn(text, tmp_path, *, font=None):
    """Red, green and blue times alpha, and alpha, 0 to 255, as this package draws a file.

    Its text is in a font file, or in a family of this package.
    """
    file = tmp_path / "case.svg"
    file.write_text(text, encoding="utf-8")
    size = PictureSize(ppi=96.0)
    request = FinishRequest(files=(file,), ground=Ground.CLEAR, size=size, font=font)
    opened = open_finish(request, style=EXACT)
    return multiplied(sheet_png(opened, opened.sheets[0]))


def as_resvg_draws(text, *, font=None):
    """The same of resvg, with text in a font file; without one it draws none."""
    options = resvg.usvg.Options.default()
    if font is not None:
        options.load_font_file(str(font))
        with TTFont(font) as names:
            options.font_family = names["name"].getBestFamilyName()
    tree = resvg.usvg.Tree.from_str(text, options)
    return multiplied(bytes(resvg.render(tree, AS_IT_STANDS)))


def multiplied(data):
    with Image.open(io.BytesIO(data)) as picture:
        values = np.asarray(picture.convert("RGBA")).astype(np.float64)
    values[..., :3] *= values[..., 3:] / 255.0
    return values


def mean_off(ours, theirs):
    """How far two pictures differ on the mean within 2 px of the ink of either, 0 to 255."""
    off = np.abs(ours - theirs).max(axis=2)
    ink = (ours[..., 3] > 2) | (theirs[..., 3] > 2)
    return float(off[binary_dilation(ink, iterations=2)].mean())


def misses(ours, theirs):
    """Whether one picture has a piece of ink of which the other has not half."""
    pieces, n = label(theirs[..., 3] > 128)
    return any(
        ours[..., 3][pieces == piece].mean() < 0.5 * theirs[..., 3][pieces == piece].mean()
        for piece in range(1, n + 1)
    )
