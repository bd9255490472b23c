"""News of a run: one step after another, told to a listener."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One picture is done.

    Attributes:
        name: of the stamp or sheet.
        done: how many are done by now.
        total: of how many that this run has to make.
    """

    name: str
    done: int
    total: int


Listener = Callable[[Step], None]


def unheard(_: Step) -> None:
    """A listener for callers that want no news."""
