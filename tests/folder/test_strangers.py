"""A kit and finished months keep out of each other's folders."""

import pytest

from inkline.errors import InputError
from inkline.kit.build import build_kit, finish_months
from inkline.kit.months.recipe import months_recipe


def months(recipe):
    return months_recipe(recipe, ((2027, 2),), formats=(), week_start=None)


def test_months_are_not_put_into_a_kit(tmp_path, small, contents):
    build_kit(small, tmp_path / "kit", workers=1, only=("words/digit-1",))
    before = contents(tmp_path)
    with pytest.raises(
        InputError,
        match=r"kit holds a kit, and finished months would come between$",
    ):
        finish_months(months(small), tmp_path / "kit", workers=1)
    assert contents(tmp_path) == before


def test_a_kit_is_not_put_among_months_nor_made_since_them(tmp_path, small, contents):
    folder = tmp_path / "months"
    finish_months(months(small), folder, workers=1, only=("*/year",))
    before = contents(tmp_path)
    with pytest.raises(
        InputError,
        match=r"months holds finished months, and a kit would come between$",
    ):
        build_kit(small, folder, workers=1)
    with pytest.raises(
        InputError,
        match=r"months holds finished months; the folder of an earlier kit is required$",
    ):
        build_kit(small, tmp_path / "new", workers=1, since=folder)
    assert contents(tmp_path) == before


def test_months_go_on_in_their_own_folder(tmp_path, small):
    for _ in range(2):
        report = finish_months(months(small), tmp_path / "months", workers=1, only=("*/year",))
    assert report.unchanged == ("2027-02-standard/year",)
