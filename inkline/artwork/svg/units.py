"""Numbers, lengths, transforms and view boxes as SVG 2 writes them, chapters 4 and 8."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from inkline.artwork.maps import Matrix, after, scaled, unmoved

_NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
_LENGTH = re.compile(rf"\s*({_NUMBER})\s*(%|[a-zA-Z]*)\s*")
_NUMBERS = re.compile(_NUMBER)
_TRANSFORM = re.compile(r"\s*,?\s*([a-zA-Z]+)\s*\(([^()]*)\)")
_PX_OF_UNIT = {
    "": 1.0,
    "px": 1.0,
    "in": 96.0,
    "cm": 96.0 / 2.54,
    "mm": 96.0 / 25.4,
    "q": 96.0 / 101.6,
    "pt": 96.0 / 72.0,
    "pc": 16.0,
}
"""CSS px to each absolute unit (CSS Values and Units 3, 5.2)."""
PAPER_UNITS = frozenset({"in", "cm", "mm", "q", "pt", "pc"})
"""Units that state a size on paper."""
_EX = 0.5
"""Heights of an x to an em where no font tells it (CSS Values and Units 3, 5.1.1)."""
_ROOT_EM = 16.0
"""An em of the whole, which hardly any file sets otherwise (CSS Fonts 3, 3.5: medium)."""
_MOST = 1e9
"""The largest number that is taken; beyond it pixels are lost in the rounding."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Viewport:
    """What percentages and relative units are taken of, in user units.

    Attributes:
        width, height: of the nearest viewport.
        font_size: an em.
    """

    width: float
    height: float
    font_size: float = 16.0

    @property
    def diagonal(self) -> float:
        """What lengths that are neither across nor down are a percentage of (SVG 2, 8.9)."""
        return math.hypot(self.width, self.height) / math.sqrt(2.0)


def number_from_text(text: str | None, usual: float) -> float:
    """The one number in `text`, or `usual` where there is none that can be used."""
    match = None if text is None else _LENGTH.fullmatch(text)
    if match is None or match[2] not in {"", "%"}:
        return usual
    return _held(float(match[1])) * (0.01 if match[2] else 1.0)


def numbers_from_text(text: str) -> list[float]:
    """All numbers in `text`, apart by blanks, commas or nothing."""
    return [_held(float(number)) for number in _NUMBERS.findall(text)]


def length_from_text(text: str | None, usual: float, *, whole: float, font_size: float) -> float:
    """A length in user units, or `usual` where `text` is none that is known.

    Args:
        text: such as "12", "3mm" or "50%".
        usual: what stands for a length that is missing or wrong.
        whole: what a percentage is taken of.
        font_size: an em, in user units.
    """
    match = None if text is None else _LENGTH.fullmatch(text)
    if match is None:
        return usual
    number, unit = _held(float(match[1])), match[2].lower()
    if unit == "%":
        return 0.01 * number * whole
    if unit == "em":
        return number * font_size
    if unit == "rem":
        return number * _ROOT_EM
    if unit == "ex":
        return number * font_size * _EX
    return number * _PX_OF_UNIT[unit] if unit in _PX_OF_UNIT else usual


def unit_of_length(text: str | None) -> str:
    """The unit of a length, in small letters; "" for none."""
    match = None if text is None else _LENGTH.fullmatch(text)
    return "" if match is None else match[2].lower()


def _held(number: float) -> float:
    """`number` within what can be drawn."""
    return min(max(number, -_MOST), _MOST)


def transform_from_text(text: str | None) -> Matrix | None:
    """The map of a `transform` attribute; `None` where it is wrong (CSS Transforms 1, 6)."""
    matrix = unmoved()
    if text is None or not text.strip() or text.strip() == "none":
        return matrix
    end = 0
    for match in _TRANSFORM.finditer(text):
        if match.start() != end:
            return None
        end = match.end()
        step = _transform_step(match[1], _transform_numbers(match[2]))
        if step is None:
            return None
        matrix = after(matrix, step)
    return matrix if not text[end:].strip() else None


