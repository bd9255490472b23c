"""From branches of a middle line to paths of a pen: through crossings, round corners, up to strokes that are only touched.

Near a junction the middle line swerves, as the disc that it carries grows into the crotch. A pen doesn't: so the line is cut off a
little outside and the pieces are joined as a pen would go, straight on where a branch goes on, in a point where the letter has a corner,
and up to the other's middle where one stroke only touches another.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.polyline import arc_lengths, at_arc_lengths
from inkline.lettering.tracing_axis import TOUCH, Axis, Branch, angle_between, runs_from

Points = NDArray[np.float64]
Floats = NDArray[np.float64]
End = tuple[int, int]
"""A piece's number and 0 for its start, -1 for its end."""

_STRAIGHT_ON_RAD = np.deg2rad(60.0)
"""A pen goes on where it need not turn by more; a sharper turn is a corner."""
_FORK_RAD = np.deg2rad(22.0)
"""Where going on would turn by more than this either way ..."""
_FORK_ARMS_RAD = np.deg2rad(115.0)
"""... and the two arms turn by more than this into each other, it is a fork: the pen goes down one arm and up the other, as in Y."""
_FORK_BOW_RAD = np.deg2rad(12.0)
"""The arms of a fork are straight: over some widths they turn by less than this."""
_LOOP_RAD = np.deg2rad(50.0)
"""A loop that leaves a junction and comes back to it turning by less than this is closed, as in Q ..."""
_LOOP_SPARE_RAD = np.deg2rad(15.0)
"""... unless another way out of it is straighter by more than this, as in some 6."""
_BEND_RAD = np.deg2rad(35.0)
"""A turn at a corner of the outline from which on the stroke itself has a corner."""
_NEAR = 1.5
"""Junctions nearer than this many half widths are one, as in X ..."""
_WAIST = 2.2
"""... and so are those nearer than this many widths ..."""
_WAIST_RAD = np.deg2rad(60.0)
"""... if at neither of them the two other branches are within this of going on into each other, as at the waist of 8."""
_CUT = 1.0
"""Where the line is cut off at the nearest, in half widths of the junction's disc."""
_AIM, _FAR_AIM = 0.7, 2.5
"""Over how many widths a piece's direction is read, and over how many whether it is straight."""
_TIGHTEST = 0.5
"""A pen goes on turning by at most this many radians over the stretch over which its direction is read."""
_FIT = 0.92
"""A corner's disc of the stroke's own half width must have this share of it free, or the corner is drawn back."""
_STEP = 0.08
"""Distance of the points of what is drawn through a place, in widths."""
_FARTHEST = 3.0
"""No end goes farther through its place than this many of the place's reach."""
_ONE_POINT = 0.12
"""Stops of a corner's two arms nearer than this many widths are one point."""
_LEFT_OVER = 0.15
"""The share of a branch that cutting both its ends always leaves."""


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
class _Place:
    """A junction or a bend: where pieces end that are to be joined."""

    centre: Points
    reach: float
    ends: list[End] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Link:
    """What lies beyond a piece's end: the points up to the next piece, or up to the path that is touched."""

    points: Points
    radii: Floats
    to: End | None
    is_corner: bool


def paths_from_axis(axis: Axis) -> list[Path]:
    """The ways of a pen along an outline's middle line, in no particular order or direction."""
    pieces, places, rings = _pieces(axis)
    links: dict[End, _Link] = {}
    for place in places:
        links.update(_links(place, pieces, axis))
    return [*_walked(pieces, links), *rings]


def _pieces(axis: Axis) -> tuple[list[Path], list[_Place], list[Path]]:
    """Branches cut off at places, the places, and rings that meet none."""
    degree: dict[int, int] = {}
    for branch in axis.branches:
        for node in branch.nodes:
            degree[node] = degree.get(node, 0) + 1
    places = _junctions(axis, degree)
    inner = {id(branch) for branch in axis.branches if _is_within(branch, places)}
    pieces: list[Path] = []
    rings: list[Path] = []
    for branch in axis.branches:
        if id(branch) in inner:
            continue
        is_ring = branch.nodes[0] == branch.nodes[1] and branch.nodes[0] not in places
        whole = _turned_away(branch, axis.corners) if is_ring else branch
        bends = _bends(whole, axis, degree)
        if is_ring and not bends:
            rings.append(Path(points=whole.points[:-1], radii=whole.radii[:-1], closed=True))
            continue
        _cut(whole, bends, is_ring, places, pieces, axis)
    distinct = {id(place): place for place in places.values()}
    return pieces, list(distinct.values()), rings


