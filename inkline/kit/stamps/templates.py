"""Templates that make a text from named values and read the values back from it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

_SLOT = re.compile(r"\{(\w+)\}")
_PIECE = re.compile(r"\[([^]]+)\]|([^[]+)")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Segment:
    """A piece of a template, with what it may hold.

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

    segments: tuple[_Segment, ...]
    pattern: re.Pattern[str]

    def text_of(self, values: Mapping[str, str]) -> str:
        """The text with `values` filled in; those that are missing count as ""."""
        texts = (
            segment.text.format(**{slot: values.get(slot, "") for slot in segment.slots})
            for segment in self.segments
            if not segment.may_lack or any(values.get(slot) for slot in segment.slots)
        )
        return "".join(texts)

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
    segments = tuple(
        _Segment(text=said, slots=tuple(_SLOT.findall(said)), may_lack=bool(found[1]))
        for found in _PIECE.finditer(text)
        for said in [found[1] or found[2]]
    )
    whole = ""
    for segment in segments:
        own = _SLOT.sub(lambda slot: f"(?P<{slot[1]}>{patterns[slot[1]]})", segment.text)
        whole += f"(?:{own})?" if segment.may_lack else own
    return Template(segments=segments, pattern=re.compile(whole, re.ASCII))