def _transform_numbers(text: str) -> list[float]:
    """The arguments of one transform function; angles in degrees, lengths in px."""
    found = []
    for part in re.split(r"[\s,]+", text.strip()):
        match = re.fullmatch(rf"({_NUMBER})(deg|rad|grad|turn|px)?", part)
        if match is None:
            found += numbers_from_text(part)
            continue
        factor = {"rad": 180.0 / math.pi, "grad": 0.9, "turn": 360.0}.get(match[2] or "", 1.0)
        found.append(_held(float(match[1])) * factor)
    return found


def _transform_step(name: str, values: list[float]) -> Matrix | None:
    """The map of one transform function; `None` where it is none, or has other arguments."""
    known = _STEPS.get((name, len(values)))
    return None if known is None else known(*values)


def _turned(degrees: float, x: float = 0.0, y: float = 0.0) -> Matrix:
    """The map that turns about a point."""
    turn = math.radians(degrees)
    cos, sin = math.cos(turn), math.sin(turn)
    about = np.array([[cos, -sin, 0.0], [sin, cos, 0.0]])
    return after(scaled(1.0, 1.0, x, y), after(about, scaled(1.0, 1.0, -x, -y)))


def _slanted(across: float, down: float) -> Matrix:
    """The map that slants by two angles in degrees."""
    lean, sag = math.tan(math.radians(across)), math.tan(math.radians(down))
    return np.array([[1.0, lean, 0.0], [sag, 1.0, 0.0]])


_STEPS: dict[tuple[str, int], Callable[..., Matrix]] = {
    ("matrix", 6): lambda a, b, c, d, e, f: np.array([[a, c, e], [b, d, f]]),
    ("translate", 1): lambda x: scaled(1.0, 1.0, x, 0.0),
    ("translate", 2): lambda x, y: scaled(1.0, 1.0, x, y),
    ("translateX", 1): lambda x: scaled(1.0, 1.0, x, 0.0),
    ("translateY", 1): lambda y: scaled(1.0, 1.0, 0.0, y),
    ("scale", 1): lambda both: scaled(both, both),
    ("scale", 2): scaled,
    ("scaleX", 1): lambda across: scaled(across, 1.0),
    ("scaleY", 1): lambda down: scaled(1.0, down),
    ("rotate", 1): _turned,
    ("rotate", 3): _turned,
    ("skewX", 1): lambda across: _slanted(across, 0.0),
    ("skewY", 1): lambda down: _slanted(0.0, down),
    ("skew", 2): _slanted,
}
"""The functions of a transform, by name and number of arguments (CSS Transforms 1, 11)."""


def view_box(text: str | None) -> tuple[float, float, float, float] | None:
    """`x, y, width, height` of a `viewBox`; `None` where it has no area."""
    numbers = numbers_from_text(text) if text else []
    if len(numbers) != 4 or min(numbers[2:]) <= 0.0:
        return None
    x, y, width, height = numbers
    return x, y, width, height


def fitted_box(
    box: tuple[float, float, float, float] | None, size: tuple[float, float], how: str | None
) -> Matrix:
    """The map of a view box into a viewport at the origin (SVG 2, 8.2 and 8.6).

    Args:
        box: the view box, or `None` to leave all as it is.
        size: width and height of the viewport, > 0.
        how: the attribute `preserveAspectRatio`.
    """
    if box is None:
        return unmoved()
    x, y, width, height = box
    across, down = size[0] / width, size[1] / height
    words = (how or "xMidYMid meet").split()
    align = words[0] if words else "xMidYMid"
    if align != "none":
        across = down = max(across, down) if "slice" in words[1:] else min(across, down)
    spare = (size[0] - across * width, size[1] - down * height)
    share = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    place = re.fullmatch(r"x(Min|Mid|Max)Y(Min|Mid|Max)", align)
    shares = (share[place[1]], share[place[2]]) if place else (0.5, 0.5)
    if align == "none":
        shares = (0.0, 0.0)
    return scaled(across, down, spare[0] * shares[0] - across * x, spare[1] * shares[1] - down * y)
