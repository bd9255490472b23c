"""Grain: the height of the paper at every place, and slower noise, looked up in periodic tiles.

Heights are quantiles, uniform from 0 (hills) to 1 (pits), of a sum of noises of many sizes. All
lengths in mm. Tiles are made once; a place is looked up along axes turned by the angle of the
paper, so that no line of a calendar meets the same stretch of the tile twice.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.arrays import Floats, Grey, Points, Singles

# The tile of heights has so many samples a side, one every so many mm: 0.6 px where a sheet of
# 84 mm is 2500 px wide, and 41 mm in all.
_TILE_SAMPLES, _TILE_STEP_MM = 2048, 0.02
# Each size of grain is so many times the one below it.
_SIZE_RATIO = 2.5
# Where pixels are smaller than this many steps of the tile, heights are interpolated.
_FINE_PIXELS = 0.8
# The tile of slow noise: samples a side, and how many of them make one standard deviation of the
# Gaussian that it was smoothed with.
_SLOW_SAMPLES, _SLOW_SIZE = 256, 6.0
# Levels by which heights are ranked.
_RANK_LEVELS = 1 << 14


@dataclass(frozen=True, slots=True, kw_only=True)
class Grain:
    """Which sizes a paper's tooth has.

    Attributes:
        finest: the smallest size, the standard deviation of a Gaussian, mm.
        coarsest: the largest.
        fall: how fast the weight of a size falls with it: weight = size^-fall; below 0 it rises.
    """

    finest: float
    coarsest: float
    fall: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperPlace:
    """Where on endless paper a mark's origin lies, and how the paper is turned under it.

    Attributes:
        x, y: mm along the paper's own axes.
        angle: in radians.
    """

    x: float
    y: float
    angle: float

    def on_paper(self, places: Points) -> tuple[Singles, Singles]:
        """`places`, mm about the mark's origin, along the paper's own axes."""
        cos, sin = np.cos(self.angle), np.sin(self.angle)
        x, y = (np.ascontiguousarray(places[:, axis], dtype=np.float32) for axis in (0, 1))
        cos, sin = np.float32(cos), np.float32(sin)
        return x * cos - y * sin + np.float32(self.x), x * sin + y * cos + np.float32(self.y)


def drawn_place(generator: np.random.Generator) -> PaperPlace:
    """A place anywhere on endless paper, always from three draws."""
    x, y, turn = generator.random(3)
    side = _TILE_SAMPLES * _TILE_STEP_MM
    return PaperPlace(x=float(x) * side, y=float(y) * side, angle=float(turn) * 2.0 * np.pi)


def grain_heights(grain: Grain, paper: PaperPlace, places: Points, *, pixel_mm: float) -> Singles:
    """Height of the paper at `places`, `(n,)`, uniform from 0 to 1.

    Args:
        grain: the paper's sizes.
        paper: where the places' origin lies on it.
        places: `(n, 2)` in mm about the mark's origin.
        pixel_mm: side of a pixel; small ones get heights interpolated between the tile's samples.
    """
    tile = _tile(grain)
    u, v = paper.on_paper(places)
    u, v = u * np.float32(1.0 / _TILE_STEP_MM), v * np.float32(1.0 / _TILE_STEP_MM)
    if pixel_mm < _FINE_PIXELS * _TILE_STEP_MM:
        return _interpolated(tile, u, v) * np.float32(1.0 / 255.0)
    column, row = np.rint(u).astype(np.int32), np.rint(v).astype(np.int32)
    mask = _TILE_SAMPLES - 1
    row &= mask
    row *= _TILE_SAMPLES
    column &= mask
    row += column
    return tile.reshape(-1).take(row) * np.float32(1.0 / 255.0)


@lru_cache(maxsize=16)
def grain_steepness(grain: Grain) -> float:
    """By how much the height changes in a mm along a line, root mean square."""
    return steepness(_tile(grain), step=_TILE_STEP_MM)


def steepness(tile: Grey, *, step: float) -> float:
    """Root mean square of the change of a tile's quantiles from row to row, for a step of 1."""
    changes = np.diff(tile[:, ::7].astype(np.float32), axis=0)
    return float(np.sqrt(np.mean(changes**2))) / 255.0 / step


def slow_noise(paper: PaperPlace, places: Points, *, size: float) -> Floats:
    """Gaussian noise of unit variance at `places`, smooth over `size` mm, `(n,)`."""
    u, v = paper.on_paper(places)
    scale = np.float32(_SLOW_SIZE / size)
    return _interpolated(_slow_tile(), u * scale, v * scale).astype(np.float64)


