"""Font files: TrueType and OpenType, plain or packed as WOFF or WOFF2, as faces of filled contours.

Outlines are read by fontTools and united, shaping is HarfBuzz's. A variable font is used at the
axis values asked for, by default at its default instance. Nothing is hinted.
"""

from __future__ import annotations

import hashlib
import logging
import unicodedata
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cached_property, partial
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from inkline.drawing import Play
from inkline.geometry.polygon import bounds
from inkline.geometry.union import union_of_contours
from inkline.lettering.errors import FontError, MissingGlyphError
from inkline.lettering.face import FLATTENING_EM, Figures, Glyph, PlacedGlyph
from inkline.lettering.font_bytes import as_font_error, bytes_of_font, checked_axes, unpacked_font
from inkline.lettering.opened import OpenedFaces
from inkline.lettering.outline import FlatteningPen
from inkline.lettering.profiles import inked_runs
from inkline.lettering.scripts import buffer_of

if TYPE_CHECKING:
    import uharfbuzz
    from fontTools.ttLib import TTFont

# fontTools reports oddities of a font to its log; without a handler Python prints them on standard
# error, where the user expects one sentence or none.
logging.getLogger("fontTools").addHandler(logging.NullHandler())

_NO_AXES: Mapping[str, float] = {}
"""A variable font as its maker has it by default."""

_COLLECTION_TAG = b"ttcf"
_OUTLINE_TABLES = ("glyf", "CFF ", "CFF2")
_UNITS_PER_EM = range(16, 16385)
"""What the OpenType specification allows (head table)."""
_FEATURES = {"kern": True, "rand": 0, "liga": False, "clig": False, "dlig": False, "hlig": False}
"""Features with which text is shaped, on or off.
Kerned; every letter for itself, so that each can be drawn and moved alone; no alternates by chance,
so that a rebuild repeats."""
_WIDTH_FEATURES: dict[Figures, dict[str, bool]] = {
    Figures.LINING: {},
    Figures.TABULAR: {"tnum": True},
    Figures.PROPORTIONAL: {"pnum": True},
}
_LINING_SPREAD_EM = 0.06
"""How much the tops, or feet, of lining figures may differ, in em.
Theirs differ by overshoot only, some 0.02 em; those of old-style figures by 0.15 em and more."""
_STEM_LETTERS = "lI1"
"""Letters with an upright stem, the surest first.
Measured at half their height, above any foot and below any flag."""
_TYPICAL_STEM = 1 / 8
_TYPICAL_CAP_HEIGHT_EM = 0.7


