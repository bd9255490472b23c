"""Kits in several languages: what they share, and what each language has of its own."""

from functools import cache
from importlib import import_module
from pathlib import Path

import pytest

from faces import scullery
from inkline.calendar.names import (
    LetterCase,
    NameWidth,
    month_names,
    weekday_letters,
    weekday_names,
)
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import plan_by_name, stamp_names
from inkline.lettering.face import Figures
from inkline.lettering.font import open_font
from inkline.lettering.setting import word_line

HEAD = "version = 1\nnumber = 5\n[formats.standard]\n[formats.strip]\n"


@cache
def read(languages):
    return recipe_from_text(
        f"{HEAD}[words]\nlanguage = {languages}\n", source="one.toml", folder=Path()
    )


def names(languages):
    return stamp_names(read(languages), scullery())


def test_a_second_language_adds_names_and_nothing_else():
    one, two = names('"en"'), names('["en", "de"]')
    assert set(one) < set(two)
    added = [f"words/month-{number:02d}-de" for number in range(1, 13)]
    added += [f"standard/weekdays-{day}-de" for day in ("sunday", "monday")]
    added += [
        f"strip/weekdays-from-{day}-de" for day in ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    ]
    assert set(two) - set(one) == set(added)
    assert len(two) == len(set(two))


def test_names_are_safe_in_every_file_system():
    for name in names('["en", "pt_BR", "sr-Latn"]'):
        assert name == name.lower()
        assert all(letter.isascii() and (letter.isalnum() or letter in "-/") for letter in name)


def test_equal_names_have_a_stamp_each():
    # April is APRIL in English and German alike.
    both = read('["en", "de"]')
    english, german = (
        plan_by_name(both, scullery(), name) for name in ("words/month-04", "words/month-04-de")
    )
    assert (
        english.content.setting()[0].line.text == german.content.setting()[0].line.text == "APRIL"
    )
    assert not {mark.name for mark in english.drawing().marks} & {
        mark.name for mark in german.drawing().marks
    }


@pytest.mark.parametrize("language", ['"en"', '["en", "de"]', '["en", "de", "hu"]'])
def test_what_languages_share_is_drawn_the_same(language):
    shared = [name for name in names('"en"') if "weekdays" not in name]
    alone, among = read('"en"'), read(language)
    for name in (
        *shared[:3],
        "standard/dates-3",
        "words/month-09",
        "words/year-2027",
        "words/digit-7",
    ):
        one, other = (plan_by_name(recipe, scullery(), name) for recipe in (alone, among))
        assert one.geometry() == other.geometry()
        assert [mark.name for mark in one.drawing().marks] == [
            mark.name for mark in other.drawing().marks
        ]


def test_the_first_language_decides_on_direction_and_the_others_follow_its_columns():
    mixed = read('["en", "tr"]')
    assert not mixed.mirrored
    english, turkish = (
        plan_by_name(mixed, scullery(), name).content.setting()
        for name in ("standard/weekdays-monday", "standard/weekdays-monday-tr")
    )
    assert [one.label for one in english] == [one.label for one in turkish]
    assert [one.cell for one in english] == [one.cell for one in turkish]
    # Monday in Turkish by CLDR, from memory.
    assert turkish[0].line.text == "PZT"


# Names from CLDR by way of Babel, in open fonts of their scripts. Letters of Hebrew stand apart; a
# word of the Arabic script is one piece, and so is one of Devanagari, whose letters hang from one
# line.
@pytest.mark.parametrize(
    ("language", "package"),
    [
        ("ar", "fontpkg_noto_sans_arabic"),
        ("fa", "fontpkg_noto_sans_arabic"),
        ("he", "pylopdf_fonts_he"),
        ("hi", "fontpkg_noto_sans_devanagari"),
    ],
)
def test_other_scripts_are_set_whole_and_never_torn(language, package):
    folder = Path(
        (pytest.importorskip if language == "hi" else import_module)(package).__file__
    ).parent
    font = open_font(min(folder.rglob("NotoSans*.ttf")))
    names = []
    for width in NameWidth:
        names += month_names(language, width=width, case=LetterCase.CAPITALS)
        names += weekday_names(language, width=width, case=LetterCase.CAPITALS)
    for count in (1, 2, 3):
        names += weekday_letters(language, count=count, case=LetterCase.CAPITALS)
    for name in dict.fromkeys(names):
        plain, spaced = (
            word_line(font, name, Figures.LINING, spacing=spacing) for spacing in (0.0, 0.2)
        )
        pieces = {item.letter for item in plain.glyphs}
        assert {item.letter for item in spaced.glyphs} == pieces
        if language == "hi":
            assert pieces == {0}
            assert spaced.advance_em == plain.advance_em
        else:
            assert spaced.advance_em == pytest.approx(plain.advance_em + 0.2 * (len(pieces) - 1))
        if language in {"ar", "fa"} and name.isalpha():
            assert pieces == {0}
