"""SVG files as this package draws them exactly, and as resvg does, an independent renderer."""

import io

import numpy as np
import resvg
from PIL import Image
from scipy.ndimage import label

from inkline.artwork.size import PictureSize
from inkline.finishing.drawn import sheet_png
from inkline.finishing.request import FinishRequest, open_finish
from inkline.ink.style import EXACT
from inkline.output.look import Ground

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


def misses(ours, theirs):
    """Whether one picture has a piece of ink of which the other has not half."""
    pieces, n = label(theirs[..., 3] > 128)
    return any(
        ours[..., 3][pieces == piece].mean() < 0.5 * theirs[..., 3][pieces == piece].mean()
        for piece in range(1, n + 1)
    )
