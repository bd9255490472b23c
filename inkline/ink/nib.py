"""The nib: how wide the ink is along a drawn centreline. Lengths in mm."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.polyline import tangents
from inkline.ink.hand import DrawnPath
from inkline.ink.noise import bent, wander_noise
from inkline.ink.style import Nib

Floats = NDArray[np.float64]

# Pressure waves come in three lengths, each a third of the one before, so that no single wave length shows.
_WAVE_LENGTHS = (1.0, 1.0 / 3.0, 1.0 / 9.0)
_WAVE_WEIGHTS = (0.62, 0.60, 0.50)
# Pressure waves bend beyond this many standard deviations and never pass the next.
_WAVE_KNEE, _WAVE_LIMIT = 2.0, 2.8
# The pen counts as resting below this share of its mean speed.
_RESTING_SPEED = 0.35
# No pen gets thinner than this share of its nominal width.
_THINNEST = 0.12


def pressures(path: DrawnPath, nib: Nib, generator: np.random.Generator, *, width: float, crossings: Floats) -> Floats:
    """Width over nominal width at each point of `path`, `(n,)`, mean 1 over the exact stroke.

    Args:
        path: the drawn centreline.
        nib: the nib.
        generator: the stream of this stroke's nib, always used for the same number of draws.
        width: nominal width in mm.
        crossings: arc lengths of the exact stroke in mm at which others cross.
    """
    waves = _waves(generator, path, nib)
    ends = 0.6 + 0.8 * generator.random(2)
    profile = waves * _ends(path, nib, ends) * _broad_edge(path, nib)
    profile = profile * (1.0 + _pools(path, nib, width, crossings))
    inside = (path.lengths >= -1e-9) & (path.lengths <= path.exact_length + 1e-9)
    mean = _mean_along(profile[inside], path.lengths[inside])
    return np.asarray(np.maximum(profile / mean, _THINNEST))


def _mean_along(values: Floats, lengths: Floats) -> float:
    """Mean of `values` over arc length."""
    span = lengths[-1] - lengths[0]
    return float(np.trapezoid(values, lengths) / span) if span > 0.0 else float(values.mean())


def _waves(generator: np.random.Generator, path: DrawnPath, nib: Nib) -> Floats:
    """Slow waves of pressure, log-normal about 1."""
    total = np.zeros_like(path.lengths)
    for length, weight in zip(_WAVE_LENGTHS, _WAVE_WEIGHTS, strict=True):
        corner = 1.0 / (2.0 * np.pi * nib.pressure_length * length)
        total += weight * wander_noise(generator, path.lengths, corner=corner, limit=8.0 * corner)
    waves = bent(total, knee=_WAVE_KNEE, limit=_WAVE_LIMIT)
    return np.asarray(np.exp(nib.pressure * waves - 0.5 * nib.pressure**2))


def _ends(path: DrawnPath, nib: Nib, amounts: Floats) -> Floats:
    """Touchdown and lift: a factor that fades into the body of the stroke, a little different each time."""
    from_start = path.lengths - path.lengths[0]
    from_end = path.lengths[-1] - path.lengths
    reach = min(nib.landing, 0.4 * max(float(from_start[-1]), 1e-9))
    down = nib.touchdown * amounts[0] * np.exp(-from_start / reach)
    up = nib.lift * amounts[1] * np.exp(-from_end / reach)
    return np.asarray(np.maximum(1.0 + down + up, _THINNEST))


def _pools(path: DrawnPath, nib: Nib, width: float, crossings: Floats) -> Floats:
    """Extra width where the pen rests and where wet lines cross."""
    rest = np.exp(-((path.timing.speeds / (_RESTING_SPEED * path.timing.mean_speed)) ** 2))
    extra = nib.pooling * rest
    if nib.crossing_pool > 0.0:
        for crossing in crossings:
            extra = extra + nib.crossing_pool * np.exp(-(((path.lengths - crossing) / (0.8 * width)) ** 2))
    return np.asarray(extra)


def _broad_edge(path: DrawnPath, nib: Nib) -> Floats:
    """The factor of a broad edge held at `nib.angle`: full width across the edge, thin along it."""
    if nib.contrast == 0.0:
        return np.ones_like(path.lengths)
    along = tangents(path.points)
    angle = np.arctan2(-along[:, 1], along[:, 0]) - np.deg2rad(nib.angle)
    return np.asarray(np.hypot(np.sin(angle), (1.0 - nib.contrast) * np.cos(angle)))
