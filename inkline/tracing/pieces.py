"""The middle line of an outline cut into pieces at its junctions and bends.

Near a junction the middle line swerves, as the disc that it carries grows into the crotch. A pen
doesn't: so the line is cut off a little outside, and only the pieces between are kept. Where a
piece ends freely it goes straight on to the end of the ink.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Points
from inkline.geometry.polyline import arc_lengths, at_arc_lengths
from inkline.tracing.axis import TOUCH, MedialAxis
from inkline.tracing.branches import Branch, angle_between, runs_from

End = tuple[int, int]
"""A piece's number and 0 for its start, -1 for its end."""
_BEND_RAD = np.deg2rad(35.0)
"""A turn at a corner of the outline from which on the stroke itself has a corner."""
_NEAR = 1.5
"""Junctions nearer than this many half widths are one, as in X ..."""
_WAIST = 2.2
"""... and so are those nearer than this many widths ..."""
_WAIST_RAD = np.deg2rad(60.0)
"""... if at neither of them the two other branches nearly go on into each other.
Within this angle, as at the waist of 8."""
_CUT = 1.0
"""Where the line is cut off at the nearest, in half widths of the junction's disc."""
_LEFT_OVER = 0.15
"""The share of a branch that cutting both its ends always leaves."""
_SWERVE = 0.3
"""Where the half width falls faster than this towards a tip, the line is cut off.
It has turned into a corner of a slanted end: the bisector of a corner of so many degrees falls by
the sine of half of them, 0.5 for a corner of 60."""
_OVER = 0.2
"""Over how many widths that is read."""
_LONGEST_TIP = 1.6
"""No more than this many widths are cut off or drawn out."""
AIM = 0.7
"""Over how many widths a piece's direction is read."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Path:
    """A way of the pen.

    Attributes:
        points: `(n, 2)`, n >= 2; of a closed one the first is not repeated.
        radii: half the width at each, `(n,)`.
        closed: it returns to its start.
        corners: numbers of the points at which it turns sharply, ascending.
        touches: whether its start and its end lie on another path.
    """

    points: Points
    radii: Floats
    closed: bool = False
    corners: tuple[int, ...] = ()
    touches: tuple[bool, bool] = (False, False)


@dataclass(slots=True, kw_only=True)
class Joint:
    """A junction or a bend: where pieces end that are to be joined."""

    centre: Points
    reach: float
    ends: list[End] = field(default_factory=list)


def pieces_of(axis: MedialAxis) -> tuple[list[Path], list[Joint], list[Path]]:
    """Branches cut off at joints, the joints, and rings that meet none."""
    degree: dict[int, int] = {}
    for branch in axis.branches:
        for node in branch.nodes:
            degree[node] = degree.get(node, 0) + 1
    joints = _junctions(axis, degree)
    inner = {id(branch) for branch in axis.branches if _is_within(branch, joints)}
    pieces: list[Path] = []
    rings: list[Path] = []
    for branch in axis.branches:
        if id(branch) in inner:
            continue
        is_ring = _is_ring(branch, joints)
        whole = _ring_away_from(branch, axis.corners) if is_ring else branch
        bends = _bends(whole, axis, degree)
        if is_ring and not bends:
            rings.append(Path(points=whole.points[:-1], radii=whole.radii[:-1], closed=True))
            continue
        _cut_branch(whole, bends, joints, pieces, axis)
    distinct = {id(joint): joint for joint in joints.values()}
    return pieces, list(distinct.values()), rings


def _junctions(axis: MedialAxis, degree: dict[int, int]) -> dict[int, Joint]:
    """The joint of every node at which three branches or more meet; near ones share theirs."""
    nodes: dict[int, tuple[Points, float]] = {}
    for branch in axis.branches:
        for node, at in zip(branch.nodes, (0, -1), strict=True):
            if degree[node] >= 3:
                nodes[node] = (branch.points[at], float(branch.radii[at]))
    group = {node: {node} for node in nodes}
    for branch in axis.branches:
        a, b = branch.nodes
        if a not in nodes or b not in nodes or a == b:
            continue
        if branch.length < _NEAR * max(nodes[a][1], nodes[b][1]) or _is_waist(branch, axis):
            joined = group[a] | group[b]
            group.update(dict.fromkeys(joined, joined))
    joints: dict[int, Joint] = {}
    for members in {id(one): one for one in group.values()}.values():
        centre = np.mean([nodes[node][0] for node in members], axis=0)
        spread = max(float(np.hypot(*(nodes[node][0] - centre))) for node in members)
        largest = max(nodes[node][1] for node in members)
        reach = max(largest, spread + 0.5 * largest)
        joints.update(dict.fromkeys(members, Joint(centre=centre, reach=reach)))
    return joints


def _is_waist(branch: Branch, axis: MedialAxis) -> bool:
    """Whether a short branch is only where two strokes run into each other side by side."""
    if branch.length > _WAIST * axis.width:
        return False
    for node in branch.nodes:
        away = [
            run
            for other in axis.branches
            if other is not branch
            for run in runs_from(other, node, axis.width)
        ]
        if (
            len(away) != 2
            or angle_between(away[0][1] - away[0][0], away[1][0] - away[1][1]) < _WAIST_RAD
        ):
            return False
    return True


def _is_ring(branch: Branch, joints: dict[int, Joint]) -> bool:
    """Whether a branch comes back to its start without meeting any other."""
    return branch.nodes[0] == branch.nodes[1] and branch.nodes[0] not in joints


def _is_within(branch: Branch, joints: dict[int, Joint]) -> bool:
    """Whether a branch lies within one joint, between the nodes that it is made of."""
    a, b = (joints.get(node) for node in branch.nodes)
    return (
        a is not None
        and a is b
        and bool((np.hypot(*(branch.points - a.centre).T) < _CUT * a.reach).all())
    )


def _ring_away_from(ring: Branch, corners: Points) -> Branch:
    """A ring that starts as far as possible from any corner of the outline."""
    if not len(corners):
        return ring
    points, radii = ring.points[:-1], ring.radii[:-1]
    first = int(
        np.argmax(np.min(np.hypot(*(points[:, None] - corners[None]).transpose(2, 0, 1)), axis=1))
    )
    order = np.append(np.roll(np.arange(len(points)), -first), first)
    return Branch(nodes=ring.nodes, points=points[order], radii=radii[order])


def _bends(branch: Branch, axis: MedialAxis, degree: dict[int, int]) -> list[int]:
    """Numbers of the branch's points at which the letter has a corner, ascending."""
    lengths = arc_lengths(branch.points)
    margins = [axis.width if degree[node] >= 3 else 0.5 * axis.width for node in branch.nodes]
    found: dict[int, float] = {}
    for corner in axis.corners:
        at = _middle_of_reach(branch, lengths, corner)
        if at is None or not margins[0] < lengths[at] < lengths[-1] - margins[1]:
            continue
        turn = _turn_at(branch.points, lengths, lengths[at], axis.width)
        if turn > _BEND_RAD:
            found[at] = turn
    kept: list[int] = []
    for at in sorted(found, key=lambda one: -found[one]):
        if all(abs(lengths[at] - lengths[other]) > 0.8 * axis.width for other in kept):
            kept.append(at)
    return sorted(kept)


