"""The nib: how wide the ink is along a drawn centreline. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inkline.drawing import Cut
from inkline.geometry.arrays import Floats
from inkline.geometry.polyline import tangents
from inkline.ink.hand import DrawnPath
from inkline.ink.nib_values import Nib
from inkline.ink.noise import bent_values, wander_noise

# Pressure waves come in three lengths, each a third of the one before, so that no single wave
# length shows.
_WAVE_LENGTHS = (1.0, 1.0 / 3.0, 1.0 / 9.0)
_WAVE_WEIGHTS = (0.74, 0.58, 0.34)
# Pressure waves bend beyond this many standard deviations and never pass the next.
_WAVE_KNEE, _WAVE_LIMIT = 1.5, 2.2
# Where the pen rests, ink pools over this many widths to either side: the blot spreads as wide as
# the pen, however fast it leaves.
_POOL_WIDTHS = 0.8
# Tines follow the force over these widths of length: they open over the first, close over the
# second. A pen is never thinner than at this many times its mean speed.
_TINE_LAGS, _FASTEST = (0.8, 3.0), 1.9
# Force and speed never widen a stroke by more than this share of what they may change.
_FORCE_GAIN = 0.25
# No two touchdowns, lifts or pools are alike: each is its nominal amount times a factor about 1
# that is at most one of these.
_MOST_AMOUNT, _MOST_POOL = 1.6, 2.0
# No pen gets thinner than this share of its nominal width. A tapered stroke begins at the second,
# where the brush is pressed in, and ends at the third, where it is drawn off.
_THINNEST, _PRESSED_IN, _TAPERED = 0.12, 0.6, 0.2
LEAVES = (0.78, 0.6)
"""Where a rule runs over, what is left of its width at its start and at its end. Chosen by eye."""
# Ends that lie within other ink are narrower than their stroke by this share.
_HIDDEN = 0.12
# Ends reach beyond a stroke's last point by a share of its half width between these;
_REACHES = {"round": (0.55, 1.05), "blunt": (0.1, 0.4), "tapered": (0.6, 2.5)}
# the blunt ends of letters come so much of the way to round ones,
_ROUNDER = 0.5
# and one side of an end stands ahead of the other by up to these half widths.
_SKEWS = {"round": 0.4, "blunt": 0.5, "tapered": 0.4}
# An end that an edge cuts bulges by this share of its half width, and its lean plays by so much of
# what that of a free end does: an edge is set down and lifted flat, by a hand.
CUT_ROUNDNESS, _CUT_PLAY = 0.08, 0.6
# Where a broad edge or a taper makes parts of a stroke thin, the rest is wider than nominal: at
# most by this share of the contrast, or by the second for a taper.
_CONTRAST_GAIN, _TAPER_GAIN = 0.35, 0.08


@dataclass(frozen=True, slots=True, kw_only=True)
class Tips:
    """How a stroke's start and end reach beyond its last points, in half widths.

    And how they are skewed.
    """

    reaches: tuple[float, float]
    skews: tuple[float, float]


def pressures(
    path: DrawnPath,
    nib: Nib,
    generator: np.random.Generator,
    *,
    width: float,
    crossings: Floats,
    freedom: float,
    joined: tuple[bool, bool] = (False, False),
) -> Floats:
    """Width over nominal width at each point of `path`, `(n,)`.

    Its mean is 1 over the exact stroke, and it is `largest_pressure` at most.

    Args:
        path: the drawn centreline.
        nib: the nib.
        generator: the stream of this stroke's nib.
        width: nominal width in mm.
        crossings: arc lengths of the exact stroke in mm at which others cross.
        freedom: how much touchdowns and lifts may differ, 0 to 1.
        joined: whether its start and its end lie in ink that is there already, or comes: they are
            no wider there, or they would stand out as knobs.
    """
    waves = _waves(generator, path, nib)
    amounts = 1.0 + freedom * (_MOST_AMOUNT - 1.0) * generator.uniform(-1.0, 1.0, 2)
    joined = (joined[0] or path.thins[0] > 0.0, joined[1] or path.thins[1] > 0.0)
    profile = (
        waves
        * _forces(path, nib, width)
        * _ends(path, nib, amounts, joined)
        * _broad_edge(path, nib)
    )
    profile = profile * (1.0 + _pools(path, nib, width, crossings, generator, joined))
    profile = profile * _hidden_ends(path, width, joined)
    profile = profile / _mean_along(profile[path.is_on_stroke], path.lengths[path.is_on_stroke])
    profile = np.clip(profile, _THINNEST, largest_pressure(nib))
    return np.asarray(profile * _leaving(path))


def largest_pressure(nib: Nib) -> float:
    """The largest factor by which a stroke is ever wider than nominal.

    That of the highest wave with the largest swelling on it.
    """
    waves = np.exp(nib.pressure * _WAVE_LIMIT - 0.5 * nib.pressure**2)
    ends = _MOST_AMOUNT * max(nib.touchdown, nib.lift, 0.0)
    swelling = 1.0 + max(ends, _MOST_POOL * nib.pooling, nib.crossing_pool)
    swelling *= 1.0 + _FORCE_GAIN * (nib.flex + nib.speeding)
    thinning = 1.0 + _CONTRAST_GAIN * nib.contrast + (_TAPER_GAIN if nib.ends == "tapered" else 0.0)
    return float(waves * swelling * thinning)


def drawn_tips(nib: Nib, generator: np.random.Generator, *, own: float, freedom: float) -> Tips:
    """How the two ends of a stroke reach beyond its last points and are skewed.

    No two are alike.

    Args:
        nib: the nib.
        generator: the stream of this stroke's nib.
        own: the reach of the exact stroke's ends, 0 or 1, for a nib that leaves ends as laid out.
        freedom: how much ends may differ, 0 to 1; numerals and words end more surely than rules.
    """
    plays, skews = generator.uniform(-0.5, 0.5, 2), generator.uniform(-1.0, 1.0, 2)
    start, end = (
        0.5 * (low + high) + freedom * (high - low) * play
        for (low, high), play in zip(_end_reaches(nib, own), plays, strict=True)
    )
    most = freedom * _SKEWS.get(nib.ends, 0.0)
    return Tips(
        reaches=(float(start), float(end)), skews=(float(most * skews[0]), float(most * skews[1]))
    )


def cut_tips(tips: Tips, cuts: tuple[Cut, Cut]) -> Tips:
    """The tips of a stroke whose ends an edge cuts, with the play that `tips` have.

    Args:
        tips: as the nib alone would end the stroke.
        cuts: of its start and its end.
    """
    start, end = (cut.lean + _CUT_PLAY * skew for cut, skew in zip(cuts, tips.skews, strict=True))
    return Tips(reaches=(CUT_ROUNDNESS, CUT_ROUNDNESS), skews=(start, end))


def shortfalls(nib: Nib, own: float) -> tuple[float, float]:
    """By how much the nib's tips end short of exact ones in the mean, in half widths.

    At the start and at the end, in half widths of the stroke.

    Letters are drawn longer by it, so that thin and flat tips stand on the same line as bowls do.
    """
    tapers = (_PRESSED_IN, _TAPERED) if nib.ends == "tapered" else (1.0, 1.0)
    swellings = (1.0 + nib.touchdown + nib.pooling, 1.0 + nib.lift + nib.pooling)
    start, end = (
        own - 0.5 * sum(reaches) * taper * max(swelling, _THINNEST)
        for reaches, taper, swelling in zip(_end_reaches(nib, own), tapers, swellings, strict=True)
    )
    return start, end


def usual_reach(nib: Nib) -> float:
    """How far tips of rules reach beyond their last points in the mean, in half widths."""
    start, end = shortfalls(nib, 0.0)
    return -0.5 * (start + end)


def farthest_reach(nib: Nib, own: float) -> float:
    """How far a tip ever reaches beyond its stroke's last point, in half widths of its body."""
    (_, start), (_, end) = _end_reaches(nib, own)
    tapers = (_PRESSED_IN, _TAPERED) if nib.ends == "tapered" else (1.0, 1.0)
    skew = _SKEWS.get(nib.ends, 0.0)
    return max((start + skew) * tapers[0], (end + skew) * tapers[1])


