"""How the values of a style are written, read, checked and given back.

A style's numbers are physical: lengths on the sheet in mm or um, speeds in mm/s, angles in degrees,
shares as plain numbers from 0 to 1. Inside, every length is a float in mm.
"""

from __future__ import annotations

import dataclasses
import difflib
import math
import re
from collections.abc import Mapping
from enum import StrEnum
from typing import Any, TypeVar

from inkline.errors import InputError, UnitError
from inkline.units import length_from_text

_Part = TypeVar("_Part")


class ValueKind(StrEnum):
    """How a value is written."""

    LENGTH = 'a length on the sheet such as "40 um" or "0.4 mm"'
    SPEED = 'a speed such as "40 mm/s"'
    ANGLE = 'an angle such as "2 deg"'
    SHARE = "a plain number"
    CHOICE = "one of the words"


class StyleError(InputError):
    """A style that cannot be used; its text names every fault.

    Attributes:
        faults: one sentence for each.
    """

    def __init__(self, faults: list[str]) -> None:
        super().__init__("; ".join(faults))
        self.faults = tuple(faults)


def value(
    kind: ValueKind, default: Any, low: float = 0.0, high: float = math.inf, *, about: str
) -> Any:
    """A dataclass field for one value of a style.

    Args:
        kind: how it is written.
        default: its value where nothing is said, in mm, mm/s, degrees or as a plain number.
        low: smallest value allowed, in the same unit.
        high: largest value allowed.
        about: one sentence for the user.
    """
    return dataclasses.field(
        default=default, metadata={"kind": kind, "low": low, "high": high, "about": about}
    )


def choice(default: str, options: tuple[str, ...], *, about: str) -> Any:
    """A dataclass field for a value that is one of a few words."""
    return dataclasses.field(
        default=default, metadata={"kind": ValueKind.CHOICE, "options": options, "about": about}
    )


_NUMBER = r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*"
_SPEED = re.compile(_NUMBER + r"(mm|cm)/s\s*")
_ANGLE = re.compile(_NUMBER + r"deg\s*")


def _number_from_text(given: object, kind: ValueKind) -> float:
    """The float that `given` says, in mm, mm/s, degrees or as a plain number.

    Raises:
        UnitError: it is not written as its kind is.
    """
    if kind is ValueKind.LENGTH:
        return length_from_text(given).mm()
    if kind is ValueKind.SHARE:
        if (
            isinstance(given, bool)
            or not isinstance(given, (int, float))
            or not math.isfinite(given)
        ):
            raise UnitError(f"a plain number is required, not {given!r}", text=given)
        return float(given)
    pattern, wanted = (_SPEED, "40 mm/s") if kind is ValueKind.SPEED else (_ANGLE, "2 deg")
    match = pattern.fullmatch(given) if isinstance(given, str) else None
    if match is None:
        raise UnitError(
            f'a number and its unit such as "{wanted}" are required, not {given!r}', text=given
        )
    return float(match[1]) * (10.0 if kind is ValueKind.SPEED and match[2] == "cm" else 1.0)


def text_from_number(number: float, kind: ValueKind) -> str | float:
    """`number` as a person would write it; `_number_from_text` reads it back without loss."""
    if kind is ValueKind.LENGTH:
        um = round(number * 1000.0, 9)
        return (
            f"{um!r} um".replace(".0 ", " ")
            if um < 1000.0
            else f"{number!r} mm".replace(".0 ", " ")
        )
    if kind is ValueKind.SPEED:
        return f"{number!r} mm/s".replace(".0 ", " ")
    if kind is ValueKind.ANGLE:
        return f"{number!r} deg".replace(".0 ", " ")
    return number


def checked_value(given: object, field: dataclasses.Field[Any]) -> Any:
    """`given` as the field's own value.

    Raises:
        UnitError: it is not written as the field wants it, or lies outside its range.
    """
    kind: ValueKind = field.metadata["kind"]
    if kind is ValueKind.CHOICE:
        options = field.metadata["options"]
        if given not in options:
            raise UnitError(f"one of {', '.join(options)} is required, not {given!r}", text=given)
        return given
    number = _number_from_text(given, kind)
    low, high = field.metadata["low"], field.metadata["high"]
    if not low <= number <= high:
        span = f"from {text_from_number(low, kind)} to {text_from_number(high, kind)}"
        if math.isinf(high):
            span = f"of at least {text_from_number(low, kind)}"
        raise UnitError(f"a value {span} is required, not {given}", text=given)
    return number


def part_from_dict(
    part: type[_Part], values: object, *, where: str, base: _Part
) -> tuple[_Part, list[str]]:
    """One part of a style with `values` in place of `base`'s, and a sentence for each fault."""
    if not isinstance(values, Mapping):
        return base, [f"{where}: a table of values is required, not {values!r}"]
    fields = {field.name: field for field in dataclasses.fields(part)}  # type: ignore[arg-type]
    read: dict[str, Any] = {}
    faults: list[str] = []
    for key, given in values.items():
        if key not in fields:
            faults.append(unknown_key(f"{where}.{key}", key, fields))
            continue
        try:
            read[key] = checked_value(given, fields[key])
        except UnitError as error:
            faults.append(f"{where}.{key}: {error}")
    return dataclasses.replace(base, **read), faults  # type: ignore[type-var]


def unknown_key(path: str, key: object, known: Mapping[str, object]) -> str:
    """The sentence for a key that a style does not have, with the nearest that it has."""
    near = difflib.get_close_matches(str(key), known, n=1, cutoff=0.5)
    return f"{path}: there is no such value" + (
        f'; did you mean "{near[0]}"?' if near else f"; known are {', '.join(known)}"
    )


def dict_from_part(part: object) -> dict[str, str | float]:
    """A part of a style as plain values, written as in a style file."""
    written: dict[str, str | float] = {}
    for field in dataclasses.fields(part):  # type: ignore[arg-type]
        held = getattr(part, field.name)
        kind = field.metadata["kind"]
        written[field.name] = held if kind is ValueKind.CHOICE else text_from_number(held, kind)
    return written
