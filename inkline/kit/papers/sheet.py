"""What a sheet of a kit or of months is: its name, what is asked for, what comes back.

It stands apart from what makes sheets, so that a run which makes none need not import that.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from inkline.progress import Note

OVERVIEW = "overview"
LAYOUT = "layout"
CALENDAR = "calendar"
ON_ARTWORK = "on-artwork"
"""What the sheet of a month on a picture is called."""
SHEETS_VERSION = 3
"""Raised when the sheets are set in another way, so that they are made again."""
GUIDE_VERSION = 5
"""Raised when the guide is set in another way, so that it is made again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetJob:
    """One sheet to make from the pictures in a folder.

    Attributes:
        name: of the sheet.
        folder: where the pictures of the stamps lie.
        names: the stamps that are there, in order.
        before: what was said of the sheet that lies there when it was made, or nothing.
    """

    name: str
    folder: Path
    names: tuple[str, ...]
    before: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A finished sheet.

    Attributes:
        name: its own.
        picture: the file.
        notes: what the user should know of it.
        facts: what to know of it when it is made again, as JSON values.
    """

    name: str
    picture: bytes
    notes: tuple[Note, ...] = ()
    facts: Mapping[str, Any] = field(default_factory=dict)
