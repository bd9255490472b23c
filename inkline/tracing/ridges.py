"""The ridges of an outline's Voronoi diagram that run down the middle of its strokes.

The diagram of a densely sampled contour has a vertex wherever a disc touches the contour in three
places; the ridges between points far apart along the contour run down the middle of the strokes
(Blum's medial axis; its Voronoi approximation is common knowledge of computational geometry,
derived here). A ridge is kept where the two points that it separates lie more than `_WIDE_RAD`
apart as seen from it; what runs into a right-angled corner of the outline, where a pen never goes,
sees them 90 degrees apart.
"""

from __future__ import annotations

import numpy as np
import scipy

from inkline.geometry.arrays import Bools, Floats, Indices, Points
from inkline.geometry.polyline import arc_lengths, at_arc_lengths

_WIDE_RAD = np.deg2rad(93.0)
"""The pruning angle; just above what right-angled corners show."""
_LOOSE_RAD = np.deg2rad(62.0)
"""Ridges that see less are never looked at.
Those between the two angles are kept only where they link others, as in the middle of a
right-angled crossing."""
_CORNER_RAD = 0.35
"""A turn of the outline at one point from which on it is a corner (20 degrees).
Steps of a flattened curve turn by less than 0.1."""
_SAME_PLACE = 0.1
"""Ridges shorter than this share of the sampling step are one place.
At a round end hundreds meet."""


def sampled_contour(contour: Points, step: float) -> tuple[Points, Points]:
    """The contour at most `step` apart, and those of its corners that are dents in the ink.

    All its corners are kept among the points.
    """
    before, after = contour - np.roll(contour, 1, axis=0), np.roll(contour, -1, axis=0) - contour
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turns = np.arctan2(cross, (before * after).sum(axis=1))
    anchors = np.flatnonzero(np.abs(turns) > _CORNER_RAD)
    first = int(anchors[0]) if len(anchors) else 0
    ring = np.roll(contour, -first, axis=0)
    closed = np.concatenate((ring, ring[:1]))
    lengths = arc_lengths(closed)
    stops = lengths[np.append(anchors - first if len(anchors) else [0], len(contour))]
    counts = np.maximum(np.ceil(np.diff(stops) / step - 1e-9).astype(int), 1)
    wanted = np.concatenate(
        [
            np.linspace(a, b, n, endpoint=False)
            for a, b, n in zip(stops[:-1], stops[1:], counts, strict=True)
        ]
    )
    return at_arc_lengths(closed, lengths, wanted), contour[turns < -_CORNER_RAD]


def wide_ridges(points: Points, along: Points, step: float) -> tuple[Points, Floats, Indices]:
    """Places of the middle line, their distance to the outline, and neighbouring pairs `(m, 2)`."""
    centres, ends, pairs = _ridges(points)
    middles = 0.5 * (centres[ends[:, 0]] + centres[ends[:, 1]])
    apart = np.hypot(*(points[pairs[:, 0]] - points[pairs[:, 1]]).T)
    # The farther end of a ridge counts: one between neighbours on the contour starts right between
    # them.
    reach = np.max(
        [np.hypot(*(centres[ends[:, k]] - points[pairs[:, 0]]).T) for k in (0, 1)], axis=0
    )
    inside = sum(left_of(along[pairs[:, k]], middles - points[pairs[:, k]]) for k in (0, 1)) > 0
    sines = apart / np.maximum(2.0 * reach, 1e-300)
    loose = inside & (sines > np.sin(0.5 * _LOOSE_RAD))
    ends, pairs, wide = ends[loose], pairs[loose], sines[loose] > np.sin(0.5 * _WIDE_RAD)
    ends, pairs = (array[_without_loose_ends(ends, wide)] for array in (ends, pairs))
    used, flat = np.unique(ends, return_inverse=True)
    ends = flat.reshape(-1, 2)
    places = centres[used]
    radii = np.zeros(len(used))
    radii[ends[:, 0]] = np.hypot(*(places[ends[:, 0]] - points[pairs[:, 0]]).T)
    radii[ends[:, 1]] = np.hypot(*(places[ends[:, 1]] - points[pairs[:, 0]]).T)
    return _joined_places(places, radii, ends, _SAME_PLACE * step)