def _middle_of_reach(branch: Branch, lengths: Floats, corner: Points) -> int | None:
    """The middle of the longest run of points whose discs touch the outline in `corner`.

    `None` where none does.
    """
    touching = np.flatnonzero(np.hypot(*(branch.points - corner).T) < TOUCH * branch.radii)
    if not len(touching):
        return None
    runs = np.split(touching, np.flatnonzero(np.diff(touching) > 1) + 1)
    run = max(runs, key=lambda one: lengths[one[-1]] - lengths[one[0]])
    return int(np.searchsorted(lengths, 0.5 * (lengths[run[0]] + lengths[run[-1]])))


def _turn_at(points: Points, lengths: Floats, at: float, width: float) -> float:
    """Angle between the directions well before and well after one arc length, in [0, pi]."""
    wanted = at + width * np.array([-1.0, -0.55, 0.55, 1.0])
    a, b, c, d = at_arc_lengths(points, lengths, np.clip(wanted, 0.0, lengths[-1]))
    return angle_between(b - a, d - c)


def _cut_branch(
    branch: Branch, bends: list[int], joints: dict[int, Joint], pieces: list[Path], axis: MedialAxis
) -> None:
    """Adds the pieces of a branch, and the joints of its bends, to `pieces` and `joints`."""
    stops = [0, *bends, len(branch.points) - 1]
    new = [Joint(centre=branch.points[at], reach=float(branch.radii[at])) for at in bends]
    for joint in new:
        joints[-1 - len(joints)] = joint
    around = [joints.get(branch.nodes[0]), *new, joints.get(branch.nodes[1])]
    runs = [np.arange(a, b + 1) for a, b in pairwise(stops)]
    sides = list(pairwise(around))
    if _is_ring(branch, joints):
        runs = [np.concatenate((runs[-1], runs[0][1:])), *runs[1:-1]]
        sides = [(new[-1], new[0]), *sides[1:-1]]
    for run, (before, after) in zip(runs, sides, strict=True):
        piece = _shortened_piece(branch.points[run], branch.radii[run], before, after, axis)
        for side, end in ((before, 0), (after, -1)):
            if side is not None:
                side.ends.append((len(pieces), end))
        pieces.append(piece)


