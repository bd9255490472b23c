"""What stamps are called in plain words."""

import pytest

from inkline.kit.stamps.plain_names import kind_of, plain_name


@pytest.mark.parametrize(
    ("stem", "called"),
    [
        ("grid-5", "grids"),
        ("grid-6-head-b", "grids with a row for the weekdays"),
        ("grid", "grids"),
        ("blocks-5-cut-3", "blocks with the dates cut out"),
        ("blocks-head", "blocks of the weekdays"),
        ("dates-3", "dates"),
        ("dates-3-30", "dates of one length"),
        ("dates-6-shared", "dates that share cells"),
        ("dates-3-workdays-monday", "dates by kind of day"),
        ("weekdays-monday-de", "weekdays"),
        ("weeks-05", "week numbers"),
        ("marks-2027-03-monday", "marked days"),
        ("month-3-30-monday", "small months"),
        ("month-03-short", "abbreviated names of the months"),
        ("month-03", "names of the months"),
        ("years-2027-2028", "pairs of years"),
        ("caption-1", "captions"),
        ("lantern", "other stamps"),
    ],
)
def test_stamps_in_plain_words(stem, called):
    assert kind_of(stem)[0] == called


@pytest.mark.parametrize(
    ("stem", "explained"),
    [
        ("grid-6-b", ["rows of weeks", "letter at the end"]),
        ("blocks-5-cut-3", ["rows of weeks and the column of the 1st"]),
        ("dates-3-28", ["column of the 1st and how many days"]),
        ("dates-3-workdays-monday", ["the column of the 1st", "on which weeks begin"]),
        ("month-3-30-monday", ["column of the 1st and how many days", "on which weeks begin"]),
        ("weekdays-from-mon", ["on which the month begins"]),
        ("weekdays-monday", ["on which weeks begin"]),
        ("marks-2027-03-monday", ["year and month", "on which weeks begin"]),
    ],
)
def test_every_part_of_a_name_is_explained(stem, explained):
    _, about = kind_of(stem)
    for one in explained:
        assert one in about


def test_the_words_of_several_languages_say_which_they_are_in():
    languages = {"": "English", "de": "German"}
    title, about = kind_of("month-03", languages)
    assert title == "names of the months in English"
    assert "in a name" not in about
    title, about = kind_of("month-03-short-de", languages)
    assert title == "abbreviated names of the months in German"
    assert about.endswith('"de" in a name stands for German')
    assert '"short" in a name says so' in about
    assert kind_of("weekdays-monday-de", languages)[0] == "weekdays in German"
    assert kind_of("grid-5", languages) == kind_of("grid-5")


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("grid-5", "grid of five weeks"),
        ("grid-6-head-b", "grid of six weeks with header, drawing b"),
        ("grid-head", "grid with header"),
        ("blocks-4", "blocks for four weeks"),
        ("blocks-head-a", "blocks of the header, drawing a"),
        ("blocks-5-cut-3", "blocks for five weeks, dates of column 3 cut out"),
        ("blocks-cut-31", "blocks, dates 1 to 31 cut out"),
        ("dates-3-28", "dates, the 1st in column 3, 28 days"),
        ("dates-3-workdays-monday", "dates, the 1st in column 3, working days, weeks from Monday"),
        ("dates-6-shared", "dates, the 1st in column 6, sixth week in shared cells"),
        ("dates-29", "dates 1 to 29"),
        ("weekdays-saturday", "weekdays from Saturday"),
        ("weekdays-from-mon-pt-br", "weekdays of a month that begins on Monday (pt-br)"),
        ("month-3-30-monday", "small month of 30 days, the 1st in column 3, weeks from Monday"),
        ("marks-2027-03-monday", "marked days of March 2027, weeks from Monday"),
        (
            "marks-2027-03-monday-shared",
            "marked days of March 2027, weeks from Monday, sixth week in shared cells",
        ),
        ("weeks-05", "week numbers from 5"),
        ("weeks-48-of-53", "week numbers from 48, of a year with 53"),
        ("weeks-18-5-rows", "week numbers from 18, 5 rows"),
        ("month-02-short-de", "February, abbreviated (de)"),
        ("years-2027-2028", "2027–2028"),
        ("digit-7", "digit 7"),
        ("something-else", "something else"),
    ],
)
def test_stamps_have_plain_words(name, words):
    assert plain_name(f"any/{name}") == words
