"""How hard the pen presses along strokes, all of a drawing at once. Lengths in mm.

Paths under the same nib are laid end to end, so that each step is one call for all of them. No path
depends on the others: each has its own stream.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Indices
from inkline.geometry.polyline import tangents
from inkline.ink.hand import DrawnPath
from inkline.ink.nib import (
    LEAVES,
    MOST_AMOUNT,
    MOST_POOL,
    PRESSED_IN,
    TAPERED,
    THINNEST,
    WAVE_KNEE,
    WAVE_LIMIT,
    largest_pressure,
)
from inkline.ink.nib_values import Nib
from inkline.ink.noise import N_MODES, bent_values, wander_noises

# Pressure waves come in three lengths, each a third of the one before, so that no single wave
# length shows.
_WAVE_LENGTHS = (1.0, 1.0 / 3.0, 1.0 / 9.0)
_WAVE_WEIGHTS = (0.74, 0.58, 0.34)
# Where the pen rests, ink pools over this many widths to either side: the blot spreads as wide as
# the pen, however fast it leaves.
_POOL_WIDTHS = 0.8
# Tines follow the force over these widths of length: they open over the first, close over the
# second. A pen is never thinner than at this many times its mean speed.
_TINE_LAGS, _FASTEST = (0.8, 3.0), 1.9
# Ends that lie within other ink are narrower than their stroke by this share.
_HIDDEN = 0.12


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lead:
    """One lift of a stroke along which the pen is to press.

    Attributes:
        path: the drawn centreline.
        nib: the nib.
        width: nominal width in mm.
        crossings: arc lengths of the exact stroke in mm at which others cross.
        freedom: how much touchdowns and lifts may differ, 0 to 1.
        joined: whether its start and its end lie in ink that is there already, or comes: they are
            no wider there, or they would stand out as knobs.
    """

    path: DrawnPath
    nib: Nib
    width: float
    crossings: Floats
    freedom: float
    joined: tuple[bool, bool] = (False, False)

    @property
    def hidden(self) -> tuple[bool, bool]:
        """Whether its start and its end are joined or thin out."""
        start, end = (
            own or thins > 0.0 for own, thins in zip(self.joined, self.path.thins, strict=True)
        )
        return start, end

    @property
    def rests(self) -> Floats:
        """Arc lengths at which the pen rests: at both ends and at stops."""
        lengths, speeds = self.path.lengths, self.path.timing.speeds
        return np.concatenate((lengths[[0, -1]], lengths[1:-1][speeds[1:-1] <= 0.0]))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Presses:
    """What is drawn for one lead.

    Attributes:
        waves: shares and phases of the modes of the three waves, `(3, 2, N_MODES)`.
        amounts: by how much more or less it touches down and lifts, `(2,)`.
        pools: how much pools at each rest, 0 to 1.
    """

    waves: Floats
    amounts: Floats
    pools: Floats

    @classmethod
    def drawn(cls, pen: np.random.Generator, lead: Lead) -> Presses:
        """Drawn from the stream of a stroke's nib; a part that is switched off draws as well."""
        return cls(
            waves=pen.random((len(_WAVE_LENGTHS), 2, N_MODES)),
            amounts=1.0 + lead.freedom * (MOST_AMOUNT - 1.0) * pen.uniform(-1.0, 1.0, 2),
            pools=MOST_POOL * pen.random(len(lead.rests)),
        )


def pressures(leads: Sequence[Lead], presses: Sequence[Presses]) -> list[Floats]:
    """Width over nominal width at each point of each lead.

    Its mean is 1 over the exact stroke, and it is `largest_pressure` at most.
    """
    by_nib: dict[Nib, list[int]] = defaultdict(list)
    for place, lead in enumerate(leads):
        by_nib[lead.nib].append(place)
    found: dict[int, Floats] = {}
    for nib, places in by_nib.items():
        lines = _Lines([leads[place] for place in places], [presses[place] for place in places])
        profiles = np.split(_profiles(lines, nib), lines.firsts[1:])
        found.update(zip(places, profiles, strict=True))
    return [found[place] for place in range(len(leads))]


