"""Branches of an outline's middle line: its ridges strung together.

Ridges that only run into corners of the outline are left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import scipy

from inkline.geometry.arrays import Floats, Indices, Points
from inkline.geometry.polyline import arc_lengths, at_arc_lengths

_MEANINGFUL = 0.3
"""A branch that reaches less than this share of the stroke's width beyond its disc is a dent.
The disc is that of its junction, the dent one of the outline."""
_POINT, _AT_MEETING = 0.45, 0.25
"""A branch that reaches no more widths than this beyond its junction's disc is a point.
So is one whose tip lies no farther than this from where the two others would meet. It is the point
of the corner that they make, as at the blunt foot of a 2 and at the top of a narrow A."""
_POINT_RAD = np.deg2rad(56.0)
"""Two branches make a corner if going from one into the other means turning by more than this."""
_CLEAR = np.array([0.9, 1.7])
"""Between these many widths from a junction a branch's direction is read.
Nearer, the middle line still swerves."""
_TAPER = 0.2
"""A branch along which the half width falls faster than this is no stroke.
It runs into a sharp corner of 23 degrees or more."""
_SHARP_TIP = 0.35
"""It runs down to less than this share of its junction's half width."""
_HALFWAY = 0.65
"""And halfway it has already less than this share of it.
A stroke with a slanted end narrows only there."""
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


def branches_from_links(
    places: Points, radii: Floats, links: Indices, guess: float
) -> tuple[tuple[Branch, ...], Points, float]:
    """The significant branches, the presses, and the typical width."""
    lengths = np.hypot(*(places[links[:, 0]] - places[links[:, 1]]).T)
    width = 2.0 * _weighted_median(radii[links].mean(axis=1), lengths) if len(links) else guess
    _, labels = scipy.sparse.csgraph.connected_components(
        scipy.sparse.coo_matrix(
            (np.ones(len(links)), (links[:, 0], links[:, 1])), shape=(len(places),) * 2
        ),
        directed=False,
    )
    kept: list[Branch] = []
    presses = []
    for label in range(int(labels.max(initial=-1)) + 1):
        own = links[labels[links[:, 0]] == label]
        found = _without_spurs(_chains(own, places, radii), width)
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
    """The links of one connected piece as branches.

    They run between nodes that have one neighbour, or three and more.
    """
    at: dict[int, list[int]] = {}
    for a, b in links.tolist():
        at.setdefault(a, []).append(b)
        at.setdefault(b, []).append(a)
    stops = (
        [place for place, near in at.items() if len(near) != 2] or [next(iter(at))] if at else []
    )
    branches: list[Branch] = []
    walked: set[tuple[int, int]] = set()
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
            branches.append(
                Branch(nodes=(start, chain[-1]), points=places[chain], radii=radii[chain])
            )
    return branches


def _without_spurs(branches: list[Branch], width: float) -> list[Branch]:
    """The branches less those that run into corners or dents of the outline.

    What they met at is joined up again.
    """
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
        branches = _merged_branches(left)


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
    tip, joint = (
        (branch.radii[0], branch.radii[-1]) if free[0] else (branch.radii[-1], branch.radii[0])
    )
    beyond = branch.length + tip - joint
    tapers = (
        tip < _SHARP_TIP * joint
        and np.interp(0.5 * branch.length, arc_lengths(branch.points), branch.radii)
        < _HALFWAY * joint
        and joint - tip > _TAPER * branch.length
        and branch.length < _LONGEST_CORNER * width
    )
    return bool(beyond < _MEANINGFUL * width or tapers)


def _is_point(branch: Branch, branches: list[Branch], degree: dict[int, int], width: float) -> bool:
    """Whether a short branch with a free end is only the point of a corner.

    The corner is that of the two others at its junction. It is only their point if it hardly
    reaches beyond its junction's disc, or if its tip is where the two others meet when they go
    straight on.
    """
    free = [degree[node] == 1 for node in branch.nodes]
    if free[0] == free[1] or branch.length > _LONGEST_CORNER * width:
        return False
    tip, joint = (0, -1) if free[0] else (-1, 0)
    node = branch.nodes[joint]
    away = [
        run for other in branches if other is not branch for run in runs_from(other, node, width)
    ]
    if (
        len(away) != 2
        or angle_between(away[0][1] - away[0][0], away[1][0] - away[1][1]) < _POINT_RAD
    ):
        return False
    if branch.length + branch.radii[tip] - branch.radii[joint] < _POINT * width:
        return True
    gap = _meeting_point(*away) - branch.points[tip]
    return bool(np.hypot(*gap) < _AT_MEETING * width)


def runs_from(branch: Branch, node: int, width: float) -> Iterator[tuple[Points, Points]]:
    """A near and a far point of a branch as it leaves a node, clear of the swerve there.

    None if the branch does not meet the node, two pairs for a ring.
    """
    for end, points in zip(branch.nodes, (branch.points, branch.points[::-1]), strict=True):
        if end == node:
            lengths = arc_lengths(points)
            near, far = at_arc_lengths(
                points, lengths, np.minimum(width * _CLEAR, lengths[-1] * np.array([0.5, 1.0]))
            )
            yield near, far


def _meeting_point(a: tuple[Points, Points], b: tuple[Points, Points]) -> Points:
    """Where the lines through two pairs of points meet.

    That is infinitely far away where they are parallel.
    """
    along, across = a[1] - a[0], b[1] - b[0]
    cross = float(along[0] * across[1] - along[1] * across[0])
    gap = b[0] - a[0]
    share = float(gap[0] * across[1] - gap[1] * across[0]) / cross if cross else np.inf
    return np.asarray(a[0] + share * along)


def angle_between(a: Points, b: Points) -> float:
    """Angle between two directions, in [0, pi]."""
    return float(abs(np.arctan2(a[0] * b[1] - a[1] * b[0], a @ b)))


def _merged_branches(branches: list[Branch]) -> list[Branch]:
    """Branches that alone meet at a node made one."""
    left = list(branches)
    degree = _degrees(left)
    for node, count in degree.items():
        meeting = [branch for branch in left if node in branch.nodes]
        if count != 2 or len(meeting) != 2:
            continue
        first, second = meeting
        first = first if first.nodes[1] == node else _reversed_branch(first)
        second = second if second.nodes[0] == node else _reversed_branch(second)
        joined = Branch(
            nodes=(first.nodes[0], second.nodes[1]),
            points=np.concatenate((first.points, second.points[1:])),
            radii=np.concatenate((first.radii, second.radii[1:])),
        )
        left = [branch for branch in left if branch not in meeting] + [joined]
    return left


def _reversed_branch(branch: Branch) -> Branch:
    return Branch(nodes=branch.nodes[::-1], points=branch.points[::-1], radii=branch.radii[::-1])
