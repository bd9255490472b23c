"""Lengths as people write them, and what they are in pixels or millimetres.

An inch is 25.4 mm and a point is 1/72 inch (CSS Values and Units, and the desktop-publishing point
of PostScript and PDF).
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from enum import StrEnum

from inkline.errors import UnitError

_MM_PER_INCH = 25.4
_POINTS_PER_INCH = 72.0


class Unit(StrEnum):
    """The units a length may carry."""

    PX = "px"
    PT = "pt"
    MM = "mm"
    CM = "cm"
    UM = "um"
    INCH = "in"
    PERCENT = "%"


_MM_PER_UNIT = {
    Unit.PT: _MM_PER_INCH / _POINTS_PER_INCH,
    Unit.MM: 1.0,
    Unit.CM: 10.0,
    Unit.UM: 0.001,
    Unit.INCH: _MM_PER_INCH,
}
_LENGTH = re.compile(
    r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*(px|pt|mm|cm|um|µm|μm|in|%)\s*"
)


@dataclass(frozen=True, slots=True)
class Length:
    """A number with its unit; `str` gives it back as a person would write it."""

    value: float
    unit: Unit

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise UnitError(f"a length must be a finite number, not {self.value}", text=self.value)

    def __str__(self) -> str:
        return f"{self.value:g} {self.unit.value}"

    def px(self, *, ppi: float, whole_px: float | None = None) -> float:
        """The length in pixels at `ppi` pixels per inch; a percentage is taken of `whole_px`.

        Raises:
            UnitError: a percentage where there is nothing to take it of.
        """
        if self.unit is Unit.PX:
            return self.value
        if self.unit is Unit.PERCENT:
            if whole_px is None:
                raise UnitError(
                    f"a length with a unit is required here, not the percentage {self}",
                    text=str(self),
                )
            return self.value * whole_px / 100.0
        return self.value * _MM_PER_UNIT[self.unit] * ppi / _MM_PER_INCH

    def mm(self) -> float:
        """The length in millimetres.

        Raises:
            UnitError: pixels or a percentage, which have no size of their own.
        """
        if self.unit not in _MM_PER_UNIT:
            raise UnitError(
                f"a length in mm, um, cm, pt or in is required here, not {self}", text=str(self)
            )
        return self.value * _MM_PER_UNIT[self.unit]


def length_from_text(text: object) -> Length:
    """The `Length` that `text` such as `"5 pt"`, `"0.4mm"`, `"40 um"` or `"2 %"` says.

    Raises:
        UnitError: no text, no number, an unknown unit or none (a bare number would leave the unit
            to guessing).
    """
    if isinstance(text, Length):
        return text
    match = _LENGTH.fullmatch(text) if isinstance(text, str) else None
    if match is None:
        raise UnitError(
            f'a length needs a number and a unit, such as "5 pt", "0.4 mm" or "10 px", not '
            f"{text!r}",
            text=text,
        )
    unit = match[2].replace("µ", "u").replace("μ", "u")
    return Length(float(match[1]), Unit(unit))
