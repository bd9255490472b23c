"""Bristles: where along and across a brush stroke a place lies, and what its bristle holds there.

A stroke is taken in pieces that turn less than any loop. Every piece that passes near a place says
how far along (s, mm) and across it (n, -1 to 1) that place lies, so these stay continuous where a
stroke overlaps itself; the wettest then wins. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Grey, Indices, Points, Singles
from inkline.geometry.polyline import arc_lengths, tangents
from inkline.ink.media.cuts import apart_points, stroke_cuts
from inkline.ink.media.grain import (
    DEVIATE_STEP,
    PaperPlace,
    deviate_levels,
    noise_of_power,
    ranks,
    steepness,
)
from inkline.ink.media.lattice import Lattice, lattice_over
from inkline.ink.media.nearest import nearest_indices
from inkline.ink.media.places import Box

# A piece is asked about places this many half widths off, and runs on so far beyond corners and
# ends.
_REACH, _BEYOND = 1.35, 1.2
# How remote a place is that lies farther off.
_FAR = 9.0
# The tile of bristles: rows over so many widths across, columns every so many widths along.
_ROWS, _ACROSS_WIDTHS = 1024, 2.0
_COLUMNS, _ALONG_STEP = 1024, 0.125
# Bristles are from the finest to so many widths across, each size so many times the one below, and
# hold their ink over so many widths along: the finest and the coarsest.
_COARSEST, _SIZE_RATIO, _SHORTEST, _LONGEST = 0.125, 2.0, 2.5, 5.0
# From one width along to the next the bristles shift by this share of a width, so that no stroke
# meets the same stretch of the tile twice.
_SHIFT = 0.0037


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Piece:
    """One piece of a stroke.

    Attributes:
        lattice: covers it.
        along: arc length at each of the lattice's points, mm.
        across: place across the stroke there, -1 to 1 within it.
        remoteness: below 1 where the piece reaches, its round ends included.
    """

    lattice: Lattice
    along: Singles
    across: Singles
    remoteness: Singles


def stroke_pieces(spine: Points, halves: Floats, *, step: float) -> tuple[Piece, ...]:
    """The pieces of a stroke along `spine`, `(k, 2)`, half as wide as `halves`, `(k,)`."""
    kept = apart_points(spine, at_least=step)
    spine, halves = spine[kept], halves[kept]
    lengths, ahead = arc_lengths(spine), tangents(spine)
    pieces = []
    for first, last, ends in stroke_cuts(spine, lengths, halves):
        part = slice(first, last + 1)
        pieces.append(_piece(spine[part], lengths[part], ahead[part], halves[part], ends, step))
    return tuple(pieces)


def _piece(
    spine: Points,
    lengths: Floats,
    ahead: Points,
    halves: Floats,
    ends: tuple[bool, bool],
    step: float,
) -> Piece:
    """One piece of a stroke on its lattice."""
    if len(spine) > 1:
        steps = np.diff(spine, axis=0)
        ahead = ahead.copy()
        for end, own in ((0, steps[0]), (-1, steps[-1])):
            ahead[end] = own / max(float(np.hypot(*own)), 1e-12)
    reach = _REACH * float(halves.max())
    lattice = lattice_over((spine - reach, spine + reach), step=step)
    places = lattice.points
    apart_mm = np.diff(lengths)
    bound = reach + 2.0 * step + 0.5 * float(apart_mm.max(initial=0.0))
    nearest = nearest_indices(spine, places, within=bound)
    apart_x, apart_y = (places[:, axis] - spine[:, axis].take(nearest) for axis in (0, 1))
    ahead_x, ahead_y = (axis.take(nearest) for axis in ahead.T)
    s = lengths.take(nearest) + (apart_x * ahead_x + apart_y * ahead_y)
    aside = ahead_x * apart_y - ahead_y * apart_x
    across = aside / np.interp(s, lengths, halves)
    over = [lengths[0] - s, s - lengths[-1]]
    rooms = [
        _BEYOND * float(halves[i]) if hard else step for i, hard in zip((0, -1), ends, strict=True)
    ]
    beyond = np.maximum(*(np.maximum(o, 0.0) / r for o, r in zip(over, rooms, strict=True)))
    remoteness = np.sqrt(across**2 + beyond**2)
    remoteness[apart_x**2 + apart_y**2 > bound**2] = _FAR
    return Piece(
        lattice=lattice,
        along=s.astype(np.float32),
        across=across.astype(np.float32),
        remoteness=remoteness.astype(np.float32),
    )


def piece_places(
    piece: Piece, places: Points, *, margin: float
) -> tuple[Indices, Singles, Singles]:
    """Which of `places` lie on `piece` or up to `margin` half widths beside it.

    And how far along and across it they lie.
    """
    rows, columns = piece.lattice.shape
    (x0, y0), step = piece.lattice.corner, piece.lattice.step
    u, v = (places[:, 0] - x0) / step, (places[:, 1] - y0) / step
    near = np.flatnonzero((u >= 0) & (v >= 0) & (u < columns - 1) & (v < rows - 1))
    on_it = places.take(near, axis=0)
    reading = piece.lattice.reading_between(on_it[:, 0], on_it[:, 1])
    within = np.flatnonzero(reading.read(piece.remoteness) < 1.0 + margin)
    reading = reading.part(within)
    return near.take(within), reading.read(piece.along), reading.read(piece.across)


def piece_part(
    piece: Piece, box: Box, *, margin: float
) -> tuple[tuple[slice, slice], Bools, Singles, Singles] | None:
    """The rows and columns of `box` that `piece` may reach, or `None`.

    And which places in them it does reach, up to `margin` half widths beside it, and how far along
    and across it they lie.
    """
    x0, y0 = piece.lattice.corner
    rows, columns = ((n - 1) * piece.lattice.step for n in piece.lattice.shape)
    part = (
        slice(*(int(i) for i in np.searchsorted(box.ys, (y0, y0 + rows)))),
        slice(*(int(i) for i in np.searchsorted(box.xs, (x0, x0 + columns)))),
    )
    if part[0].start == part[0].stop or part[1].start == part[1].stop:
        return None
    reading = piece.lattice.reading_at(box.part(*part))
    if reading.least(piece.remoteness) >= 1.0 + margin:
        return None
    within = reading.read(piece.remoteness) < np.float32(1.0 + margin)
    return part, within, reading.read(piece.along), reading.read(piece.across)


def bristle_ranks(
    own: PaperPlace,
    along: Singles | Floats,
    across: Singles | Floats,
    *,
    width: float,
    finest: float,
) -> Singles:
    """How poor in ink the bristle at each place is, uniform from 0 (full) to 1.

    Args:
        own: the stroke's own place, so that each stroke has its own brush.
        along: arc length, mm.
        across: place across the stroke, -1 to 1.
        width: of the stroke, mm.
        finest: smallest size of its bristles, mm.
    """
    levels = _levels_at(_rank_tile(_octave(finest, width)), own, along, across, width)
    return np.asarray(levels * np.float32(1.0 / 255.0))


def bristle_deviates(
    own: PaperPlace,
    along: Singles | Floats,
    across: Singles | Floats,
    *,
    width: float,
    finest: float,
) -> Grey:
    """As `bristle_ranks`, as levels of normal deviates: mean 0, variance 1."""
    return _levels_at(_deviate_tile(_octave(finest, width)), own, along, across, width)


def _levels_at(
    tile: Grey,
    own: PaperPlace,
    along: Singles | Floats,
    across: Singles | Floats,
    width: float,
) -> Grey:
    """Levels of a tile of bristles."""
    s = along * np.float32(1.0 / width)
    rows_per_width = _ROWS / _ACROSS_WIDTHS
    v = (0.5 * across + s * np.float32(_SHIFT) + np.float32(own.x % 100.0)) * np.float32(
        rows_per_width
    )
    u = (s + np.float32(own.y % 100.0)) * np.float32(1.0 / _ALONG_STEP)
    row = np.rint(v).astype(np.int32)
    row &= _ROWS - 1
    row *= _COLUMNS
    column = np.rint(u).astype(np.int32)
    column &= _COLUMNS - 1
    row += column
    return np.asarray(tile.reshape(-1).take(row))


def rank_steepness(*, width: float, finest: float) -> float:
    """By how much ranks of bristles differ over a mm across the stroke, root mean square."""
    return _steepness(_octave(finest, width)) / width


def deviate_steepness(*, width: float, finest: float) -> float:
    """By how much bristles differ over a mm across the stroke, root mean square."""
    return _deviate_steepness(_octave(finest, width)) / width


@lru_cache(maxsize=16)
def _steepness(octave: float) -> float:
    return steepness(_rank_tile(octave), step=_ACROSS_WIDTHS / _ROWS) / 255.0


@lru_cache(maxsize=16)
def _deviate_steepness(octave: float) -> float:
    tile = _deviate_tile(octave)
    return steepness(tile, step=_ACROSS_WIDTHS / _ROWS) * DEVIATE_STEP


def _octave(finest: float, width: float) -> float:
    """Size of the finest bristles in widths, as a power of 2 to the half."""
    return round(2.0 * float(np.log2(max(finest / width, 1.0 / 250.0)))) / 2.0


@lru_cache(maxsize=4)
def _rank_tile(octave: float) -> Grey:
    """The periodic tile of bristles as quantiles; the finest are 2^octave widths across."""
    return ranks(_tile_heights(octave))


@lru_cache(maxsize=4)
def _deviate_tile(octave: float) -> Grey:
    """The periodic tile of bristles as levels of deviates."""
    return deviate_levels(_tile_heights(octave))


def _tile_heights(octave: float) -> Singles:
    """A periodic tile of bristles, unit variance."""
    f_along, f_across = np.meshgrid(
        np.fft.rfftfreq(_COLUMNS, d=_ALONG_STEP),
        np.fft.fftfreq(_ROWS, d=_ACROSS_WIDTHS / _ROWS),
    )
    finest = min(2.0**octave, _COARSEST)
    n_sizes = round(np.log(_COARSEST / finest) / np.log(_SIZE_RATIO)) + 1
    power = np.zeros(f_along.shape)
    for size, length in zip(
        np.geomspace(finest, _COARSEST, n_sizes),
        np.geomspace(_SHORTEST, _LONGEST, n_sizes),
        strict=True,
    ):
        power += (
            size
            * length
            * np.exp(
                -((2.0 * np.pi * size * f_across) ** 2)
                - (2.0 * np.pi * 0.4 * length * f_along) ** 2
            )
        )
    power[0, 0] = 0.0
    return noise_of_power(power.astype(np.float32), seed=3, side=_ROWS)
