"""Templates: a text made from values, and the values read back from it."""

import pytest

from inkline.kit.stamps.templates import template_from_text

PATTERNS = {"rows": "[4-6]", "head": "head", "day": r"\d\d"}
GRID = template_from_text("grid[-{rows}][-{head}][-on-{day}]", PATTERNS)


@pytest.mark.parametrize(
    ("values", "text"),
    [
        ({}, "grid"),
        ({"rows": "5"}, "grid-5"),
        ({"head": "head"}, "grid-head"),
        ({"rows": "6", "head": "head", "day": "07"}, "grid-6-head-on-07"),
    ],
)
def test_what_is_made_is_read_back(values, text):
    assert GRID.text_of(values) == text
    assert GRID.values_of(text) == values


@pytest.mark.parametrize(
    "text", ["", "grid-", "grid-7", "grid-head-5", "grid-on-7", " grid", "grid-5\n"]
)
def test_nothing_else_is_read(text):
    assert GRID.values_of(text) is None


def test_only_digits_of_ascii_are_read():
    assert GRID.values_of("grid-on-٠٧") is None
