"""Accents that touch their letter or each other, found by counting pieces of ink.

A letter that Unicode takes apart into a letter and marks (canonical decomposition) should fall into
as many pieces as these have, also when all ink is made wider by the white that has to be between.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

import numpy as np

from inkline.lettering.family import StrokeFamily
from inkline.lettering.faults.spread import ink_grid, spread_strokes

LEAST_WHITE = 0.4
"""White between a mark and what is next to it, in pens. Less fills at a quarter of the size (chosen
by eye)."""
LEAST_HOOK = 0.7
"""White between the two ends of a hook above, in pens. Less, and it reads as a ring (by eye)."""
LEAST_HORN = 0.5
"""White between the tip of a horn and its letter, in pens. Less, and it is a knob (by eye)."""
_HORN = "\N{COMBINING HORN}"
_HOOK = "\N{COMBINING HOOK ABOVE}"
_PIECES_OF_MARK = {
    "\N{COMBINING GRAVE ACCENT}": 1,
    "\N{COMBINING ACUTE ACCENT}": 1,
    "\N{COMBINING CIRCUMFLEX ACCENT}": 1,
    "\N{COMBINING TILDE}": 1,
    "\N{COMBINING MACRON}": 1,
    "\N{COMBINING BREVE}": 1,
    "\N{COMBINING DOT ABOVE}": 1,
    "\N{COMBINING DIAERESIS}": 2,
    "\N{COMBINING HOOK ABOVE}": 1,
    "\N{COMBINING RING ABOVE}": 1,
    "\N{COMBINING DOUBLE ACUTE ACCENT}": 2,
    "\N{COMBINING CARON}": 1,
    "\N{COMBINING HORN}": 0,
    "\N{COMBINING DOT BELOW}": 1,
    "\N{COMBINING COMMA BELOW}": 1,
    "\N{COMBINING CEDILLA}": 0,
    "\N{COMBINING OGONEK}": 0,
}
"""Pieces that each mark adds: marks that belong on the stroke add none."""
_DOTTED = "ij\N{CYRILLIC SMALL LETTER BYELORUSSIAN-UKRAINIAN I}\N{CYRILLIC SMALL LETTER JE}"
"""Letters whose dot gives way to a mark above (Unicode property Soft_Dotted)."""
_ABOVE = 230
"""The combining class of marks above (Unicode Standard, table 4-3)."""


def touching_accents(family: StrokeFamily, pen: float) -> Iterator[str]:
    """The letters whose marks have less than `LEAST_WHITE` around them with that pen."""
    known: dict[str, int] = {}
    for character in family.characters:
        whole = unicodedata.normalize("NFD", character)
        base, marks = whole[0], whole[1:]
        if not marks or not set(marks) <= set(_PIECES_OF_MARK):
            continue
        is_above = any(unicodedata.combining(mark) == _ABOVE for mark in marks)
        if base not in known and family.has(base):
            known[base] = _pieces(family, base, pen)
        dots = 1 if is_above and base in _DOTTED else 0
        wanted = known.get(base, 1) - dots + sum(_PIECES_OF_MARK[mark] for mark in marks)
        if family.glyph(character).strokes and _pieces(family, character, pen) < wanted:
            yield character


def hook_opening(family: StrokeFamily, pen: float) -> float:
    """White between the ends of the family's hook above with that pen, in nominal pens.

    Infinite where it has none, or draws it in several strokes.
    """
    strokes = family.glyph(_HOOK).strokes if family.has(_HOOK) else ()
    if len(strokes) != 1:
        return np.inf
    (hook,) = spread_strokes(family.glyph(_HOOK), stem_em=family.nominal_stem_em)
    apart = float(np.hypot(*(hook.points[-1] - hook.points[0])))
    return apart - 0.5 * pen * float(hook.shares[0] + hook.shares[-1])


def horn_reach(family: StrokeFamily, pen: float) -> dict[str, float]:
    """White between a horn's tip and its letter with that pen, in nominal pens, for each letter.

    Of letters with a horn and no other mark, whose horn is drawn last.
    """
    reach = {}
    for character in family.characters:
        if unicodedata.normalize("NFD", character)[1:] != _HORN:
            continue
        *letter, horn = spread_strokes(family.glyph(character), stem_em=family.nominal_stem_em)
        if not letter:
            continue
        points = np.concatenate([stroke.points for stroke in letter])
        halves = 0.5 * pen * np.concatenate([stroke.shares for stroke in letter])
        far = np.hypot(*(points - horn.points[-1]).T) - halves
        reach[character] = float(far.min()) - 0.5 * pen * float(horn.shares[-1])
    return reach


def _pieces(family: StrokeFamily, character: str, pen: float) -> int:
    strokes = spread_strokes(family.glyph(character), stem_em=family.nominal_stem_em)
    return ink_grid(strokes).pieces(pen, grown=LEAST_WHITE)
