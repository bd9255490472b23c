"""The middle line of an outline, as a graph of branches with the outline's half width at every point.

The Voronoi diagram of a densely sampled contour has a vertex wherever a disc touches the contour in three places; the ridges between
points far apart along the contour run down the middle of the strokes (Blum's medial axis; its Voronoi approximation is common
knowledge of computational geometry, derived here). A ridge is kept where the two points that it separates lie more than `_WIDE_RAD`
apart as seen from it; what runs into a right-angled corner of the outline, where a pen never goes, sees them 90 degrees apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import Voronoi, cKDTree

from inkline.geometry.polygon import total_area
from inkline.geometry.polyline import arc_lengths, at_arc_lengths, closed_arc_lengths

Points = NDArray[np.float64]
Floats = NDArray[np.float64]
Indices = NDArray[np.intp]

_SAMPLES_A_WIDTH = 14.0
"""Contour points to a stroke's width: between parallel edges the middle line is then off by at most 1/8 of their distance squared
over the width, 1/1500 of the width; more cost time in proportion."""
_WIDE_RAD = np.deg2rad(93.0)
"""The pruning angle; just above what right-angled corners show."""
_LOOSE_RAD = np.deg2rad(62.0)
"""Ridges that see less are never looked at; those between the two angles are kept only where they link others, as in the middle of a
right-angled crossing."""
_CORNER_RAD = 0.35
"""A turn of the outline at one point from which on it is a corner (20 degrees); steps of a flattened curve turn by less than 0.1."""
_SAME_PLACE = 0.1
"""Ridges shorter than this share of the sampling step are one place: at a round end hundreds meet."""
_MEANINGFUL = 0.3
"""A branch must reach this share of the stroke's width beyond its junction's disc, or it is a dent of the outline."""
_POINT, _AT_MEETING = 0.45, 0.25
"""A branch that reaches no more than this many widths beyond its junction's disc, or whose tip lies no farther than this from where the
two others would meet, is the point of the corner that they make, as at the blunt foot of a 2 and at the top of a narrow A."""
_POINT_RAD = np.deg2rad(56.0)
"""Two branches make a corner if going from one into the other means turning by more than this."""
_CLEAR = np.array([0.9, 1.7])
"""Between these many widths from a junction a branch's direction is read: nearer, the middle line still swerves."""
_TAPER = 0.2
"""A branch along which the half width falls faster than this is no stroke but runs into a sharp corner of 23 degrees or more."""
TOUCH = 1.03
"""A disc touches a corner that is no farther from its centre than this many of its radii."""
_SHARP_TIP = 0.35
"""It runs down to less than this share of its junction's half width."""
_HALFWAY = 0.65
"""And halfway it has already less than this share of it: a stroke with a slanted end narrows only there."""
_LONGEST_CORNER = 3.2
"""No corner's branch is longer than this many widths."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Branch:
    """One branch of the middle line, between two ends or junctions.

    Attributes:
        nodes: number of the node at its start and at its end; the same for a ring.
        points: its points, `(n, 2)`, n >= 2, both nodes' own included.
        radii: distance to the outline at each, `(n,)`.
    """

    nodes: tuple[int, int]
    points: Points
    radii: Floats

    @property
    def length(self) -> float:
        """Its arc length."""
        return float(arc_lengths(self.points)[-1])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Axis:
    """The middle line of an outline.

    Attributes:
        branches: all that a pen could follow, insignificant ones removed.
        presses: centre and radius of each piece of ink that is as wide as long, such as a dot, `(k, 3)`.
        width: the stroke's typical width: twice the median half width, by length.
        corners: the outline's corners that lie on the inside of a bend or crotch, `(m, 2)`.
        edge: the sampled outline, to measure distances to it.
        along: the outline's direction at each sample, ink on its left.
    """

    branches: tuple[Branch, ...]
    presses: Points
    width: float
    corners: Points
    edge: cKDTree
    along: Points

    def room(self, points: Points) -> Floats:
        """Distance of each point `(n, 2)` to the outline, `(n,)`, negative where there is no ink."""
        distances, nearest = self.edge.query(points)
        inside = _left_of(self.along[nearest], points - self.edge.data[nearest])
        return np.asarray(np.where(inside > 0.0, distances, -distances))

    def touched(self, points: Points, radii: Floats) -> NDArray[np.bool_]:
        """Which discs touch a corner of the outline on the inside of a bend or crotch, and so swerve away from it."""
        if not len(self.corners):
            return np.zeros(len(points), dtype=bool)
        return np.asarray(
            (np.hypot(*(points[:, None] - self.corners[None]).transpose(2, 0, 1)).min(axis=1) < TOUCH * radii)
        )


def axis_from_contours(contours: Sequence[Points]) -> Axis:
    """The middle line of united contours (outer ones of positive area, holes negative), in their own unit.

    Cost: about 5 ms for a digit of 700 samples.
    """
    perimeter = sum(float(closed_arc_lengths(contour)[-1]) for contour in contours)
    guess = 2.0 * total_area(contours) / perimeter
    step = guess / _SAMPLES_A_WIDTH
    samples = [_sampled(contour, step) for contour in contours]
    points = np.concatenate([one[0] for one in samples])
    along = np.concatenate([np.roll(one[0], -1, axis=0) - np.roll(one[0], 1, axis=0) for one in samples])
    places, radii, links = _wide_ridges(points, along, step)
    branches, presses, width = _branches(places, radii, links, guess)
    corners = np.concatenate([one[1] for one in samples])
    return Axis(branches=branches, presses=presses, width=width, corners=corners, edge=cKDTree(points), along=along)


def _sampled(contour: Points, step: float) -> tuple[Points, Points]:
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


def _wide_ridges(points: Points, along: Points, step: float) -> tuple[Points, Floats, Indices]:
    """Places of the middle line, their distance to the outline, and pairs of places `(m, 2)` that are neighbours."""
    diagram = Voronoi(points)
    ends = np.array(diagram.ridge_vertices)
    finite = ends.min(axis=1) >= 0
    ends, pairs = ends[finite], diagram.ridge_points[finite]
    middles = 0.5 * (diagram.vertices[ends[:, 0]] + diagram.vertices[ends[:, 1]])
    apart = np.hypot(*(points[pairs[:, 0]] - points[pairs[:, 1]]).T)
    # The farther end of a ridge counts: one between neighbours on the contour starts right between them.
    reach = np.max([np.hypot(*(diagram.vertices[ends[:, k]] - points[pairs[:, 0]]).T) for k in (0, 1)], axis=0)
    inside = sum(_left_of(along[pairs[:, k]], middles - points[pairs[:, k]]) for k in (0, 1)) > 0
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


def _left_of(along: Points, towards: Points) -> Floats:
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


def _branches(places: Points, radii: Floats, links: Indices, guess: float) -> tuple[tuple[Branch, ...], Points, float]:
    """The significant branches, the presses, and the typical width."""
    lengths = np.hypot(*(places[links[:, 0]] - places[links[:, 1]]).T)
    width = 2.0 * _weighted_median(radii[links].mean(axis=1), lengths) if len(links) else guess
    _, labels = connected_components(
        coo_matrix((np.ones(len(links)), (links[:, 0], links[:, 1])), shape=(len(places),) * 2), directed=False
    )
    kept: list[Branch] = []
    presses = []
    for label in range(int(labels.max(initial=-1)) + 1):
        own = links[labels[links[:, 0]] == label]
        found = _significant(_chains(own, places, radii), width)
        if sum(branch.length for branch in found) > _MEANINGFUL * width:
            kept.extend(found)
        else:
            members = np.flatnonzero(labels == label)
            fattest = members[np.argmax(radii[members])]
            presses.append((*places[fattest], radii[fattest]))
    return tuple(kept), np.array(presses, dtype=np.float64).reshape(-1, 3), width


def _weighted_median(values: Floats, weights: Floats) -> float:
    order = np.argsort(values)
    total = np.cumsum(weights[order])
    return float(values[order][np.searchsorted(total, 0.5 * total[-1])])


def _chains(links: Indices, places: Points, radii: Floats) -> list[Branch]:
    """The links of one connected piece as branches between places that have one neighbour, or three and more."""
    at: dict[int, list[int]] = {}
    for a, b in links.tolist():
        at.setdefault(a, []).append(b)
        at.setdefault(b, []).append(a)
    stops = [place for place, near in at.items() if len(near) != 2] or [next(iter(at))] if at else []
    branches, walked = [], set()
    stop_set = set(stops)
    for start in stops:
        for second in at[start]:
            if (start, second) in walked:
                continue
            chain = [start, second]
            while chain[-1] not in stop_set:
                near = at[chain[-1]]
                chain.append(near[1] if near[0] == chain[-2] else near[0])
            walked.update(((start, second), (chain[-1], chain[-2])))
            branches.append(Branch(nodes=(start, chain[-1]), points=places[chain], radii=radii[chain]))
    return branches


def _significant(branches: list[Branch], width: float) -> list[Branch]:
    """The branches less those that run into corners or dents of the outline, what they met at joined up again."""
    while True:
        degree = _degrees(branches)
        spurs = [
            branch
            for branch in branches
            if _is_spur(branch, degree, width) or _is_point(branch, branches, degree, width)
        ]
        if not spurs:
            return branches
        left = [branch for branch in branches if branch not in spurs]
        branches = _merged(left)


def _degrees(branches: Iterable[Branch]) -> dict[int, int]:
    degree: dict[int, int] = {}
    for branch in branches:
        for node in branch.nodes:
            degree[node] = degree.get(node, 0) + 1
    return degree


def _is_spur(branch: Branch, degree: dict[int, int], width: float) -> bool:
    """Whether a branch with one free end is no stroke."""
    free = [degree[node] == 1 for node in branch.nodes]
    if free[0] == free[1]:
        return False
    tip, joint = (branch.radii[0], branch.radii[-1]) if free[0] else (branch.radii[-1], branch.radii[0])
    beyond = branch.length + tip - joint
    tapers = (
        tip < _SHARP_TIP * joint
        and np.interp(0.5 * branch.length, arc_lengths(branch.points), branch.radii) < _HALFWAY * joint
        and joint - tip > _TAPER * branch.length
        and branch.length < _LONGEST_CORNER * width
    )
    return bool(beyond < _MEANINGFUL * width or tapers)


def _is_point(branch: Branch, branches: list[Branch], degree: dict[int, int], width: float) -> bool:
    """Whether a short branch with one free end is only the point of the corner that the two others at its junction make.

    It is if it hardly reaches beyond its junction's disc, or if its tip is where the two others meet when they go straight on.
    """
    free = [degree[node] == 1 for node in branch.nodes]
    if free[0] == free[1] or branch.length > _LONGEST_CORNER * width:
        return False
    tip, joint = (0, -1) if free[0] else (-1, 0)
    node = branch.nodes[joint]
    away = [run for other in branches if other is not branch for run in runs_from(other, node, width)]
    if len(away) != 2 or angle_between(away[0][1] - away[0][0], away[1][0] - away[1][1]) < _POINT_RAD:
        return False
    if branch.length + branch.radii[tip] - branch.radii[joint] < _POINT * width:
        return True
    gap = meeting_point(*away) - branch.points[tip]
    return bool(np.hypot(*gap) < _AT_MEETING * width)


def runs_from(branch: Branch, node: int, width: float) -> Iterator[tuple[Points, Points]]:
    """A near and a far point of a branch as it leaves a node, clear of the swerve there; none if it does not meet it, two for a ring."""
    for end, points in zip(branch.nodes, (branch.points, branch.points[::-1]), strict=True):
        if end == node:
            lengths = arc_lengths(points)
            near, far = at_arc_lengths(points, lengths, np.minimum(width * _CLEAR, lengths[-1] * np.array([0.5, 1.0])))
            yield near, far


def meeting_point(a: tuple[Points, Points], b: tuple[Points, Points]) -> Points:
    """Where the lines through two pairs of points meet; infinitely far away where they are parallel."""
    along, across = a[1] - a[0], b[1] - b[0]
    cross = float(along[0] * across[1] - along[1] * across[0])
    gap = b[0] - a[0]
    share = float(gap[0] * across[1] - gap[1] * across[0]) / cross if cross else np.inf
    return np.asarray(a[0] + share * along)


def angle_between(a: Points, b: Points) -> float:
    """Angle between two directions, in [0, pi]."""
    return float(abs(np.arctan2(a[0] * b[1] - a[1] * b[0], a @ b)))


def _merged(branches: list[Branch]) -> list[Branch]:
    """Branches that alone meet at a node made one."""
    left = list(branches)
    degree = _degrees(left)
    for node, count in degree.items():
        meeting = [branch for branch in left if node in branch.nodes]
        if count != 2 or len(meeting) != 2:
            continue
        first, second = meeting
        first = first if first.nodes[1] == node else _reversed(first)
        second = second if second.nodes[0] == node else _reversed(second)
        joined = Branch(
            nodes=(first.nodes[0], second.nodes[1]),
            points=np.concatenate((first.points, second.points[1:])),
            radii=np.concatenate((first.radii, second.radii[1:])),
        )
        left = [branch for branch in left if branch not in meeting] + [joined]
    return left


def _reversed(branch: Branch) -> Branch:
    return Branch(nodes=branch.nodes[::-1], points=branch.points[::-1], radii=branch.radii[::-1])
