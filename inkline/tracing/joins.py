"""From pieces of a middle line to paths of a pen.

Paths lead through crossings, round corners, and up to strokes that are only touched. The pieces are
joined as a pen would go: straight on where one goes on, in a point where the letter has a corner,
and up to the other's middle where one stroke only touches another.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import arc_lengths, at_arc_lengths
from inkline.tracing.axis import MedialAxis
from inkline.tracing.branches import angle_between
from inkline.tracing.pieces import AIM, End, Joint, Path, heading_at_end, pieces_of

_STRAIGHT_ON_RAD = np.deg2rad(60.0)
"""A pen goes on where it need not turn by more; a sharper turn is a corner."""
_FORK_RAD = np.deg2rad(22.0)
"""Where going on would turn by more than this either way ..."""
_FORK_ARMS_RAD = np.deg2rad(115.0)
"""... and the two arms turn by more than this into each other, it is a fork.
The pen goes down one arm and up the other, as in Y."""
_FORK_BOW_RAD = np.deg2rad(12.0)
"""The arms of a fork are straight: over some widths they turn by less than this."""
_LOOP_RAD = np.deg2rad(50.0)
"""A loop that leaves a junction and comes back turning by less than this is closed, as in Q ..."""
_LOOP_SPARE_RAD = np.deg2rad(15.0)
"""... unless another way out of it is straighter by more than this, as in some 6."""
_FAR_AIM = 2.5
"""Over how many widths of it a piece is judged to be straight."""
_TIGHTEST = 0.5
"""A pen goes on turning by at most so many radians while its direction is read."""
_FIT = 0.82
"""A corner's disc of the stroke's own half width must have this share of it free.
Else the corner is drawn back."""
_STEP = 0.08
"""Distance of the points of what is drawn through a joint, in widths."""
_FARTHEST = 3.0
"""No end goes farther through its joint than this many of the joint's reach."""
_ONE_POINT = 0.12
"""Stops of a corner's two arms nearer than this many widths are one point."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Link:
    """What lies beyond a piece's end.

    The points up to the next piece, or up to the path that is touched.
    """

    points: Points
    radii: Floats
    to: End | None
    is_corner: bool


def paths_from_axis(axis: MedialAxis) -> list[Path]:
    """The ways of a pen along an outline's middle line, in no particular order or direction."""
    pieces, joints, rings = pieces_of(axis)
    links: dict[End, _Link] = {}
    for joint in joints:
        links.update(_links(joint, pieces, axis))
    return [*_paths_along(pieces, links), *rings]


def _links(joint: Joint, pieces: list[Path], axis: MedialAxis) -> dict[End, _Link]:
    """What joins the ends of pieces at one joint."""
    ends = {end: _Tip.of_piece(pieces[end[0]], end, axis.width) for end in joint.ends}
    pairs, corners = _pairs_of_ends(list(ends.values()))
    links: dict[End, _Link] = {}
    ways: list[Points] = []
    for pair in (*pairs, *corners):
        build = _bridge if pair in pairs else _corner
        points, radii = build(*pair, joint, axis)
        _connect(links, pair, points, radii, is_corner=build is _corner)
        ways.append(np.concatenate((pair[0].run, points, pair[1].run[::-1])))
    for end, tip in ends.items():
        if end not in links:
            points = _way_up_to(tip, ways, joint, axis.width)
            radii = np.clip(axis.clearances(points), 0.5 * tip.radius, tip.radius)
            links[end] = _Link(points=points, radii=radii, to=None, is_corner=False)
    return links


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Tip:
    """The end of a piece at a joint.

    Where it lies, where it heads, how bowed and how wide it is there, and its last part.
    """

    end: End
    point: Points
    heading: Points
    curvature: float
    bow: float
    radius: float
    run: Points

    @staticmethod
    def of_piece(piece: Path, end: End, width: float) -> _Tip:
        points, radii = (
            (piece.points, piece.radii) if end[1] == -1 else (piece.points[::-1], piece.radii[::-1])
        )
        near = np.hypot(*(points - points[-1]).T) <= width
        first = int(np.flatnonzero(~near)[-1]) + 1 if not near.all() else 0
        lately = heading_at_end(points, AIM * width)
        curvature = _curvature(points, lately, AIM * width)
        return _Tip(
            end=end,
            point=points[-1],
            heading=_rotated_vector(lately, 0.5 * AIM * width * curvature),
            curvature=curvature,
            bow=angle_between(lately, heading_at_end(points, _FAR_AIM * width)),
            radius=float(min(np.quantile(radii[first:], 0.25), radii[-1])),
            run=points[first:],
        )

    def points_ahead(self, far: float, step: float) -> Points:
        """Where the pen comes if it goes on turning as it did, `(n, 2)`.

        From the end itself on, up to `far` ahead.
        """
        n_steps = max(2, int(np.ceil(far / step)))
        turns = (np.arange(n_steps) + 0.5) * (far / n_steps) * self.curvature
        steps = np.array([_rotated_vector(self.heading, turn) for turn in turns]) * (far / n_steps)
        return np.concatenate((self.point[None, :], self.point + np.cumsum(steps, axis=0)))


def _curvature(points: Points, lately: Points, over: float) -> float:
    """Signed turn to a unit of length with which a line arrives at its end.

    Read over its last two stretches of `over`.
    """
    lengths = arc_lengths(points)
    if lengths[-1] < 2.0 * over:
        return 0.0
    a, b = at_arc_lengths(points, lengths, lengths[-1] - np.array([2.0 * over, over]))
    turn = float(np.arctan2(_cross(b - a, lately), (b - a) @ lately))
    return float(np.clip(turn / over, -_TIGHTEST / over, _TIGHTEST / over))


