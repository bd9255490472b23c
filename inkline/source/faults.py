"""What is wrong with a recipe, said in one sentence each, all together."""

from __future__ import annotations

import difflib
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from inkline.errors import InputError, Remedy

_LAST = 1_000_000_000
"""Stands for the line of what has none, so that it comes last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fix:
    """A value that would mend a fault.

    Attributes:
        key: the path of the key that it is for.
        value: what it says, as TOML writes it, such as `0.42` or `"24 px"`.
    """

    key: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One fault of one recipe.

    Attributes:
        source: the recipe's file name, or what stands for it.
        line: line in the file from 1, or 0 where no line can be named.
        key: the key's path, such as `canvas.side`, or "".
        sentence: what is required and what came; it names the key.
        fixes: values each of which would mend it, the likeliest first; the sentence tells them.
    """

    source: str
    line: int
    key: str
    sentence: str
    fixes: tuple[Fix, ...] = ()

    def __str__(self) -> str:
        place = f"{self.source}, line {self.line}" if self.line else self.source
        return f"{place}: {self.sentence}"


class RecipeError(InputError):
    """A recipe cannot be used; its text has one line for each fault.

    Attributes:
        faults: all faults found, each once, file by file in the order of their lines.
    """

    def __init__(self, faults: Iterable[Fault], *, remedies: Iterable[Remedy] = ()) -> None:
        self.faults = tuple(
            sorted(dict.fromkeys(faults), key=lambda fault: (fault.source, fault.line or _LAST))
        )
        super().__init__("\n".join(str(fault) for fault in self.faults), remedies=remedies)


def text_on_one_line(text: str) -> str:
    """`text` on one line, with what cannot be printed, such as a line's end, as an escape."""
    if text.isprintable():
        return text
    return "".join(
        one if one.isprintable() else one.encode("unicode_escape").decode() for one in text
    )


def largest_that_fits(
    fits: Callable[[float], bool], low: float, high: float, *, n_trials: int
) -> float:
    """The largest number between `low`, which fits, and `high`, which doesn't, by bisection."""
    for _ in range(n_trials):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if fits(middle) else (low, middle)
    return low


def did_you_mean(name: str, names: Iterable[str]) -> str:
    """The most similar of `names` as a question, such as `; did you mean "gap"?`, or ""."""
    found = difflib.get_close_matches(name, list(names), n=1, cutoff=0.55)
    return f'; did you mean "{found[0]}"?' if found else ""


def text_rounded_down(value: float) -> str:
    """`value` with three digits, rounded down so that what is suggested fits."""
    step = _last_digit(value)
    return f"{math.floor(value / step) * step:.6g}"


def text_rounded_up(value: float) -> str:
    """`value` with three digits, rounded up."""
    step = _last_digit(value)
    return f"{math.ceil(value / step) * step:.6g}"


def _last_digit(value: float) -> float:
    return 10.0 ** (math.floor(math.log10(value)) - 2)
