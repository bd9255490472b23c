"""Fills: the passes in which a hand fills a shape, band beside band. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Floats, Points, Singles
from inkline.ink.media.grain import PaperPlace, band_deviates
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
    for _, across, load in bands_at(passes, own, places):
        body = np.maximum(1.0 - np.minimum(np.abs(across), 1.0) ** _ROUND, 0.0)
        one = body * np.exp(load)
        given = np.maximum(given, one) + _ADDED * np.minimum(given, one)
    return np.asarray(passes.strength * np.log(np.maximum(given, 0.05)))


def bands_at(
    passes: Passes, own: PaperPlace, places: Places
) -> Iterator[tuple[Singles, Singles, Singles]]:
    """The two passes between which each place lies.

    Yields:
        How far along its pass a place lies (mm), where across it (-1 to 1 within it), and the
        logarithm of the pass's load there; each `(n,)`.
    """
    cos, sin = np.cos(passes.angle) / passes.width, np.sin(passes.angle) / passes.width
    along, across = along_axis(places, cos, sin), along_axis(places, -sin, cos)
    across = across + np.float32(_BEND) * np.sin(np.float32(0.5) * along + np.float32(own.x))
    below = np.floor(across).astype(np.int32)
    for beside in (0, 1):
        index = below + np.int32(beside)
        place, load, tilt = (band_deviates(own, index, part) for part in range(3))
        apart = (across - index - np.float32(_PLACE_PLAY) * place) * np.float32(2.0 / _OVERLAP)
        wave = tilt * np.sin(np.float32(0.3) * along + np.float32(own.y) + place)
        wave *= np.float32(0.25)
        wave += load
        wave *= np.float32(_LOAD_PLAY)
        yield (along + np.float32(17.0) * index) * np.float32(passes.width), apart, wave
