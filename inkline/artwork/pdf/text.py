"""The text of a PDF page, found by PDFium, to be set with letters that the user chooses."""

from __future__ import annotations

import ctypes
import math
from pathlib import Path

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium

from inkline.artwork.maps import Matrix, after, scale_of
from inkline.artwork.model import Paint, TextRun

_MOST_RUNS = 5_000


def text_runs(file: Path, page: int, matrix: Matrix) -> tuple[TextRun, ...]:
    """The runs of text on a page, in order; none where PDFium can't read it.

    Args:
        file: a PDF file.
        page: which, from 0.
        matrix: from the page's user space to px of the picture.
    """
    try:
        document = pypdfium2.PdfDocument(file)
    except pypdfium2.PdfiumError:
        return ()
    try:
        return _runs(document[page], matrix)
    except pypdfium2.PdfiumError:
        return ()
    finally:
        document.close()


def _runs(sheet: pypdfium2.PdfPage, matrix: Matrix) -> tuple[TextRun, ...]:
    letters, found = sheet.get_textpage(), list[TextRun]()
    for shown in sheet.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT]):
        run = _run(shown, letters, matrix)
        if run is not None and len(found) < _MOST_RUNS:
            found.append(run)
    return tuple(found)


def _run(
    shown: pypdfium2.PdfObject, letters: pypdfium2.PdfTextPage, matrix: Matrix
) -> TextRun | None:
    text = _text_of(shown, letters)
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


def _text_of(shown: pypdfium2.PdfObject, letters: pypdfium2.PdfTextPage) -> str:
    n_bytes = pdfium.FPDFTextObj_GetText(shown.raw, letters.raw, None, 0)
    if n_bytes <= 2:
        return ""
    buffer = (ctypes.c_ushort * (n_bytes // 2))()
    pdfium.FPDFTextObj_GetText(shown.raw, letters.raw, buffer, n_bytes)
    text = bytes(buffer).decode("utf-16-le", errors="ignore").rstrip("\x00")
    return "".join(letter for letter in text if letter.isprintable())
