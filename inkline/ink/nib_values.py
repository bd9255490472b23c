"""The values of a style that say how wide its ink is."""

from __future__ import annotations

from dataclasses import dataclass

from inkline.ink.values import ValueKind, choice, value

_L, _S = ValueKind.LENGTH, ValueKind.SHARE

_ENDS = ("own", "round", "blunt", "tapered")
"""The ways in which a stroke may end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Nib:
    """How wide the ink is along the stroke."""

    pressure: float = value(
        _S, 0.0, 0.0, 0.6, about="Standard deviation of the width along a stroke, as a share of it."
    )
    pressure_length: float = value(
        _L,
        8.0,
        0.2,
        200.0,
        about="Length of the longest pressure waves; shorter ones ride on them.",
    )
    touchdown: float = value(
        _S, 0.0, -0.9, 1.0, about="Extra width where the pen lands (negative: it lands lightly)."
    )
    lift: float = value(
        _S, 0.0, -0.9, 1.0, about="Extra width where the pen leaves (negative: it thins out)."
    )
    landing: float = value(
        _L,
        1.2,
        0.05,
        50.0,
        about="Length over which touchdown and lift fade into the body of the stroke.",
    )
    pooling: float = value(
        _S, 0.0, 0.0, 1.0, about="Extra width where the pen rests: at starts, stops and corners."
    )
    crossing_pool: float = value(_S, 0.0, 0.0, 1.0, about="Extra width where wet lines cross.")
    contrast: float = value(
        _S,
        0.0,
        0.0,
        0.9,
        about="How much thinner a broad edge writes along its edge than across it.",
    )
    angle: float = value(
        ValueKind.ANGLE, 40.0, -90.0, 90.0, about="Angle of the broad edge, from the horizontal."
    )
    flex: float = value(
        _S,
        0.0,
        0.0,
        0.8,
        about="How much wider a stroke is downwards than upwards, as tines that open with force "
        "and close a little later.",
    )
    speeding: float = value(
        _S, 0.0, 0.0, 0.4, about="How much thinner a stroke is where the pen is fast."
    )
    ends: str = choice(
        "own", _ENDS, about="Ends of strokes: as laid out, round, nearly square, or tapered."
    )
    taper: float = value(_L, 2.0, 0.05, 50.0, about="Length over which tapered ends thin out.")


PLAIN_NIB = Nib()
"""A nib as wide as is asked, everywhere."""
