"""Where a function crosses zero, without the second that a library of such things takes to load."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

_RELATIVE = 4.0 * math.ulp(1.0)
"""How near the root is in any case, as a share of it."""
_MOST_STEPS = 100


@dataclass(slots=True, kw_only=True)
class _Search:
    """Three places and their values: the last two tries, and one beyond the root."""

    before: float
    at: float
    beyond: float
    f_before: float
    f_at: float
    f_beyond: float

    def keep_root_between(self) -> bool:
        """Have the root between `at` and `beyond`; whether it had come to lie elsewhere."""
        crossed = self.f_before != 0.0 and (self.f_before < 0.0) != (self.f_at < 0.0)
        if crossed:
            self.beyond, self.f_beyond = self.before, self.f_before
        return crossed

    def keep_best_last(self) -> None:
        """Have the place with the least value in `at`."""
        if abs(self.f_beyond) < abs(self.f_at):
            self.before, self.at, self.beyond = self.at, self.beyond, self.at
            self.f_before, self.f_at, self.f_beyond = self.f_at, self.f_beyond, self.f_at

    def guessed_step(self) -> float:
        """From `at` to where a line, or a parabola lying on its side, through all crosses zero."""
        if self.before == self.beyond:
            return -self.f_at * (self.at - self.before) / (self.f_at - self.f_before)
        first = (self.f_before - self.f_at) / (self.before - self.at)
        second = (self.f_beyond - self.f_at) / (self.beyond - self.at)
        rise = self.f_beyond * second - self.f_before * first
        return -self.f_at * rise / (second * first * (self.f_beyond - self.f_before))


def root_between(
    function: Callable[[float], float], low: float, high: float, *, tolerance: float
) -> float:
    """A place between `low` and `high` at which `function` is zero, to within `tolerance`.

    R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 4, from memory: the
    step of an interpolation where that is safe, else half of what is left.

    Raises:
        ValueError: the function has the same sign at both ends.
    """
    search = _Search(
        before=low,
        at=high,
        beyond=0.0,
        f_before=function(low),
        f_at=function(high),
        f_beyond=0.0,
    )
    if search.f_before == 0.0:
        return low
    if search.f_at != 0.0 and (search.f_before < 0.0) == (search.f_at < 0.0):
        raise ValueError(f"a function must change its sign between {low} and {high}")
    step = last_step = 0.0
    for _ in range(_MOST_STEPS):
        if search.f_at == 0.0:
            break
        if search.keep_root_between():
            step = last_step = search.at - search.before
        search.keep_best_last()
        near, half = 0.5 * (tolerance + _RELATIVE * abs(search.at)), search.beyond - search.at
        half /= 2.0
        if search.f_at == 0.0 or abs(half) < near:
            break
        guess = math.inf
        if abs(last_step) > near and abs(search.f_at) < abs(search.f_before):
            guess = search.guessed_step()
        safe = 2.0 * abs(guess) < min(abs(last_step), 3.0 * abs(half) - near)
        last_step, step = (step, guess) if safe else (half, half)
        search.before, search.f_before = search.at, search.f_at
        search.at += step if abs(step) > near else math.copysign(near, half)
        search.f_at = function(search.at)
    return search.at
