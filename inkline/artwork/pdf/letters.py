"""The letters of a PDF page as PDFium knows them: characters, widths and outlines of its fonts."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium

from inkline.artwork.pdf.path import PdfPath

_LINE, _CURVE, _MOVE = 0, 1, 2
"""Kinds of steps of an outline (fpdfview.h, FPDF_SEGMENT_*)."""


class PageLetters:
    """What the steps of a page that show text show, by their order on it.

    Attributes:
        n_shows: how many there are, those within forms included.
    """

    def __init__(self, sheet: pypdfium2.PdfPage) -> None:
        self._page = sheet.get_textpage()
        self._shows = list(sheet.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT]))
        self._paths = dict[tuple[int, str], PdfPath]()
        self._signs = dict[tuple[int, int], str]()
        self.n_shows = len(self._shows)

    def shown(self, index: int) -> pypdfium2.PdfObject:
        """What PDFium makes of a step."""
        return self._shows[index]

    def text(self, index: int) -> str:
        """The characters that a step shows, those alone that are seen or are blanks."""
        return "".join(sign for sign in self._raw_text(index) if sign.isprintable())

    def _raw_text(self, index: int) -> str:
        shown = self._shows[index]
        n_bytes = pdfium.FPDFTextObj_GetText(shown.raw, self._page.raw, None, 0)
        if n_bytes <= 2:
            return ""
        buffer = (ctypes.c_ushort * (n_bytes // 2))()
        pdfium.FPDFTextObj_GetText(shown.raw, self._page.raw, buffer, n_bytes)
        return bytes(buffer).decode("utf-16-le", errors="ignore").rstrip("\x00")

    def signs(self, index: int, codes: Sequence[int]) -> tuple[str, ...] | None:
        """The character of each code that a step shows; `None` where that isn't known.

        PDFium tells the text of a whole step; a code that stands for two characters hides which
        is whose, unless each code was met elsewhere.
        """
        text, (_, font) = self._raw_text(index), self._font(index)
        if len(text) == len(codes):
            found = zip(codes, text, strict=True)
            self._signs |= {(font, code): sign for code, sign in found}
        known = [self._signs.get((font, code)) for code in codes]
        return None if None in known else tuple(sign or "" for sign in known)

    def width(self, index: int, code: int) -> float:
        """How wide a code of one byte is, in em, in a font that no file says the widths of.

        Those are the fonts that every reader of PDF files has, with western letters (9.6.2.2).
        """
        font, _ = self._font(index)
        sign = bytes([code]).decode("cp1252", errors="replace")
        width = ctypes.c_float()
        pdfium.FPDFFont_GetGlyphWidth(font, ord(sign), 1.0, ctypes.byref(width))
        return float(width.value)

    def outline(self, index: int, sign: str) -> PdfPath:
        """The outline of a character in a step's font, in em, y up."""
        handle, font = self._font(index)
        if (font, sign) not in self._paths:
            self._paths[font, sign] = _path(pdfium.FPDFFont_GetGlyphPath(handle, ord(sign), 1.0))
        return self._paths[font, sign]

    def _font(self, index: int) -> tuple[Any, int]:
        """The font of a step, and a number that it alone has."""
        font = pdfium.FPDFTextObj_GetFont(self._shows[index].raw)
        return font, ctypes.cast(font, ctypes.c_void_p).value or 0


def _path(glyph: Any) -> PdfPath:
    path, controls = PdfPath(), list[float]()
    if not glyph:
        return path
    for number in range(pdfium.FPDFGlyphPath_CountGlyphSegments(glyph)):
        step = pdfium.FPDFGlyphPath_GetGlyphPathSegment(glyph, number)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(step, ctypes.byref(x), ctypes.byref(y))
        kind, at = pdfium.FPDFPathSegment_GetType(step), (float(x.value), float(y.value))
        if kind == _MOVE:
            path.move(*at)
        elif kind == _LINE:
            path.line(*at)
        elif kind == _CURVE:
            controls += at
            if len(controls) == 6:
                path.curve(*controls)
                controls.clear()
        if pdfium.FPDFPathSegment_GetClose(step):
            path.close()
    return path


@contextmanager
def opened_letters(file: Path, page: int) -> Iterator[PageLetters | None]:
    """The letters of a page, counted from 0; `None` where PDFium can't read it."""
    try:
        document = pypdfium2.PdfDocument(file)
    except pypdfium2.PdfiumError:
        yield None
        return
    try:
        try:
            letters = PageLetters(document[page])
        except pypdfium2.PdfiumError:
            letters = None
        yield letters
    finally:
        document.close()
