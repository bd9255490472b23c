"""How much ink the tool of a medium gives, before its level: at rims, along a mark, over a fill."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from inkline.geometry.arrays import Floats, Points, Singles
from inkline.geometry.polyline import arc_lengths
from inkline.ink.media.fills import crisp_passes, pass_loads
from inkline.ink.media.grain import slow_noise
from inkline.ink.media.medium import MULTIPLYING, NO_RIM_MM, Medium
from inkline.ink.media.nearest import nearest_indices

# Contact dies away over a half width, but at most over this; rims of a film and of a wash
# reach as far as the second.
_LARGEST_CONTACT_MM, _RIM_REACHES_MM = 0.6, {"film": 0.5, "wash": 0.24}
# Steps between the samples of a rim's profile.
PROFILE_STEPS = 256
# Where contact begins it is as steep as this, squared, against what it is.
_STEEPEST = 1e12
# Slow play is cut off at this many standard deviations.
_PLAY_LIMITS = (-2.2, 2.2)
# A brush lifts off over its last widths, bristle by bristle, and lands over its first.
_LIFT_OFF_WIDTHS, _TOUCH_WIDTHS = 5.0, 0.5
# A film is heavier at its rims than `rim` 1 says by this, there and farther in; these are its
# places: how wide the heavy rim is, where it lies, where the middle begins and how soon.
_FILM_RIM, _RIM_AT_MM, _RIM_WIDTH_MM = 0.10, 0.067, 0.074
_MIDDLE_FROM_MM, _MIDDLE_OVER_MM = 0.134, 0.336
# The rim of a wash is so wide, and comes and goes over so many mm.
_WASH_RIM_MM, _WASH_RIM_PLAY_MM = 0.07, 2.4
# The pools of a wash: size of the smaller ones and their weight against the larger.
_POOL_RATIO, _POOL_SHARE = 0.31, 0.45
# A bloom spreads so far, is where slow noise stands out by the second, and its front is as wide as
# the noise changes by the third; smaller noise makes the front ragged.
_BLOOM_MM, _BLOOM_FROM, _BLOOM_FRONT = 1.5, 1.15, 0.07
_BLOOM_RAGGED, _BLOOM_RAGGED_MM, _BLOOMS_APART_MM = 0.09, 0.3, 311.0
# Backruns: so many a square mm, of radii from the first to the second; their fronts are scalloped
# by lobes of two heights and sizes, crisp towards the dry side and fading towards the wet one,
# strong and weak along their length; inside they are pale.
_BACKRUNS_A_MM2, _BACKRUN_MM = 0.008, (0.9, 2.6)
_LOBES = ((0.65, 1.2), (0.2, 0.4))
_FRONT_DRY_MM, _FRONT_WET_MM, _PALE_OVER_MM, _FRONT_PLAY_MM = 0.03, 0.34, 0.8, 2.6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Course:
    """The load of a brush along its stroke.

    Attributes:
        width: the stroke's nominal width, mm.
        step: between the next, mm of arc length.
        loads: from the stroke's start.
    """

    width: float
    step: float
    loads: Singles

    def loads_at(self, along: Singles) -> Singles:
        """The loads at arc lengths `along`, `(n,)`."""
        index = np.rint(along * np.float32(1.0 / self.step)).astype(np.int32)
        return np.asarray(self.loads.take(np.clip(index, 0, len(self.loads) - 1)))


@lru_cache(maxsize=16)
def rim_slopes(body: float, falloff: float) -> Singles:
    """By how much contact changes on the way from rim to middle, at the steps of `rim_profile`."""
    profile = rim_profile("contact", body, falloff, 0.0)
    slopes = np.gradient(profile, 1.0 / PROFILE_STEPS).astype(np.float32)
    slopes.setflags(write=False)
    return slopes


@lru_cache(maxsize=16)
def relative_slopes(body: float, falloff: float) -> Singles:
    """The square of `rim_slopes` over the profile itself, at the same steps."""
    profile = rim_profile("contact", body, falloff, 0.0).astype(np.float64)
    changes = rim_slopes(body, falloff).astype(np.float64)
    squares = np.square(changes / np.maximum(profile, 1e-6))
    frozen = np.minimum(squares, _STEEPEST).astype(np.float32)
    frozen.setflags(write=False)
    return frozen


def load_course(medium: Medium) -> Course:
    """The load along a stroke: it comes and goes, runs out, and lifts off at the end."""
    lengths = arc_lengths(medium.spine)
    length, width = float(lengths[-1]), 2.0 * float(np.median(medium.halves))
    n_steps = int(np.clip(length / (0.05 * width), 8, 4000))
    along = np.linspace(0.0, length, n_steps + 1)
    line = np.column_stack((along, np.zeros_like(along)))
    noise = np.clip(slow_noise(medium.own, line, size=medium.play_length), *_PLAY_LIMITS)
    loads = np.exp(medium.play * noise + np.interp(along, lengths, medium.levels))
    leave = min(_LIFT_OFF_WIDTHS * width, 0.45 * length)
    land = min(_TOUCH_WIDTHS * width, 0.2 * length)
    forked = 1.0 - medium.firm_ends
    loads *= 1.0 - forked * (1.0 - np.minimum((length - along) / leave, 1.0)) ** 2.0
    loads *= 1.0 - 0.65 * forked * (1.0 - np.minimum(along / land, 1.0))
    return Course(width=width, step=length / n_steps, loads=loads.astype(np.float32))


def middle_reaches(medium: Medium, contours: tuple[Points, ...]) -> Floats:
    """How far inside each point of the contours the middle lies, mm."""
    n_points = sum(len(contour) for contour in contours)
    if medium.kind not in MULTIPLYING:
        return np.full(n_points, _RIM_REACHES_MM[medium.kind])
    least = float(medium.halves.min())
    if len(medium.spine) == 1 or least >= _LARGEST_CONTACT_MM:
        return np.full(n_points, min(least, _LARGEST_CONTACT_MM))
    nearest = nearest_indices(medium.spine, np.concatenate(contours))
    return np.minimum(medium.halves[nearest], _LARGEST_CONTACT_MM)


def load_offsets(medium: Medium, places: Points, depths: Singles, levels: Floats) -> Floats:
    """Logarithm (contact) or offset (film, wash) of the load at `places`.

    Args:
        medium: the medium.
        places: in mm, `(n, 2)`.
        depths: share of the way from rim to middle there.
        levels: level of ink that the stroke left there.
    """
    if medium.kind == "wash":
        return _wash_tones(medium, places, depths) + levels
    noise = np.clip(slow_noise(medium.own, places, size=medium.play_length), *_PLAY_LIMITS)
    loads = medium.play * noise + levels
    if medium.passes is not None and medium.kind != "bristles":
        loads += pass_loads(medium.passes, medium.own, places)
    return loads


def _wash_tones(medium: Medium, places: Points, depths: Singles) -> Floats:
    """How much darker than the middling tone a wash is at `places`."""
    pools = slow_noise(medium.own, places, size=medium.play_length)
    eddies = slow_noise(medium.paper, places, size=_POOL_RATIO * medium.play_length)
    tones = medium.play * ((1.0 - _POOL_SHARE) * pools + _POOL_SHARE * eddies)
    strength = 1.0 + slow_noise(medium.own, places[:, ::-1], size=_WASH_RIM_PLAY_MM)
    rim = np.exp(-((depths * _RIM_REACHES_MM["wash"] / _WASH_RIM_MM) ** 2))
    tones -= medium.rim * np.clip(strength, 0.0, 2.0) * rim
    if medium.bloom > 0.0:
        if not medium.is_crisp:
            tones += medium.bloom * _blooms(medium, places)
        elif medium.halves[0] >= NO_RIM_MM:
            tones += medium.bloom * _backruns(medium, places)
    if medium.passes is not None:
        passes = crisp_passes if medium.is_crisp else pass_loads
        tones += passes(medium.passes, medium.own, places)
    return np.asarray(tones)


def _blooms(medium: Medium, places: Points) -> Floats:
    """Where water ran back into a drying wash: pale inside, dark along its front."""
    water = slow_noise(medium.own, places + _BLOOMS_APART_MM, size=_BLOOM_MM) - _BLOOM_FROM
    water += _BLOOM_RAGGED * slow_noise(medium.own, places, size=_BLOOM_RAGGED_MM)
    front = np.exp(-((water / _BLOOM_FRONT) ** 2))
    inside = np.clip(water / _BLOOM_FRONT, 0.0, 1.0) * np.exp(-np.maximum(water, 0.0) / 0.8)
    return np.asarray(0.8 * front - inside)


def _backruns(medium: Medium, places: Points) -> Floats:
    """Where water ran back into a drying wash and pushed its pigment before it."""
    low, high = places.min(axis=0), places.max(axis=0)
    drops = np.random.Generator(np.random.PCG64([int(medium.own.x * 1e6), int(medium.own.y * 1e6)]))
    n_drops = int(drops.poisson(_BACKRUNS_A_MM2 * float(np.prod(high - low))))
    middles = low + drops.random((n_drops, 2)) * (high - low)
    radii = drops.uniform(*_BACKRUN_MM, n_drops)
    tones = np.zeros(len(places))
    for middle, radius in zip(middles, radii.tolist(), strict=True):
        apart = places - middle
        lobes = np.zeros(len(places))
        for height, size in _LOBES:
            lobes += height * np.abs(slow_noise(medium.own, places + _BLOOMS_APART_MM, size=size))
        water = radius * (0.75 + 0.5 * lobes) - np.hypot(apart[:, 0], apart[:, 1])
        dry, wet = np.minimum(water, 0.0), np.maximum(water, 0.0)
        front = np.exp(-((dry / _FRONT_DRY_MM) ** 2) - wet / _FRONT_WET_MM)
        strength = 0.7 + 0.4 * slow_noise(medium.own, apart[:, ::-1], size=_FRONT_PLAY_MM)
        pale = 1.0 - np.exp(-wet / _PALE_OVER_MM)
        tones += np.clip(strength, 0.2, 1.4) * front - pale
    return tones


@lru_cache(maxsize=16)
def rim_profile(kind: str, body: float, falloff: float, rim: float) -> Singles:
    """What the tool gives from the rim to the middle, at `PROFILE_STEPS` + 1 even steps."""
    depth = np.linspace(0.0, 1.0, PROFILE_STEPS + 1)
    if kind in MULTIPLYING:
        profile = (1.0 - (1.0 - depth) ** body) ** falloff
    elif kind == "film":
        mm = depth * _RIM_REACHES_MM[kind]
        heavy = np.exp(-(((mm - _RIM_AT_MM) / _RIM_WIDTH_MM) ** 2))
        starved = np.clip((mm - _MIDDLE_FROM_MM) / _MIDDLE_OVER_MM, 0.0, 1.0)
        profile = -rim * _FILM_RIM * (heavy - starved)
    else:
        profile = np.zeros_like(depth)
    frozen = profile.astype(np.float32)
    frozen.setflags(write=False)
    return frozen
