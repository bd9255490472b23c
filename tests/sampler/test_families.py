"""Families as a person meets them.

What they hold, what they lack by language, and their specimen.
"""

import shutil

import pytest
from babel import Locale
from fontTools import agl

from inkline.calendar.names import (
    LetterCase,
    LocaleError,
    NameWidth,
    month_names,
    weekday_names,
)
from inkline.calendar.numbering import digits_of
from inkline.lettering.families import family_names, family_path
from inkline.lettering.family import open_family
from inkline.lettering.line import set_line
from inkline.sampler.families import LANGUAGES, contents_of_family, family_report, letters_of


def test_the_families_that_come_with_inkline_lack_nothing():
    for name in family_names():
        assert family_report(open_family(family_path(name))).missing == ()


NAMED_OTHERWISE = {
    "Delta",  # a triangle of mathematics in the list, as are the next two
    "Omega",
    "mu",
    "Tcommaaccent",  # with a cedilla in the list
    "tcommaaccent",
    "dotlessj",  # in private use there
    "sun",  # another sun there
}


@pytest.mark.parametrize("name", family_names())
def test_glyphs_have_the_characters_of_their_names(name):
    """By the Adobe Glyph List, as fontTools has it."""
    family = open_family(family_path(name))
    wrong = {
        glyph: chr(agl.AGL2UV[glyph])
        for glyph in set(family.glyph_names) & set(agl.AGL2UV) - NAMED_OTHERWISE
        if not family.has(chr(agl.AGL2UV[glyph]))
        or family.glyph(chr(agl.AGL2UV[glyph])).name != glyph
    }
    assert wrong == {}
    letters = {chr(code) for code in range(0x00C0, 0x0180) if chr(code).isalpha()}
    seldom = set("ĈĉĜĝĤĥĴĵŜŝĨĩĬĭŨũŬŭĔĕŎŏĲĳĸŉŦŧſ")
    assert {one for one in letters - seldom if not family.has(one)} == set()


@pytest.mark.parametrize("language", ["el", "ru", "uk", "bg", "sr"])
@pytest.mark.parametrize("name", ["porchlight", "scullery"])
def test_some_families_write_greek_and_cyrillic_names(name, language):
    """Names of months and weekdays from CLDR, wide and short, as written and in capitals."""
    family = open_family(family_path(name))
    assert family_report(family, languages=(language,)).missing == ()
    for width in NameWidth:
        for case in LetterCase:
            for names in (month_names, weekday_names):
                for text in names(language, width=width, case=case):
                    assert set_line(family, text).glyphs


@pytest.mark.parametrize("name", ["errand", "scullery", "stairwell"])
def test_the_first_families_are_even(name):
    assert family_report(open_family(family_path(name))).uneven == ()


@pytest.mark.parametrize("system", ["arab", "arabext", "deva"])
def test_scullery_writes_figures_of_arabic_persian_and_devanagari(system):
    """The ten digits of CLDR's numbering systems, all on the advance of 0 to 9."""
    family = open_family(family_path("scullery"))
    digits = digits_of(system, locale="en")
    line = set_line(family, digits)
    assert len(line.glyphs) == 10
    assert all(item.glyph.has_ink for item in line.glyphs)
    assert {item.glyph.advance_em for item in line.glyphs} == {family.glyph("0").advance_em}


def test_scullery_is_even_in_greek_and_cyrillic_too():
    family = open_family(family_path("scullery"))
    assert family_report(family, languages=("el", "ru", "uk", "bg", "sr")).uneven == ()


def test_what_is_missing_is_said_by_kind_and_by_language(lacking):
    missing = family_report(lacking, languages=("en", "fr", "cs")).missing
    assert missing == (
        "Of the figures 8 is missing.",
        "Of the small letters z is missing.",
        "For French (fr) é is missing.",
    )


def test_a_kind_that_is_missing_whole_is_said_in_one_word(tmp_path):
    folder = tmp_path / "figures.ufo"
    shutil.copytree(family_path("scullery"), folder)
    for file in (folder / "glyphs").glob("?.glif"):
        file.write_text(
            "".join(
                line
                for line in file.read_text().splitlines(keepends=True)
                if "<unicode" not in line
            )
        )
    assert (
        "All small letters are missing." in family_report(open_family(folder), languages=()).missing
    )


def test_the_letters_of_a_language_are_those_of_its_names_in_cldr():
    locale = Locale.parse("cs")
    texts = [
        str(name)
        for table in ("wide", "abbreviated")
        for name in locale.months["stand-alone"][table].values()
    ]
    assert set("".join(texts)) <= set(letters_of("cs"))
    assert {"Č", "Ř", "č", "ř", "á", "Á"} <= set(letters_of("cs"))
    assert {"İ", "ı", "ğ", "Ğ"} <= set(letters_of("tr"))
    assert all(letters_of(language) for language in LANGUAGES)


def test_no_language_is_no_language():
    with pytest.raises(LocaleError, match="a language is required as CLDR names it"):
        letters_of("klingon")


def test_what_a_family_holds(scullery):
    said = contents_of_family(scullery)
    assert said.startswith(f"{len(scullery.characters)} characters, and ")
    assert "0, 1, 2" in said
