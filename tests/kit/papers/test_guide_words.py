"""How many stamps of a kind there are, in plain words."""

from inkline.kit.papers.guide_words import count_of_things


def test_counting():
    assert count_of_things(1, "stamp") == "1 stamp"
    assert count_of_things(59, "stamp") == "59 stamps"
