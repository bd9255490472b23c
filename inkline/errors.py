"""The errors that a caller may meet, all under one base class.

The command line turns them into one sentence and an exit code: what the user wrote (`InputError`)
exits 2, what went wrong while working (`WorkError`) exits 1.
"""

from __future__ import annotations


class InklineError(Exception):
    """Base of all errors raised on purpose; its text is one sentence for the user."""


class InputError(InklineError):
    """Something the user gave cannot be used: a recipe, a style, a font, an option."""


class UnitError(InputError):
    """A length that cannot be read or that lies outside its range.

    Attributes:
        text: what was given.
    """

    def __init__(self, message: str, *, text: object) -> None:
        super().__init__(message)
        self.text = text


class WorkError(InklineError):
    """Something went wrong while working: a full disk, a folder that cannot be written."""
