"""Letters that join: which form of a letter stands where in a word, and the line between letters.

A letter that joins has the anchors of OpenType's cursive attachment (GPOS lookup type 3): `exit`,
where its line leaves, and `entry`, where that of the letter before comes in; of several entries
the one nearest in height to the exit is taken. Letters keep the places that advances and kerning
give them, and a line is drawn from exit to entry. Where a stroke of the next letter begins at its
entry, line and strokes become one stroke, so that nothing swells or gapes there. Elsewhere the line
ends at the entry, within the next letter's ink.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from inkline.geometry.arrays import Points
from inkline.geometry.curves import flattened_cubic
from inkline.lettering.face import FLATTENING_EM, GlyphStroke, PlacedGlyph

FORMS_BY_PLACE = ("init", "fina", "isol")
"""Forms of a letter at the start of a joined word, at its end, and alone.

OpenType calls the features so. The plain glyph stands within a word, and where a form is missing.
"""
_ALONE = ("isol", "fina", "init")
"""What stands alone, the first of these that there is."""
_HANDLE = 0.38
"""Length of a connecting curve's handles, as a share of the distance.
A third is straightest, 0.39 a quarter of a circle; chosen by eye."""
_SAME_EM = 2e-3
"""An anchor this near to a stroke's end is that end; they are rounded to font units."""


def forms_by_place(joins: Sequence[bool], n_letters: int) -> list[tuple[str, ...]]:
    """For each letter which forms would do, best first; none for the plain glyph.

    Args:
        joins: whether a letter joins the next, one fewer than letters.
        n_letters: how many letters there are.
    """
    around = [False, *joins, False] if n_letters else []
    chosen: dict[tuple[bool, bool], tuple[str, ...]] = {
        (False, False): _ALONE,
        (False, True): ("init",),
        (True, False): ("fina",),
        (True, True): (),
    }
    return [chosen[before, after] for before, after in pairwise(around)]


def join_pairs(glyphs: Sequence[PlacedGlyph]) -> list[int]:
    """Indices of the placed glyphs that join the next one."""
    return [
        index
        for index, (one, other) in enumerate(pairwise(glyphs))
        if one.letter != other.letter and _joins(one, other)
    ]


def _joins(one: PlacedGlyph, other: PlacedGlyph) -> bool:
    """Whether a line leads from one glyph to the other; one that would run back is none."""
    if one.glyph.exit is None or not other.glyph.entries:
        return False
    leaving = np.array(one.glyph.exit)
    ends_there = any(_is_at(stroke.points[-1], leaving) for stroke in one.glyph.strokes)
    return ends_there and bool((_place_of_entry(one, other) > _place_of_exit(one))[0])


@dataclass(slots=True, kw_only=True, eq=False)
class _Line:
    """A stroke on the line of text, the glyph that it is kept with, and the one it ends in."""

    stroke: GlyphStroke
    owner: int
    last: int


def with_joints(
    glyphs: Sequence[PlacedGlyph], pairs: Sequence[int], *, stem_em: float
) -> tuple[PlacedGlyph, ...]:
    """The placed glyphs with lines from exits to entries.

    A stroke that runs on through several letters is kept with the first of them.

    Args:
        glyphs: along a baseline.
        pairs: indices of those that join the next one, ascending, from `join_pairs`.
        stem_em: width of strokes that have none of their own.
    """
    lines = [
        _Line(stroke=_moved(stroke, item, 1.0), owner=index, last=index)
        for index, item in enumerate(glyphs)
        for stroke in item.glyph.strokes
    ]
    for index in pairs:
        leaving, coming = _place_of_exit(glyphs[index]), _place_of_entry(*glyphs[index : index + 2])
        before = next(
            line for line in lines if line.last == index and _is_at(line.stroke.points[-1], leaving)
        )
        after = next(
            (
                line
                for line in lines
                if line.owner == index + 1 and _is_at(line.stroke.points[0], coming)
            ),
            None,
        )
        before.stroke = _joined(before.stroke, after.stroke if after else None, coming, stem_em)
        if after:
            before.last = after.last
            lines.remove(after)
    return tuple(
        replace(
            item,
            glyph=replace(
                item.glyph,
                strokes=tuple(_moved(line.stroke, item, -1.0) for line in lines if line.owner == i),
            ),
        )
        for i, item in enumerate(glyphs)
    )


def _joined(
    before: GlyphStroke, after: GlyphStroke | None, coming: Points, stem_em: float
) -> GlyphStroke:
    """One stroke, the line to `coming`, and the stroke that begins there."""
    start, leave = before.points[-1], _unit(before.points[-1] - before.points[-2])
    chord = coming - start
    if after is None:
        # As an arc of a circle arrives: the chord halves the turn.
        along = _unit(chord)
        arrive = 2.0 * float(leave @ along) * along - leave
    else:
        arrive = _unit(after.points[1] - after.points[0])
    reach = _HANDLE * float(np.hypot(*chord))
    curve = flattened_cubic(
        _pair(start),
        _pair(start + reach * leave),
        _pair(coming - reach * arrive),
        _pair(coming),
        tolerance=FLATTENING_EM,
    )
    rest = after.points[1:] if after else np.empty((0, 2))
    points = np.concatenate((before.points, curve[1:], rest))
    cuts = None
    if before.cuts is not None and after is not None and after.cuts is not None:
        cuts = before.cuts[0], after.cuts[1]
    if before.widths_em is None and (after is None or after.widths_em is None):
        return replace(before, points=points, cuts=cuts)
    first, then = before.widths_with(stem_em), after.widths_with(stem_em) if after else None
    target = first[-1] if then is None else then[0]
    between = np.linspace(first[-1], target, len(curve))[1:]
    widths = np.concatenate((first, between, then[1:] if then is not None else np.empty(0)))
    return replace(before, points=points, widths_em=widths, cuts=cuts)


def _moved(stroke: GlyphStroke, item: PlacedGlyph, sense: float) -> GlyphStroke:
    return replace(stroke, points=stroke.points + sense * np.array([item.x_em, item.y_em]))


def _place_of_exit(item: PlacedGlyph) -> Points:
    return np.asarray(np.array([item.x_em, item.y_em]) + np.array(item.glyph.exit))


def _place_of_entry(one: PlacedGlyph, other: PlacedGlyph) -> Points:
    """Where the line from one glyph comes into the other: the entry nearest in height."""
    entries = np.array(other.glyph.entries) + np.array([other.x_em, other.y_em])
    aside = np.abs(entries[:, 1] - _place_of_exit(one)[1])
    return np.asarray(entries[aside.argmin()])


def _is_at(point: Points, anchor: Points) -> bool:
    return bool(np.abs(point - anchor).max() <= _SAME_EM)


def _unit(vector: Points) -> Points:
    return np.asarray(vector / np.hypot(*vector))


def _pair(point: Points) -> tuple[float, float]:
    return float(point[0]), float(point[1])
