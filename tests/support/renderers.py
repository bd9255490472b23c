"""Independent renderers of files that inkline writes: resvg and PDFium, and how alike two are."""

import io
import re

import numpy as np
import pypdfium2
import resvg
from PIL import Image
from scipy.ndimage import binary_dilation

_POINTS_PER_INCH = 72.0
_AS_IT_IS = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0)
_NEAR_PX = 2
_FINER = 3


def coverage_by_resvg(data, *, finer=_FINER):
    """The opacity of an SVG file, drawn at a pixel to a unit of its view box."""
    return _by_resvg(data, finer)[:, :, 3]


def picture_by_resvg(data, *, finer=_FINER):
    """The colours of an opaque SVG file, `(height, width, 3)`."""
    return _by_resvg(data, finer)[:, :, :3]


def _by_resvg(data, finer):
    """It is drawn finer and averaged, since resvg looks at a pixel in a few places only."""
    text = data.decode()
    width, height = (int(one) for one in re.search(r'viewBox="0 0 (\d+) (\d+)"', text).groups())
    sized = re.sub(
        r'width="[\d.]+mm" height="[\d.]+mm"',
        f'width="{finer * width}" height="{finer * height}"',
        text,
    )
    tree = resvg.usvg.Tree.from_str(sized, resvg.usvg.Options.default())
    with Image.open(io.BytesIO(resvg.render(tree, _AS_IT_IS))) as picture:
        fine = np.asarray(picture.convert("RGBA")).astype(float)
    return fine.reshape(height, finer, width, finer, 4).mean(axis=(1, 3))


def coverage_by_pdfium(data, page, *, ppi, finer=_FINER):
    """How dark a page of a PDF file is, 0 to 255, at `ppi` pixels per inch."""
    return 255.0 - _by_pdfium(data, page, ppi, finer, grayscale=True)[:, :, 0]


def picture_by_pdfium(data, page=0, *, ppi=300.0, finer=_FINER):
    """The colours of a page of a PDF file, `(height, width, 3)`."""
    return _by_pdfium(data, page, ppi, finer, rev_byteorder=True)


def _by_pdfium(data, page, ppi, finer, **how):
    """It is drawn finer and averaged, too."""
    with pypdfium2.PdfDocument(data) as document:
        width, height = (round(side * ppi / _POINTS_PER_INCH) for side in document[page].get_size())
        bitmap = document[page].render(scale=finer * ppi / _POINTS_PER_INCH, **how)
        values = bitmap.to_numpy().reshape(bitmap.height, bitmap.width, -1).astype(float)
    fine = values[: finer * height, : finer * width]
    return fine.reshape(height, finer, width, finer, -1).mean(axis=(1, 3))


def mean_near_ink(one, other):
    """The mean difference of two pictures over all pixels within 2 px of the ink of either."""
    near = binary_dilation((one > 0) | (other > 0), np.ones((3, 3), bool), _NEAR_PX)
    return float(np.abs(one - other)[near].mean())
