"""The colours of our sheets, each by what it is for, as `#rrggbb` in sRGB; chosen by eye."""

from __future__ import annotations

from inkline.pages.lines import Tone

PAPER, CARD = "#f3ece1", "#fffdf9"
"""Of a sheet for the screen, and of the cards on it on which stamps lie."""
TINT = "#d9e3dd"
"""Of a card that shows how ink looks on colour."""
WHITE, PALE_CARD = "#ffffff", "#faf6ef"
"""Of a page to be printed, and of the cards on it."""
INK, ACCENT, SOFT = "#27343d", "#bd5a3c", "#857a6d"
"""Of what is written and drawn, of what stands out, and of what steps back."""
HAIRLINE = "#e6dccd"
"""Of the lines between the rows of a table."""
BLOCK, PALE_BLOCK, STRONG_BLOCK = "#e4bda4", "#f0d9c9", "#c4714f"
"""Of blocks on a card, of those under dark dates on white, and of blocks whose numerals are cut out
and show white."""
PALE_INK = "#c9cdce"
"""Of layers that were stamped before the one that is shown."""
DAY, ERASED_DAY = "#b9c3c4", ACCENT
"""Of the days in a chart's little months, and of those that are to be erased."""
EXACT_LINE, EXACT_BLOCK = "#ff4a1c", "#ffd9cc"
"""Of what a layout shows as it would be without a hand: rules and letters, and blocks."""
DRAWN_LINE, DRAWN_BLOCK = "#1d3a6b", "#c9d6ea"
"""Of what a layout shows as it was drawn, over the exact."""

_OF_TONE = {Tone.STRONG: INK, Tone.ACCENT: ACCENT, Tone.SOFT: SOFT}


def colour_of_tone(tone: Tone) -> str:
    """The colour of a line of text that is so strong."""
    return _OF_TONE[tone]
