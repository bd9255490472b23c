"""Lists of texts.

Ordinal endings against CLDR's categories as its charts print them (from memory), file names by
hand.
"""

import pytest

from inkline.cli.remedies import error_sentence
from inkline.errors import InputError
from inkline.numerals.texts import MOST_TEXTS, file_stems, groups_from_text, ordinal


def found(text):
    return {group.folder: group.texts for group in groups_from_text(text)}


def test_ordinals_end_as_english_does():
    ends = {
        "st": [1, 21, 31, 101, 1001],
        "nd": [2, 22, 102],
        "rd": [3, 23, 33],
        "th": [0, 4, 11, 12, 13, 20, 30, 111, 213],
    }
    assert [ordinal(n) for numbers in ends.values() for n in numbers] == [
        f"{n}{end}" for end, numbers in ends.items() for n in numbers
    ]


def test_ranges_go_to_their_folders():
    assert found("0-9,1-31,1st-3rd") == {
        "digits": tuple("0123456789"),
        "numerals": tuple(str(day) for day in range(1, 32)),
        "ordinals": ("1st", "2nd", "3rd"),
    }
    assert found("A-C, x–z") == {"letters": ("A", "B", "C", "x", "y", "z")}


def test_single_texts_go_where_their_range_would_and_nothing_comes_twice():
    assert found("7,12, 4th,No.,1-9,A,,7") == {
        "digits": ("7", "1", "2", "3", "4", "5", "6", "8", "9"),
        "numerals": ("12",),
        "ordinals": ("4th",),
        "others": ("No.", "A"),
    }


def test_texts_are_composed():
    assert found("e\u0301") == {"others": ("\u00e9",)}


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "--list: something to draw is required, such as \"0-9,1-31,1st-31st\", not ''"),
        (" , ,", "something to draw is required"),
        ("9-0", "a range must run upwards, not '9-0'"),
        ("Z-A", "a range must run upwards, not 'Z-A'"),
        ("1-5000", "a set holds at most 1000 pictures, and '1-5000' asks for 5000"),
        ("1-999999999999999999999", "numbers up to 999999 are drawn, not"),
        ("1-600,700-1200", "a set holds at most 1000 pictures, and with '700-1200' there are 1101"),
        ("1th-31st", "the ordinal is written 1st, not 1th"),
        ("22th", "the ordinal is written 22nd, not 22th"),
        ("a" * 10_000, "a text has at most 40 characters, not 10000: 'aaaaaaaaaaaa'..."),
        ("a\x07b", "a control character (U+0007) can't be drawn in 'a\\x07b'"),
        ("a\u202eb", "a control character (U+202E) can't be drawn"),
        ("9" * 10_000, "a text has at most 40 characters, not 10000"),
    ],
)
def test_a_list_that_cannot_be_used_says_why(text, sentence):
    with pytest.raises(InputError) as caught:
        groups_from_text(text)
    assert sentence in error_sentence(caught.value)


def test_as_many_as_allowed_are_allowed():
    assert len(found(f"1-{MOST_TEXTS}")["numerals"]) == MOST_TEXTS


def test_files_are_named_safely_and_apart():
    texts = ("17", "&", "a/b", "A", "a", "Con", "\u00e9", "..", "u0026")
    stems = file_stems(texts)
    assert stems == (
        "17",
        "u0026",
        "au002fb",
        "A",
        "a-2",
        "Con-2",
        "u00e9",
        "u002eu002e",
        "u0026-2",
    )
    assert len({stem.casefold() for stem in stems}) == len(texts)


@pytest.mark.parametrize(
    ("said", "meant"),
    [("1..31", "1-31"), ("0 ... 9", "0-9"), ("1st..31st", "1st-31st"), ("A..Z", "A-Z")],
)
def test_a_range_with_dots_is_asked_for_with_its_hyphen(said, meant):
    with pytest.raises(InputError, match=f"did you mean {meant}\\?$"):
        groups_from_text(said)


def test_dots_that_are_no_range_are_drawn():
    for text in ("No.", "...", "a.b", "etc.."):
        groups_from_text(text)
