"""The text of a PDF page where its steps can't be followed: each piece where PDFium has it."""

from __future__ import annotations

import ctypes
import math

import numpy as np
import pypdfium2.raw as pdfium

from inkline.artwork.maps import Matrix, after, scale_of
from inkline.artwork.model import Paint, TextRun
from inkline.artwork.pdf.letters import PageLetters

_MOST_RUNS = 5_000


def text_runs(letters: PageLetters, matrix: Matrix) -> tuple[TextRun, ...]:
    """The runs of text on a page, in order.

    Args:
        letters: of the page.
        matrix: from the page's user space to px of the picture.
    """
    found = (_run(letters, index, matrix) for index in range(min(letters.n_shows, _MOST_RUNS)))
    return tuple(run for run in found if run is not None)


def _run(letters: PageLetters, index: int, matrix: Matrix) -> TextRun | None:
    shown, text = letters.shown(index), letters.text(index)
    if not text.strip():
        return None
    place = shown.get_matrix()
    own = after(matrix, np.array([[place.a, place.c, place.e], [place.b, place.d, place.f]]))
    size = ctypes.c_float()
    pdfium.FPDFTextObj_GetFontSize(shown.raw, ctypes.byref(size))
    height = float(size.value) * scale_of(own)
    if not 0.0 < height < math.inf:
        return None
    red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
    pdfium.FPDFPageObj_GetFillColor(shown.raw, red, green, blue, alpha)
    return TextRun(
        name="",
        layer="",
        line=0,
        text=text,
        at=(float(own[0, 2]), float(own[1, 2])),
        size=height,
        anchor="start",
        turn=math.atan2(float(own[1, 0]), float(own[0, 0])),
        fill=Paint(
            red=red.value / 255.0,
            green=green.value / 255.0,
            blue=blue.value / 255.0,
            opacity=alpha.value / 255.0,
        ),
    )
