"""Fonts in a PDF file: embedded ones, and one for text that is found and not shown.

ISO 32000-1, 9.6-9.10.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from io import BytesIO

import pikepdf
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.ttLib import TTFont

from inkline.output.pdf_paths import array_of, number_text

_PER_EM = 1000.0
"""Glyph space: a thousandth of the em, whatever the units of the font."""
_SYMBOLIC = 4
"""The flag of a font with characters of its own choosing; what they are is said by its map to
Unicode."""
_DESCRIBED_STEM = 80
"""Width of upright strokes that every font is described with, in thousandths of the em; from it a
reader makes up a font only where it has none."""
_CAPITALS = 700


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class EmbeddedFont:
    """A font to be embedded whole.

    Attributes:
        name: as its own name table says, without spaces.
        outlines: its CFF table.
        glyphs: number of the glyph of each character.
        advances: width of each glyph by its number, in thousandths of the em.
        box: left, bottom, right, top of all glyphs, in thousandths of the em.
        heights: ascent, descent (negative) and height of capitals, in the same.
    """

    name: str
    outlines: bytes
    glyphs: Mapping[str, int]
    advances: Sequence[float]
    box: tuple[int, int, int, int]
    heights: tuple[int, int, int]
    used: dict[int, str] = field(default_factory=dict)

    def show_operand(self, characters: Sequence[tuple[str, float]]) -> str:
        """The operand of TJ that shows `characters`, each at its own place in em.

        Raises:
            KeyError: a character that the font lacks.
        """
        parts: list[str] = []
        pen = 0.0
        for character, x_em in characters:
            glyph = self.glyphs[character]
            self.used.setdefault(glyph, character)
            step = round(pen - x_em * _PER_EM, 1)
            if step:
                parts.append(number_text(step, decimals=1))
            parts.append(f"<{glyph:04X}>")
            pen += self.advances[glyph] - step
        return f"[{' '.join(parts)}]"

    def put_into(self, file: pikepdf.Pdf) -> pikepdf.Object:
        """Put the font into `file` and give it.

        To be called when all texts are written, for it names only characters that are used.
        """
        outlines = pikepdf.Stream(file, self.outlines)
        outlines.Subtype = pikepdf.Name.CIDFontType0C
        ascent, descent, capitals = self.heights
        name = pikepdf.Name(f"/{self.name}")
        about = pikepdf.Dictionary(
            Type=pikepdf.Name.FontDescriptor,
            FontName=name,
            Flags=_SYMBOLIC,
            FontBBox=pikepdf.Array(self.box),
            ItalicAngle=0,
            Ascent=ascent,
            Descent=descent,
            CapHeight=capitals,
            StemV=_DESCRIBED_STEM,
            FontFile3=file.make_indirect(outlines),
        )
        used = sorted(self.used)
        widths = pikepdf.Array()
        for glyph in used:
            widths.append(glyph)
            widths.append(array_of((self.advances[glyph],), decimals=1))
        inner = pikepdf.Dictionary(
            Type=pikepdf.Name.Font,
            Subtype=pikepdf.Name.CIDFontType0,
            BaseFont=name,
            FontDescriptor=file.make_indirect(about),
            DW=1000,
            W=widths,
            CIDSystemInfo=pikepdf.Dictionary(Registry="Adobe", Ordering="Identity", Supplement=0),
        )
        texts = unicode_map([(glyph, self.used[glyph]) for glyph in used], digits=4)
        font = pikepdf.Dictionary(
            Type=pikepdf.Name.Font,
            Subtype=pikepdf.Name.Type0,
            BaseFont=name,
            Encoding=pikepdf.Name("/Identity-H"),
            DescendantFonts=pikepdf.Array([file.make_indirect(inner)]),
            ToUnicode=file.make_indirect(pikepdf.Stream(file, texts)),
        )
        return file.make_indirect(font)


def embedded_font(data: bytes) -> EmbeddedFont:
    """The font in the OpenType file `data`, whose outlines must be CFF.

    Raises:
        ValueError: its outlines are of another kind.
    """
    font = TTFont(BytesIO(data), lazy=True)
    if "CFF " not in font or font.reader is None:
        raise ValueError("a font to be embedded needs outlines in a CFF table")
    scale = _PER_EM / font["head"].unitsPerEm
    order, head, lines = font.getGlyphOrder(), font["head"], font["hhea"]
    capitals = getattr(font["OS/2"], "sCapHeight", 0) or lines.ascent
    return EmbeddedFont(
        name=str(font["name"].getDebugName(6)),
        outlines=font.reader["CFF "],
        glyphs={chr(code): font.getGlyphID(name) for code, name in font.getBestCmap().items()},
        advances=[font["hmtx"][name][0] * scale for name in order],
        box=(
            round(head.xMin * scale),
            round(head.yMin * scale),
            round(head.xMax * scale),
            round(head.yMax * scale),
        ),
        heights=(
            round(lines.ascent * scale),
            round(lines.descent * scale),
            round(capitals * scale),
        ),
    )


class UnseenFont:
    """A font of words that are read and not seen.

    Each of its glyphs is a box, never painted, as wide as what it stands for.
    """

    key = "Unseen"

    def __init__(self) -> None:
        """No words yet."""
        self._glyphs: dict[tuple[str, float], int] = {}

    def show_operand(self, pieces: Sequence[tuple[str, float]]) -> str:
        """The operand of Tj that stands for `pieces`: texts, each with its width in em."""
        codes = (
            self._glyphs.setdefault((text, round(width, 3)), len(self._glyphs) + 1)
            for text, width in pieces
        )
        return f"<{''.join(f'{code:04X}' for code in codes)}>"

    def put_into(self, file: pikepdf.Pdf) -> dict[str, pikepdf.Object]:
        """Put the font into `file` and give it by its key; nothing without words."""
        if not self._glyphs:
            return {}
        advances = [0.0, *(width * _PER_EM for _, width in self._glyphs)]
        font = EmbeddedFont(
            name="Unseen",
            outlines=_cff_of_boxes(advances),
            glyphs={},
            advances=advances,
            box=(0, -200, round(max(advances)), 800),
            heights=(800, -200, _CAPITALS),
            used={glyph: text for (text, _), glyph in self._glyphs.items()},
        )
        return {self.key: font.put_into(file)}


def _cff_of_boxes(advances: Sequence[float]) -> bytes:
    """A CFF table of a box a glyph, as wide as it: readers pass over words without a size."""
    pens = {
        ".notdef" if index == 0 else f"w{index}": T2CharStringPen(0, None)
        for index in range(len(advances))
    }
    for pen, width in zip(pens.values(), advances, strict=True):
        right = round(max(width, 1.0))
        pen.moveTo((0, 0))
        for corner in ((right, 0), (right, _CAPITALS), (0, _CAPITALS)):
            pen.lineTo(corner)
        pen.closePath()
    builder = FontBuilder(round(_PER_EM), isTTF=False)
    builder.setupGlyphOrder(list(pens))
    builder.setupCFF("Unseen", {}, {name: pen.getCharString() for name, pen in pens.items()}, {})
    return bytes(builder.font["CFF "].compile(builder.font))


def unicode_map(texts: Sequence[tuple[int, str]], *, digits: int) -> bytes:
    """The map from codes to texts by which a reader finds words (ISO 32000-1, 9.10.3).

    Args:
        texts: codes, each with what it stands for.
        digits: hexadecimal digits of a code, 2 or 4.
    """
    width = "FF" * (digits // 2)
    head = (
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
        "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
        f"1 begincodespacerange\n<{'0' * digits}> <{width}>\nendcodespacerange\n"
    )
    parts = []
    for first in range(0, len(texts), 100):  # a section holds at most a hundred
        some = texts[first : first + 100]
        lines = "".join(
            f"<{code:0{digits}X}> <{text.encode('utf-16-be').hex().upper()}>\n"
            for code, text in some
        )
        parts.append(f"{len(some)} beginbfchar\n{lines}endbfchar\n")
    tail = "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"
    return (head + "".join(parts) + tail).encode("ascii")
