"""Errors and remedies in the words of the command line: settings and actions as options."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from inkline.errors import Action, InklineError, Remedy
from inkline.progress import Note

_ACTIONS: Mapping[Action, str] = MappingProxyType(
    {
        Action.OTHER_FOLDER: "give another folder",
        Action.GO_ON: "say --force",
        Action.REDRAW: "say --redraw {subject}",
        Action.SAVE_AT_CANVAS_SIZE: "save it at the size of the canvas",
        Action.ONE_PROCESS: "--workers 1 needs least",
        Action.SMALLER_CANVAS: "choose a smaller canvas",
        Action.SMALLER_HEIGHT: "choose a smaller --height",
        Action.NAME_THE_KIT: "name one of them with --kit",
        Action.INK_CONTOURS: "--way contour inks their contours instead",
        Action.WRITE_STROKES: "--way stroke writes them stroke by stroke",
        Action.SAY_PERMISSION: "say --i-have-permission",
        Action.GIVE_AS_FONT: "give it as --font",
        Action.PROVE: "inkline prove {subject}",
        Action.PACK_UNPROVED: "say --unproved",
        Action.NUMBER: "say --number {subject}",
    }
)
_SETTINGS: Mapping[str, str] = MappingProxyType(
    {
        "style file": "--save-as",
        "texts": "--list",
        "font name": "--otf",
        "kit folder": "--kit-folder",
    }
)
"""Options that are called otherwise than the setting that they give."""


def _option_of(setting: str) -> str:
    """The option that gives `setting`, such as `--height`."""
    return _SETTINGS.get(setting, f"--{setting}")


def error_sentence(error: InklineError) -> str:
    """What is wrong, with the option that it is about and what would help."""
    about = f"{_option_of(error.setting)}: " if error.setting else ""
    return f"{about}{error}{_remedy_words(error.remedies)}"


def note_sentence(note: Note | str) -> str:
    """What a run has to say at its end, with what may be done about it."""
    if isinstance(note, str):
        return note
    words = _remedy_words(note.remedies)
    return f"{note.sentence.removesuffix('.')}{words}." if words else note.sentence


def _remedy_words(remedies: Iterable[Remedy]) -> str:
    """What would help, to be appended to a sentence, or ""."""
    words = [_words(remedy) for remedy in remedies]
    return f"; {', or '.join(words)}" if words else ""


def _words(remedy: Remedy) -> str:
    effect = f" {remedy.effect}" if remedy.effect else ""
    return _ACTIONS[remedy.action].format(subject=remedy.subject) + effect
