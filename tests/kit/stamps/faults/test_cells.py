"""Pairs of days that don't fit the cell that they share are told with what would fit."""

from pathlib import Path

import pytest

from faces import scullery
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.faults.cells import shared_faults
from inkline.kit.stamps.place import place_of


def faults(keys):
    text = f'version = 1\ntitle = "t"\nnumber = 5\n[formats.one]\n{keys}'
    recipe = recipe_from_text(text, source="one.toml", folder=Path())
    shape = recipe.formats[0]
    return list(shared_faults(place_of(recipe, shape, scullery())))


def test_the_largest_share_that_is_suggested_fits():
    keys = 'sixth_week = "shared"\nshared_numeral = {}\n'
    (fault,) = faults(keys.format(0.9))
    start, _, rest = fault.sentence.partition(" at most ")
    most, _, end = rest.partition(" ")
    assert start == "formats.one.shared_numeral must be"
    assert end == "for 23/30 and 24/31 to stand clear of the rules, not 0.9"
    assert (fault.key, fault.line) == ("formats.one.shared_numeral", 6)
    assert 0.6 < float(most) < 0.9
    assert faults(keys.format(most)) == []
    assert len(faults(keys.format(float(most) + 0.01))) == 1


def test_cells_too_small_for_any_pair_are_told():
    (fault,) = faults('sixth_week = "shared"\nnumeral = 2.9\n')
    assert fault.sentence == (
        'formats.one.sixth_week = "shared" needs smaller numerals or larger cells: at any size '
        "that shared_numeral allows, 23/30 and 24/31 run "
        "into the rules"
    )


@pytest.mark.parametrize("keys", ["shared_numeral = 1.0\n", 'sixth_week = "shared"\n'])
def test_what_is_not_asked_for_or_fits_is_no_fault(keys):
    assert faults(keys) == []
