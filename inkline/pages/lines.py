"""Lines of letters on a page: what they say, where they stand, and how they are told apart."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Tone(StrEnum):
    """How strong a line of text is."""

    STRONG = "strong"
    ACCENT = "accent"
    SOFT = "soft"


class Align(StrEnum):
    """Which point of a line of text its x gives."""

    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


@dataclass(frozen=True, slots=True, kw_only=True)
class TextLine:
    """A line of text: its baseline and x, how high its capitals stand (lower if it were wider than `room`), and in which style it is inked.

    Attributes:
        inked: index of the style whose ink it shows; None for plain letters.
    """

    text: str
    x: float
    baseline: float
    height: float
    room: float
    align: Align = Align.LEFT
    tone: Tone = Tone.SOFT
    inked: int | None = None
