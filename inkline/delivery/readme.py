"""The texts of a pack: what is in it, how it is used, and what is said of licences."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from importlib.resources import files
from pathlib import PurePosixPath
from typing import Any

from inkline.delivery.stamps import FolderKit

_WIDTH = 78
"""So that any editor shows it without breaking lines."""
_OPEN = "open font license"
_DECIDES = (
    "What a font states of itself is no licence: the licence text decides. Ask a professional "
    "when it matters, above all where you sell."
)
_KIT_PICTURES = (
    "Pictures are white on black: white is ink. Use them as the shape of a stamp or as a mask; "
    "your own colour comes through where they are white."
)
_ON_NOTHING = {
    "png": "Pictures of ink, to be laid over your own.",
    "svg": "Outlines, which stay sharp at any size. Each mark is a group with its name.",
    "pdf": "Stamps to place, print or open as outlines.",
    "ora": "Layered pictures: all stamps of a calendar lie in their places. Show what you need.",
    "tiff": "A stamp a page.",
}


def readme_text(
    kit: FolderKit,
    pictures: Sequence[str],
    contents: Sequence[str],
    *,
    form: str,
    said: Mapping[str, Any],
) -> str:
    """What stands in a pack's readme.

    Args:
        kit: the kit.
        pictures: the stamps' files.
        contents: all files but the readme.
        form: of the stamps' files, or "" for the kit's own pictures.
        said: what the kit says of files for others.
    """
    about = kit.about
    edition = about.get("edition")
    title = f"{kit.title}, edition {edition}" if edition else kit.title
    lines = [title, "=" * min(len(title), _WIDTH), ""]
    if said.get("author"):
        lines += [f"By {said['author']}", ""]
    lines += ["What is in it", "-------------"]
    lines += list(_counts(pictures, form))
    rest = [name for name in contents if name not in set(pictures)]
    lines += [f"- {name}{_what_it_is(name)}" for name in rest]
    lines += ["", "How to use it", "-------------"]
    lines += [*_wrapped(_ON_NOTHING[form] if form else _KIT_PICTURES), ""]
    lines += _wrapped(
        "All stamps of a calendar lie on one canvas: stamped at one size and one place, grid, "
        "blocks, dates and weekdays line up to the pixel. Keep to sizes at which pixels stay "
        "whole, such as the half and the quarter."
    )
    if "guide.pdf" in contents:
        lines += ["", *_wrapped("guide.pdf shows which stamps make which month.")]
    lines += ["", "Licence", "-------"]
    lines += _wrapped(str(said.get("licence") or _licence_elsewhere(contents)))
    return "\n".join(lines) + "\n"


def _counts(pictures: Sequence[str], form: str) -> Iterator[str]:
    """How many files there are in each folder."""
    folders = Counter(str(PurePosixPath(name).parent) for name in pictures)
    for folder, count in folders.items():
        where = "" if folder == "." else f"{folder}: "
        if form:
            yield f"- {where}{count} {form.upper()} {'file' if count == 1 else 'files'}"
        else:
            yield f"- {where}{count} {'picture' if count == 1 else 'pictures'} (PNG)"


def _what_it_is(name: str) -> str:
    known = {
        "guide.pdf": "how the stamps go together",
        "changes.txt": "what is new since the edition before",
        "LICENCE.txt": "what you may do with the stamps",
        "LETTERS.txt": "where the letters come from",
        "OFL-1.1.txt": "the licence of the font under the letters",
    }
    return f": {known[name]}" if name in known else ""


def _licence_elsewhere(contents: Sequence[str]) -> str:
    if "LICENCE.txt" in contents:
        return "LICENCE.txt says what you may do with the stamps."
    return (
        "Nothing is said here of what you may do with the stamps. Ask whoever you have them from."
    )


def letters_text(about: Mapping[str, Any]) -> str:
    """Where the letters of a kit come from, and what they state of themselves; "" if unknown."""
    letters = _letters(about)
    if not letters.get("name"):
        return ""
    rows = (
        ("Version", "version"),
        ("Copyright", "copyright"),
        ("Licence", "licence"),
        ("Licence text at", "address"),
    )
    lines = [f"The letters were drawn after {letters['name']}.", ""]
    for words, key in rows:
        if letters.get(key):
            lines += textwrap.wrap(f"{words}: {letters[key]}", _WIDTH, subsequent_indent="  ")
    return "\n".join([*lines, "", *textwrap.wrap(_DECIDES, _WIDTH)]) + "\n"


def open_licence_text(about: Mapping[str, Any]) -> str:
    """The text of the SIL Open Font License under the font's own notice, if it is under that."""
    letters = _letters(about)
    if _OPEN not in str(letters.get("licence", "")).lower():
        return ""
    notice = str(letters.get("copyright") or letters.get("name", ""))
    return f"{notice}\n\n{_ofl()}"


@cache
def _ofl() -> str:
    return files("inkline.delivery").joinpath("ofl-1.1.txt").read_text(encoding="utf-8")


def _letters(about: Mapping[str, Any]) -> Mapping[str, Any]:
    found = about.get("letters")
    return found if isinstance(found, Mapping) else {}


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH)
