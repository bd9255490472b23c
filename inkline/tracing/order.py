"""Which way a hand draws the strokes of a letter, and in which order.

And where it lifts the pen. Common practice of writing lessons, no source: uprights and slants go
down, level strokes go to the right, bowls start from the stem at their upper end, and round letters
start at the upper right and go against the clock. At a corner the pen goes on if it may: down and
off to the right as in L, down and up again as in V. It is lifted where both ways lead down from it,
as at the top of A.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from inkline.geometry.polygon import signed_area
from inkline.geometry.polyline import arc_lengths
from inkline.tracing.branches import angle_between
from inkline.tracing.pieces import Path

_LEVEL = 0.35
"""A stroke whose ends differ less in height than this share of their distance is level."""
_STRAIGHT = 0.96
"""A stroke whose ends are at least this share of its length apart is straight."""
_FLAG = 0.5
"""A stroke shorter than this share of the one that it leads into is its flag, as on 1.
It is drawn with it."""
_SOFT_RAD = np.deg2rad(65.0)
"""A pen never lifts at a corner at which it turns by less than this."""
_AIM = 10
"""How many points before and after a corner its turn is read."""
_LINK = 0.9
"""A part between two corners that is shorter than this many widths is only a link.
It links two strokes at a blunt corner."""
_SHORT = 3.0
"""Where both ways from a corner are shorter than this many widths the pen stays down.
So it does in a circumflex."""
_SAME_START = 0.6
"""Starts nearer to each other than this many widths, left to right, count as the same."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Section:
    """A part of a path between corners, and how a pen would draw it.

    It is natural if the pen would by itself draw it in the direction in which it stands. A link is
    what joins two strokes at a blunt corner.
    """

    path: Path
    is_natural: bool
    is_straight: bool
    is_link: bool
    is_short: bool

    @property
    def length(self) -> float:
        return float(arc_lengths(self.path.points)[-1])


def in_hand_order(paths: Sequence[Path], *, width: float) -> list[Path]:
    """The paths in the order and direction of a hand, cut where it lifts the pen.

    No path's points are lost.

    Args:
        paths: as traced.
        width: the typical width of a stroke, in the paths' unit.
    """
    drawn = [stroke for path in paths for stroke in _strokes_of(path, width)]
    if not drawn:
        return []
    letter = max(
        drawn,
        key=lambda path: (round(float(np.ptp(path.points[:, 1])) / width), path.points[:, 1].max()),
    )
    return sorted(drawn, key=lambda path: (_is_mark_on(path, letter), *_turn_of(path, width)))


def _is_mark_on(path: Path, letter: Path) -> bool:
    """Whether a path lies wholly above or below a letter's tallest, as an accent does.

    It is drawn when the letter is done.
    """
    heights = letter.points[:, 1]
    return bool(path.points[:, 1].min() > heights.max() or path.points[:, 1].max() < heights.min())


def _turn_of(path: Path, width: float) -> tuple[int, bool, int, float]:
    """What sorts paths into a hand's order.

    Strokes of their own before those that touch others, uprights first, then left to right, top to
    bottom.
    """
    left = float(path.points[:, 0].min())
    return (
        sum(path.touches),
        not _is_straight(path) and any(path.touches),
        round(left / (_SAME_START * width)),
        -float(path.points[0, 1]),
    )


def _strokes_of(path: Path, width: float) -> list[Path]:
    path = _with_sharp_corners(path, width)
    if path.closed and not path.corners:
        return [_round_from_top(path)]
    if not path.corners:
        return [path if _is_natural(path) else _reversed_path(path)]
    return _strokes_between_lifts(_open_path(path), width)


def _with_sharp_corners(path: Path, width: float) -> Path:
    """The path with only those corners counted at which a pen might lift."""
    lengths = arc_lengths(path.points)
    groups: list[list[int]] = []
    for at in path.corners:
        if groups and lengths[at] - lengths[groups[-1][-1]] < _LINK * width:
            groups[-1].append(at)
        else:
            groups.append([at])
    sharp = [
        at for group in groups if _turn_over(path, group[0], group[-1]) > _SOFT_RAD for at in group
    ]
    return replace(path, corners=tuple(sharp))


def _turn_over(path: Path, first: int, last: int) -> float:
    """By how much a path turns between arriving at one point and leaving another, in [0, pi]."""
    wanted = np.array([first - _AIM, first, last, last + _AIM])
    n_points = len(path.points)
    a, b, c, d = path.points[wanted % n_points if path.closed else np.clip(wanted, 0, n_points - 1)]
    return angle_between(b - a, d - c)


def _reversed_path(path: Path) -> Path:
    """The same path drawn the other way."""
    last = len(path.points) - 1
    return replace(
        path,
        points=path.points[::-1],
        radii=path.radii[::-1],
        corners=tuple(last - at for at in reversed(path.corners)),
        touches=path.touches[::-1],
    )