def _shortened_piece(
    points: Points, radii: Floats, before: Joint | None, after: Joint | None, axis: MedialAxis
) -> Path:
    """One piece with the swerves at its joints cut off.

    Its free ends are drawn out to the outline.
    """
    lengths = arc_lengths(points)
    touched = axis.touches_corner(points, radii)
    cuts = [
        _clear_length(points, lengths, touched, before),
        _clear_length(points[::-1], lengths[-1] - lengths[::-1], touched[::-1], after),
    ]
    most = (1.0 - _LEFT_OVER) * lengths[-1]
    if sum(cuts) > most:
        cuts = [cut * most / sum(cuts) for cut in cuts]
    inner = lengths[(lengths > cuts[0]) & (lengths < lengths[-1] - cuts[1])]
    wanted = np.concatenate(([cuts[0]], inner, [lengths[-1] - cuts[1]]))
    points, radii = at_arc_lengths(points, lengths, wanted), np.interp(wanted, lengths, radii)
    if before is None:
        points, radii = _with_finished_tip(points[::-1], radii[::-1], axis)
        points, radii = points[::-1], radii[::-1]
    if after is None:
        points, radii = _with_finished_tip(points, radii, axis)
    return Path(points=points, radii=radii)


def _clear_length(points: Points, lengths: Floats, touched: Bools, joint: Joint | None) -> float:
    """Arc length from the start at which a line is clear of a joint; 0 without a joint.

    It has left the joint's reach there, and the joint's crotches no longer push it aside.
    """
    if joint is None:
        return 0.0
    within = np.hypot(*(points - joint.centre).T) < _CUT * joint.reach
    within &= lengths <= 0.5 * lengths[-1]
    last = int(np.flatnonzero(within)[-1]) if within.any() else 0
    free = np.flatnonzero(~touched[last:])
    return float(lengths[last + free[0]] if len(free) else lengths[-1])


def _with_finished_tip(points: Points, radii: Floats, axis: MedialAxis) -> tuple[Points, Floats]:
    """A line that goes straight on at its end until its disc touches the outline.

    Where it swerved into a corner of the outline, that part is cut off first.
    """
    lengths = arc_lengths(points)
    before = np.interp(lengths - _OVER * axis.width, lengths, radii)
    falls = (before - radii) / (_OVER * axis.width) > _SWERVE
    near = lengths > max(lengths[-1] - _LONGEST_TIP * axis.width, 0.5 * lengths[-1])
    if (falls & near).any() and falls[-1]:
        steady = np.flatnonzero(~falls)
        turned = lengths[int(steady[-1]) + 1] - 0.5 * _OVER * axis.width if len(steady) else 0.0
        last = max(int(np.searchsorted(lengths, max(turned, 0.0))), 1)
        points, radii = points[: last + 1], radii[: last + 1]
    heading = heading_at_end(points, AIM * axis.width)
    steps = np.linspace(0.0, _LONGEST_TIP * axis.width, 65)[1:]
    beyond = points[-1] + steps[:, None] * heading
    fits = axis.clearances(beyond) >= 0.985 * radii[-1]
    n_fit = int(np.argmin(fits)) if not fits.all() else 0
    return np.concatenate((points, beyond[:n_fit])), np.append(radii, np.full(n_fit, radii[-1]))


def heading_at_end(points: Points, over: float) -> Points:
    """Unit direction in which a line arrives at its end, read over so much of its length."""
    lengths = arc_lengths(points)
    start = at_arc_lengths(points, lengths, np.array([max(lengths[-1] - over, 0.0)]))[0]
    step = points[-1] - start
    return np.asarray(step / max(float(np.hypot(*step)), 1e-300))
