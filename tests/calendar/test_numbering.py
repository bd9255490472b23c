"""Digits against the Unicode Character Database, and the systems that languages use.

The database is Python's, the default systems are CLDR's as Babel has them.
"""

import unicodedata

import pytest
from babel import Locale
from babel.localedata import locale_identifiers

from inkline.calendar import numbering
from inkline.calendar.numbering import NUMBERING_SYSTEMS, NumberingError, digits_of, in_digits


@pytest.mark.parametrize("code", NUMBERING_SYSTEMS)
def test_digits_have_the_values_that_unicode_gives_them(code):
    digits = digits_of(code, locale="en")
    assert [unicodedata.decimal(digit) for digit in digits] == list(range(10))
    assert all(unicodedata.category(digit) == "Nd" for digit in digits)


# The names of these systems in UTS #35, part 3, and the names of their digits in the Unicode
# Character Database.
@pytest.mark.parametrize(
    ("code", "seven"),
    [
        ("latn", "DIGIT SEVEN"),
        ("arab", "ARABIC-INDIC DIGIT SEVEN"),
        ("arabext", "EXTENDED ARABIC-INDIC DIGIT SEVEN"),
        ("deva", "DEVANAGARI DIGIT SEVEN"),
        ("beng", "BENGALI DIGIT SEVEN"),
        ("thai", "THAI DIGIT SEVEN"),
        ("nkoo", "NKO DIGIT SEVEN"),
        ("mtei", "MEETEI MAYEK DIGIT SEVEN"),
    ],
)
def test_a_system_is_that_of_its_script(code, seven):
    assert unicodedata.name(digits_of(code, locale="en")[7]) == seven


def test_every_language_has_its_usual_digits():
    usual = {Locale.parse(name).default_numbering_system for name in locale_identifiers()}
    assert usual <= set(NUMBERING_SYSTEMS)
    assert digits_of("language", locale="fa") == "۰۱۲۳۴۵۶۷۸۹"
    assert digits_of("language", locale="de") == "0123456789"


def test_figures_are_written_in_other_digits_and_all_else_stays():
    assert in_digits("2027\N{EN DASH}2028", digits_of("deva", locale="hi")) == "२०२७\N{EN DASH}२०२८"
    assert in_digits("17 a", digits_of("latn", locale="en")) == "17 a"


def test_digits_that_are_not_known_are_refused_by_name(monkeypatch):
    with pytest.raises(
        NumberingError,
        match=r'the digits asked for, "roman", are not among those known here: latn, .*',
    ) as caught:
        digits_of("roman", locale="en")
    assert caught.value.code == "roman"
    monkeypatch.setattr(numbering, "default_numbering", lambda _: "runes")
    with pytest.raises(
        NumberingError, match=r'the digits usual for xx, "runes", are not among those known here'
    ):
        digits_of("language", locale="xx")
