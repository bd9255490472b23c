"""Pages of text in a guide: where lines break."""

import itertools

from inkline.kit.papers.guide_setting import break_lines
from inkline.pages.faces import usual_family
from inkline.pages.pdf_letters import PageLetters


def test_paragraphs_break_where_words_end():
    letters = PageLetters("scullery", usual_family())
    text = "Stamp them over one another at one size and in one place, and they fit to the pixel."
    lines = break_lines(text, letters, width=160.0, height=8.0)
    assert " ".join(lines) == text
    assert len(lines) > 2
    assert all(letters.reach(line, height=8.0) <= 160.0 for line in lines)
    assert all(
        letters.reach(f"{line} {after.split()[0]}", height=8.0) > 160.0
        for line, after in itertools.pairwise(lines)
    )
    assert break_lines("uninterrupted", letters, width=1.0, height=8.0) == ("uninterrupted",)