def _interpolated(tile: Singles | Grey, u: Singles, v: Singles) -> Singles:
    """`tile` between its samples at columns `u` and rows `v`, going around at its sides."""
    mask = len(tile) - 1
    floor_u, floor_v = np.floor(u), np.floor(v)
    fu, fv = u - floor_u, v - floor_v
    column, row = floor_u.astype(np.int32) & mask, floor_v.astype(np.int32) & mask
    after = (column + 1) & mask
    below = ((row + 1) & mask) * len(tile)
    row *= len(tile)
    flat = tile.reshape(-1)
    upper = flat.take(row + column) * (1.0 - fu) + flat.take(row + after) * fu
    lower = flat.take(below + column) * (1.0 - fu) + flat.take(below + after) * fu
    return np.asarray(upper * (1.0 - fv) + lower * fv, dtype=np.float32)


@lru_cache(maxsize=4)
def _tile(grain: Grain) -> Grey:
    """The periodic tile of heights as quantiles from 0 to 255."""
    frequency = _frequencies(_TILE_SAMPLES, _TILE_STEP_MM)
    power = np.zeros_like(frequency)
    for size, weight in _sizes(grain):
        power += np.float32(weight**2 * size**2) * np.exp(-((2.0 * np.pi * size * frequency) ** 2))
    power[0, 0] = 0.0
    heights = noise_of_power(power, seed=1, side=_TILE_SAMPLES)
    return ranks(heights)


def _sizes(grain: Grain) -> list[tuple[float, float]]:
    """Each size of the grain with its weight."""
    n_sizes = max(1, round(np.log(grain.coarsest / grain.finest) / np.log(_SIZE_RATIO)) + 1)
    sizes = np.geomspace(grain.finest, max(grain.coarsest, grain.finest), n_sizes)
    return [(float(size), float((size / grain.finest) ** -grain.fall)) for size in sizes]


def ranks(heights: Singles) -> Grey:
    """Heights as quantiles from 0 to 255."""
    low, high = float(heights.min()), float(heights.max())
    levels = ((heights - low) * (_RANK_LEVELS / (high - low))).astype(np.int32)
    np.minimum(levels, _RANK_LEVELS - 1, out=levels)
    counts = np.bincount(levels.reshape(-1), minlength=_RANK_LEVELS)
    quantiles = (np.cumsum(counts) - 0.5 * counts) / heights.size
    ranks = np.rint(quantiles * 255.0).astype(np.uint8).take(levels)
    ranks.setflags(write=False)
    return ranks


@lru_cache(maxsize=1)
def _slow_tile() -> Singles:
    """The periodic tile of slow noise, unit variance."""
    frequency = _frequencies(_SLOW_SAMPLES, 1.0)
    tile = noise_of_power(
        np.exp(-((2.0 * np.pi * _SLOW_SIZE * frequency) ** 2)), seed=2, side=_SLOW_SAMPLES
    )
    tile.setflags(write=False)
    return tile


def _frequencies(n_samples: int, step: float) -> Singles:
    """Cycles in a unit of length at each place of a square tile's spectrum (half plane)."""
    along, across = np.fft.rfftfreq(n_samples, d=step), np.fft.fftfreq(n_samples, d=step)
    return np.asarray(np.hypot(*np.meshgrid(along, across)), dtype=np.float32)


def noise_of_power(power: Singles, *, seed: int, side: int) -> Singles:
    """Noise of the given power spectrum (half plane), zero mean and unit variance."""
    from scipy.fft import irfft2, rfft2  # noqa: PLC0415 - slow; wanted only for dry marks

    generator = np.random.Generator(np.random.PCG64(seed))
    white = generator.standard_normal((side, side), dtype=np.float32)
    noise = irfft2(rfft2(white) * np.sqrt(power), s=(side, side))
    noise -= noise.mean()
    noise /= noise.std()
    return np.asarray(noise, dtype=np.float32)


def band_deviates(own: PaperPlace, index: NDArray[np.int32], part: int) -> Singles:
    """A normal deviate for each band of a mark, the same wherever it is asked for, `(n,)`.

    Args:
        own: the mark's place; another one has other bands.
        index: number of each band.
        part: which of a band's deviates.
    """
    first = int(index.min())
    bands = np.arange(first, int(index.max()) + 1)
    column = (bands * 41 + int(own.x * 97.0)) % _SLOW_SAMPLES
    row = (bands * 29 + part * 53 + int(own.y * 89.0)) % _SLOW_SAMPLES
    return np.asarray(_slow_tile()[row, column].take(index - np.int32(first)))
