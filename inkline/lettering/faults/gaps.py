"""White between neighbours in words: letters that nearly touch or lie far apart, words too close.

Distances are the shortest between the ink of two neighbours, kerned, in nominal pens.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from itertools import pairwise

import numpy as np
import scipy

from inkline.geometry.arrays import Floats, Points
from inkline.lettering.face import Figures
from inkline.lettering.family import StrokeFamily
from inkline.lettering.faults.spread import SpreadStroke, spread_strokes
from inkline.lettering.joining import join_pairs
from inkline.lettering.lib.stance import UPRIGHT

JOINED = -0.25
"""Letters overlap by at least this where they are joined, in pens."""
LEAST_GAP = 0.42
"""Letters that are not joined stand at least so far apart, in pens.
Between the two they look like a slip of the pen. Chosen by eye."""
MOST_GAP = 2.5
"""Letters of a word stand at most so far apart, in pens. Chosen by eye."""
LEAST_SPACE = 2.8
"""Words stand at least so far apart, in pens: as far as an n is open (chosen by eye)."""
_MOST_REACH = 12.0
_STRIDE = 2

Gaps = Mapping[str, float]
"""For two neighbours, as text with the spaces between them, the white between their ink."""


def gaps_in_words(family: StrokeFamily, words: Iterable[str]) -> Gaps:
    """The white between every two neighbours that occur in `words`, each pair once.

    Letters stand in line for it, or the first word with a pair would speak for all. Words with a
    character that the family lacks are left out.
    """
    family = replace(family, stance=UPRIGHT)
    found: dict[str, float] = {}
    spread: dict[str, tuple[SpreadStroke, ...]] = {}
    for word in words:
        if not all(family.has(character) for character in word):
            continue
        placed, _ = family.placed_glyphs(word, figures=Figures.LINING)
        inked = [item for item in placed if item.glyph.strokes]
        for first, second in pairwise(inked):
            pair = word[first.letter : second.letter + 1]
            if pair in found or join_pairs((first, second)):
                continue  # known, or joined by a line
            for item in (first, second):
                if item.glyph.name not in spread:
                    spread[item.glyph.name] = spread_strokes(
                        item.glyph, stem_em=family.nominal_stem_em
                    )
            apart = (second.x_em - first.x_em) / family.nominal_stem_em
            found[pair] = _white(spread[first.glyph.name], spread[second.glyph.name], apart)
    return found


def _white(
    first: tuple[SpreadStroke, ...], second: tuple[SpreadStroke, ...], apart: float
) -> float:
    """The shortest white between two glyphs, of which the second stands `apart` to the right."""
    points, halves = _points(first)
    others, other_halves = _points(second)
    distances, nearest = scipy.spatial.KDTree(points).query(
        others + np.array([apart, 0.0]), distance_upper_bound=_MOST_REACH
    )
    near = np.isfinite(distances)
    if not near.any():
        return _MOST_REACH
    return float((distances[near] - halves[nearest[near]] - other_halves[near]).min())


def _points(strokes: tuple[SpreadStroke, ...]) -> tuple[Points, Floats]:
    return (
        np.concatenate([stroke.points[::_STRIDE] for stroke in strokes]),
        0.5 * np.concatenate([stroke.shares[::_STRIDE] for stroke in strokes]),
    )
