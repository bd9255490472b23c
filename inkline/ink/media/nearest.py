"""Which point of a stroke's spine lies nearest to each place. Lengths in mm."""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Indices, Points
from inkline.geometry.polyline import normals_of

# In long marks, such as rules, the nearest point of the spine is looked up once for each square of
# this side; in smaller ones, whose strokes turn, the squares would show as steps.
_SQUARE_MM, _LONG_MM = 0.15, 15.0
# A spine that strays from its chord by less than this share of its length counts as straight.
_STRAIGHT = 0.05
# Up to so many distances in all, it is quicker to compare each than to build a tree, so many at a
# time in the processor's near memory.
_MOST_COMPARED, _AT_WORK = 1 << 18, 1 << 15


def is_straight(spine: Points) -> bool:
    """Whether `spine` is long and nearly straight, so that it can't meet itself."""
    chord = spine[-1] - spine[0]
    length = float(np.hypot(*chord))
    return (
        length > _LONG_MM
        and float(np.ptp(spine @ normals_of(chord[None, :])[0])) < _STRAIGHT * length**2
    )


def nearest_indices(spine: Points, places: Points, *, within: float = np.inf) -> Indices:
    """Index of the spine's point nearest to each place.

    Along a nearly straight spine by projection on its chord, else by search; farther off than
    `within` mm it may be any.
    """
    if is_straight(spine):
        chord = spine[-1] - spine[0]
        ahead = spine @ chord
        order = np.argsort(ahead, kind="stable")
        middles = 0.5 * (ahead[order][1:] + ahead[order][:-1])
        return np.asarray(order[np.searchsorted(middles, places @ chord)])
    is_long = float(np.ptp(spine, axis=0).max()) >= _LONG_MM
    if not is_long and len(spine) * len(places) <= _MOST_COMPARED:
        return _nearest_of_all(spine, places)
    from scipy.spatial import cKDTree  # noqa: PLC0415 - slow; wanted only for dry strokes

    tree = cKDTree(spine)
    if not is_long:
        found = tree.query(places, workers=1, distance_upper_bound=within)[1]
        return np.asarray(np.minimum(found, len(spine) - 1))
    squares = np.floor(places / _SQUARE_MM).astype(np.int64)
    corner = squares.min(axis=0)
    squares -= corner
    n_columns = int(squares[:, 0].max()) + 1
    codes = squares[:, 1] * n_columns + squares[:, 0]
    present = np.zeros(int(codes.max()) + 1, dtype=bool)
    present[codes] = True
    used = np.flatnonzero(present)
    centres = (np.column_stack((used % n_columns, used // n_columns)) + corner + 0.5) * _SQUARE_MM
    lookup = np.zeros(len(present), dtype=np.intp)
    lookup[used] = tree.query(centres, workers=1)[1]
    return np.asarray(lookup[codes])


def _nearest_of_all(spine: Points, places: Points) -> Indices:
    """Index of the spine's point nearest to each place, by comparing all distances."""
    xs, ys = (np.ascontiguousarray(spine[:, axis]) for axis in (0, 1))
    nearest = np.empty(len(places), dtype=np.intp)
    n_places = max(1, _AT_WORK // len(spine))
    for first in range(0, len(places), n_places):
        part = places[first : first + n_places]
        apart = part[:, :1] - xs
        aside = part[:, 1:] - ys
        apart *= apart
        aside *= aside
        apart += aside
        apart.argmin(axis=1, out=nearest[first : first + n_places])
    return nearest
