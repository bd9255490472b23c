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
# Where the pen rests, ink pools over this many widths to either side: the blot spreads as wide as the pen, however fast it leaves.
_POOL_WIDTHS = 0.8
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
    ends = 0.4 + 1.2 * generator.random(2)
    profile = waves * _ends(path, nib, ends) * _broad_edge(path, nib)
    profile = profile * (1.0 + _pools(path, nib, width, crossings, generator))
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


def _pools(path: DrawnPath, nib: Nib, width: float, crossings: Floats, generator: np.random.Generator) -> Floats:
    """Extra width where the pen rests (both ends and stops, each by its own amount) and where wet lines cross."""
    rests = np.concatenate((path.lengths[[0, -1]], path.lengths[1:-1][path.timing.speeds[1:-1] <= 0.0]))
    amounts = nib.pooling * 2.0 * generator.random(len(rests))
    places, heights = (
        np.concatenate((rests, crossings)),
        np.concatenate((amounts, np.full(len(crossings), nib.crossing_pool))),
    )
    shown = heights > 0.0
    apart = (path.lengths[:, None] - places[shown]) / (_POOL_WIDTHS * width)
    return np.asarray(np.exp(-(apart**2)) @ heights[shown])


def _broad_edge(path: DrawnPath, nib: Nib) -> Floats:
    """The factor of a broad edge held at `nib.angle`: full width across the edge, thin along it."""
    if nib.contrast == 0.0:
        return np.ones_like(path.lengths)
    along = tangents(path.points)
    angle = np.arctan2(-along[:, 1], along[:, 0]) - np.deg2rad(nib.angle)
    return np.asarray(np.hypot(np.sin(angle), (1.0 - nib.contrast) * np.cos(angle)))


def end_reaches(nib: Nib, generator: np.random.Generator, own: float) -> tuple[float, float]:
    """How far the start and the end of a stroke reach beyond its last points, in half widths; no two ends are alike.

    Args:
        nib: the nib.
        generator: the stream of this stroke's nib, always used for the same number of draws.
        own: the reach of the exact stroke's ends, 0 or 1, for a nib that leaves ends as laid out.
    """
    start, end = generator.random(2)
    if nib.ends == "own":
        return own, own
    low, high = (0.62, 1.0) if nib.ends == "round" else (0.12, 0.42)
    return float(low + (high - low) * start), float(low + (high - low) * end)
