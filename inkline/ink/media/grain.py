"""Grain: the height of the paper at every place, and slower noise, looked up in periodic tiles.

Heights are a sum of noises of many sizes: normal deviates, low on hills and high in pits. Masters
of format 2 read them as quantiles, uniform from 0 to 1. All lengths in mm. Tiles are made once; a
place is looked up along axes turned by the angle of the paper, so that no line of a calendar meets
the same stretch of the tile twice.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.arrays import Floats, Grey, Points, Singles
from inkline.ink.media.places import Box, Places, along_axis

# Tiles of heights have so many samples a side. Those of deviates have one every 0.016 mm, half a
# pixel where a sheet of 84 mm is 2500 px wide, and are 33 mm wide; those of ranks one every 0.02.
_TILE_BITS, _FINE_STEP_MM, _TILE_STEP_MM = 11, 0.009, 0.02
_TILE_SAMPLES = 1 << _TILE_BITS
# Rows that are made finer at a time, so that what is worked on stays in the processor's cache.
_BAND_ROWS = 128
# Pixels of 84 mm in 2500 px, and the smallest that differ from a point, in halvings of them.
_PIXEL_MM, _FINEST_OCTAVE = 0.0336, -2
# Each size of grain is so many times the one below it.
_SIZE_RATIO = 2.5
# Where pixels are smaller than this many steps of the tile, heights are interpolated.
_FINE_PIXELS = 0.8
# The tile of slow noise: samples a side, and how many of them make one standard deviation of the
# Gaussian that it was smoothed with.
_SLOW_SAMPLES, _SLOW_SIZE = 256, 6.0
MOST_DEVIATION = 3.5
"""Tiles of deviates hold them in 255 steps, from so many standard deviations below to above 0."""
DEVIATE_STEP = float(MOST_DEVIATION / 127.0)
"""What one level of a tile stands for, in standard deviations."""
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

    def on_paper(self, places: Places) -> tuple[Singles, Singles]:
        """`places`, mm about the mark's origin, along the paper's own axes."""
        cos, sin = float(np.cos(self.angle)), float(np.sin(self.angle))
        return (
            along_axis(places, cos, -sin) + np.float32(self.x),
            along_axis(places, sin, cos) + np.float32(self.y),
        )


def drawn_place(generator: np.random.Generator) -> PaperPlace:
    """A place anywhere on endless paper, always from three draws."""
    x, y, turn = generator.random(3)
    side = _TILE_SAMPLES * _TILE_STEP_MM
    return PaperPlace(x=float(x) * side, y=float(y) * side, angle=float(turn) * 2.0 * np.pi)


def grain_ranks(grain: Grain, paper: PaperPlace, places: Places, *, pixel_mm: float) -> Singles:
    """Height of the paper at `places`, uniform from 0 to 1.

    Args:
        grain: the paper's sizes.
        paper: where the places' origin lies on it.
        places: in mm about the mark's origin.
        pixel_mm: side of a pixel; small ones get heights interpolated between the tile's samples.
    """
    levels = _levels_at(_rank_tile(grain), _TILE_STEP_MM, paper, places, pixel_mm)
    return np.asarray(levels * np.float32(1.0 / 255.0))


def grain_deviates(
    grain: Grain, paper: PaperPlace, places: Places, *, pixel_mm: float
) -> Singles | Grey:
    """As `grain_ranks`, but the means over pixels, as normal deviates: mean 0, variance 1.

    They are looked up in a tile that was smoothed for about such pixels, and come as its levels,
    whole numbers, unless they are interpolated. By how much heights differ within a pixel,
    `grain_blur` says.
    """
    tile = _deviate_tile(grain, _pixel_octave(pixel_mm))
    levels = _levels_at(tile, _FINE_STEP_MM, paper, places, pixel_mm)
    return levels if levels.dtype == np.uint8 else _deviates_of_levels(levels)


def grain_blur(grain: Grain, *, pixel_mm: float) -> float:
    """By how much heights differ within a pixel, where their means over pixels have variance 1.

    As the width of an even distribution; that of the mean is 1 less a twelfth of its square.
    """
    return _blur(grain, _pixel_octave(pixel_mm))


def _pixel_octave(pixel_mm: float) -> int:
    """The size of a pixel, to the nearest half or double of that of 84 mm in 2500 px."""
    return max(_FINEST_OCTAVE, round(float(np.log2(pixel_mm / _PIXEL_MM))))


@lru_cache(maxsize=64)
def _blur(grain: Grain, octave: int) -> float:
    power = _power(grain, 2.0 * _FINE_STEP_MM)
    kept = float((power * _smoothing(octave) ** 2).sum(dtype=np.float64) / power.sum())
    return float(np.sqrt(12.0 * (1.0 - kept)))


def _smoothing(octave: int) -> Singles:
    """What the mean over a pixel leaves of each frequency of a tile."""
    deviation = _PIXEL_MM * 2.0**octave / np.sqrt(12.0)
    frequency = _frequencies(_TILE_SAMPLES, 2.0 * _FINE_STEP_MM)
    return np.asarray(np.exp(-0.5 * (2.0 * np.pi * deviation * frequency) ** 2), dtype=np.float32)


def _deviates_of_levels(levels: Grey | Singles) -> Singles:
    """The deviates that levels of a tile from `deviate_levels` stand for."""
    deviates = levels * np.float32(DEVIATE_STEP)
    deviates -= np.float32(MOST_DEVIATION)
    return np.asarray(deviates)


def deviate_levels(heights: Singles) -> Grey:
    """Normal deviates as levels from 0 to 254 of a tile."""
    levels = heights + np.float32(MOST_DEVIATION)
    levels /= np.float32(DEVIATE_STEP)
    np.rint(levels, out=levels)
    np.clip(levels, 0.0, 254.0, out=levels)
    clipped: Grey = np.ascontiguousarray(levels, dtype=np.uint8)
    clipped.setflags(write=False)
    return clipped


def _levels_at(
    tile: Grey, step_mm: float, paper: PaperPlace, places: Places, pixel_mm: float
) -> Grey | Singles:
    """Levels of a tile of grain at `places`."""
    if pixel_mm < _FINE_PIXELS * step_mm:
        u, v = paper.on_paper(places)
        step = np.float32(1.0 / step_mm)
        return _interpolated(tile, u * step, v * step)
    if isinstance(places, Box):
        return _nearest_in_box(tile, step_mm, paper, places)
    u, v = paper.on_paper(places)
    u, v = u * np.float32(1.0 / step_mm), v * np.float32(1.0 / step_mm)
    column, row = np.rint(u).astype(np.int32), np.rint(v).astype(np.int32)
    mask = len(tile) - 1
    row &= mask
    row *= len(tile)
    column &= mask
    row += column
    return np.asarray(tile.reshape(-1).take(row))


def _nearest_in_box(tile: Grey, step_mm: float, paper: PaperPlace, box: Box) -> Grey:
    """The sample of `tile` nearest to each place of `box`.

    Places are counted in 2^32nds of the tile's side, so that whole numbers go around as it does.
    """
    side, bits = len(tile) * step_mm, len(tile).bit_length() - 1
    cos, sin = np.cos(paper.angle), np.sin(paper.angle)
    half = 0.5 * step_mm
    u = np.add.outer(_phases((paper.x + half - box.ys * sin) / side), _phases(box.xs * cos / side))
    v = np.add.outer(_phases((paper.y + half + box.ys * cos) / side), _phases(box.xs * sin / side))
    u >>= np.uint32(32 - bits)
    v >>= np.uint32(32 - bits)
    v <<= np.uint32(bits)
    v |= u
    return np.asarray(tile.reshape(-1).take(v))


def _phases(shares: Floats) -> NDArray[np.uint32]:
    """Shares of a whole turn in 2^32nds of it, between 0 and 1."""
    return np.rint((shares % 1.0) * 2.0**32).astype(np.int64).astype(np.uint32)


@lru_cache(maxsize=16)
def rank_steepness(grain: Grain) -> float:
    """By how much ranks change in a mm along a line, root mean square."""
    return steepness(_rank_tile(grain), step=_TILE_STEP_MM) / 255.0


def steepness(tile: Grey, *, step: float) -> float:
    """Root mean square of the change of a tile's levels from row to row, for a step of 1."""
    changes = np.diff(tile[:, ::7].astype(np.float32), axis=0)
    return float(np.sqrt(np.mean(changes**2))) / step


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
def _rank_tile(grain: Grain) -> Grey:
    """The periodic tile of heights as quantiles from 0 to 255."""
    return ranks(noise_of_power(_power(grain, _TILE_STEP_MM), seed=1, side=_TILE_SAMPLES))


