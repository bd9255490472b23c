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
    """The opacity of an SVG file, drawn at a pixel to a unit of its view box.

    It is drawn finer and averaged, since resvg looks at a pixel in a few places only.
    """
    text = data.decode()
    width, height = (int(one) for one in re.search(r'viewBox="0 0 (\d+) (\d+)"', text).groups())
    sized = re.sub(
        r'width="[\d.]+mm" height="[\d.]+mm"',
        f'width="{finer * width}" height="{finer * height}"',
        text,
    )
    tree = resvg.usvg.Tree.from_str(sized, resvg.usvg.Options.default())
    with Image.open(io.BytesIO(resvg.render(tree, _AS_IT_IS))) as picture:
        fine = np.asarray(picture.getchannel("A")).astype(float)
    return fine.reshape(height, finer, width, finer).mean(axis=(1, 3))


def coverage_by_pdfium(data, page, *, ppi, finer=_FINER):
    """How dark a page of a PDF file is, 0 to 255, at `ppi` pixels per inch; drawn finer, too."""
    with pypdfium2.PdfDocument(data) as document:
        width, height = (round(side * ppi / _POINTS_PER_INCH) for side in document[page].get_size())
        bitmap = document[page].render(scale=finer * ppi / _POINTS_PER_INCH, grayscale=True)
        dark = 255.0 - bitmap.to_numpy().reshape(bitmap.height, bitmap.width)
    fine = dark[: finer * height, : finer * width]
    return fine.reshape(height, finer, width, finer).mean(axis=(1, 3))


def mean_near_ink(one, other):
    """The mean difference of two pictures over all pixels within 2 px of the ink of either."""
    near = binary_dilation((one > 0) | (other > 0), np.ones((3, 3), bool), _NEAR_PX)
    return float(np.abs(one - other)[near].mean())
