"""Characters of text that the letters to be set lack: set as their like, or left out, and told."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from inkline.artwork.model import Artwork, Lack, TextRun
from inkline.finishing.treatment import Treatments
from inkline.lettering.face import Face

_LIKE: Mapping[str, str] = {
    **dict.fromkeys("\u2018\u2019\u201a\u201b\u2032\u02bc", "'"),
    **dict.fromkeys("\u201c\u201d\u201e\u2033", '"'),
    **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-"),
    **dict.fromkeys("\u2022\u00b7\u22c5", "."),
    "\u2026": "...",
    "\u00d7": "x",
    "\u2044": "/",
}
"""What stands for signs that many faces lack (common practice, no source)."""
_JOINERS = "\u200c\u200d"
"""What only says whether letters beside it join."""
_MOST_TOLD = 8


def with_letters_there(artwork: Artwork, treatments: Treatments, file: Path) -> Artwork:
    """The artwork with text that can be set, and what of it can't be told by its line."""
    items, lacks = list(artwork.items), list(artwork.lacks)
    for index, item in enumerate(items):
        if not isinstance(item, TextRun):
            continue
        face = treatments.of(file, item.layer).face
        text, told = _set_text(item.text, face)
        if text != item.text:
            items[index] = replace(item, text=text)
        if told:
            sentence = f"{face.name} has no {', '.join(told[:_MOST_TOLD])}"
            lacks.append(Lack(line=item.line, what="text", sentence=sentence))
    kept = tuple(item for item in items if not isinstance(item, TextRun) or item.text)
    return replace(artwork, items=kept, lacks=tuple(sorted(dict.fromkeys(lacks))))


def _set_text(text: str, face: Face) -> tuple[str, list[str]]:
    """A text as a face can set it, and what it lacks with what stands for it."""
    text = unicodedata.normalize("NFC", text)
    known, told = dict[str, str](), list[str]()
    for letter in dict.fromkeys(text):
        if letter.isspace():
            known[letter] = " "
            continue
        if unicodedata.category(letter) in {"Cc", "Cf"} and letter not in _JOINERS:
            known[letter] = ""
            continue
        if _has(face, letter):
            continue
        like = _like(letter, face)
        known[letter] = like
        becomes = f"{like!r} is set in its place" if like else "it is left out"
        told.append(f"{letter!r} ({becomes})")
    return "".join(known.get(letter, letter) for letter in text), told


def _has(face: Face, letter: str) -> bool:
    """Whether a face can draw a character."""
    if letter in _JOINERS:
        return True
    return face.has(letter) and (letter.isspace() or face.glyph(letter).has_ink)


def _like(letter: str, face: Face) -> str:
    """What a face has that stands for a character that it lacks, "" if nothing."""
    for like in (_LIKE.get(letter, ""), unicodedata.normalize("NFKD", letter)):
        kept = "".join(one for one in like if not unicodedata.combining(one))
        if kept and kept != letter and all(_has(face, one) for one in kept):
            return kept
    return ""
