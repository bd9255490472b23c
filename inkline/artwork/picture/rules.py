"""Straight rules among the contours of a picture: two edges that run side by side.

Two straight stretches of contours that run in opposite directions with ink between them are the
sides of a piece of a rule; pieces on one line are joined over what crosses them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import scipy

from inkline.artwork.picture.sides import CUT_PX, LEAST_STRETCH_PX, Sides, straight_sides
from inkline.geometry.arrays import Floats, Grey, Ints, Points

_PARALLEL = 0.012
"""Sine of the angle between the sides of one rule, at most."""
_LEAST_WIDTHS = 10.0
"""A rule is so many times as long as wide; stems of letters are not."""
_END_WIDTHS, _END_PX = 0.6, 4.5
"""How far ink goes on from where the sides of a rule end: half a width if that is round, and what
a stretch loses where it is divided."""
_MEETS_PX = 1.5
"""How far beyond the ink of another rule a rule may end that meets it."""
_CLEAR_PX = 2.5
_CLEAR_SHARE = 0.4
_LEAST_PLATEAU_PX = 3.5
_MOST_SLICES, _LEAST_SLICES = 400, 8
_SAME_LINE_PX, _SAME_WIDTH = 0.75, 0.2
_STEP_PX = 0.25
_MIDDLE = 127.5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FoundRule:
    """A straight rule in a picture.

    Attributes:
        points: its ends, `(2, 2)`, in px.
        width: in px.
        beyond: how far its ink goes on from where its sides end, at either end, in px.
    """

    points: Points
    width: float
    beyond: tuple[float, float] = (0.0, 0.0)


def rules_in_contours(contours: Sequence[Points], coverage: Grey) -> list[FoundRule]:
    """The straight rules whose edges `contours` holds, from the left and from above.

    Args:
        contours: closed contours about the ink, outer ones of positive area.
        coverage: the picture that they are from, uint8.
    """
    sides = straight_sides(contours)
    pieces = _pieces(sides)
    rules = [rule for rule in _joined(pieces, coverage) if _is_long(rule)]
    rules = [_weighed(rule, coverage) for rule in _with_true_ends(rules)]
    return sorted(rules, key=lambda rule: tuple(np.round(rule.points.ravel(), 3)))


def _is_long(rule: FoundRule) -> bool:
    return float(np.hypot(*(rule.points[1] - rule.points[0]))) >= _LEAST_WIDTHS * rule.width


def _with_true_ends(rules: list[FoundRule]) -> list[FoundRule]:
    """Those rules that end where their sides do, or at another rule.

    The straight part of a line that bends ends at neither.
    """
    while True:
        kept = [
            rule
            for rule in rules
            if all(
                rule.beyond[end] <= _END_WIDTHS * rule.width + _END_PX
                or any(_meets(rule, end, other) for other in rules if other is not rule)
                for end in (0, 1)
            )
        ]
        if len(kept) == len(rules):
            return kept
        rules = kept


def _weighed(rule: FoundRule, coverage: Grey) -> FoundRule:
    """The rule as wide as its ink is heavy, about the middle of that ink.

    Grey edges say more than where they pass the middle: the ink across a rule, summed, is its
    width, and its mean place the middle. Places at which something crosses or touches are left out;
    where those are all, the rule stays as it is.
    """
    along = rule.points[1] - rule.points[0]
    length = float(np.hypot(*along))
    unit = along / length
    across = np.array([-unit[1], unit[0]])
    side = 0.5 * rule.width + _CLEAR_PX
    offsets = np.arange(-side, side + 0.5 * _STEP_PX, _STEP_PX)
    at = np.linspace(0.1, 0.9, int(np.clip(length, 16, _MOST_SLICES))) * length
    places = rule.points[0] + at[:, None, None] * unit + offsets[None, :, None] * across
    values = _values(coverage, places.reshape(-1, 2)).reshape(len(at), len(offsets))
    clean = values[(values[:, :3].max(axis=1) == 0.0) & (values[:, -3:].max(axis=1) == 0.0)]
    if len(clean) < _LEAST_SLICES:
        return rule
    profile = clean.mean(axis=0)
    full = 255.0
    if rule.width > _LEAST_PLATEAU_PX:  # its own grey, where it is paler than other ink
        full = float(profile[np.abs(offsets) < 0.25 * rule.width].mean())
    width = float(profile.sum()) * _STEP_PX / full
    shift = float(profile @ offsets) / float(profile.sum())
    return replace(rule, points=rule.points + shift * across, width=width)


def _meets(rule: FoundRule, end: int, other: FoundRule) -> bool:
    """Whether the end of a rule lies in the ink of another, or in line with its end."""
    along = other.points[1] - other.points[0]
    length = float(np.hypot(*along))
    unit = along / length
    away = rule.points[end] - other.points[0]
    at, off = float(away @ unit), abs(float(away @ np.array([-unit[1], unit[0]])))
    reach = 0.5 * other.width + _MEETS_PX
    return off <= reach and -reach - rule.width <= at <= length + reach + rule.width


def _pieces(sides: Sides) -> list[FoundRule]:
    """Pieces of rules: for each side the nearest one across ink that runs the other way.

    Most are found twice, once from either side, which joining makes good.

    Outer contours run so that ink lies on the left hand of the page's own coordinates, at
    `(-y, x)` of the direction.
    """
    found = []
    for index in range(len(sides.halves)):
        unit = sides.units[index]
        inwards = np.array([-unit[1], unit[0]])
        away = sides.middles - sides.middles[index]
        across, along = away @ inwards, away @ unit
        reach = sides.halves[index]
        low = np.maximum(along - sides.halves, -reach)
        high = np.minimum(along + sides.halves, reach)
        sines = unit[0] * sides.units[:, 1] - unit[1] * sides.units[:, 0]
        faces = (sides.units @ unit < 0.0) & (np.abs(sines) < _PARALLEL)
        fits = faces & (across > 0.3) & (high - low > np.maximum(across, LEAST_STRETCH_PX / 2))
        if not fits.any():
            continue
        other = int(np.flatnonzero(fits)[np.argmin(across[fits])])
        found.append(_piece(sides, index, other, float(low[other]), float(high[other])))
    return found


def _piece(sides: Sides, one: int, other: int, low: float, high: float) -> FoundRule:
    unit = sides.units[one] - sides.units[other]
    unit = unit / np.hypot(*unit)
    across = np.array([-unit[1], unit[0]])
    at = np.array([low, high])
    near = sides.middles[one] + at[:, None] * sides.units[one]
    back = sides.units[other]
    far = sides.middles[other] + ((near - sides.middles[other]) @ back)[:, None] * back
    width = float(((far - near) @ across).mean())
    return FoundRule(points=0.5 * (near + far), width=width)


def _joined(pieces: Sequence[FoundRule], coverage: Grey) -> list[FoundRule]:
    """Rules of the pieces that lie on one line with ink between them."""
    left = sorted(pieces, key=lambda piece: -float(np.hypot(*(piece.points[1] - piece.points[0]))))
    widest = max((piece.width for piece in left), default=0.0)
    is_used, found = np.zeros(len(left), dtype=bool), []
    starts = np.array([piece.points for piece in left]).reshape(-1, 2, 2)
    widths = np.array([piece.width for piece in left])
    for index, piece in enumerate(left):
        if is_used[index]:
            continue
        unit = piece.points[1] - piece.points[0]
        unit = unit / np.hypot(*unit)
        across = np.array([-unit[1], unit[0]])
        off = np.abs((starts - piece.points[0]) @ across).max(axis=1)
        alike = np.abs(widths - piece.width) <= _SAME_WIDTH * piece.width + 0.5
        mates = np.flatnonzero((off <= _SAME_LINE_PX) & alike & ~is_used)
        group = _connected(mates, starts, piece.points[0], unit, coverage, widest)
        own = next(part for part in group if index in part)
        is_used[own] = True
        rule = _rule_of([left[i] for i in own], unit, coverage, widest)
        if rule is not None:
            found.append(rule)
    return found


def _connected(
    mates: Ints, starts: Floats, origin: Points, unit: Points, coverage: Grey, widest: float
) -> list[list[int]]:
    """Pieces on one line, in groups without a gap that lacks ink or is wider than a rule."""
    along = np.sort((starts[mates] - origin) @ unit, axis=1)
    order = np.argsort(along[:, 0])
    groups = [[int(mates[order[0]])]]
    end = along[order[0], 1]
    for row in order[1:]:
        gap = along[row, 0] - end
        start, stop = origin + end * unit, origin + along[row, 0] * unit
        bridged = gap <= 0.0 or (
            _is_inked(coverage, start, stop)
            and (
                gap <= 2.0 * widest + 2.0 * CUT_PX
                or _stands_clear(coverage, start, stop, away=0.5 * widest + _CLEAR_PX)
            )
        )
        if bridged:
            groups[-1].append(int(mates[row]))
        else:
            groups.append([int(mates[row])])
        end = max(end, along[row, 1])
    return groups


def _is_inked(coverage: Grey, start: Points, end: Points, *, least: float = 0.9) -> bool:
    n = max(2, int(np.hypot(*(end - start)) / _STEP_PX))
    return bool((_values(coverage, np.linspace(start, end, n)) > _MIDDLE).mean() >= least)


def _stands_clear(coverage: Grey, start: Points, end: Points, *, away: float) -> bool:
    """Whether there is mostly no ink to either side of a stretch: its edges were but too rough."""
    along = (end - start) / max(float(np.hypot(*(end - start))), 1e-9)
    across = away * np.array([-along[1], along[0]])
    return not any(
        _is_inked(coverage, start + side, end + side, least=_CLEAR_SHARE)
        for side in (across, -across)
    )


def _values(coverage: Grey, points: Points) -> Floats:
    """Coverage at points of the page, between pixels' middles by their distances."""
    values: Floats = scipy.ndimage.map_coordinates(
        coverage, (points[:, 1] - 0.5, points[:, 0] - 0.5), output=np.float64, order=1, cval=0.0
    )
    return values


