"""What can be turned: a few values of each part of a style, and all others folded away."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from inkline.ink.style import Style
from inkline.ink.values import ValueKind, text_from_number
from inkline.styles.files import style_fields, value_of
from inkline.styles.text import PARTS

_FIRST: Mapping[str, tuple[str, float]] = MappingProxyType(
    {
        "hand.drift": ("wander", 0.6),
        "hand.tremor": ("tremble", 0.06),
        "hand.speed": ("speed", 200.0),
        "hand.run_over": ("run over", 2.5),
        "hand.form_play": ("freedom of figures", 5.0),
        "nib.pressure": ("pressure", 0.4),
        "nib.pressure_length": ("length of a press", 30.0),
        "nib.touchdown": ("touchdown", 0.6),
        "nib.lift": ("lift", 0.6),
        "nib.contrast": ("thick and thin", 0.8),
        "edge.raggedness": ("roughness", 0.12),
        "edge.correlation": ("length of its teeth", 1.0),
        "edge.liveliness": ("comes and goes", 1.0),
        "edge.spread": ("bleeding", 0.12),
        "edge.fillet": ("wet corners", 0.3),
        "paper.dryness": ("dryness", 0.6),
        "paper.grain": ("grain", 0.3),
        "paper.softness": ("softness", 0.8),
        "paper.emptying": ("running dry", 1.5),
        "paper.streaks": ("streaks", 1.0),
    }
)
"""What most people turn, in plain words, and how far its slider goes in the value's own unit."""
_OFTEN_BELOW_ZERO = frozenset({"nib.touchdown", "nib.lift"})
_STEEPNESS = 2.0
"""Sliders give small values more room: the value goes with this power of the way. Chosen by hand:
an edge of 10 to 30 um then takes a quarter of the way."""
_UNITS = {ValueKind.LENGTH: "mm", ValueKind.SPEED: "mm/s", ValueKind.ANGLE: "deg"}
_FURTHEST = 8.0
"""How many times its default a slider goes for a value that is allowed to be endless."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Control:
    """A value of a style as the page shows it.

    Attributes:
        key: such as `edge.raggedness`.
        label: in plain words.
        about: one sentence on what it does.
        unit: of the numbers here, or "" for shares and words.
        low, high: what is allowed; `high` may be infinite.
        end: where its slider ends; one that may go below zero begins at as much below.
        options: the words among which it is one, or none.
        is_first: whether it is shown before the others are unfolded.
    """

    key: str
    label: str
    about: str
    unit: str
    low: float
    high: float
    end: float
    options: tuple[str, ...]
    is_first: bool

    def to_dict(self) -> dict[str, Any]:
        """As JSON; an endless bound is null."""
        return {
            "key": self.key,
            "label": self.label,
            "about": self.about,
            "unit": self.unit,
            "low": self.low,
            "high": None if math.isinf(self.high) else self.high,
            "start": max(self.low, -self.end) if self.low < 0.0 else self.low,
            "end": self.end,
            "steepness": 1.0 if self.low < 0.0 or self.options else _STEEPNESS,
            "options": list(self.options),
            "first": self.is_first,
        }


def controls() -> dict[str, list[Control]]:
    """All values of a style by the part that they belong to, those that most people turn first."""
    found: dict[str, list[Control]] = {part: [] for part in PARTS if part != "weights"}
    for key, field in style_fields().items():
        part, _, name = key.partition(".")
        if part in found and name:
            found[part].append(_control(key, name, field.metadata, field.default))
    return {part: sorted(rows, key=lambda row: not row.is_first) for part, rows in found.items()}


def _control(key: str, name: str, about: Mapping[str, Any], default: Any) -> Control:
    kind: ValueKind = about["kind"]
    label, end = _FIRST.get(key, (name.replace("_", " "), 0.0))
    is_choice = kind is ValueKind.CHOICE
    low, high = (0.0, 0.0) if is_choice else (float(about["low"]), float(about["high"]))
    if not end and not is_choice:
        end = _FURTHEST * max(float(default), 0.1) if math.isinf(high) else high
    return Control(
        key=key,
        label=label,
        about=about["about"],
        unit=_UNITS.get(kind, ""),
        low=low,
        high=high,
        end=end,
        options=tuple(about["options"]) if is_choice else (),
        is_first=key in _FIRST or key.startswith("firmness."),
    )


def values_of(style: Style) -> dict[str, float | str]:
    """All values of `style` by key, numbers in the units of `controls`."""
    return {key: value_of(style, key) for key in style_fields() if "." in key}


def written(key: str, value: object) -> str | float:
    """The number or word `value` of `key` as a recipe writes it.

    Raises:
        KeyError: there is no such value.
        ValueError: it is not a number where one is needed.
    """
    kind: ValueKind = style_fields()[key].metadata["kind"]
    if kind is ValueKind.CHOICE:
        return str(value)
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise ValueError(f"{key} needs a number")
    return text_from_number(_rounded(float(value)), kind)


def _rounded(value: float) -> float:
    """`value` with three digits, as nobody turns finer."""
    return float(f"{value:.3g}")
