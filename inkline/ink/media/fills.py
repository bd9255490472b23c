"""Fills: the passes in which a hand fills a shape, band beside band. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.arrays import Floats, Points, Singles
from inkline.ink.media.grain import PaperPlace, band_deviates, slow_noise
from inkline.ink.media.places import Places, along_axis

# A pass is wider than the step from one to the next by this, so most overlap and some gape.
_OVERLAP = 1.3
# Passes lie beside their even places by this share of a step, and their loads differ by so much.
_PLACE_PLAY, _LOAD_PLAY = 0.16, 0.5
# Along a pass the load comes and goes over this many widths; by this exponent it thins at its rims.
_ROUND = 2.6
# How far passes bow, in their widths.
_BEND = 0.06
# Where two passes overlap, the second adds this share of itself.
_ADDED = 0.5
# Passes of a wet tool: how far they reach and how steep their edges are, against half their width;
# how much darker they are where two overlap, and paler where they gape, against the strength; how
# much their loads differ; how much streaks show, how wide they are and how many times as long.
_FLAT, _CRISPNESS, _DOUBLED, _GAPING = 1.07, 8.0, 0.9, 7.0
_LOADED, _STREAKED, _STREAK_MM, _STREAK = 0.4, 0.2, 0.09, 25.0
# Loads along a pass are known at so many places in each of its widths; one pass begins so many
# widths from where its neighbour does.
_STEPS_A_WIDTH, _BANDS_APART = 512.0, 17.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Passes:
    """The passes in which a shape is filled.

    Attributes:
        width: from one pass to the next, mm.
        angle: in which direction they run, radians from the horizontal, y down.
        strength: how much they show: the logarithm of their loads is scaled with it.
    """

    width: float
    angle: float
    strength: float


def pass_loads(passes: Passes, own: PaperPlace, places: Points) -> Floats:
    """What the passes add to the logarithm of the load at `places`, `(n,)`.

    Args:
        passes: how the shape is filled.
        own: where the shape's own noise is read, so that each shape has its own passes.
        places: `(n, 2)` in mm about the shape's origin.
    """
    given = np.zeros(len(places))
    for _, across, load in bands_at(passes, own, places, strength=1.0):
        body = np.maximum(1.0 - np.minimum(np.abs(across), 1.0) ** _ROUND, 0.0)
        one = body * load
        given = np.maximum(given, one) + _ADDED * np.minimum(given, one)
    return np.asarray(passes.strength * np.log(np.maximum(given, 0.05)))


def crisp_passes(passes: Passes, own: PaperPlace, places: Points) -> Floats:
    """How much darker the passes of a wet tool are at `places`, `(n,)`.

    Each is even, with faint streaks along it; two are darker where they overlap, and between two
    that gape the paper is bare.

    Args:
        passes: how the shape is filled.
        own: where the shape's own noise is read.
        places: `(n, 2)` in mm about the shape's origin.
    """
    tones, n_over = np.zeros(len(places)), np.zeros(len(places))
    for _, across, load in bands_at(passes, own, places, strength=1.0):
        over = np.clip((_FLAT - np.abs(across)) * _CRISPNESS + 0.5, 0.0, 1.0)
        tones = np.maximum(tones, over * load)
        n_over += over
    cos, sin = np.cos(passes.angle), np.sin(passes.angle)
    along, aside = places @ (cos, sin), places @ (-sin, cos)
    streaks = slow_noise(own, np.column_stack((along / _STREAK, aside)), size=_STREAK_MM)
    darker = _LOADED * np.log(np.maximum(tones, 0.2)) + _DOUBLED * np.maximum(n_over - 1.0, 0.0)
    darker += _STREAKED * streaks - _GAPING * np.maximum(1.0 - n_over, 0.0)
    return np.asarray(passes.strength * darker)


def bands_at(
    passes: Passes, own: PaperPlace, places: Places, *, strength: float
) -> Iterator[tuple[Floats, Floats, Singles]]:
    """The two passes between which each place lies.

    Yields:
        How far along its pass a place lies (in widths of it), where across it (-1 to 1 within it),
        and the pass's load there, its logarithm scaled with `strength`; each as places are.
    """
    cos, sin = np.cos(passes.angle) / passes.width, np.sin(passes.angle) / passes.width
    along, across = along_axis(places, cos, sin), along_axis(places, -sin, cos)
    bend = along * np.float32(0.5)
    bend += np.float32(own.x)
    np.sin(bend, out=bend)
    bend *= np.float32(_BEND)
    across += bend
    below = np.floor(across, out=bend)
    first, start = int(below.min()), int(np.floor(float(along.min()) * _STEPS_A_WIDTH))
    n_bands = int(below.max()) - first + 2
    n_steps = int(np.ceil(float(along.max()) * _STEPS_A_WIDTH)) - start + 1
    bands = _bands(own, first, n_bands)
    middles = (_PLACE_PLAY * bands.places).astype(np.float32)
    step = along * np.float32(_STEPS_A_WIDTH)
    step -= np.float32(start)
    np.rint(step, out=step)
    index = below.astype(np.int32)
    index -= np.int32(first)
    at = step.astype(np.int32)
    # Few places cost less one by one than all loads along all bands.
    is_listed = 2 * at.size >= n_bands * n_steps
    if is_listed:
        every_step = np.arange(start, start + n_steps) / _STEPS_A_WIDTH
        loads = _loads(bands, np.arange(n_bands)[:, None], every_step, own, strength)
        at += index * np.int32(n_steps)
    else:
        steps = (at + start) / _STEPS_A_WIDTH
    # In double precision: a bristle's border must not shift with the box that is read.
    exact_along, exact_across = along.astype(np.float64), across.astype(np.float64) - below
    exact_along += _BANDS_APART * below.astype(np.float64)
    for beside in (0, 1):
        apart = exact_across - beside
        apart -= middles[beside:].take(index)
        apart *= float(np.float32(2.0 / _OVERLAP))
        load = (
            loads[beside:].reshape(-1).take(at)
            if is_listed
            else _loads(bands, index + beside, steps, own, strength)
        )
        yield exact_along + _BANDS_APART * beside, apart, load


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Bands:
    """What each of some bands has of its own, normal deviates.

    Attributes:
        places: how far it lies beside its even place.
        loads: what it is loaded with.
        tilts: how much that comes and goes along it.
    """

    places: Singles
    loads: Singles
    tilts: Singles


def _bands(own: PaperPlace, first: int, n_bands: int) -> _Bands:
    """The bands from number `first` on."""
    index = np.arange(first, first + n_bands, dtype=np.int32)
    places, loads, tilts = (band_deviates(own, index, part) for part in range(3))
    return _Bands(places=places, loads=loads, tilts=tilts)


def _loads(
    bands: _Bands, index: NDArray[np.integer[Any]], along: Floats, own: PaperPlace, strength: float
) -> Singles:
    """The loads of the bands `index`, so many widths along them."""
    place, load, tilt = (values.take(index) for values in (bands.places, bands.loads, bands.tilts))
    waves = load + 0.25 * tilt * np.sin(0.3 * along + own.y + place)
    return np.asarray(np.exp(strength * _LOAD_PLAY * waves).astype(np.float32))
