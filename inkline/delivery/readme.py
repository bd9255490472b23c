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
from inkline.phrases.phrases import USUAL_LANGUAGE, Phrases

_WIDTH = 78
"""So that any editor shows it without breaking lines."""
_OPEN = "open font license"


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
    about, phrases = kit.about, _phrases_of(kit.about)
    edition = about.get("edition")
    title = kit.title
    if edition:
        title += f", {phrases.say('listing.edition', edition=edition)}"
    lines = [title, "=" * min(len(title), _WIDTH), ""]
    if said.get("author"):
        lines += [phrases.say("readme.by", author=said["author"]), ""]
    lines += _headed(phrases.say("shop.inside"))
    lines += list(_counts(pictures, form, phrases))
    rest = [name for name in contents if name not in set(pictures)]
    lines += [f"- {name}{_what_it_is(name, phrases)}" for name in rest]
    lines += ["", *_headed(phrases.say("readme.use"))]
    lines += [*_wrapped(phrases.say(f"readme.for_{form or 'kit'}")), ""]
    lines += _wrapped(phrases.say("readme.layers"))
    if "guide.pdf" in contents:
        lines += ["", *_wrapped(phrases.say("readme.see_guide"))]
    lines += ["", *_headed(phrases.say("readme.licence"))]
    where = "licence_there" if "LICENCE.txt" in contents else "licence_none"
    lines += _wrapped(str(said.get("licence") or phrases.say(f"readme.{where}")))
    return "\n".join(lines) + "\n"


def _phrases_of(about: Mapping[str, Any]) -> Phrases:
    """The language that a kit's manifest says for those who buy it."""
    said = about.get("guide")
    said = said if isinstance(said, Mapping) else {}
    own = said.get("own")
    try:
        own = dict(own or {})
    except (TypeError, ValueError):
        own = {}
    return Phrases(language=str(said.get("language") or USUAL_LANGUAGE), own=own)


def _headed(title: str) -> list[str]:
    return [title, "-" * len(title)]


def _counts(pictures: Sequence[str], form: str, phrases: Phrases) -> Iterator[str]:
    """How many files there are in each folder."""
    folders = Counter(str(PurePosixPath(name).parent) for name in pictures)
    for folder, count in folders.items():
        where = "" if folder == "." else f"{folder}: "
        key = "readme.files" if form else "readme.pictures"
        yield f"- {where}{phrases.count(key, count, form=form.upper())}"


def _what_it_is(name: str, phrases: Phrases) -> str:
    known = {
        "guide.pdf": "guide",
        "changes.txt": "changes",
        "LICENCE.txt": "licence_text",
        "LETTERS.txt": "letters_text",
        "OFL-1.1.txt": "font_text",
    }
    return f": {phrases.say(f'readme.{known[name]}')}" if name in known else ""


def letters_text(about: Mapping[str, Any]) -> str:
    """Where the letters of a kit come from, and what they state of themselves; "" if unknown."""
    letters = _letters(about)
    if not letters.get("name"):
        return ""
    phrases = _phrases_of(about)
    lines = [phrases.say("readme.letters", name=letters["name"]), ""]
    for key in ("version", "copyright", "licence", "address"):
        if letters.get(key):
            text = f"{phrases.say(f'readme.{key}')}: {letters[key]}"
            lines += textwrap.wrap(text, _WIDTH, subsequent_indent="  ")
    return "\n".join([*lines, "", *_wrapped(phrases.say("readme.decides"))]) + "\n"


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
