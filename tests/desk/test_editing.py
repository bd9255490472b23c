"""Changes to a recipe's text: the value changes, all else stays as it was written."""

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.desk.editing import Edit, edited_text, value_at
from inkline.errors import InputError

RECIPE = """\
# Lantern nights
version = 1
title = "Lantern nights"   # on the overview

[style]
name = "felt-marker"       # her favourite

[formats.tall]
cell = 1.3
# wide enough for a name
numeral = 0.4
"""


def test_a_value_changes_and_comments_stay():
    text = edited_text(RECIPE, [Edit(way=("style", "name"), value="chalk")])
    assert text == RECIPE.replace('"felt-marker"', '"chalk"')


def test_a_value_in_a_new_table():
    text = edited_text(RECIPE, [Edit(way=("style", "edge", "spread"), value="20 um")])
    assert tomllib.loads(text)["style"] == {"name": "felt-marker", "edge": {"spread": "20 um"}}
    assert "# her favourite" in text
    assert "# wide enough for a name" in text


def test_what_is_taken_out_again_leaves_no_empty_tables():
    way = ("style", "edge", "spread")
    text = edited_text(RECIPE, [Edit(way=way, value="20 um"), Edit(way=way, value=None)])
    assert tomllib.loads(text) == tomllib.loads(RECIPE)


def test_taking_out_what_is_not_there_changes_nothing():
    ways = [("style", "hand", "drift"), ("title", "x"), ("nothing",)]
    assert edited_text(RECIPE, [Edit(way=way, value=None) for way in ways]) == RECIPE


def test_a_name_with_dots_is_one_name():
    text = edited_text(RECIPE, [Edit(way=("again", "tall/dates-3/17"), value=2)])
    assert tomllib.loads(text)["again"] == {"tall/dates-3/17": 2}
    assert value_at(text, ("again", "tall/dates-3/17")) == 2


def test_a_value_holds_no_others():
    with pytest.raises(InputError, match="title is a value and holds no others"):
        edited_text(RECIPE, [Edit(way=("title", "of", "it"), value=1)])


def test_what_is_no_toml_is_refused():
    with pytest.raises(InputError, match="can't be read as TOML"):
        edited_text("a = = 1", [Edit(way=("a",), value=1)])


NAMES = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "Zs")), min_size=1)
PLAIN = st.one_of(
    st.booleans(),
    st.integers(-(2**31), 2**31),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc"))),
)


@given(way=st.lists(NAMES, min_size=1, max_size=3), value=PLAIN)
@settings(max_examples=100, deadline=None)
def test_any_value_is_read_back_as_it_was_set(way, value):
    way = ("free", *way)
    text = edited_text(RECIPE, [Edit(way=way, value=value)])
    read = value_at(text, way)
    assert read == value
    # the standard library's own reader agrees (TOML 1.0)
    assert tomllib.loads(text)["formats"] == {"tall": {"cell": 1.3, "numeral": 0.4}}
