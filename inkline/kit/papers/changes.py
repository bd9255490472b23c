"""What has changed between two editions of a kit, as a text for those who have the earlier one."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from pathlib import PurePosixPath

from inkline.kit.stamps.names import folder_of
from inkline.kit.stamps.plain_names import plain_name
from inkline.press.report import Changes

_WIDTH = 78
"""Letters to a line, so that the text reads well wherever it is opened."""
_NAME_WIDTH = 46
_INDENT = "    "


def changes_text(changes: Changes, *, title: str, edition: str, files: Mapping[str, str]) -> str:
    """The text of `changes.txt`: first in sum, then format by format.

    Args:
        changes: what differs.
        title: the kit's title.
        edition: what its owner calls this edition, or "".
        files: where the pictures lie, by their stamps' names; the pictures of those that are gone
            needn't be among them.
    """
    lines = [
        f"{title}, edition {edition}" if edition else title,
        _since(changes),
        "",
        *_in_sum(changes),
    ]
    names = (*changes.added, *changes.redrawn, *changes.same, *changes.gone)
    for folder in dict.fromkeys(folder_of(name) for name in names):
        lines += ["", "", folder.capitalize(), *_of_folder(changes, folder, files)]
    return "\n".join(lines) + "\n"


def _since(changes: Changes) -> str:
    return (
        f"What has changed since edition {changes.before}"
        if changes.before
        else "What has changed since the one before"
    )


def _in_sum(changes: Changes) -> list[str]:
    if not (changes.added or changes.redrawn or changes.gone):
        return textwrap.wrap("Nothing: all stamps are the same.", _WIDTH)
    counts = ", ".join(f"{count} {words}" for count, words in changes.counts())
    advice = (
        "Take the pictures that are added or redrawn; those that are the same need nothing, they "
        "have not changed by a single dot."
    )
    return [*textwrap.wrap(f"{counts}.", _WIDTH), *textwrap.wrap(advice, _WIDTH)]


def _of_folder(changes: Changes, folder: str, files: Mapping[str, str]) -> Iterator[str]:
    for words, names in (
        ("Added", changes.added),
        ("Redrawn", changes.redrawn),
        ("No longer there", changes.gone),
    ):
        here = _in_folder(names, folder)
        if here:
            yield from ("", f"  {words}")
            yield from (_line(name, files.get(name, "")) for name in here)
    same = [
        PurePosixPath(files.get(name, name)).name.removesuffix(".png")
        for name in _in_folder(changes.same, folder)
    ]
    if same:
        yield from ("", "  The same")
        joined = ", ".join(same)
        yield from textwrap.wrap(
            joined,
            _WIDTH,
            initial_indent=_INDENT,
            subsequent_indent=_INDENT,
            break_on_hyphens=False,
            break_long_words=False,
        )


def _line(name: str, file: str) -> str:
    """A stamp in plain words, and its file."""
    words = plain_name(name)
    return f"{_INDENT}{words:{_NAME_WIDTH}}  {file}".rstrip()


def _in_folder(names: Sequence[str], folder: str) -> list[str]:
    return [name for name in names if folder_of(name) == folder]