@dataclass(frozen=True, kw_only=True, eq=False)
class Font:
    """An open font; glyphs are read, flattened and united when first asked for. It is a `Face`.

    Attributes:
        name: its full name, or the file's where it has none.
        path: the file.
        units_per_em: font units in an em.
    """

    name: str
    path: Path
    units_per_em: int
    _file: TTFont
    _shaper: uharfbuzz.Font
    _outlines: Any
    _glyph_order: list[str]
    _cmap: dict[int, str]
    _glyphs: dict[str, Glyph] = field(default_factory=dict, repr=False)

    @property
    def own_stem_em(self) -> float | None:
        """None: contours know no pen."""
        return None

    @property
    def is_drawn_with_pen(self) -> bool:
        """False: its glyphs are filled contours."""
        return False

    @property
    def lift_em(self) -> float:
        """0: its letters keep to their line."""
        return 0.0

    def play_of(self, character: str) -> Play | None:  # noqa: ARG002
        """None: contours keep their form."""
        return None

    @cached_property
    def cap_height_em(self) -> float:
        """Height of the H's ink above the baseline, else what the font says (sCapHeight), else 0.7.

        Measured first, because what fonts say is often a few units off their letters.
        """
        with self._as_own_error("has an OS/2 table that cannot be read"):
            said = getattr(self._file.get("OS/2"), "sCapHeight", 0)
        return self._top_em(
            "H", float(said) / self.units_per_em if said > 0 else _TYPICAL_CAP_HEIGHT_EM
        )

    @cached_property
    def digit_height_em(self) -> float:
        """Height of the lining 7's ink above the baseline, else the capitals' height."""
        return self._top_em("7", self.cap_height_em)

    @cached_property
    def nominal_stem_em(self) -> float:
        """Width of l, I or 1 at half its height; without them, an eighth of the capitals'."""
        for character in _STEM_LETTERS:
            contours = self.glyph(character).contours if self.has(character) else ()
            if contours:
                _, bottom, _, top = bounds(contours)
                runs = inked_runs(contours, height=0.5 * (bottom + top))
                return float(np.min(runs[:, 1] - runs[:, 0]))
        return _TYPICAL_STEM * self.cap_height_em

    @cached_property
    def _lining_feature(self) -> dict[str, bool]:
        """The feature lnum where the font's figures don't line by themselves, else nothing.

        Some fonts' lnum also changes the widths of some figures that are lining already (6 and 8 in
        one in wide use).
        """
        contours = [self.glyph(digit).contours for digit in "0123456789" if self.has(digit)]
        boxes = np.array([bounds(one) for one in contours if one]).reshape(-1, 4)
        lining = len(boxes) == 0 or np.ptp(boxes[:, (1, 3)], axis=0).max() < _LINING_SPREAD_EM
        return {} if lining else {"lnum": True}

    def has(self, character: str) -> bool:
        """Whether it has a glyph for one character."""
        return ord(character) in self._cmap

    def glyph(self, character: str) -> Glyph:
        """The glyph that stands for one character by itself, with no feature applied.

        Raises:
            MissingGlyphError: it has none.
            FontError: the glyph is broken.
        """
        if not self.has(character):
            raise MissingGlyphError(character, face=self.name)
        return self._glyph_by_name(self._cmap[ord(character)])

    def alternates(self, character: str) -> tuple[Glyph, ...]:  # noqa: ARG002
        """None: a font's other forms are asked for by name, never drawn by chance."""
        return ()

    def glyph_named(self, name: str) -> Glyph | None:
        """The glyph of that name, whether or not a character has it; None if there is none."""
        return self._glyph_by_name(name) if name in self._glyph_order else None

    def old_style_names(self, digits: str) -> dict[str, str]:
        """The glyph names of its old-style figures; none where it has but one style of figures."""
        import uharfbuzz  # noqa: PLC0415

        names = {}
        for digit in (digit for digit in digits if self.has(digit)):
            buffer = buffer_of(digit)
            uharfbuzz.shape(self._shaper, buffer, _FEATURES | {"onum": True})
            names[digit] = self._glyph_order[(buffer.glyph_infos or [])[0].codepoint]
        plain = {digit: self._cmap[ord(digit)] for digit in names}
        return names if names != plain or self._lining_feature else {}

    def placed_glyphs(
        self, text: str, *, figures: Figures
    ) -> tuple[tuple[PlacedGlyph, ...], float]:
        """The text's glyphs along a baseline from x = 0, kerned, and the whole advance in em.

        The font's own tables shape it.

        Raises:
            MissingGlyphError: names every character that it cannot draw.
            FontError: a glyph is broken.
        """
        import uharfbuzz  # noqa: PLC0415

        buffer = buffer_of(text)
        if text.isdecimal() and not any(
            unicodedata.bidirectional(figure) == "R" for figure in text
        ):
            # From the largest digit on, also among right-to-left letters, but for N'Ko and Adlam
            # (Unicode Annex 9).
            buffer.direction = "ltr"
        uharfbuzz.shape(
            self._shaper, buffer, _FEATURES | self._lining_feature | _WIDTH_FEATURES[figures]
        )
        infos, positions = buffer.glyph_infos or [], buffer.glyph_positions or []
        missing = sorted({info.cluster for info in infos if info.codepoint == 0})
        if missing:
            raise MissingGlyphError([text[index] for index in missing], face=self.name)
        placed, x, y = [], 0, 0
        for info, position in zip(infos, positions, strict=True):
            placed.append(
                PlacedGlyph(
                    glyph=self._glyph_by_name(self._glyph_order[info.codepoint]),
                    x_em=(x + position.x_offset) / self.units_per_em,
                    y_em=(y + position.y_offset) / self.units_per_em,
                    letter=info.cluster,
                )
            )
            x, y = x + position.x_advance, y + position.y_advance
        return tuple(placed), x / self.units_per_em

    def text(self, name_id: int) -> str:
        """What the name table says under one of its numbers, or "".

        OpenType specification, name table.
        """
        said = self._file["name"].getDebugName(name_id) if "name" in self._file else None
        return " ".join((said or "").split())

    def embedding_number(self) -> tuple[int | None, int]:
        """Its fsType and the version of the table that holds it.

        None and 0 where there is no such table.
        """
        with self._as_own_error("has an OS/2 table that cannot be read"):
            table = self._file.get("OS/2")
            return (None, 0) if table is None else (int(table.fsType), int(table.version))

    def _glyph_by_name(self, name: str) -> Glyph:
        if name not in self._glyphs:
            with self._as_own_error(f"has a broken glyph {name!r}"):
                self._glyphs[name] = _glyph(name, self._outlines, self.units_per_em)
        return self._glyphs[name]

    @contextmanager
    def _as_own_error(self, fault: str) -> Iterator[None]:
        """As `as_font_error`; a font with a broken table is opened anew.

        Half of such a table stays read, and would pass for a whole one.
        """
        try:
            with as_font_error(self.path, fault):
                yield
        except FontError:
            _OPENED.let_go(self)
            raise

    def _top_em(self, character: str, otherwise: float) -> float:
        if not self.has(character):
            return otherwise
        placed, _ = self.placed_glyphs(character, figures=Figures.LINING)
        contours = [contour for item in placed for contour in item.glyph.contours]
        return bounds(contours)[3] if contours else otherwise


