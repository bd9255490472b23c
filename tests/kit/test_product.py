"""A kit as a product: the style of each stamp, and what the manifest says at its top."""

from dataclasses import replace
from pathlib import Path

import pytest

from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import recipe_from_text


def test_numerals_of_the_small_cut_are_half_as_ragged():
    text = "version = 1\nnumber = 7\n[formats.standard]\nused_at = 10\n[formats.tall]\n"
    recipe = recipe_from_text(text, source="small.toml", folder=Path())
    kit = KitOrder(recipe=recipe).open_and_check()
    style = kit.kit.style
    assert kit.pieces["tall/dates-1"].style is style
    assert kit.pieces["standard/grid-5"].style is style
    calm = kit.pieces["standard/dates-1"].style
    assert calm.edge.raggedness == pytest.approx(0.5 * style.edge.raggedness)
    assert replace(calm, edge=style.edge) == style


def test_the_manifest_says_where_the_letters_come_from(small):
    letters = KitOrder(recipe=small).open().head()["letters"]
    assert (letters["name"], letters["version"][:1]) == ("Scullery", "1")
    assert "MIT" in letters["licence"]
    assert "embedding" not in letters  # a family is no font file
