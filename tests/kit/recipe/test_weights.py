"""The weights that a style suggests, taken unless the recipe says otherwise."""

from pathlib import Path

import pytest

from inkline.ink.style import EXACT, style_from_dict
from inkline.kit.recipe.keys import keys_of
from inkline.kit.recipe.loading import default_recipe, recipe_from_text
from inkline.kit.recipe.text import recipe_text
from inkline.kit.recipe.weights import suggested_default

HEAVY = "[style.weights]\nrule = 1.5\nframe = 0.5\nstem = 1.25\n"


def read(text):
    return recipe_from_text(f"version = 1\nnumber = 7\n{text}", source="t.toml", folder=Path())


def test_what_a_recipe_is_silent_of_is_as_heavy_as_its_style_suggests():
    usual, heavy = read("").formats[0], read(HEAVY)
    mine = heavy.formats[0]
    assert mine.rule.value == pytest.approx(1.5 * usual.rule.value)
    assert mine.block_line.value == pytest.approx(1.5 * usual.block_line.value)
    assert mine.frame == pytest.approx(1.0 + 0.5 * (usual.frame - 1.0))
    assert mine.stem == pytest.approx(usual.stem / 1.25, abs=1e-3)
    assert mine.weekday_stem == pytest.approx(usual.weekday_stem / 1.25, abs=1e-3)
    assert heavy.words.stem == pytest.approx(read("").words.stem / 1.25, abs=1e-3)


def test_what_a_recipe_says_holds_with_every_style():
    said = read(
        '[each_format]\nstem = 9\n[formats.standard]\nrule = "0.3 %"\n[words]\nstem = 6\n' + HEAVY
    )
    shape = said.formats[0]
    assert (str(shape.rule), shape.stem, said.words.stem) == ("0.3 %", 9, 6)
    assert shape.frame == pytest.approx(1.2)


def test_a_printed_recipe_leaves_the_weights_to_its_style():
    text = recipe_text(5).replace('name = "round-pen"', 'name = "quick-note"')
    thin = recipe_from_text(text, source="t.toml", folder=Path())
    for one, usual in zip(thin.formats, default_recipe().formats, strict=True):
        assert one.rule.value < usual.rule.value
        assert one.stem > usual.stem


@pytest.mark.parametrize("factor", [0.5, 2.0])
def test_no_suggestion_leaves_what_a_key_allows(factor):
    part = {"rule": factor, "frame": factor, "stem": factor}
    weights = style_from_dict({"weights": part}, where="test").weights
    for key in (*keys_of("formats"), *keys_of("words")):
        given = suggested_default(key, key.default, weights)
        assert suggested_default(key, key.default, EXACT.weights) == key.default
        if isinstance(given, float) and given != key.default:
            assert key.low <= given <= key.high