def _rule_of(
    pieces: Sequence[FoundRule], unit: Points, coverage: Grey, widest: float
) -> FoundRule | None:
    """The rule that pieces on one line make, as far as its ink reaches.

    `None` if ink goes on beyond its ends: then it is but a part of a line that bends.
    """
    ends = np.concatenate([piece.points for piece in pieces])
    weights = np.repeat([float(np.hypot(*(p.points[1] - p.points[0]))) for p in pieces], 2)
    centre = np.average(ends, axis=0, weights=weights)
    _, _, turned = np.linalg.svd((ends - centre) * np.sqrt(weights)[:, None], full_matrices=False)
    direction = turned[0] * np.sign(turned[0] @ unit)
    along = (ends - centre) @ direction
    width = float(np.average([piece.width for piece in pieces], weights=weights[::2]))
    most = 2.0 * widest + 2.0 * CUT_PX
    high = _reach(coverage, centre + along.max() * direction, direction, most)
    low = _reach(coverage, centre + along.min() * direction, -direction, most)
    if low is None or high is None:
        return None
    points = centre + np.array([[along.min() - low], [along.max() + high]]) * direction
    if points[0].sum() > points[1].sum():
        points, low, high = points[::-1].copy(), high, low
    return FoundRule(points=points, width=width, beyond=(low, high))


def _reach(coverage: Grey, start: Points, direction: Points, most: float) -> float | None:
    """How far ink goes on from a point; `None` if it goes on for more than `most`."""
    steps = np.arange(0.0, most, _STEP_PX)
    values = _values(coverage, start + steps[:, None] * direction)
    empty = np.flatnonzero(values < _MIDDLE)
    if not len(empty):
        return None
    first = int(empty[0])
    if first == 0:
        return 0.0
    before, after = values[first - 1], values[first]
    return float(steps[first - 1] + _STEP_PX * (before - _MIDDLE) / (before - after))
