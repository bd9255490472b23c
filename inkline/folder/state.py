"""How a file of a folder stands to what was drawn, and what a run does about it."""

from __future__ import annotations

from enum import StrEnum


class State(StrEnum):
    """How a file in the folder stands to what inkline drew."""

    MISSING = "missing"
    UNCHANGED = "unchanged"
    OUTDATED = "outdated"
    RETOUCHED = "retouched"
    UNKNOWN = "unknown"


class Handling(StrEnum):
    """What a run does about a file."""

    LEAVE = "leave"
    """It is as it would be made."""
    KEEP = "keep"
    """Its owner has changed it: it is hers."""
    COMPARE = "compare"
    """Nobody knows it: it is made, and what lies there is kept if that differs."""
    MAKE = "make"
    """It isn't there, or is not as it would be made."""


_HANDLING = {
    State.MISSING: Handling.MAKE,
    State.OUTDATED: Handling.MAKE,
    State.UNCHANGED: Handling.LEAVE,
    State.RETOUCHED: Handling.KEEP,
    State.UNKNOWN: Handling.COMPARE,
}


def handling_of(state: State) -> Handling:
    """What is done about a file that nobody has asked to be made anew and that can be read."""
    return _HANDLING[state]
