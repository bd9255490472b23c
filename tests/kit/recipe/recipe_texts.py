"""Recipes as texts, what they say, and what is wrong with them."""

from pathlib import Path

import pytest

from inkline.chance import DEFAULT_NUMBER
from inkline.kit.recipe.loading import recipe_from_text
from inkline.source.faults import RecipeError

LEAST = f"version = 1\nnumber = {DEFAULT_NUMBER}\n"
"""What every recipe must say, on two lines."""


def read(text, folder=Path()):
    """The recipe that says `text` from its third line on."""
    return recipe_from_text(LEAST + text, source="evenings.toml", folder=folder)


def faults_of(text):
    """The faults of a recipe that is all of `text`."""
    with pytest.raises(RecipeError) as caught:
        recipe_from_text(text, source="evenings.toml", folder=Path())
    return caught.value.faults


def fault_of(text):
    """The one fault of a recipe whose third line is the first of `text`."""
    (fault,) = faults_of(LEAST + text)
    return fault