class _Lines:
    """Leads under one nib, their points laid end to end.

    Attributes:
        leads, presses: as given.
        counts: points of each lead, `(k,)`.
        firsts: of each lead, the place of its first point.
        lengths: arc lengths of all points, `(n,)`.
        travelled, ahead: how far the pen has come since touchdown and has to go until the lift.
        totals: how far it goes on each lead, `(k,)`.
        hidden: of each lead, whether its start and its end are hidden, `(k, 2)`.
        widths: of each lead, `(k,)`.
    """

    def __init__(self, leads: Sequence[Lead], presses: Sequence[Presses]) -> None:
        self.leads, self.presses = leads, presses
        self.counts: Indices = np.array([len(lead.path.lengths) for lead in leads], dtype=np.intp)
        self.firsts: Indices = np.cumsum(self.counts) - self.counts
        self.lengths = np.concatenate([lead.path.lengths for lead in leads])
        self.travelled = np.abs(self.lengths - self.each(self.lengths[self.firsts]))
        self.totals = self.travelled[self.firsts + self.counts - 1]
        self.ahead = self.each(self.totals) - self.travelled
        self.hidden: Bools = np.array([lead.hidden for lead in leads])
        self.widths = np.array([lead.width for lead in leads])

    def each(self, values: Floats) -> Floats:
        """A value of every lead at each of its points."""
        return np.repeat(values, self.counts)


def _profiles(lines: _Lines, nib: Nib) -> Floats:
    """Width over nominal width at all points."""
    profile = (
        _waves(lines, nib) * _forces(lines, nib) * _ends(lines, nib) * _broad_edges(lines, nib)
    )
    profile = profile * (1.0 + _pools(lines, nib))
    profile = profile * _hidden_ends(lines)
    profile = profile / lines.each(_means(profile, lines))
    return np.asarray(np.clip(profile, THINNEST, largest_pressure(nib)) * _leaving(lines))


def _means(profile: Floats, lines: _Lines) -> Floats:
    """Mean over each exact stroke, `(k,)`."""
    return np.array(
        [
            _mean_along(own[lead.path.is_on_stroke], lead.path.lengths[lead.path.is_on_stroke])
            for lead, own in zip(lines.leads, np.split(profile, lines.firsts[1:]), strict=True)
        ]
    )


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


def _waves(lines: _Lines, nib: Nib) -> Floats:
    """Slow waves of pressure, log-normal about 1."""
    total = np.zeros_like(lines.lengths)
    chances = np.stack([own.waves for own in lines.presses])
    for index, (length, weight) in enumerate(zip(_WAVE_LENGTHS, _WAVE_WEIGHTS, strict=True)):
        corner = 1.0 / (2.0 * np.pi * nib.pressure_length * length)
        total += weight * wander_noises(
            chances[:, index], lines.lengths, lines.counts, corner=corner, limit=8.0 * corner
        )
    waves = bent_values(total, knee=WAVE_KNEE, limit=WAVE_LIMIT)
    return np.asarray(np.exp(nib.pressure * waves - 0.5 * nib.pressure**2))


def _leaving(lines: _Lines) -> Floats:
    """The factor by which rules thin where they run over, as a pen does that is being lifted."""
    factor = np.ones_like(lines.lengths)
    for end, (away, least) in enumerate(zip((lines.travelled, lines.ahead), LEAVES, strict=True)):
        thins = np.array([lead.path.thins[end] for lead in lines.leads])
        if (thins > 0.0).any():
            rest = np.clip(1.0 - away / lines.each(np.where(thins > 0.0, thins, 1.0)), 0.0, 1.0)
            factor = factor * (
                1.0 - (1.0 - least) * rest * lines.each((thins > 0.0).astype(np.float64))
            )
    return np.asarray(factor)


def _hidden_ends(lines: _Lines) -> Floats:
    """The factor by which joined ends are narrower, to lie within the ink that they join."""
    factor = np.ones_like(lines.lengths)
    for end, away in enumerate((lines.travelled, lines.ahead)):
        is_hidden = lines.hidden[:, end]
        if is_hidden.any():
            near = np.exp(-((away / lines.each(_POOL_WIDTHS * lines.widths)) ** 2))
            factor = factor - _HIDDEN * near * lines.each(is_hidden.astype(np.float64))
    return np.asarray(factor)


def _ends(lines: _Lines, nib: Nib) -> Floats:
    """Touchdown, lift and taper, as a factor that fades into the body of a stroke.

    A little different each time.
    """
    totals = np.maximum(lines.totals, 1e-9)
    ways = (lines.travelled, lines.each(totals) - lines.travelled)
    amounts = np.array([own.amounts for own in lines.presses])
    reach = lines.each(np.minimum(nib.landing, 0.4 * totals))
    swell = np.zeros_like(lines.lengths)
    for end, (most, away) in enumerate(zip((nib.touchdown, nib.lift), ways, strict=True)):
        own = np.where(lines.hidden[:, end], min(most, 0.0), most) * amounts[:, end]
        swell += lines.each(own) * np.exp(-away / reach)
    profile = np.maximum(1.0 + swell, THINNEST)
    if nib.ends == "tapered":
        taper = np.minimum(nib.taper * amounts, 0.45 * totals[:, None])
        profile = profile * _taper(ways[0], lines.each(0.5 * taper[:, 0]), PRESSED_IN)
        profile = profile * _taper(ways[1], lines.each(taper[:, 1]), TAPERED)
    return np.asarray(profile)


