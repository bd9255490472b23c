"""Font files of drawn letters: OpenType with cubic outlines (ISO/IEC 14496-22).

They hold several drawings of each letter.

A text changes from drawing to drawing by itself (feature calt), so that the two 1s of an 11 are two
drawings. Figures are proportional and kerned, and tabular where asked for (tnum). The features are
in `font_file_features`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from io import BytesIO

import numpy as np
from fontTools.agl import UV2AGL
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from numpy.typing import NDArray

from inkline.errors import InputError
from inkline.geometry.arrays import Points
from inkline.geometry.fitting import FittedOutline, fitted_groups, fitted_outlines
from inkline.output.font_file_features import GlyphNames, feature_text

UNITS_PER_EM = 2000
"""Twice the usual 1000, so that rounding to whole units costs a third of the tolerance and not two
thirds."""
_TOLERANCE_EM = 0.001
"""The farthest that a glyph's outline lies from the drawn one: fitting and rounding together."""
_FITTED_UNITS = _TOLERANCE_EM * UNITS_PER_EM - 0.75
_ASCENT_EM, _DESCENT_EM, _LINE_GAP_EM = 0.8, 0.2, 0.2
"""Height above and below the baseline that a line takes at least, and the white between lines: 1.2
em from line to line."""
_NO_DATE = 3_786_912_000
"""2024-01-01 in seconds from 1904, in every file: the time of writing is nobody's business and
would change the bytes."""
_NOTDEF_EM = (0.5, 0.7, 0.05)
"""Width, height and weight of the box that stands for a character that the font lacks."""
_FARTHEST_EM = 15.0
"""Coordinates are 16-bit numbers; at 2000 units an em that is 16 em."""
_VENDOR = "NONE"
_WEIGHT, _WIDTH = 400, 5
_USE_TYPO_METRICS, _REGULAR = 1 << 7, 1 << 6
_BLANK = "space"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrawnForm:
    """Another form of a letter, such as an open 4, in one drawing.

    Attributes:
        contours: as of a letter's drawing.
        sides_em: as of a letter.
        tabular_em: as of a letter.
    """

    contours: tuple[Points, ...]
    sides_em: tuple[float, float]
    tabular_em: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrawnLetter:
    """One character with its drawings.

    Attributes:
        character: the character.
        drawings: closed contours of each, in em about the letter's own origin, y up; outer ones of
            positive area, holes negative.
        sides_em: where the letter's own space begins, left of its origin if negative, and where the
            next letter's space begins.
        tabular_em: the same in tabular setting, for figures; None for letters, which have only one
            width.
        forms: other forms, which a program shows where they are asked for.
    """

    character: str
    drawings: tuple[tuple[Points, ...], ...]
    sides_em: tuple[float, float]
    tabular_em: tuple[float, float] | None = None
    forms: tuple[DrawnForm, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FontAbout:
    """What the font file says of itself.

    Attributes:
        family: its name; letters, digits, spaces and hyphens of ASCII.
        version: a number such as 1.0.
        copyright: or "".
        description: what it is and how it was made.
        licence: licence text or a sentence on it, or "".
        licence_address: or "".
        fs_type: embedding number of the OS/2 table.
        sample: a text that shows it.
    """

    family: str
    version: float
    copyright: str
    description: str
    licence: str
    licence_address: str
    fs_type: int
    sample: str


@dataclass(kw_only=True)
class _Tables:
    """What the tables of a font are made from, gathered glyph by glyph."""

    pens: dict[str, T2CharStringPen] = field(default_factory=dict)
    advances: dict[str, int] = field(default_factory=dict)
    lefts: dict[str, int] = field(default_factory=dict)
    tops: dict[str, int] = field(default_factory=dict)
    points: list[NDArray[np.int64]] = field(default_factory=list)

    def add(
        self, name: str, outlines: Sequence[FittedOutline], *, start: float, end: float
    ) -> None:
        """Add a glyph; `start` and `end` of its space in units, as its outlines."""
        shift, advance = -start, round(end) - round(start)
        pen = T2CharStringPen(advance, None)
        drawn = [_draw_outline(outline, pen, shift=round(shift)) for outline in outlines]
        self.pens[name], self.advances[name] = pen, advance
        self.lefts[name] = int(min((points[:, 0].min() for points in drawn), default=0))
        self.tops[name] = int(max((points[:, 1].max() for points in drawn), default=0))
        self.points.extend(drawn)


def font_bytes(
    letters: Sequence[DrawnLetter],
    *,
    kerning: Mapping[tuple[str, str], float],
    space_em: float,
    about: FontAbout,
) -> bytes:
    """The OpenType font file of `letters`; equal letters give equal bytes.

    Args:
        letters: each with as many drawings as the others, at least one.
        kerning: for pairs of characters, or of keys by `form_key` for forms, how much nearer
            (negative) or farther the second stands, in em.
        space_em: width of the space.
        about: its names and licence.

    Raises:
        ValueError: no letters, or letters with different numbers of drawings.
        InputError: a letter is far larger than its em.
    """
    counts = {len(letter.drawings) for letter in letters}
    if len(counts) != 1 or 0 in counts:
        raise ValueError(
            f"every letter needs the same number of drawings, at least one, not {sorted(counts)}"
        )
    names = [_names(letter) for letter in letters]
    tables = _Tables()
    tables.add(".notdef", _box_outlines(), start=0.0, end=_NOTDEF_EM[0] * UNITS_PER_EM)
    tables.add(_BLANK, (), start=0.0, end=space_em * UNITS_PER_EM)
    _add_letters(tables, letters, names)
    characters = {
        ord(letter.character): named.drawings[0]
        for letter, named in zip(letters, names, strict=True)
    }
    units = {pair: round(value * UNITS_PER_EM) for pair, value in kerning.items()}
    features = feature_text(names, kerning=units, blank=_BLANK)
    return _font_data(tables, {ord(" "): _BLANK, 0xA0: _BLANK} | characters, features, about)


def glyph_name(character: str) -> str:
    """The name of a character's glyph by the glyph list for new fonts (AGLFN), else by its code."""
    code = ord(character)
    return str(UV2AGL.get(code) or (f"uni{code:04X}" if code <= 0xFFFF else f"u{code:X}"))


def _names(letter: DrawnLetter) -> GlyphNames:
    base = glyph_name(letter.character)
    drawings = tuple(
        base if index == 0 else f"{base}.{index + 1}" for index in range(len(letter.drawings))
    )
    forms = tuple(f"{base}.form{index + 1}" for index in range(len(letter.forms)))
    tabular = (
        tuple(f"{name}.tab" for name in drawings + forms) if letter.tabular_em is not None else ()
    )
    return GlyphNames(character=letter.character, drawings=drawings, forms=forms, tabular=tabular)


def _add_letters(
    tables: _Tables, letters: Sequence[DrawnLetter], names: Sequence[GlyphNames]
) -> None:
    drawn = [
        (form, name, tabular_name)
        for letter, named in zip(letters, names, strict=True)
        for form, name, tabular_name in zip(
            _forms_of(letter), named.own, named.tabular or ("",) * len(named.own), strict=True
        )
    ]
    contours = [[contour * UNITS_PER_EM for contour in form.contours] for form, _, _ in drawn]
    fitted = fitted_groups(contours, tolerance=_FITTED_UNITS)
    for (form, name, tabular_name), outlines in zip(drawn, fitted, strict=True):
        for glyph, sides in ((name, form.sides_em), (tabular_name, form.tabular_em)):
            if sides is not None:
                start, end = (edge * UNITS_PER_EM for edge in sides)
                tables.add(glyph, outlines, start=start, end=end)


def _forms_of(letter: DrawnLetter) -> tuple[DrawnForm, ...]:
    """All drawings of a letter, then its other forms."""
    own = (
        DrawnForm(contours=contours, sides_em=letter.sides_em, tabular_em=letter.tabular_em)
        for contours in letter.drawings
    )
    return (*own, *letter.forms)


def _draw_outline(outline: FittedOutline, pen: T2CharStringPen, *, shift: int) -> NDArray[np.int64]:
    """Draw an outline with `pen` in whole units; gives its points and the handles of its curves."""
    place = np.array([shift, 0])
    nodes = np.rint(outline.nodes).astype(np.int64) + place
    handles = np.rint(outline.handles).astype(np.int64) + place
    pen.moveTo(tuple(nodes[0].tolist()))
    n_nodes = len(nodes)
    for index, straight in enumerate(outline.straight.tolist()):
        end = tuple(nodes[(index + 1) % n_nodes].tolist())
        if not straight:
            pen.curveTo(*(tuple(handle) for handle in handles[index].tolist()), end)
        elif index < n_nodes - 1:
            pen.lineTo(end)
    pen.closePath()
    return np.concatenate((nodes, handles[~outline.straight].reshape(-1, 2)))


def _box_outlines() -> tuple[FittedOutline, ...]:
    """The box of a missing character: a frame."""
    width, height, weight = (value * UNITS_PER_EM for value in _NOTDEF_EM)
    low, high = np.array([weight, 0.0]), np.array([width - weight, height])
    inner_low, inner_high = low + weight, high - weight
    outer = np.array([low, [high[0], low[1]], high, [low[0], high[1]]])
    inner = np.array(
        [inner_low, [inner_low[0], inner_high[1]], inner_high, [inner_high[0], inner_low[1]]]
    )
    return fitted_outlines([outer, inner], tolerance=_FITTED_UNITS)


def _font_data(
    tables: _Tables, characters: Mapping[int, str], features: str, about: FontAbout
) -> bytes:
    """The bytes of the font file."""
    box = _bounding_box(tables)
    postscript = f"{about.family.replace(' ', '')}-Regular"
    builder = FontBuilder(UNITS_PER_EM, isTTF=False)
    builder.font.recalcTimestamp = False
    builder.updateHead(created=_NO_DATE, modified=_NO_DATE, fontRevision=about.version)
    builder.setupGlyphOrder(list(tables.pens))
    builder.setupCharacterMap(dict(characters))
    facts: dict[str, object] = {
        "version": f"{about.version:.3f}",
        "FullName": about.family,
        "FamilyName": about.family,
        "Weight": "Regular",
        "FontBBox": list(box),
    }
    builder.setupCFF(
        postscript, facts, {name: pen.getCharString() for name, pen in tables.pens.items()}, {}
    )
    builder.setupHorizontalMetrics(
        {name: (tables.advances[name], tables.lefts[name]) for name in tables.pens}
    )
    lines = (
        max(round(_ASCENT_EM * UNITS_PER_EM), box[3]),
        max(round(_DESCENT_EM * UNITS_PER_EM), -box[1]),
        round(_LINE_GAP_EM * UNITS_PER_EM),
    )
    builder.setupHorizontalHeader(ascent=lines[0], descent=-lines[1], lineGap=lines[2])
    builder.setupNameTable(_name_records(about, postscript), mac=False)
    builder.setupOS2(**_os2_values(about, lines), **_heights(tables, characters))
    builder.setupPost(
        underlinePosition=-round(0.1 * UNITS_PER_EM), underlineThickness=round(0.05 * UNITS_PER_EM)
    )
    builder.addOpenTypeFeatures(features)
    data = BytesIO()
    builder.font.save(data)
    return data.getvalue()


def _bounding_box(tables: _Tables) -> tuple[int, int, int, int]:
    """Left, bottom, right and top of all glyphs in units.

    Raises:
        InputError: a glyph reaches farther than a font file can say.
    """
    points = np.concatenate(tables.points)
    reach = float(np.abs(points).max()) / UNITS_PER_EM
    if reach > _FARTHEST_EM:
        raise InputError(
            f"a font file's letters reach {_FARTHEST_EM:g} em at most from their origin, not "
            f"{reach:.0f} em"
        )
    (left, bottom), (right, top) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return left, bottom, right, top


def _os2_values(about: FontAbout, lines: tuple[int, int, int]) -> dict[str, int | str]:
    """What the OS/2 table says of the font; `lines` are ascent, descent and gap of a line."""
    ascent, descent, gap = lines
    return {
        "version": 4,
        "fsType": about.fs_type,
        "achVendID": _VENDOR,
        "usWeightClass": _WEIGHT,
        "usWidthClass": _WIDTH,
        "fsSelection": _USE_TYPO_METRICS | _REGULAR,
        "sTypoAscender": ascent,
        "sTypoDescender": -descent,
        "sTypoLineGap": gap,
        "usWinAscent": ascent,
        "usWinDescent": descent,
    }


def _heights(tables: _Tables, characters: Mapping[int, str]) -> dict[str, int]:
    """Heights of H and x as far as the font has those letters; figures stand in for capitals."""
    found: dict[str, int] = {}
    for key, letters in (("sCapHeight", "H70"), ("sxHeight", "x")):
        name = next(
            (characters[ord(letter)] for letter in letters if ord(letter) in characters), None
        )
        if name is not None:
            found[key] = tables.tops[name]
    return found


def _name_records(about: FontAbout, postscript: str) -> dict[str, str]:
    records = {
        "copyright": about.copyright,
        "familyName": about.family,
        "styleName": "Regular",
        "uniqueFontIdentifier": f"{about.version:.3f};{postscript}",
        "fullName": about.family,
        "version": f"Version {about.version:.3f}",
        "psName": postscript,
        "description": about.description,
        "licenseDescription": about.licence,
        "licenseInfoURL": about.licence_address,
        "sampleText": about.sample,
    }
    return {key: text for key, text in records.items() if text}