@lru_cache(maxsize=6)
def _deviate_tile(grain: Grain, octave: int) -> Grey:
    """The periodic tile of mean heights over pixels of a size, as levels of deviates."""
    power = _power(grain, 2.0 * _FINE_STEP_MM) * _smoothing(octave) ** 2
    coarse = noise_of_power(power, seed=1, side=_TILE_SAMPLES)
    tile = np.empty((2 * _TILE_SAMPLES, 2 * _TILE_SAMPLES), dtype=np.uint8)
    for first in range(0, _TILE_SAMPLES, _BAND_ROWS):
        rows = np.arange(first, first + _BAND_ROWS + 1) % _TILE_SAMPLES
        tile[2 * first : 2 * (first + _BAND_ROWS)] = deviate_levels(_twice_as_fine(coarse[rows]))
    tile.setflags(write=False)
    return tile


def _twice_as_fine(rows: Singles) -> Singles:
    """Rows of a periodic tile with another in the middle between each two, and so its columns."""
    n_rows, n_columns = len(rows) - 1, rows.shape[1]
    taller = np.empty((2 * n_rows, n_columns), dtype=rows.dtype)
    taller[::2] = rows[:-1]
    np.add(rows[:-1], rows[1:], out=taller[1::2])
    taller[1::2] *= 0.5
    finer = np.empty((2 * n_rows, 2 * n_columns), dtype=rows.dtype)
    finer[:, ::2] = taller
    np.add(taller[:, :-1], taller[:, 1:], out=finer[:, 1:-1:2])
    np.add(taller[:, -1], taller[:, 0], out=finer[:, -1])
    finer[:, 1::2] *= 0.5
    return finer


def _power(grain: Grain, step_mm: float) -> Singles:
    """The power spectrum of heights on the tile."""
    frequency = _frequencies(_TILE_SAMPLES, step_mm)
    power = np.zeros_like(frequency)
    for size, weight in _sizes(grain):
        power += np.float32(weight**2 * size**2) * np.exp(-((2.0 * np.pi * size * frequency) ** 2))
    power[0, 0] = 0.0
    return power


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
