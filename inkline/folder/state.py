"""How each file of a folder stands to what was drawn."""

from __future__ import annotations

from enum import StrEnum


class State(StrEnum):
    """How a picture in the folder stands to what inkline drew."""

    MISSING = "missing"
    UNCHANGED = "unchanged"
    OUTDATED = "outdated"
    RETOUCHED = "retouched"
    UNKNOWN = "unknown"
