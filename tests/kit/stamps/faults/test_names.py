"""Names under [again], those that draw something and those that are refused.

A name is good by which something is drawn, whatever stamp shows it.
"""

from pathlib import Path

import pytest

from faces import scullery
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.faults.every import recipe_faults

SMALL = 'version = 1\nnumber = 1\n[canvas]\nside = "700 px"\n[words]\nyears = [2027]\n'


def read(text):
    return recipe_from_text(SMALL + text, source="dusk.toml", folder=Path())


def said_of(name, formats):
    return [
        fault.sentence
        for fault in recipe_faults(read(f'{formats}\n[again]\n"{name}" = 1'), scullery())
    ]


@pytest.mark.parametrize(
    ("formats", "name"),
    [
        ("[formats.a]", "a/dates-3"),
        ("[formats.a]", "a/dates-3/17"),
        ("[formats.a]", "a/dates-3/17.2"),
        ("[formats.a]", "a/dates-3/17/1"),
        ("[formats.a]", "words/month-03"),
        ("[formats.a]", "words/month-03.2"),
        ('[formats.a]\ndates = "exact"', "a/dates-3/17"),
        ('[formats.a]\ndates = "exact"', "a/dates-3/17.2"),
        ('[formats.a]\ndates = "exact"', "a/dates-3/17/1"),
        ('[formats.a]\ndates = "exact"', "a/dates-3"),
        ('[formats.a]\n[lettering]\ndrawings = "one"', "words/digit-7"),
        ('[formats.a]\nblocks = "cut"', "a/blocks-5/r2c1"),
        ("[formats.a]\ntakes = 2", "a/grid-5-b/down-3"),
        ("[formats.a]\ntakes = 2", "a/grid-5/down-3"),
    ],
)
def test_what_something_is_drawn_by_is_taken(formats, name):
    assert said_of(name, formats) == []


@pytest.mark.parametrize(
    ("formats", "name", "sentence"),
    [
        (
            "[formats.a]",
            "a/dates-9",
            'again: nothing in this kit is called "a/dates-9"; did you mean "a/dates-7"?',
        ),
        (
            "[formats.a]",
            "a/dates-3/71",
            'again: nothing in this kit is called "a/dates-3/71"; did you mean "a/dates-3/7"?',
        ),
        (
            '[formats.a]\ndates = "both"',
            "a/dates-3-30/17",
            (
                'again: what is on "a/dates-3-30" is drawn as "a/dates-3"; write "a/dates-3/17" to '
                "have it drawn again on all that show it"
            ),
        ),
        (
            "[formats.a]\ntakes = 2",
            "a/grid-5-a/down-3",
            (
                'again: what is on "a/grid-5-a" is drawn as "a/grid-5"; write "a/grid-5/down-3" to '
                "have it drawn again on all that show it"
            ),
        ),
        (
            '[formats.a]\nsplit = "weekend"',
            "a/dates-3-sundays-monday",
            (
                'again: what is on "a/dates-3-sundays-monday" is drawn as "a/dates-3"; write '
                '"a/dates-3" to have it drawn again on all that show it'
            ),
        ),
        (
            '[formats.a]\n[lettering]\ndrawings = "one"',
            "a/dates-3/17",
            (
                'again: what is on "a/dates-3" is drawn as "words/digit-1", "words/digit-2" and '
                "others; write one of those to have it drawn again on all that show it"
            ),
        ),
    ],
)
def test_what_nothing_is_drawn_by_is_told(formats, name, sentence):
    (said,) = said_of(name, formats)
    assert said == sentence


def test_names_of_files_are_looked_over_with_the_rest():
    text = '[formats.a]\n[names]\npattern = "{name}' + "x" * 90 + '"'
    faults = recipe_faults(read(text), scullery())
    assert faults
    assert all(fault.key == "names.pattern" for fault in faults)