def _rotated_vector(vector: Points, angle: float) -> Points:
    cos, sin = np.cos(angle), np.sin(angle)
    return np.array([vector[0] * cos - vector[1] * sin, vector[0] * sin + vector[1] * cos])


_Pair = tuple[_Tip, _Tip]


def _pairs_of_ends(tips: list[_Tip]) -> tuple[list[_Pair], list[_Pair]]:
    """Pairs of ends at which the pen goes on, and pairs that it joins by a corner."""
    turns = sorted(
        ((angle_between(a.heading, -b.heading), a, b) for a, b in combinations(tips, 2)),
        key=lambda one: one[0],
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


def _bridge(a: _Tip, b: _Tip, _place: Joint, axis: MedialAxis) -> tuple[Points, Floats]:
    """A cubic from one end to the other that keeps both directions."""
    gap = float(np.hypot(*(b.point - a.point)))
    n_points = max(3, int(np.ceil(gap / (_STEP * axis.width))))
    t = np.linspace(0.0, 1.0, n_points + 1)[1:-1, None]
    c1, c2 = a.point + a.heading * gap / 3.0, b.point + b.heading * gap / 3.0
    points = (
        (1 - t) ** 3 * a.point
        + 3 * (1 - t) ** 2 * t * c1
        + 3 * (1 - t) * t**2 * c2
        + t**3 * b.point
    )
    return points, np.interp(t[:, 0], [0.0, 1.0], [a.radius, b.radius])


def _corner(a: _Tip, b: _Tip, joint: Joint, axis: MedialAxis) -> tuple[Points, Floats]:
    """The point where both ends meet if they go straight on.

    Two points where the outline is cut off before they do.
    """
    radius, radii = 0.5 * (a.radius + b.radius), np.array([a.radius, b.radius])
    cross = float(a.heading[0] * b.heading[1] - a.heading[1] * b.heading[0])
    if abs(cross) > np.sin(np.deg2rad(4.0)):
        gap = b.point - a.point
        ahead = np.array([_cross(gap, b.heading), _cross(gap, a.heading)]) / cross
    else:
        ahead = np.full(2, _FARTHEST * joint.reach)
    ahead = np.clip(ahead, 0.0, _FARTHEST * joint.reach)
    stops = [_farthest_fit(tip, far, axis) for tip, far in zip((a, b), ahead.tolist(), strict=True)]
    if np.hypot(*(stops[0] - stops[1])) < _ONE_POINT * axis.width:
        stops, radii = [0.5 * (stops[0] + stops[1])], np.array([radius])
    return np.array(stops), np.minimum(
        radii, np.maximum(axis.clearances(np.array(stops)), _FIT * radii)
    )


def _farthest_fit(tip: _Tip, far: float, axis: MedialAxis) -> Points:
    """The farthest point ahead to which an end's disc can go without leaving the outline.

    At most `far` ahead.
    """
    tried = tip.point + np.linspace(0.0, far, 33)[:, None] * tip.heading
    fits = axis.clearances(tried) >= _FIT * tip.radius
    fits[0] = True
    return np.asarray(tried[-1] if fits.all() else tried[int(np.argmin(fits)) - 1])


def _cross(a: Points, b: Points) -> float:
    return float(a[0] * b[1] - a[1] * b[0])


def _way_up_to(tip: _Tip, ways: list[Points], joint: Joint, width: float) -> Points:
    """The points through which an end goes on to meet one of the ways through its joint."""
    ahead = tip.points_ahead(_FARTHEST * joint.reach, _STEP * width)
    hits = [hit for way in ways if (hit := _first_crossing(ahead, way)) is not None]
    if hits:
        number, point = min(hits, key=lambda hit: hit[0])
        return np.concatenate((ahead[1 : number + 1], point[None, :]))
    near = np.concatenate(ways) if ways else joint.centre[None, :]
    return np.asarray(near[np.argmin(np.hypot(*(near - joint.centre).T))][None, :])


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


def _connect(
    links: dict[End, _Link], pair: _Pair, points: Points, radii: Floats, *, is_corner: bool
) -> None:
    a, b = pair
    links[a.end] = _Link(points=points, radii=radii, to=b.end, is_corner=is_corner)
    links[b.end] = _Link(points=points[::-1], radii=radii[::-1], to=a.end, is_corner=is_corner)


def _paths_along(pieces: list[Path], links: dict[End, _Link]) -> Iterator[Path]:
    """Pieces strung together along their links, each used once."""
    left = set(range(len(pieces)))
    for number in range(len(pieces)):
        if number in left:
            start = _first_of_chain(number, links)
            yield _chain(start, pieces, links, left)


def _other_end(end: End) -> End:
    return (end[0], -1 - end[1])


def _first_of_chain(number: int, links: dict[End, _Link]) -> End:
    """The end at which the chain that holds a piece starts.

    Where the chain is a ring, the piece's own start.
    """
    end: End = (number, 0)
    while (link := links.get(end)) is not None and link.to is not None:
        end = _other_end(link.to)
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
        closing = links.get(_other_end(end))
        if closing is None:
            break
        if closing.is_corner:
            first = sum(len(points) for points, _ in runs)
            corners.extend(range(first, first + len(closing.points)))
        runs.append((closing.points, closing.radii))
        if closing.to is None or closing.to == start:
            break
        end = closing.to
    path = Path(
        points=np.concatenate([one[0] for one in runs]),
        radii=np.concatenate([one[1] for one in runs]),
    )
    if closing is not None and closing.to == start:
        return replace(path, closed=True, corners=tuple(corners))
    touches = (opening is not None, closing is not None)
    return replace(path, corners=tuple(corners), touches=touches)