def _ridges(points: Points) -> tuple[Points, Indices, Indices]:
    """The ridges of the Voronoi diagram of `points`.

    Its vertices `(k, 2)`, both of every finite ridge `(m, 2)`, and the two points that it separates
    `(m, 2)`. Taken from the Delaunay triangles, of which it is the dual: in arrays throughout, at
    half the cost of the diagram itself.
    """
    mesh = scipy.spatial.Delaunay(points)
    a, b, c = (points[mesh.simplices[:, k]] for k in range(3))
    ab, ac = b - a, c - a
    doubled = 2.0 * (ab[:, 0] * ac[:, 1] - ab[:, 1] * ac[:, 0])
    squares = (ab**2).sum(axis=1), (ac**2).sum(axis=1)
    across = np.column_stack(
        (
            ac[:, 1] * squares[0] - ab[:, 1] * squares[1],
            ab[:, 0] * squares[1] - ac[:, 0] * squares[0],
        )
    )
    flat = doubled == 0.0
    centres = a + across / np.where(flat, 1.0, doubled)[:, None]
    first, side = np.nonzero((mesh.neighbors > np.arange(len(centres))[:, None]) & ~flat[:, None])
    second = mesh.neighbors[first, side]
    met = ~flat[second]
    first, side, second = first[met], side[met], second[met]
    pairs = np.column_stack([mesh.simplices[first, (side + turn) % 3] for turn in (1, 2)])
    return np.asarray(centres), np.column_stack((first, second)), pairs


def left_of(along: Points, towards: Points) -> Floats:
    """How far `towards` lies to the left of `along`, row by row, as a sine.

    The left is the ink's side of its contour.
    """
    cross = along[:, 0] * towards[:, 1] - along[:, 1] * towards[:, 0]
    return np.asarray(cross / np.maximum(np.hypot(*along.T) * np.hypot(*towards.T), 1e-300))


def _without_loose_ends(ends: Indices, wide: Bools) -> Bools:
    """Which ridges are left when those that are not wide are taken off from the tips inwards.

    Each place keeps the exclusive or of the numbers of its ridges, which is the number of the last
    one when one is left.
    """
    kept = np.ones(len(ends), dtype=bool)
    _, flat = np.unique(ends, return_inverse=True)
    pairs = flat.reshape(-1, 2)
    counts = np.bincount(pairs.ravel())
    numbers = np.zeros(len(counts), dtype=np.intp)
    for side in (0, 1):
        np.bitwise_xor.at(numbers, pairs[:, side], np.arange(len(pairs)))
    tips = np.flatnonzero(counts == 1).tolist()
    while tips:
        place = tips.pop()
        ridge = int(numbers[place])
        if counts[place] != 1 or wide[ridge]:
            continue
        kept[ridge] = False
        for end in pairs[ridge].tolist():
            counts[end] -= 1
            numbers[end] ^= ridge
            if counts[end] == 1:
                tips.append(end)
    return kept


def _joined_places(
    places: Points, radii: Floats, links: Indices, near: float
) -> tuple[Points, Floats, Indices]:
    """Places less than `near` apart made one, and the links between those that are left."""
    lengths = np.hypot(*(places[links[:, 0]] - places[links[:, 1]]).T)
    short = links[lengths < near]
    table = scipy.sparse.coo_matrix(
        (np.ones(len(short)), (short[:, 0], short[:, 1])), shape=(len(places),) * 2
    )
    n_left, labels = scipy.sparse.csgraph.connected_components(table, directed=False)
    counts = np.bincount(labels, minlength=n_left)
    mean = [
        np.bincount(labels, weights=w, minlength=n_left) / counts
        for w in (places[:, 0], places[:, 1], radii)
    ]
    left = np.sort(labels[links], axis=1)
    left = np.unique(left[left[:, 0] != left[:, 1]], axis=0)
    return np.column_stack(mean[:2]), mean[2], left