def _end_reaches(nib: Nib, own: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """Least and most that the start and the end reach beyond a stroke's last points.

    In half widths there.

    Where exact ends are round, as those of letters, blunt ones are half way to round: two square
    ends that meet in an apex would stand out like ears.
    """
    if nib.ends == "tapered":
        return _REACHES["round"], _REACHES["tapered"]
    low, high = _REACHES.get(nib.ends, (own, own))
    if nib.ends == "blunt":
        low, high = low + _ROUNDER * own * (own - low), high + _ROUNDER * own * (own - high)
    return (low, high), (low, high)


def _mean_along(values: Floats, lengths: Floats) -> float:
    """Mean of `values` over arc length, whichever way it runs."""
    span = float(lengths[-1] - lengths[0]) if len(lengths) else 0.0
    return (
        float(np.trapezoid(values, lengths)) / span
        if span
        else float(values.mean())
        if len(values)
        else 1.0
    )


def _waves(generator: np.random.Generator, path: DrawnPath, nib: Nib) -> Floats:
    """Slow waves of pressure, log-normal about 1."""
    total = np.zeros_like(path.lengths)
    for length, weight in zip(_WAVE_LENGTHS, _WAVE_WEIGHTS, strict=True):
        corner = 1.0 / (2.0 * np.pi * nib.pressure_length * length)
        total += weight * wander_noise(generator, path.lengths, corner=corner, limit=8.0 * corner)
    waves = bent_values(total, knee=_WAVE_KNEE, limit=_WAVE_LIMIT)
    return np.asarray(np.exp(nib.pressure * waves - 0.5 * nib.pressure**2))


def _leaving(path: DrawnPath) -> Floats:
    """The factor by which a rule thins where it runs over, as a pen does that is being lifted."""
    factor, travelled = np.ones_like(path.lengths), path.travelled_lengths
    ways = (travelled, travelled[-1] - travelled)
    for length, away, least in zip(path.thins, ways, LEAVES, strict=True):
        if length > 0.0:
            rest = np.clip(1.0 - away / length, 0.0, 1.0)
            factor = factor * (1.0 - (1.0 - least) * rest)
    return np.asarray(factor)


def _hidden_ends(path: DrawnPath, width: float, joined: tuple[bool, bool]) -> Floats:
    """The factor by which joined ends are narrower, to lie within the ink that they join."""
    factor = np.ones_like(path.lengths)
    travelled = path.travelled_lengths
    for is_joined, away in zip(joined, (travelled, travelled[-1] - travelled), strict=True):
        if is_joined:
            factor = factor - _HIDDEN * np.exp(-((away / (_POOL_WIDTHS * width)) ** 2))
    return np.asarray(factor)


def _ends(path: DrawnPath, nib: Nib, amounts: Floats, joined: tuple[bool, bool]) -> Floats:
    """Touchdown, lift and taper, as a factor that fades into the body of the stroke.

    A little different each time.
    """
    from_start = path.travelled_lengths
    total = max(float(from_start[-1]), 1e-9)
    from_end = total - from_start
    reach = min(nib.landing, 0.4 * total)
    touchdown, lift = (
        min(most, 0.0) if is_joined else most
        for most, is_joined in zip((nib.touchdown, nib.lift), joined, strict=True)
    )
    swell = touchdown * amounts[0] * np.exp(-from_start / reach)
    swell += lift * amounts[1] * np.exp(-from_end / reach)
    profile = np.maximum(1.0 + swell, _THINNEST)
    if nib.ends == "tapered":
        taper = np.minimum(nib.taper * amounts, 0.45 * total)
        profile = profile * _taper(from_start, 0.5 * float(taper[0]), _PRESSED_IN)
        profile = profile * _taper(from_end, float(taper[1]), _TAPERED)
    return np.asarray(profile)


def _taper(distance: Floats, length: float, least: float) -> Floats:
    """Width from `least` at the tip to full at `length` from it.

    It swells as a pointed brush does.
    """
    share = np.clip(distance / length, 0.0, 1.0)
    return np.asarray(least + (1.0 - least) * np.sqrt(share * (2.0 - share)))


def _pools(
    path: DrawnPath,
    nib: Nib,
    width: float,
    crossings: Floats,
    generator: np.random.Generator,
    joined: tuple[bool, bool],
) -> Floats:
    """Extra width where the pen rests and where wet lines cross.

    It rests at both ends and at stops, each by its own amount.
    """
    rests = np.concatenate(
        (path.lengths[[0, -1]], path.lengths[1:-1][path.timing.speeds[1:-1] <= 0.0])
    )
    amounts = nib.pooling * _MOST_POOL * generator.random(len(rests))
    amounts[:2] = np.where(joined, 0.0, amounts[:2])
    places = np.concatenate((rests, crossings))
    heights = np.concatenate((amounts, np.full(len(crossings), nib.crossing_pool)))
    shown = heights > 0.0
    apart = (path.lengths[:, None] - places[shown]) / (_POOL_WIDTHS * width)
    return np.asarray((np.exp(-(apart**2)) * heights[shown]).max(axis=1, initial=0.0))


def _forces(path: DrawnPath, nib: Nib, width: float) -> Floats:
    """The factor by which force opens the tines, and by which speed leaves less time for ink.

    Tines open over a width of the stroke's length on the way down the page, and close over several
    on the way up.
    """
    forces = np.ones_like(path.lengths)
    if nib.flex > 0.0:
        down = np.clip(tangents(path.points)[:, 1], -1.0, 1.0)
        step = float(path.travelled_lengths[-1]) / max(len(down) - 1, 1) / width
        opened = np.maximum(*(_lagged(down, step / lag) for lag in _TINE_LAGS))
        forces *= 1.0 + 0.5 * nib.flex * opened
    if nib.speeding > 0.0:
        speeds = path.timing.speeds / max(path.timing.mean_speed, 1e-9)
        forces *= 1.0 - nib.speeding * (np.minimum(speeds, _FASTEST) - 1.0)
    return forces


def _lagged(values: Floats, share: float) -> Floats:
    """`values` as something follows them that makes up for `share` of what it lags at each step."""
    from scipy.signal import lfilter  # noqa: PLC0415 - slow; wanted only for pens that flex

    gain = 1.0 - np.exp(-share)
    followed, _ = lfilter([gain], [1.0, gain - 1.0], values, zi=[(1.0 - gain) * values[0]])
    return np.asarray(followed)


def _broad_edge(path: DrawnPath, nib: Nib) -> Floats:
    """The factor of a broad edge held at `nib.angle`: full width across the edge, thin along it."""
    if nib.contrast == 0.0:
        return np.ones_like(path.lengths)
    along = tangents(path.points)
    angle = np.arctan2(-along[:, 1], along[:, 0]) - np.deg2rad(nib.angle)
    return np.asarray(np.hypot(np.sin(angle), (1.0 - nib.contrast) * np.cos(angle)))
