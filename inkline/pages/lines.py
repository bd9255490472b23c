"""Lines of letters on a page: what they say, where they stand, and how strong they are."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Tone(StrEnum):
    """How strong a line of text is, and so in which colour it is printed."""

    STRONG = "strong"
    ACCENT = "accent"
    SOFT = "soft"


class Align(StrEnum):
    """Which point of a line of text its x gives."""

    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"

    @property
    def share(self) -> float:
        """How much of the line's width lies left of its x, 0 to 1."""
        return _SHARES[self]


_SHARES = {Align.LEFT: 0.0, Align.CENTRE: 0.5, Align.RIGHT: 1.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class TextLine:
    """A line of text to be lettered; lengths are px of a picture or points of a PDF page.

    Attributes:
        text: what it says.
        x: where its ink stands, as `align` means it.
        baseline: y of the line that its letters stand on.
        height: of its capitals.
        room: it is set smaller where its ink would be wider than this.
        align: which point of its ink x gives.
        tone: how strong it is.
        style_index: which of its sheet's styles it is drawn in; None for plain letters.
    """

    text: str
    x: float
    baseline: float
    height: float
    room: float = float("inf")
    align: Align = Align.LEFT
    tone: Tone = Tone.SOFT
    style_index: int | None = None
