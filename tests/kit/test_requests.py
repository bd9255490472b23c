"""What is to be built, as somebody asks for it."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from inkline.errors import InputError
from inkline.folder.journal import JOURNAL_FILE
from inkline.kit.recipe.loading import default_recipe
from inkline.kit.requests import (
    MOST_YEARS,
    NamedRecipe,
    charts_of_recipe,
    fonts_of_recipes,
    kit_requests,
    months_from_text,
    named_recipes,
    recipe_from_file,
    recipe_in_letters,
    refuse_unfinished,
)
from inkline.lettering.writing import Way


def test_a_kit_called_as_a_device_still_has_a_folder(tmp_path):
    file = tmp_path / "line.toml"
    file.write_text("version = 1\nnumber = 7\n[kits.con]\n[kits.calm]\n")
    assert [one.name for one in named_recipes([file], kit=None)] == ["con_", "calm"]


def test_a_recipe_without_company_goes_where_it_is_told(tmp_path):
    (only,) = named_recipes([], kit=None)
    assert kit_requests([only], tmp_path, since=None)[0].folder == tmp_path
    several = [
        NamedRecipe(name=name, recipe=default_recipe(), file=tmp_path) for name in ("a", "b")
    ]
    assert [order.folder.name for order in kit_requests(several, tmp_path, since=None)] == [
        "a",
        "b",
    ]
    with pytest.raises(InputError, match="holds none of these kits: a, b"):
        kit_requests(several, tmp_path, since=tmp_path)


def test_several_kits_do_not_go_into_the_folder_of_one(tmp_path):
    (tmp_path / "manifest.json").write_text("{}")
    several = [
        NamedRecipe(name=name, recipe=default_recipe(), file=tmp_path) for name in ("a", "b")
    ]
    with pytest.raises(
        InputError, match=r"is the folder of one kit, and several would go .*: a, b"
    ):
        kit_requests(several, tmp_path, since=None)
    assert len(kit_requests(several[:1], tmp_path, since=None)) == 1


def test_a_year_is_its_twelve_months():
    assert months_from_text("2027") == tuple((2027, month) for month in range(1, 13))
    assert months_from_text(" 2027-2 ") == ((2027, 2),)
    with pytest.raises(InputError, match=f"^{re.escape('a month is written like')}"):
        months_from_text("")


def test_a_kit_of_no_recipe_is_the_default_one_and_has_no_name():
    assert recipe_from_file(None, kit=None) == default_recipe()
    with pytest.raises(InputError, match=r"^this names a kit of a recipe; give the rec") as caught:
        recipe_from_file(None, kit="plain")
    assert caught.value.setting == "kit"


def test_letters_of_a_family_take_the_place_of_a_font():
    font = replace(default_recipe(), font=Path("a.ttf"), axes=(("wght", 400.0),))
    family = recipe_in_letters(font, family="errand", way=None)
    assert (family.font, family.axes, family.family) == (None, (), "errand")
    assert recipe_in_letters(font, family=None, way="stroke") == replace(font, way=Way.STROKE)
    assert recipe_in_letters(font, family=None, way=None) == font


def test_a_font_is_named_once_and_one_for_all_takes_the_place_of_theirs():
    plain = default_recipe()
    recipes = [replace(plain, font=Path(name)) for name in ("a.ttf", "b.ttf", "a.ttf")]
    assert fonts_of_recipes([plain, *recipes], font=None) == (Path("a.ttf"), Path("b.ttf"))
    assert fonts_of_recipes(recipes, font=Path("c.ttf")) == (Path("c.ttf"),)
    assert fonts_of_recipes([plain], font=None) == ()


@pytest.mark.parametrize("n_years", [0, MOST_YEARS + 1])
def test_charts_are_for_some_years_and_not_for_any_number(n_years):
    sentence = f"^a whole number from 1 to {MOST_YEARS} is required, not {n_years}$"
    with pytest.raises(InputError, match=sentence) as caught:
        charts_of_recipe(default_recipe(), 2027, n_years=n_years, week_start=None, language=None)
    assert caught.value.setting == "years"


def test_a_kit_that_is_being_built_is_not_there_yet(tmp_path):
    refuse_unfinished(tmp_path)
    (tmp_path / JOURNAL_FILE).write_text("")
    with pytest.raises(InputError, match="is being built, or was stopped while it was"):
        refuse_unfinished(tmp_path)
