"""Lines of text on pages of a PDF: their place and size, and which fonts a file holds."""

from dataclasses import replace

import pytest

from inkline.ink.style import EXACT
from inkline.pages.faces import first_with, usual_family
from inkline.pages.lines import Align, TextLine
from inkline.pages.pdf_letters import PageLetters


def test_a_users_font_is_never_embedded(arabic):
    letters = PageLetters("scullery", arabic)
    letters.plain_items(TextLine(text="مارس", x=0.0, baseline=0.0, height=10.0))
    letters.plain_items(TextLine(text="March", x=0.0, baseline=0.0, height=10.0))
    assert list(letters.fonts()) == ["scullery"]


def test_words_are_aligned_fit_their_room_and_lose_what_no_face_has():
    letters = PageLetters("no such family", usual_family())
    words = TextLine(text="March", x=100.0, baseline=50.0, height=10.0)
    width = letters.width(words)
    (left,), (right,) = (
        letters.plain_items(replace(words, align=align)) for align in (Align.LEFT, Align.RIGHT)
    )
    assert left.at[0] - right.at[0] == pytest.approx(width)
    assert letters.width(replace(words, room=width / 2)) == pytest.approx(width / 2)
    assert letters.plain_items(replace(words, text="尺寸")) == ()
    assert letters.inked_items(replace(words, text=" "), style=EXACT, number=1) == ()
    assert letters.width(replace(words, text="")) == 0.0
    assert first_with("尺", (usual_family(),)) is None
