"""Which values a sampler varies, and the styles that come of it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from inkline.errors import InputError, UnitError
from inkline.ink.style import Style, style_from_dict
from inkline.ink.values import StyleError, ValueKind, checked_value, text_from_number
from inkline.styles.files import no_such_value, setting_from_text, style_fields

_FEWEST, _MOST = 2, 12
"""How many steps a value may take: more would not fit a sheet that can be taken in at a glance."""
_MOST_VARIED = 2
_RANGE = re.compile(r"([^=]+)=(.+?)\.\.(.+):([^:]*)")
_EXAMPLE = "edge.raggedness=5um..60um:6"
_DIGITS = 12
"""Decimals that steps are rounded to: what a step of a third of a millimetre loses is a millionth
of a micrometre."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Vary:
    """One value at evenly spaced steps.

    Attributes:
        key: such as `edge.raggedness`.
        kind: how its values are written.
        steps: its values, ascending, in mm, mm/s, degrees or as plain numbers.
        where: what to call the place it was written in.
    """

    key: str
    kind: ValueKind
    steps: tuple[float, ...]
    where: str

    @property
    def name(self) -> str:
        """The key as it is typed."""
        return self.key

    @property
    def labels(self) -> tuple[str, ...]:
        """The steps in words, rounded where they run on."""
        return tuple(_short(text_from_number(step, self.kind)) for step in self.steps)


def varies_from_texts(texts: Sequence[str], *, where: str) -> tuple[Vary, ...]:
    """What the ranges `texts`, such as `edge.raggedness=5um..60um:6`, ask for: one or two of them.

    Args:
        texts: what the user wrote.
        where: what to call the place it was written in.

    Raises:
        StyleError: all that is wrong with any of them, together.
    """
    found: list[Vary] = []
    faults = []
    if len(texts) > _MOST_VARIED:
        faults.append(
            f"{where}: at most {_MOST_VARIED} values can be varied on one sheet, not {len(texts)}"
        )
    for text in texts:
        try:
            found.append(_vary(text, where))
        except InputError as error:
            faults.append(f"{where}: {error}")
    twice = sorted({one.key for one in found if [other.key for other in found].count(one.key) > 1})
    faults += [f"{where}: {key} is varied twice; another value is required" for key in twice]
    if faults:
        raise StyleError(faults)
    return tuple(found)


def varied_styles(style: Style, varies: Sequence[Vary]) -> tuple[Style, ...]:
    """`style` at every step, row by row.

    The first value changes along a row, the second from row to row.

    Raises:
        StyleError: a step that the style's other values rule out.
    """
    across, down = varies[0], varies[1] if len(varies) > 1 else None
    rows = [_at(style, down, step) for step in down.steps] if down else [style]
    return tuple(_at(row, across, step) for row in rows for step in across.steps)


def _at(style: Style, vary: Vary, step: float) -> Style:
    part, _, name = vary.key.rpartition(".")
    value = {name: text_from_number(step, vary.kind)}
    return style_from_dict(
        {part: value} if part else value, where=f"{vary.where} {vary.key}", base=style
    )


def _vary(text: str, where: str) -> Vary:
    match = _RANGE.fullmatch(text)
    if match is None:
        raise InputError(f'a range is written like "{_EXAMPLE}", not {text!r}')
    key, low, high, count = (piece.strip() for piece in match.groups())
    field = style_fields().get(key)
    if field is None:
        raise InputError(no_such_value(key))
    if key.startswith("weights."):
        raise InputError(f"{key} is for kits; a sampler draws all its pens as heavy")
    kind: ValueKind = field.metadata["kind"]
    if kind is ValueKind.CHOICE:
        raise InputError(
            f"{key} is one of {', '.join(field.metadata['options'])}; a value that is a number "
            f"is required"
        )
    ends = [_end(end, key, field) for end in (low, high)]
    if not ends[0] < ends[1]:
        raise InputError(f"{key}: the range must run upwards, not from {low} to {high}")
    if not (count.isascii() and count.isdigit() and _FEWEST <= int(count) <= _MOST):
        raise InputError(
            f"{key}: a count of steps from {_FEWEST} to {_MOST} is required, not {count or 'none'}"
        )
    return Vary(key=key, kind=kind, steps=_steps(ends[0], ends[1], int(count)), where=where)


def _end(text: str, key: str, field: Any) -> float:
    try:
        return float(checked_value(setting_from_text(text, key), field))
    except UnitError as error:
        raise InputError(f"{key}: {error}") from error


def _steps(low: float, high: float, count: int) -> tuple[float, ...]:
    return tuple(round(low + (high - low) * index / (count - 1), _DIGITS) for index in range(count))


def _short(written: str | float) -> str:
    """`66.666667 um` as `66.7 um`, but `127.5 um` as it is: three digits, or four if all."""
    number, _, unit = str(written).partition(" ")
    exact = float(number)
    four = f"{exact:.4g}"
    return f"{four if float(four) == exact else f'{exact:.3g}'} {unit}".rstrip()
