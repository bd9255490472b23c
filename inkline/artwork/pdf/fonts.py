"""The codes of PDF fonts: how far each moves what follows it, and what character it stands for.

Widths are read as ISO 32000-1, 9.7.4.3 and table 111, have them, characters as 9.10.3 does.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import pikepdf
from fontTools import agl

from inkline.artwork.pdf.limits import checked_stream

_CHARACTERS = re.compile(rb"beginbfchar(.*?)endbfchar", re.DOTALL)
_RANGES = re.compile(rb"beginbfrange(.*?)endbfrange", re.DOTALL)
_PAIRS = re.compile(rb"<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>")
_TRIPLES = re.compile(rb"<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>")
_SYMBOLIC = 4
"""The flag of fonts with signs of their own (table 123)."""
_THOUSAND = 1000.0


class FontCodes:
    """The codes of one font.

    Attributes:
        n_bytes: of each code.
        is_drawn: whether its letters are little drawings, not outlines.
        signs: what codes stand for, as far as the font says it.
    """

    def __init__(self, font: Any) -> None:
        kind = "" if font is None else str(font.get("/Subtype", ""))
        self.n_bytes = 2 if kind == "/Type0" else 1
        self.is_drawn = kind == "/Type3"
        self.signs = {} if font is None else _encoded(font) | _signs(font.get("/ToUnicode"))
        self._usual: float | None = None
        self._widths: Mapping[int, float] = {}
        if kind == "/Type0":
            inner = font["/DescendantFonts"][0]
            self._usual = float(inner.get("/DW", _THOUSAND)) / _THOUSAND
            self._widths = _of_ranges(inner.get("/W"))
        elif font is not None:
            unit = float(font["/FontMatrix"][0]) if self.is_drawn else 1.0 / _THOUSAND
            first = int(font.get("/FirstChar", 0))
            listed = font.get("/Widths")
            rows = list(listed) if isinstance(listed, pikepdf.Array) else []
            self._widths = {first + at: float(width) * unit for at, width in enumerate(rows)}

    def width(self, code: int) -> float | None:
        """The width of a code in em, `None` where the font doesn't say it."""
        return self._widths.get(code, self._usual)


def _encoded(font: Any) -> dict[int, str]:
    """The characters of a font whose codes are one byte, by its encoding (9.6.6)."""
    encoding, about = font.get("/Encoding"), font.get("/FontDescriptor")
    is_symbolic = about is not None and int(about.get("/Flags", 0)) & _SYMBOLIC
    if str(font.get("/Subtype", "")) == "/Type0" or (encoding is None and is_symbolic):
        return {}
    rows, base = [], encoding
    if isinstance(encoding, pikepdf.Dictionary):
        rows, base = list(encoding.get("/Differences", [])), encoding.get("/BaseEncoding")
    table = "mac_roman" if str(base) == "/MacRomanEncoding" else "cp1252"
    found = {code: bytes([code]).decode(table, errors="ignore") for code in range(32, 256)}
    code = 0
    for row in rows:
        if isinstance(row, pikepdf.Name):
            found[code] = agl.toUnicode(str(row).removeprefix("/"))
            code += 1
        else:
            code = int(row)
    return {code: sign for code, sign in found.items() if len(sign) == 1}


def _signs(stream: Any) -> dict[int, str]:
    """The characters of a CMap from codes to Unicode, those of one character alone."""
    if not isinstance(stream, pikepdf.Stream):
        return {}
    text = checked_stream(stream).read_bytes()
    found = dict[int, str]()
    for table in _CHARACTERS.findall(text):
        found |= {int(code, 16): _sign(sign) for code, sign in _PAIRS.findall(table)}
    for table in _RANGES.findall(text):
        for first, last, sign in _TRIPLES.findall(table):
            start, place = int(first, 16), int(sign, 16)
            end = min(int(last, 16), start + 255)
            if place + end - start <= 0xFFFF:
                found |= {code: chr(place + code - start) for code in range(start, end + 1)}
    return {code: sign for code, sign in found.items() if len(sign) == 1}


def _sign(digits: bytes) -> str:
    data = bytes.fromhex(digits.decode().rjust(len(digits) + len(digits) % 2, "0"))
    return data.decode("utf-16-be", errors="ignore")


def _of_ranges(rows: Any) -> dict[int, float]:
    """The widths of an array `W`: a code and widths from it on, or two codes and the width of all.

    Raises:
        ValueError: it is none.
    """
    found, at = dict[int, float](), 0
    items = list(rows) if isinstance(rows, pikepdf.Array) else []
    while at + 1 < len(items):
        first, second = int(items[at]), items[at + 1]
        if isinstance(second, pikepdf.Array):
            found |= {
                first + step: float(width) / _THOUSAND for step, width in enumerate(list(second))
            }
            at += 2
        else:
            last = min(int(second), first + 65_536)
            found |= dict.fromkeys(range(first, last + 1), float(items[at + 2]) / _THOUSAND)
            at += 3
    return found
