"""Templates that make a text from named values and read the values back from it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

_SLOT = re.compile(r"\{(\w+)\}")
_PIECE = re.compile(r"\[([^]]+)\]|([^[]+)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A piece of a template.

    Attributes:
        text: what is written, with the name of each value in braces.
        slots: those names.
        may_lack: whether texts that have none of the values lack the piece.
    """

    text: str
    slots: tuple[str, ...]
    may_lack: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """A template with what reads its texts."""

    pieces: tuple[Piece, ...]
    pattern: re.Pattern[str]

    def text_of(self, values: Mapping[str, str]) -> str:
        """The text with `values` filled in; values that it lacks, or has no slot for, count as ""."""
        pieces = (
            piece.text.format(**{slot: values.get(slot, "") for slot in piece.slots})
            for piece in self.pieces
            if not piece.may_lack or any(values.get(slot) for slot in piece.slots)
        )
        return "".join(pieces)

    def values_of(self, text: str) -> dict[str, str] | None:
        """The values that make `text`, without those that it lacks; `None` if no values do."""
        found = self.pattern.fullmatch(text)
        if found is None:
            return None
        return {slot: value for slot, value in found.groupdict().items() if value}


def template_from_text(text: str, patterns: Mapping[str, str]) -> Template:
    """The template that `text` writes, such as `grid[-{rows}]`.

    Args:
        text: letters and hyphens, names of values in braces, each at most once, and in square
            brackets what may be missing.
        patterns: regular expressions of what the values look like, by their names.
    """
    pieces = tuple(
        Piece(text=said, slots=tuple(_SLOT.findall(said)), may_lack=bool(found[1]))
        for found in _PIECE.finditer(text)
        for said in [found[1] or found[2]]
    )
    whole = ""
    for piece in pieces:
        own = _SLOT.sub(lambda slot: f"(?P<{slot[1]}>{patterns[slot[1]]})", piece.text)
        whole += f"(?:{own})?" if piece.may_lack else own
    return Template(pieces=pieces, pattern=re.compile(whole, re.ASCII))
