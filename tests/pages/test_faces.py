"""Which face letters a text: the first that has all its letters."""

import pytest

from inkline.lettering.families import family_names
from inkline.pages.faces import (
    USUAL_FAMILY,
    first_with,
    has_all_letters,
    open_own_family,
    usual_family,
)


class Letters:
    """A face that has some letters and nothing else."""

    def __init__(self, letters):
        self.letters = letters

    def has(self, letter):
        return letter in self.letters


def test_the_first_face_with_all_letters_is_taken():
    one, two, three = Letters("abc"), Letters("abcd"), Letters("abcde")
    assert first_with("bad", (one, two, three)) is two
    assert first_with("cab", (one, two, three)) is one
    assert first_with("xyz", (one, two, three)) is None


def test_no_face_needs_a_letter_for_a_space():
    assert has_all_letters(Letters("ab"), "a b")
    assert not has_all_letters(Letters("ab"), "a\u00a0b")  # a hard space is a character of its own


@pytest.mark.parametrize("name", family_names())
def test_families_are_opened_once(name):
    assert open_own_family(name) is open_own_family(name)


def test_the_usual_family_is_one_that_comes_with_inkline():
    assert USUAL_FAMILY in family_names()
    assert usual_family() is open_own_family(USUAL_FAMILY)
