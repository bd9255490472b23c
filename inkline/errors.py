"""The errors that a caller may meet, all under one base class, and what may be done about each.

An error's text is one sentence that says what is wrong. What would help is no part of the text but
a value, a `Remedy`: the command line says it as an option, a page would show it as a button.

The command line exits with 2 for what the user wrote (`InputError`) and with 1 for what went wrong
while working (`WorkError`).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any


class Action(StrEnum):
    """What a user can do; the values are for front ends to find their own words by."""

    OTHER_FOLDER = "other folder"
    GO_ON = "go on"
    REDRAW = "redraw"
    SAVE_AT_CANVAS_SIZE = "save at canvas size"
    ONE_PROCESS = "one process"
    SMALLER_CANVAS = "smaller canvas"
    SMALLER_HEIGHT = "smaller height"
    NAME_THE_KIT = "name the kit"
    INK_CONTOURS = "ink contours"
    WRITE_STROKES = "write strokes"
    SAY_PERMISSION = "say permission"
    GIVE_AS_FONT = "give as font"
    PROVE = "prove"
    PACK_UNPROVED = "pack unproved"
    NUMBER = "number"


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """Something that would help.

    Attributes:
        action: what to do.
        subject: to what, such as the name of a stamp; "" where the error says it already.
        effect: what it is done for, such as "to draw it anew", or "".
    """

    action: Action
    subject: str = ""
    effect: str = ""


class InklineError(Exception):
    """Base of all errors raised on purpose; its text is one sentence for the user.

    Attributes:
        setting: the setting that is wrong, such as "height", where a caller's own setting is
            meant and not a key of a file; else "".
        remedies: what would help, the likeliest first.
    """

    def __init__(
        self, sentence: str = "", *, setting: str = "", remedies: Iterable[Remedy] = ()
    ) -> None:
        super().__init__(sentence)
        self.setting = setting
        self.remedies = tuple(remedies)

    def __reduce__(self) -> tuple[Any, ...]:
        """Go whole from one process to another, whatever a subclass is made from."""
        return _error_from_parts, (type(self), self.args, self.__dict__)


def _error_from_parts(
    kind: type[InklineError], arguments: tuple[Any, ...], attributes: dict[str, Any]
) -> InklineError:
    """An error that was in another process."""
    error = kind.__new__(kind, *arguments)
    error.__dict__.update(attributes)
    return error


class InputError(InklineError):
    """Something the user gave cannot be used: a recipe, a style, a font, a setting."""


class UnitError(InputError):
    """A length that cannot be read or that lies outside its range.

    Attributes:
        text: what was given.
    """

    def __init__(self, sentence: str, *, text: object) -> None:
        super().__init__(sentence)
        self.text = text


class WorkError(InklineError):
    """Something went wrong while working: a full disk, a folder that cannot be written."""