_OPENED: OpenedFaces[Font] = OpenedFaces()


def open_font(path: str | Path, *, axes: Mapping[str, float] = _NO_AXES) -> Font:
    """The font in the file `path`.

    TTF, OTF, WOFF or WOFF2, of quadratic or cubic outlines, also variable. The same one as before
    while the file has the same bytes.

    Args:
        path: the file.
        axes: of a variable font, the places on its axes by their tags, such as `{"wght": 650}`, in
            the units that the font states; axes that are not named are at their defaults.

    Raises:
        FontError: there is no such file, it is no font or a broken one, a collection of several
            fonts, a font of bitmaps without outlines, one whose glyphs aren't mapped to Unicode
            characters (a symbol font), or one without the axes asked for.
    """
    file = Path(path)
    data = bytes_of_font(file)
    return _OPENED.face_at(
        (file, file.absolute(), tuple(sorted(axes.items()))),
        hashlib.blake2b(data).digest(),
        partial(_font_from_bytes, file, data, axes),
    )


def _font_from_bytes(file: Path, data: bytes, axes: Mapping[str, float]) -> Font:
    import uharfbuzz  # noqa: PLC0415
    from fontTools.ttLib import TTFont  # noqa: PLC0415 - slow to import, and families don't want it

    if data[:4] == _COLLECTION_TAG:
        raise FontError(
            f"{file} is a collection of several fonts; give one font, as a file of its own",
            path=str(file),
        )
    with as_font_error(file, "is not a font that can be read"):
        data = unpacked_font(data)
        font = TTFont(BytesIO(data), lazy=True)
        if not any(tag in font for tag in _OUTLINE_TABLES):
            raise FontError(
                f"{file} has no outlines, only bitmaps or other tables; give a font with outlines",
                path=str(file),
            )
        cmap = font.getBestCmap()
        if not cmap:
            raise FontError(
                f"{file} maps no Unicode characters to its glyphs, as symbol fonts do; give a "
                f"font of letters and figures",
                path=str(file),
            )
        units = int(font["head"].unitsPerEm)
        if units not in _UNITS_PER_EM:
            raise FontError(
                f"{file} must have 16 to 16384 units in its em, not {units}", path=str(file)
            )
        name = (font["name"].getBestFullName() if "name" in font else None) or file.stem
        places = checked_axes(font, axes, file)
        shaper = uharfbuzz.Font(uharfbuzz.Face(uharfbuzz.Blob(data)))
        if places:
            shaper.set_variations(places)
            name = f"{name} ({', '.join(f'{tag} {value:g}' for tag, value in places.items())})"
        return Font(
            name=name,
            path=file,
            units_per_em=units,
            _file=font,
            _shaper=shaper,
            _outlines=font.getGlyphSet(location=places or None),
            _glyph_order=font.getGlyphOrder(),
            _cmap=cmap,
        )


def _glyph(name: str, outlines: Any, units_per_em: int) -> Glyph:
    """A glyph in em, with its contours flattened and united.

    United by the non-zero rule of both font formats.
    """
    pen = FlatteningPen(outlines, tolerance=FLATTENING_EM * units_per_em)
    outlines[name].draw(pen)
    contours = union_of_contours([contour.points / units_per_em for contour in pen.contours])
    return Glyph(name=name, advance_em=outlines[name].width / units_per_em, contours=contours)
