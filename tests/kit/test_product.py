"""A kit as a product: the style of each stamp, and what the manifest says at its top."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from inkline.errors import Action, InputError, Remedy
from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import default_recipe, recipe_from_text
from inkline.press.editions import earlier_edition


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


LINE = """
version = 1
number = 50
[formats.tall]
[kits.plain]
[kits.festive]
"""


def product_of(text, *, kit="", source="line.toml"):
    recipe = recipe_from_text(text, source=source, folder=Path(), kit=kit)
    return KitOrder(recipe=recipe, name=kit).open()


def test_how_a_kit_is_given_the_number_of_an_earlier_edition():
    alone = product_of("version = 1\nnumber = 8\n[formats.tall]\n", source="k.toml")
    assert alone.way_to_number(7, {}) == "write number = 7 in k.toml"
    festive = product_of(LINE, kit="festive")
    key = "number = 7 under [kits.festive] in line.toml"
    assert festive.way_to_number(7, {"kit": "festive"}) == f"write {key}"
    assert festive.way_to_number(7, {"kit": "plain"}) == (
        'it holds the kit "plain", and each kit of a line draws lines of its own; the folder of an '
        f'earlier "festive" is required, or {key}'
    )


def test_the_default_kit_is_given_a_number_where_it_is_asked_for(tmp_path):
    order = KitOrder(recipe=default_recipe())
    (tmp_path / "old").mkdir()
    head = {"format": "inkline kit", "version": 1, "number": 7, "stamps": [], "sheets": []}
    (tmp_path / "old" / "manifest.json").write_text(json.dumps(head))
    with pytest.raises(InputError, match=r"so that nothing would stay the same$") as caught:
        earlier_edition(
            tmp_path / "old", folder=tmp_path / "new", number=20270, product=order.open()
        )
    assert caught.value.remedies[0] == Remedy(action=Action.NUMBER, subject="7")