def _junctions(axis: Axis, degree: dict[int, int]) -> dict[int, _Place]:
    """The place of every node at which three branches or more meet; near ones share theirs."""
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
    places: dict[int, _Place] = {}
    for members in {id(one): one for one in group.values()}.values():
        centre = np.mean([nodes[node][0] for node in members], axis=0)
        spread = max(float(np.hypot(*(nodes[node][0] - centre))) for node in members)
        largest = max(nodes[node][1] for node in members)
        reach = max(largest, spread + 0.5 * largest)
        places.update(dict.fromkeys(members, _Place(centre=centre, reach=reach)))
    return places


def _is_waist(branch: Branch, axis: Axis) -> bool:
    """Whether a short branch is where two strokes run into each other side by side, and not a stroke itself."""
    if branch.length > _WAIST * axis.width:
        return False
    for node in branch.nodes:
        away = [run for other in axis.branches if other is not branch for run in runs_from(other, node, axis.width)]
        if len(away) != 2 or angle_between(away[0][1] - away[0][0], away[1][0] - away[1][1]) < _WAIST_RAD:
            return False
    return True


def _is_within(branch: Branch, places: dict[int, _Place]) -> bool:
    """Whether a branch lies within one place, between the nodes that it is made of."""
    a, b = (places.get(node) for node in branch.nodes)
    return a is not None and a is b and bool((np.hypot(*(branch.points - a.centre).T) < _CUT * a.reach).all())


def _turned_away(ring: Branch, corners: Points) -> Branch:
    """A ring that starts as far as possible from any corner of the outline."""
    if not len(corners):
        return ring
    points, radii = ring.points[:-1], ring.radii[:-1]
    first = int(np.argmax(np.min(np.hypot(*(points[:, None] - corners[None]).transpose(2, 0, 1)), axis=1)))
    order = np.append(np.roll(np.arange(len(points)), -first), first)
    return Branch(nodes=ring.nodes, points=points[order], radii=radii[order])


def _bends(branch: Branch, axis: Axis, degree: dict[int, int]) -> list[int]:
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
    """The middle of the longest run of points whose discs touch the outline in `corner`; `None` where none does."""
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


def _cut(
    branch: Branch, bends: list[int], is_ring: bool, places: dict[int, _Place], pieces: list[Path], axis: Axis
) -> None:
    """Adds the pieces of a branch between its places, and the places of its bends, to `pieces` and `places`."""
    stops = [0, *bends, len(branch.points) - 1]
    new = [_Place(centre=branch.points[at], reach=float(branch.radii[at])) for at in bends]
    for place in new:
        places[-1 - len(places)] = place
    around = [places.get(branch.nodes[0]), *new, places.get(branch.nodes[1])]
    runs = [np.arange(a, b + 1) for a, b in zip(stops[:-1], stops[1:], strict=True)]
    sides = list(zip(around[:-1], around[1:], strict=True))
    if is_ring:
        runs = [np.concatenate((runs[-1], runs[0][1:])), *runs[1:-1]]
        sides = [(new[-1], new[0]), *sides[1:-1]]
    for run, (before, after) in zip(runs, sides, strict=True):
        piece = _shortened(branch.points[run], branch.radii[run], before, after, axis)
        for place, end in ((before, 0), (after, -1)):
            if place is not None:
                place.ends.append((len(pieces), end))
        pieces.append(piece)


