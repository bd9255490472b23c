"""Signs and quotes whose strokes run together, found by counting pieces of ink.

What stands apart in a sign where the pen is light (the rays of a sun, two quotes, the rings of a
percent sign) should stand apart as well when all ink is made wider by the white that has to be
between.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from itertools import combinations

import numpy as np

from inkline.lettering.family import StrokeFamily
from inkline.lettering.faults.spread import ink_grid, spread_strokes

LEAST_APART = 0.4
"""White between the pieces of a sign, in pens. Less fills at a quarter of the size (by eye)."""
LEAST_ARMS = 0.55
"""White between the ends of two arms of an asterisk, in pens. Less, and it is a blot (by eye)."""
_LIGHT = 0.85
"""The light pen, in nominal pens."""
_KINDS = ("P", "S")
_ASTERISK = "*"


def fused_signs(family: StrokeFamily, pen: float) -> Iterator[str]:
    """The signs whose pieces have less than `LEAST_APART` between them with that pen."""
    for character in family.characters:
        if unicodedata.category(character)[0] not in _KINDS:
            continue
        if strokes := spread_strokes(family.glyph(character), stem_em=family.nominal_stem_em):
            grid = ink_grid(strokes)
            if grid.pieces(pen, grown=LEAST_APART) < grid.pieces(_LIGHT):
                yield character


def asterisk_opening(family: StrokeFamily, pen: float) -> float:
    """The least white between ends of the asterisk's arms with that pen, in nominal pens.

    Infinite where there is no asterisk of several strokes.
    """
    glyph = family.glyph(_ASTERISK) if family.has(_ASTERISK) else None
    if glyph is None or len(glyph.strokes) < 2:
        return np.inf
    ends = [
        (stroke.points[at], 0.5 * pen * float(stroke.shares[at]))
        for stroke in spread_strokes(glyph, stem_em=family.nominal_stem_em)
        for at in (0, -1)
    ]
    return min(
        float(np.hypot(*(one - other))) - half - other_half
        for (one, half), (other, other_half) in combinations(ends, 2)
    )
