"""Scripts whose letters join, by the names of ISO 15924 that Unicode gives every character."""

from __future__ import annotations

import unicodedata
from typing import TYPE_CHECKING

from fontTools.unicodedata import script

if TYPE_CHECKING:
    import uharfbuzz

_JOINING = frozenset(
    {"Adlm", "Arab", "Mand", "Mani", "Mong", "Nkoo", "Phag", "Phlp", "Rohg", "Sogd", "Syrc"}
)
"""Scripts that Unicode's table of joining types (ArabicShaping) covers."""


def is_joined(character: str) -> bool:
    """Whether a character is a letter of a script whose letters join."""
    return script(character) in _JOINING and unicodedata.category(character)[0] == "L"


def joined_runs(text: str) -> tuple[int, ...]:
    """For each character, the index of the first one of the joined word that it belongs to.

    Its own where letters stand alone. What joins is drawn and moved as one piece. Marks and joiners
    within a joined word belong to it.
    """
    runs: list[int] = []
    for index, character in enumerate(text):
        follows = bool(runs) and is_joined(text[runs[-1]])
        belongs = (
            is_joined(character)
            or unicodedata.category(character)[0] == "M"
            or character in "\u200c\u200d\u0640"
        )
        runs.append(runs[-1] if follows and belongs else index)
    return tuple(runs)


def buffer_of(text: str) -> uharfbuzz.Buffer:
    """`text` as HarfBuzz takes it, its script and direction guessed."""
    import uharfbuzz  # noqa: PLC0415 - slow to import, and families don't want it

    buffer = uharfbuzz.Buffer()
    buffer.add_codepoints([ord(character) for character in text])
    buffer.guess_segment_properties()
    return buffer
