"""A glyph's strokes laid out to be measured: as points along them, and as ink on a grid of cells.

Lengths are in pens, the widths of the family's own nominal pen, unless they say otherwise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import scipy

from inkline.geometry.arrays import Bools, Floats, Points
from inkline.geometry.polyline import arc_lengths, at_arc_lengths, tangents
from inkline.lettering.face import Glyph, GlyphStroke
from inkline.lettering.family import StrokeFamily

_CELLS = 16
"""Cells of the grid to a pen: widths of white come out to about a fiftieth of a pen."""
_STEP = 0.05
"""How far points along a stroke lie from each other, in pens."""
_MARGIN = 1.6
"""White around a glyph's strokes on the grid, in pens: more than ink and its growth reach."""

_SMALL_WORD_STEMS = 8.0
"""Height of small words over the width of their pen, as recipes have it."""


def pen_of_small_words(family: StrokeFamily) -> float:
    """The heavier of the nominal pen and that of small words, in nominal pens."""
    return max(1.0, family.cap_height_em / (_SMALL_WORD_STEMS * family.nominal_stem_em))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SpreadStroke:
    """One stroke at even steps.

    Attributes:
        points: in pens, `(n, 2)`, y up, n >= 2.
        lengths: how far along the stroke they lie, in pens, `(n,)`.
        shares: width of the stroke there, as a share of the nominal pen, `(n,)`.
        is_cut: whether an edge cuts its ends, which then are not round.
        closed: whether it is a ring; its first point is repeated at its end then.
    """

    points: Points
    lengths: Floats
    shares: Floats
    is_cut: bool = False
    closed: bool = False

    @property
    def directions(self) -> Points:
        """Unit vectors along the stroke, `(n, 2)`."""
        return tangents(self.points)


def spread_strokes(glyph: Glyph, *, stem_em: float) -> tuple[SpreadStroke, ...]:
    """The strokes of a glyph at even steps, in pens of `stem_em`."""
    return tuple(_spread(stroke, stem_em) for stroke in glyph.strokes)


def _spread(stroke: GlyphStroke, stem_em: float) -> SpreadStroke:
    points = stroke.points / stem_em
    shares = np.ones(len(points)) if stroke.widths_em is None else stroke.widths_em / stem_em
    if stroke.closed:
        points, shares = np.concatenate((points, points[:1])), np.append(shares, shares[0])
    lengths = arc_lengths(points)
    wanted = np.linspace(0.0, lengths[-1], max(2, int(np.ceil(lengths[-1] / _STEP)) + 1))
    if lengths[-1] <= 0.0:
        return SpreadStroke(points=points[:2], lengths=np.zeros(2), shares=shares[:2])
    return SpreadStroke(
        points=at_arc_lengths(points, lengths, wanted),
        lengths=wanted,
        shares=np.interp(wanted, lengths, shares),
        is_cut=stroke.cuts is not None,
        closed=stroke.closed,
    )


@dataclass(frozen=True, eq=False)
class InkGrid:
    """The ink of strokes on a grid of cells, `_CELLS` to a pen, for a pen of any width.

    Attributes:
        distances: from each cell to the nearest point of a stroke, in pens, `(rows, columns)`.
        shares: width of that stroke there, as a share of the pen, of the same shape.
    """

    distances: Floats
    shares: Floats

    def ink(self, pen: float, *, grown: float = 0.0) -> Bools:
        """Which cells a pen of that width covers.

        Args:
            pen: its width, in nominal pens.
            grown: how much wider all ink is made beyond it, in nominal pens.
        """
        return np.asarray(self.distances <= 0.5 * (pen * self.shares + grown))

    @cached_property
    def widest(self) -> float:
        """The widest stroke, as a share of the pen."""
        return float(self.shares.max())

    def pieces(self, pen: float, *, grown: float = 0.0) -> int:
        """How many pieces of ink lie apart from each other."""
        return int(scipy.ndimage.label(self.ink(pen, grown=grown), structure=np.ones((3, 3)))[1])

    def blot(self, pen: float) -> float:
        """Diameter of the largest disc within the ink, in widths of its widest stroke."""
        inside = scipy.ndimage.distance_transform_edt(np.pad(self.ink(pen), 1))
        return float((2.0 * inside.max() - 1.0) / (_CELLS * pen * self.widest))


def ink_grid(strokes: Sequence[SpreadStroke]) -> InkGrid:
    """The grid of strokes; some 2 ms for a letter.

    Raises:
        ValueError: there are none.
    """
    points = np.concatenate([stroke.points for stroke in strokes])
    shares = np.concatenate([stroke.shares for stroke in strokes])
    low = points.min(axis=0) - _MARGIN
    places = (points - low) * _CELLS
    shape = tuple(np.ceil((np.ptp(points, axis=0) + 2.0 * _MARGIN) * _CELLS).astype(int) + 1)
    cells = tuple(np.rint(places).astype(int).T)
    empty = np.ones(shape, dtype=bool)
    empty[cells] = False
    at, width = np.zeros((*shape, 2)), np.ones(shape)
    at[cells], width[cells] = places, shares
    nearest = tuple(
        scipy.ndimage.distance_transform_edt(empty, return_distances=False, return_indices=True)
    )
    aside = np.moveaxis(np.indices(shape), 0, -1) - at[nearest]
    return InkGrid(distances=np.hypot(aside[..., 0], aside[..., 1]) / _CELLS, shares=width[nearest])
