"""Choosing stamps by name and by pattern."""

import pytest

from inkline.errors import InputError
from inkline.press.choice import chosen_names


def test_a_numeral_is_no_stamp_and_is_told_where_to_go():
    with pytest.raises(
        InputError,
        match=r"'standard/dates-1/17'; to have a single numeral or line drawn again write it$",
    ):
        chosen_names(
            NAMES, ["standard/dates-1/17"], setting="redraw", way_to_part=lambda _: "write it"
        )


NAMES = ("standard/grid-5", "standard/dates-1", "standard/dates-2", "words/month-02")


def test_names_are_chosen_by_pattern():
    assert chosen_names(NAMES, ["standard/dates-*", "words/month-0?"], setting="only") == set(
        NAMES[1:]
    )
    assert chosen_names(NAMES, [], setting="only") == frozenset()


def test_a_pattern_far_from_everything_is_told_what_names_look_like():
    with pytest.raises(
        InputError, match=r"^no stamp is called 'zzz'; names look like 'standard/grid-5'"
    ):
        chosen_names(NAMES, ["zzz"], setting="only")


def test_a_pattern_that_fits_nothing_is_told_what_kinds_there_are():
    names = ("tall/grid-5", "tall/dates-1", "tall/dates-1-28", "words/month-02")
    with pytest.raises(InputError, match=r"names look like 'tall/grid-\*', 'tall/dates-\*'$"):
        chosen_names(names, ["tall/cut-*"], setting="only")
    with pytest.raises(InputError, match=r"'tall/dates-\*', 'words/month-\*'$"):
        chosen_names(names, ["shop/*"], setting="only")