def _taper(distance: Floats, length: Floats, least: float) -> Floats:
    """Width from `least` at the tip to full at `length` from it.

    It swells as a pointed brush does.
    """
    share = np.clip(distance / length, 0.0, 1.0)
    return np.asarray(least + (1.0 - least) * np.sqrt(share * (2.0 - share)))


def _pools(lines: _Lines, nib: Nib) -> Floats:
    """Extra width where the pen rests and where wet lines cross.

    It rests at both ends and at stops, each by its own amount.
    """
    extra = np.zeros_like(lines.lengths)
    places, heights = _places_of_pools(lines, nib)
    reach = lines.each(_POOL_WIDTHS * lines.widths)
    for place, height in zip(places.T, heights.T, strict=True):
        if (height > 0.0).any():
            apart = (lines.lengths - lines.each(place)) / reach
            np.maximum(extra, np.exp(-(apart**2)) * lines.each(height), out=extra)
    return extra


def _places_of_pools(lines: _Lines, nib: Nib) -> tuple[Floats, Floats]:
    """Where pools lie along each lead and how high they are, `(k, m)`; some have no height."""
    found = []
    for lead, own, hidden in zip(lines.leads, lines.presses, lines.hidden, strict=True):
        amounts = nib.pooling * own.pools
        amounts[:2] = np.where(hidden, 0.0, amounts[:2])
        crossed = np.full(len(lead.crossings), nib.crossing_pool)
        found.append((np.append(lead.rests, lead.crossings), np.append(amounts, crossed)))
    shape = (len(found), max(len(places) for places, _ in found))
    places, heights = np.zeros(shape), np.zeros(shape)
    for row, (at, height) in enumerate(found):
        places[row, : len(at)], heights[row, : len(at)] = at, height
    return places, heights


def _forces(lines: _Lines, nib: Nib) -> Floats:
    """The factor by which force opens the tines, and by which speed leaves less time for ink.

    Tines open over a width of the stroke's length on the way down the page, and close over several
    on the way up.
    """
    forces = np.ones_like(lines.lengths)
    if nib.flex > 0.0:
        forces *= 1.0 + 0.5 * nib.flex * _opened(lines)
    if nib.speeding > 0.0:
        timings = [lead.path.timing for lead in lines.leads]
        mean = np.array([max(timing.mean_speed, 1e-9) for timing in timings])
        speeds = np.concatenate([timing.speeds for timing in timings]) / lines.each(mean)
        forces *= 1.0 - nib.speeding * (np.minimum(speeds, _FASTEST) - 1.0)
    return forces


def _opened(lines: _Lines) -> Floats:
    """How far the tines are open at all points: 1 downwards, -1 upwards."""
    downs = np.concatenate([tangents(lead.path.points)[:, 1] for lead in lines.leads])
    steps = lines.totals / np.maximum(lines.counts - 1, 1) / lines.widths
    # By one number at a time: what functions of many give may differ in the last digit.
    gains = [[1.0 - float(np.exp(-step / lag)) for lag in _TINE_LAGS] for step in steps.tolist()]
    return np.asarray(_lagged(np.clip(downs, -1.0, 1.0), lines.counts, np.array(gains)).max(axis=1))


def _lagged(values: Floats, counts: Indices, gains: Floats) -> Floats:
    """Values as something follows them that makes up for a share of what it lags at each step.

    Each step needs the one before, and is taken along all lines at once.

    Args:
        values: along lines laid end to end, `(n,)`.
        counts: how many of them each line has, `(k,)`.
        gains: shares for each line, `(k, m)`.

    Returns:
        What follows by each of a line's shares, `(n, m)`; it begins at rest.
    """
    firsts = np.cumsum(counts) - counts
    line = np.repeat(np.arange(len(gains)), counts)
    step = np.arange(len(values)) - firsts[line]
    pulls = np.zeros((int(counts.max()), *gains.shape))
    pulls[step, line] = gains[line] * values[:, None]
    kept, followed = 1.0 - gains, np.repeat(values[firsts][:, None], gains.shape[1], axis=1)
    for pulled in pulls:  # one after the other becomes what follows
        followed = np.add(pulled, kept * followed, out=pulled)
    return np.asarray(pulls[step, line])


def _broad_edges(lines: _Lines, nib: Nib) -> Floats:
    """The factor of a broad edge held at `nib.angle`: full width across the edge, thin along it."""
    if nib.contrast == 0.0:
        return np.ones_like(lines.lengths)
    along = np.concatenate([tangents(lead.path.points) for lead in lines.leads])
    angle = np.arctan2(-along[:, 1], along[:, 0]) - np.deg2rad(nib.angle)
    return np.asarray(np.hypot(np.sin(angle), (1.0 - nib.contrast) * np.cos(angle)))
