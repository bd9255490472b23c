"""The workshop of a kit: the style of each stamp, and what the manifest says of its letters."""

from dataclasses import replace
from pathlib import Path

import pytest

from inkline.kit.recipe.loading import recipe_from_text
from inkline.press.shop import Workshop, about_kit


def test_numerals_of_the_small_cut_are_half_as_ragged():
    text = "version = 1\nnumber = 7\n[formats.standard]\nused_at = 10\n[formats.tall]\n"
    shop = Workshop(recipe_from_text(text, source="small.toml", folder=Path()))
    assert shop.style_for("tall/dates-1") is shop.style
    assert shop.style_for("standard/grid-5") is shop.style
    calm = shop.style_for("standard/dates-1")
    assert calm.edge.raggedness == pytest.approx(0.5 * shop.style.edge.raggedness)
    assert replace(calm, edge=shop.style.edge) == shop.style


def test_the_manifest_says_where_the_letters_come_from(small):
    letters = about_kit(Workshop(small), {})["letters"]
    assert (letters["name"], letters["version"][:1]) == ("Scullery", "1")
    assert "MIT" in letters["licence"]
    assert "embedding" not in letters  # a family is no font file
