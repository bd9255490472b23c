"""The colours of our sheets can be told apart, by the contrast that WCAG 2.2 asks for."""

import pytest

from inkline.pages import palette
from inkline.pages.lines import Tone


def luminance(colour):
    """Relative luminance as WCAG 2.2 defines it, of a colour as `#rrggbb`."""
    values = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    light = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in values]
    return 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2]


def contrast(one, other):
    """Contrast ratio as WCAG 2.2 defines it, 1 to 21."""
    dark, bright = sorted((luminance(one), luminance(other)))
    return (bright + 0.05) / (dark + 0.05)


def test_contrast_is_that_of_wcag():
    # WCAG 2.2, definition of contrast ratio: black on white is 21:1, and #767676 on white, often
    # named as the lightest grey that passes 4.5:1, is 4.54:1 (from memory).
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("ground", ["PAPER", "CARD", "WHITE", "PALE_CARD"])
def test_letters_stand_out_from_every_ground(ground):
    # WCAG 2.2, success criterion 1.4.6: 7:1 for text. 1.4.3: 3:1 for large text, which is what is
    # lettered in an accent or softly: headings, labels and notes.
    colour = getattr(palette, ground)
    assert contrast(palette.colour_of_tone(Tone.STRONG), colour) >= 7.0
    assert contrast(palette.colour_of_tone(Tone.ACCENT), colour) >= 3.0
    assert contrast(palette.colour_of_tone(Tone.SOFT), colour) >= 3.0


def test_a_drawn_rule_is_told_from_the_exact_one():
    # WCAG 2.2, success criterion 1.4.11: 3:1 between parts of a picture that must be told apart.
    assert contrast(palette.DRAWN_LINE, palette.EXACT_LINE) >= 3.0
    assert contrast(palette.EXACT_LINE, palette.WHITE) >= 3.0