def _is_natural(path: Path) -> bool:
    """Whether a hand would draw an open path in the direction in which it stands.

    That is from its upper end, or else from its left.
    """
    step = path.points[-1] - path.points[0]
    if abs(step[1]) < _LEVEL * np.hypot(*step):
        return bool(step[0] > 0.0)
    return bool(step[1] < 0.0)


def _is_straight(path: Path) -> bool:
    lengths = arc_lengths(path.points)
    return bool(np.hypot(*(path.points[-1] - path.points[0])) > _STRAIGHT * lengths[-1])


def _round_from_top(path: Path) -> Path:
    """A closed path against the clock, from a little right of its top.

    A figure of eight goes by its upper bowl.
    """
    points, radii = path.points, path.radii
    top = int(np.argmax(points[:, 1] + 0.3 * points[:, 0]))
    upper = points[points[:, 1] > 0.5 * (points[:, 1].max() + points[:, 1].min())]
    heading_left = points[(top + 1) % len(points), 0] < points[top - 1, 0]
    backwards = not heading_left if len(upper) >= 3 else signed_area(points) < 0.0
    step = -1 if backwards else 1
    order = (top + step * np.arange(len(points))) % len(points)
    return replace(path, points=points[order], radii=radii[order])


def _open_path(path: Path) -> Path:
    """A closed path with corners as an open one from and to its uppermost, leftmost corner."""
    if not path.closed:
        return path
    corners = np.array(path.corners)
    first = int(corners[np.argmax(path.points[corners] @ np.array([-1.0, 1.5]))])
    order = np.append((first + np.arange(len(path.points))) % len(path.points), first)
    places = sorted((int(at) - first) % len(path.points) for at in corners)
    return replace(
        path,
        points=path.points[order],
        radii=path.radii[order],
        closed=False,
        corners=tuple(at for at in places if at),
    )


def _strokes_between_lifts(path: Path, width: float) -> list[Path]:
    """The strokes between the corners of an open path, in the direction that needs fewer lifts.

    A letter of straight strokes that would go from right to left counts as a lift more, so that N
    starts at its left.
    """

    def cost(way: tuple[list[_Section], list[Path]]) -> tuple[int, float]:
        sections, strokes = way
        leftwards = sections[-1].path.points[-1, 0] < sections[0].path.points[0, 0] - width
        slow = leftwards and all(section.is_straight for section in sections)
        return len(strokes) + int(slow), float(strokes[0].points[0, 0] - strokes[0].points[0, 1])

    sections = [_sections(way, width) for way in (path, _reversed_path(path))]
    return min(((one, _strokes(one)) for one in sections), key=cost)[1]


def _sections(path: Path, width: float) -> list[_Section]:
    stops = [0, *path.corners, len(path.points) - 1]
    sections = []
    for a, b in pairwise(stops):
        touches = (path.touches[0] and a == 0, path.touches[1] and b == stops[-1])
        part = Path(points=path.points[a : b + 1], radii=path.radii[a : b + 1], touches=touches)
        length = arc_lengths(part.points)[-1] / width
        sections.append(
            _Section(
                path=part,
                is_natural=_is_natural(part),
                is_straight=_is_straight(part),
                is_link=bool(a > 0 and b < stops[-1] and length < _LINK),
                is_short=bool(length < _SHORT),
            )
        )
    return sections


def _strokes(sections: list[_Section]) -> list[Path]:
    """Sections strung together as far as the pen may go on, each group in its own direction.

    A link is drawn only on the way.
    """
    groups: list[list[_Section]] = [[sections[0]]]
    link: list[_Section] = []
    for after in sections[1:]:
        if after.is_link:
            link = [after]
        elif _goes_on(groups[-1], after):
            groups[-1] += [*link, after]
            link = []
        else:
            groups.append([after])
            link = []
    return [_joined_sections(group) for group in groups]


def _goes_on(group: list[_Section], after: _Section) -> bool:
    """Whether the pen goes on from a group of sections into the next without a lift."""
    before = group[-1]
    if after.is_natural:
        is_flag = before.length < _FLAG * after.length and before.is_straight and after.is_straight
        return (
            before.is_natural or len(group) > 1 or is_flag or (before.is_short and after.is_short)
        )
    return (before.is_natural or len(group) > 1) and before.is_straight and after.is_straight


def _joined_sections(group: list[_Section]) -> Path:
    """One path through sections that follow on each other.

    It is turned round if as a whole it runs against the hand's way.
    """
    paths = [section.path for section in group]
    points = np.concatenate([paths[0].points, *(path.points[1:] for path in paths[1:])])
    radii = np.concatenate([paths[0].radii, *(path.radii[1:] for path in paths[1:])])
    corners = tuple(int(at) for at in np.cumsum([len(path.points) - 1 for path in paths[:-1]]))
    whole = Path(
        points=points,
        radii=radii,
        corners=corners,
        touches=(paths[0].touches[0], paths[-1].touches[1]),
    )
    return whole if len(group) > 1 or group[0].is_natural else _reversed_path(whole)