def _shortened(points: Points, radii: Floats, before: _Place | None, after: _Place | None, axis: Axis) -> Path:
    """One piece with the swerves at its places cut off, and its free ends drawn out to the outline."""
    lengths = arc_lengths(points)
    touched = axis.touched(points, radii)
    cuts = [
        _clear_of(points, lengths, touched, before),
        _clear_of(points[::-1], lengths[-1] - lengths[::-1], touched[::-1], after),
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


def _clear_of(points: Points, lengths: Floats, touched: NDArray[np.bool_], place: _Place | None) -> float:
    """Arc length from the start at which a line has left a place's reach, and its crotches no longer push it aside; 0 without a place."""
    if place is None:
        return 0.0
    within = np.hypot(*(points - place.centre).T) < _CUT * place.reach
    within &= lengths <= 0.5 * lengths[-1]
    last = int(np.flatnonzero(within)[-1]) if within.any() else 0
    free = np.flatnonzero(~touched[last:])
    return float(lengths[last + free[0]] if len(free) else lengths[-1])


_SWERVE = 0.3
"""Where the half width falls faster than this towards a tip, the line has turned into a corner of a slanted end and is cut off:
the bisector of a corner of so many degrees falls by the sine of half of them, 0.5 for a corner of 60."""
_OVER = 0.2
"""Over how many widths that is read."""
_LONGEST_TIP = 1.6
"""No more than this many widths are cut off or drawn out."""


def _with_finished_tip(points: Points, radii: Floats, axis: Axis) -> tuple[Points, Floats]:
    """A line whose end no longer swerves into a corner of the outline but goes straight on until its disc touches it."""
    lengths = arc_lengths(points)
    before = np.interp(lengths - _OVER * axis.width, lengths, radii)
    falls = (before - radii) / (_OVER * axis.width) > _SWERVE
    near = lengths > max(lengths[-1] - _LONGEST_TIP * axis.width, 0.5 * lengths[-1])
    if (falls & near).any() and falls[-1]:
        steady = np.flatnonzero(~falls)
        turned = lengths[int(steady[-1]) + 1] - 0.5 * _OVER * axis.width if len(steady) else 0.0
        last = max(int(np.searchsorted(lengths, max(turned, 0.0))), 1)
        points, radii = points[: last + 1], radii[: last + 1]
    heading = _heading(points, _AIM * axis.width)
    steps = np.linspace(0.0, _LONGEST_TIP * axis.width, 65)[1:]
    beyond = points[-1] + steps[:, None] * heading
    fits = axis.room(beyond) >= 0.985 * radii[-1]
    n_fit = int(np.argmin(fits)) if not fits.all() else 0
    return np.concatenate((points, beyond[:n_fit])), np.append(radii, np.full(n_fit, radii[-1]))


def _heading(points: Points, over: float) -> Points:
    """Unit direction in which a line arrives at its end, read over so much of its length."""
    lengths = arc_lengths(points)
    start = at_arc_lengths(points, lengths, np.array([max(lengths[-1] - over, 0.0)]))[0]
    step = points[-1] - start
    return np.asarray(step / max(float(np.hypot(*step)), 1e-300))


def _links(place: _Place, pieces: list[Path], axis: Axis) -> dict[End, _Link]:
    """What joins the ends of pieces at one place."""
    ends = {end: _Tip.of(pieces[end[0]], end, axis.width) for end in place.ends}
    pairs, corners = _paired(list(ends.values()))
    links: dict[End, _Link] = {}
    ways: list[Points] = []
    for pair, build in [(pair, _bridge) for pair in pairs] + [(pair, _corner) for pair in corners]:
        points, radii = build(*pair, place, axis)
        _connect(links, pair, points, radii, is_corner=build is _corner)
        ways.append(np.concatenate((pair[0].run, points, pair[1].run[::-1])))
    for end, tip in ends.items():
        if end not in links:
            points = _touching(tip, ways, place, axis.width)
            radii = np.clip(axis.room(points), 0.5 * tip.radius, tip.radius)
            links[end] = _Link(points=points, radii=radii, to=None, is_corner=False)
    return links


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Tip:
    """The end of a piece at a place: where it lies, where it heads, how bowed and how wide it is there, and its last part."""

    end: End
    point: Points
    heading: Points
    curvature: float
    bow: float
    radius: float
    run: Points

    @staticmethod
    def of(piece: Path, end: End, width: float) -> _Tip:
        points, radii = (piece.points, piece.radii) if end[1] == -1 else (piece.points[::-1], piece.radii[::-1])
        near = np.hypot(*(points - points[-1]).T) <= width
        first = int(np.flatnonzero(~near)[-1]) + 1 if not near.all() else 0
        lately = _heading(points, _AIM * width)
        curvature = _curvature(points, lately, _AIM * width)
        return _Tip(
            end=end,
            point=points[-1],
            heading=_rotated(lately, 0.5 * _AIM * width * curvature),
            curvature=curvature,
            bow=angle_between(lately, _heading(points, _FAR_AIM * width)),
            radius=float(min(np.quantile(radii[first:], 0.25), radii[-1])),
            run=points[first:],
        )

    def ahead(self, far: float, step: float) -> Points:
        """Where the pen comes if it goes on turning as it did, up to `far` ahead, `(n, 2)` from the end itself on."""
        n_steps = max(2, int(np.ceil(far / step)))
        turns = (np.arange(n_steps) + 0.5) * (far / n_steps) * self.curvature
        steps = np.array([_rotated(self.heading, turn) for turn in turns]) * (far / n_steps)
        return np.concatenate((self.point[None, :], self.point + np.cumsum(steps, axis=0)))


def _curvature(points: Points, lately: Points, over: float) -> float:
    """Signed turn to a unit of length with which a line arrives at its end, read over its last two stretches of `over`."""
    lengths = arc_lengths(points)
    if lengths[-1] < 2.0 * over:
        return 0.0
    a, b = at_arc_lengths(points, lengths, lengths[-1] - np.array([2.0 * over, over]))
    turn = float(np.arctan2(_cross(b - a, lately), (b - a) @ lately))
    return float(np.clip(turn / over, -_TIGHTEST / over, _TIGHTEST / over))


def _rotated(vector: Points, angle: float) -> Points:
    cos, sin = np.cos(angle), np.sin(angle)
    return np.array([vector[0] * cos - vector[1] * sin, vector[0] * sin + vector[1] * cos])


_Pair = tuple[_Tip, _Tip]


def _paired(tips: list[_Tip]) -> tuple[list[_Pair], list[_Pair]]:
    """Pairs of ends at which the pen goes on, and pairs that it joins by a corner."""
    turns = sorted(
        ((angle_between(a.heading, -b.heading), a, b) for a, b in combinations(tips, 2)), key=lambda one: one[0]
    )
    if len(tips) == 3 and turns[0][0] > _FORK_RAD and turns[2][0] > _FORK_ARMS_RAD:
        arms = turns[2][1:]
        if max(arm.bow for arm in arms) < _FORK_BOW_RAD:
            return [], [arms]
    most = min(_LOOP_RAD, turns[0][0] + _LOOP_SPARE_RAD)
    turns.sort(key=lambda one: (one[1].end[0] != one[2].end[0] or one[0] > most, one[0]))
    pairs: list[_Pair] = []
    taken: set[End] = set()
    for turn, a, b in turns:
        if turn < _STRAIGHT_ON_RAD and not {a.end, b.end} & taken:
            pairs.append((a, b))
            taken |= {a.end, b.end}
    if pairs or len(tips) < 2:
        return pairs, []
    return [], [turns[0][1:]]


def _bridge(a: _Tip, b: _Tip, _place: _Place, axis: Axis) -> tuple[Points, Floats]:
    """A cubic from one end to the other that keeps both directions."""
    gap = float(np.hypot(*(b.point - a.point)))
    n_points = max(3, int(np.ceil(gap / (_STEP * axis.width))))
    t = np.linspace(0.0, 1.0, n_points + 1)[1:-1, None]
    c1, c2 = a.point + a.heading * gap / 3.0, b.point + b.heading * gap / 3.0
    points = (1 - t) ** 3 * a.point + 3 * (1 - t) ** 2 * t * c1 + 3 * (1 - t) * t**2 * c2 + t**3 * b.point
    return points, np.interp(t[:, 0], [0.0, 1.0], [a.radius, b.radius])


def _corner(a: _Tip, b: _Tip, place: _Place, axis: Axis) -> tuple[Points, Floats]:
    """The point where both ends meet if they go straight on; two points where the outline is cut off before they do."""
    radius = 0.5 * (a.radius + b.radius)
    cross = float(a.heading[0] * b.heading[1] - a.heading[1] * b.heading[0])
    if abs(cross) > np.sin(np.deg2rad(4.0)):
        gap = b.point - a.point
        ahead = np.array([_cross(gap, b.heading), _cross(gap, a.heading)]) / cross
    else:
        ahead = np.full(2, _FARTHEST * place.reach)
    ahead = np.clip(ahead, 0.0, _FARTHEST * place.reach)
    stops = [_as_far_as_fits(tip, far, axis) for tip, far in zip((a, b), ahead.tolist(), strict=True)]
    if np.hypot(*(stops[0] - stops[1])) < _ONE_POINT * axis.width:
        return 0.5 * (stops[0] + stops[1])[None, :], np.array([radius])
    return np.array(stops), np.array([a.radius, b.radius])


def _as_far_as_fits(tip: _Tip, far: float, axis: Axis) -> Points:
    """The point up to `far` ahead of an end to which its disc can go without leaving the outline."""
    tried = tip.point + np.linspace(0.0, far, 33)[:, None] * tip.heading
    fits = axis.room(tried) >= _FIT * tip.radius
    fits[0] = True
    return np.asarray(tried[-1] if fits.all() else tried[int(np.argmin(fits)) - 1])


def _cross(a: Points, b: Points) -> float:
    return float(a[0] * b[1] - a[1] * b[0])


def _touching(tip: _Tip, ways: list[Points], place: _Place, width: float) -> Points:
    """The way of an end that goes on as it comes up to where it meets one of the ways through its place, `(n, 2)`."""
    ahead = tip.ahead(_FARTHEST * place.reach, _STEP * width)
    hits = [hit for way in ways if (hit := _first_crossing(ahead, way)) is not None]
    if hits:
        number, point = min(hits, key=lambda hit: hit[0])
        return np.concatenate((ahead[1 : number + 1], point[None, :]))
    near = np.concatenate(ways) if ways else place.centre[None, :]
    return near[np.argmin(np.hypot(*(near - place.centre).T))][None, :]


def _first_crossing(line: Points, way: Points) -> tuple[int, Points] | None:
    """Number of the first segment of `line` that crosses `way`, and where."""
    p, r = line[:-1, None], np.diff(line, axis=0)[:, None]
    q, s = way[None, :-1], np.diff(way, axis=0)[None]
    cross = r[..., 0] * s[..., 1] - r[..., 1] * s[..., 0]
    safe = np.where(np.abs(cross) > 1e-15, cross, np.inf)
    gap = q - p
    t = (gap[..., 0] * s[..., 1] - gap[..., 1] * s[..., 0]) / safe
    u = (gap[..., 0] * r[..., 1] - gap[..., 1] * r[..., 0]) / safe
    hits = np.argwhere((t >= 0.0) & (t < 1.0) & (u >= 0.0) & (u <= 1.0) & np.isfinite(safe))
    if not len(hits):
        return None
    i, j = min(hits.tolist(), key=lambda hit: (hit[0], t[hit[0], hit[1]]))
    return i, np.asarray(line[i] + t[i, j] * (line[i + 1] - line[i]))


def _connect(links: dict[End, _Link], pair: _Pair, points: Points, radii: Floats, *, is_corner: bool) -> None:
    a, b = pair
    links[a.end] = _Link(points=points, radii=radii, to=b.end, is_corner=is_corner)
    links[b.end] = _Link(points=points[::-1], radii=radii[::-1], to=a.end, is_corner=is_corner)


def _walked(pieces: list[Path], links: dict[End, _Link]) -> Iterator[Path]:
    """Pieces strung together along their links, each used once."""
    left = set(range(len(pieces)))
    for number in range(len(pieces)):
        if number in left:
            start = _first_of_chain(number, links)
            yield _chain(start, pieces, links, left)


def _other(end: End) -> End:
    return (end[0], -1 - end[1])


def _first_of_chain(number: int, links: dict[End, _Link]) -> End:
    """The end at which the chain that holds a piece starts; any one's start where the chain is a ring."""
    end: End = (number, 0)
    while (link := links.get(end)) is not None and link.to is not None:
        end = _other(link.to)
        if end == (number, 0):
            break
    return end


def _chain(start: End, pieces: list[Path], links: dict[End, _Link], left: set[int]) -> Path:
    """The path from one end through all that is linked to it."""
    runs: list[tuple[Points, Floats]] = []
    corners: list[int] = []
    opening = links.get(start)
    if opening is not None and opening.to is None:
        runs.append((opening.points[::-1], opening.radii[::-1]))
    end, closing = start, None
    while True:
        piece = pieces[end[0]]
        left.discard(end[0])
        step = 1 if end[1] == 0 else -1
        runs.append((piece.points[::step], piece.radii[::step]))
        closing = links.get(_other(end))
        if closing is None:
            break
        if closing.is_corner:
            first = sum(len(points) for points, _ in runs)
            corners.extend(range(first, first + len(closing.points)))
        runs.append((closing.points, closing.radii))
        if closing.to is None or closing.to == start:
            break
        end = closing.to
    path = Path(points=np.concatenate([one[0] for one in runs]), radii=np.concatenate([one[1] for one in runs]))
    if closing is not None and closing.to == start:
        return replace(path, closed=True, corners=tuple(corners))
    touches = (opening is not None, closing is not None)
    return replace(path, corners=tuple(corners), touches=touches)
