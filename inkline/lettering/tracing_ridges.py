"""The ridges of an outline's Voronoi diagram that run down the middle of its strokes.

The diagram of a densely sampled contour has a vertex wherever a disc touches the contour in three places; the ridges between points
far apart along the contour run down the middle of the strokes (Blum's medial axis; its Voronoi approximation is common knowledge of
computational geometry, derived here). A ridge is kept where the two points that it separates lie more than `_WIDE_RAD` apart as seen
from it; what runs into a right-angled corner of the outline, where a pen never goes, sees them 90 degrees apart.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import Voronoi

from inkline.geometry.polyline import arc_lengths, at_arc_lengths

Points = NDArray[np.float64]
Floats = NDArray[np.float64]
Indices = NDArray[np.intp]
_WIDE_RAD = np.deg2rad(93.0)
"""The pruning angle; just above what right-angled corners show."""
_LOOSE_RAD = np.deg2rad(62.0)
"""Ridges that see less are never looked at; those between the two angles are kept only where they link others, as in the middle of a
right-angled crossing."""
_CORNER_RAD = 0.35
"""A turn of the outline at one point from which on it is a corner (20 degrees); steps of a flattened curve turn by less than 0.1."""
_SAME_PLACE = 0.1
"""Ridges shorter than this share of the sampling step are one place: at a round end hundreds meet."""


def sampled(contour: Points, step: float) -> tuple[Points, Points]:
    """The contour at most `step` apart with its corners kept, and those corners that are dents in the ink."""
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
        [np.linspace(a, b, n, endpoint=False) for a, b, n in zip(stops[:-1], stops[1:], counts, strict=True)]
    )
    return at_arc_lengths(closed, lengths, wanted), contour[turns < -_CORNER_RAD]


def wide_ridges(points: Points, along: Points, step: float) -> tuple[Points, Floats, Indices]:
    """Places of the middle line, their distance to the outline, and pairs of places `(m, 2)` that are neighbours."""
    diagram = Voronoi(points)
    ends = np.array(diagram.ridge_vertices)
    finite = ends.min(axis=1) >= 0
    ends, pairs = ends[finite], diagram.ridge_points[finite]
    middles = 0.5 * (diagram.vertices[ends[:, 0]] + diagram.vertices[ends[:, 1]])
    apart = np.hypot(*(points[pairs[:, 0]] - points[pairs[:, 1]]).T)
    # The farther end of a ridge counts: one between neighbours on the contour starts right between them.
    reach = np.max([np.hypot(*(diagram.vertices[ends[:, k]] - points[pairs[:, 0]]).T) for k in (0, 1)], axis=0)
    inside = sum(left_of(along[pairs[:, k]], middles - points[pairs[:, k]]) for k in (0, 1)) > 0
    sines = apart / np.maximum(2.0 * reach, 1e-300)
    loose = inside & (sines > np.sin(0.5 * _LOOSE_RAD))
    ends, pairs, wide = ends[loose], pairs[loose], sines[loose] > np.sin(0.5 * _WIDE_RAD)
    ends, pairs = (array[_without_loose_ends(ends, wide)] for array in (ends, pairs))
    used, flat = np.unique(ends, return_inverse=True)
    ends = flat.reshape(-1, 2)
    places = diagram.vertices[used]
    radii = np.zeros(len(used))
    radii[ends[:, 0]] = np.hypot(*(places[ends[:, 0]] - points[pairs[:, 0]]).T)
    radii[ends[:, 1]] = np.hypot(*(places[ends[:, 1]] - points[pairs[:, 0]]).T)
    return _joined_places(places, radii, ends, _SAME_PLACE * step)


def left_of(along: Points, towards: Points) -> Floats:
    """Sine-like measure of how far `towards` lies to the left of `along`, row by row: the ink's side of its contour."""
    cross = along[:, 0] * towards[:, 1] - along[:, 1] * towards[:, 0]
    return np.asarray(cross / np.maximum(np.hypot(*along.T) * np.hypot(*towards.T), 1e-300))


def _without_loose_ends(ends: Indices, wide: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Which ridges are left when those that are not wide are taken off from the tips inwards."""
    kept = np.ones(len(ends), dtype=bool)
    at: dict[int, set[int]] = {}
    for number, (a, b) in enumerate(ends.tolist()):
        at.setdefault(a, set()).add(number)
        at.setdefault(b, set()).add(number)
    tips = [place for place, ridges in at.items() if len(ridges) == 1]
    while tips:
        place = tips.pop()
        if len(at[place]) != 1:
            continue
        ridge = next(iter(at[place]))
        if wide[ridge]:
            continue
        kept[ridge] = False
        for end in ends[ridge].tolist():
            at[end].discard(ridge)
            if len(at[end]) == 1:
                tips.append(end)
    return kept


def _joined_places(places: Points, radii: Floats, links: Indices, near: float) -> tuple[Points, Floats, Indices]:
    """Places less than `near` apart made one, and the links between those that are left."""
    lengths = np.hypot(*(places[links[:, 0]] - places[links[:, 1]]).T)
    short = links[lengths < near]
    table = coo_matrix((np.ones(len(short)), (short[:, 0], short[:, 1])), shape=(len(places),) * 2)
    n_left, labels = connected_components(table, directed=False)
    counts = np.bincount(labels, minlength=n_left)
    mean = [np.bincount(labels, weights=w, minlength=n_left) / counts for w in (places[:, 0], places[:, 1], radii)]
    left = np.sort(labels[links], axis=1)
    left = np.unique(left[left[:, 0] != left[:, 1]], axis=0)
    return np.column_stack(mean[:2]), mean[2], left
