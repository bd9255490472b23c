"""The values of a recipe."""

import pickle
from dataclasses import fields

import pytest
from recipe_texts import read

from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.keys import keys_of
from inkline.kit.recipe.loading import default_recipe
from inkline.kit.recipe.model import FormatRecipe, WordsRecipe, language_tags
from inkline.source.faults import RecipeError


def test_values_have_the_schemas_names():
    assert {field.name for field in fields(FormatRecipe)} == {
        key.name for key in keys_of(FORMATS)
    } | {"name", "stems_asked"}
    names = {"languages" if key.name == "language" else key.name for key in keys_of("words")}
    names.add("stems_asked")
    assert {field.name for field in fields(WordsRecipe)} == names


def test_an_error_survives_the_way_between_processes():

    with pytest.raises(RecipeError) as caught:
        read("titel = 1")
    again = pickle.loads(pickle.dumps(caught.value))  # noqa: S301
    assert (str(again), again.faults) == (str(caught.value), caught.value.faults)
    recipe = default_recipe()
    assert pickle.loads(pickle.dumps(recipe)) == recipe  # noqa: S301


@pytest.mark.parametrize(
    ("languages", "tags"),
    [
        ('"de"', {"de": ""}),
        ('["en", "de"]', {"en": "", "de": "de"}),
        ('["en", "pt_BR", "pt-BR", "pt"]', {"en": "", "pt_BR": "pt-br", "pt": "pt"}),
        ('["pt-BR", "pt_BR"]', {"pt-BR": ""}),
    ],
)
def test_the_first_language_has_no_tag_and_each_is_there_once(languages, tags):
    assert language_tags(read(f"[words]\nlanguage = {languages}\n")) == tags
