"""The default recipe as it is printed."""

import pkgutil
import re
from pathlib import Path

import pytest
from recipe_texts import LEAST, read

from inkline.chance import DEFAULT_NUMBER, LARGEST_NUMBER
from inkline.kit.product import KitOrder
from inkline.kit.recipe.keys import KEYS, TABLES, keys_of
from inkline.kit.recipe.loading import (
    default_recipe,
    recipe_from_text,
    recipes_from_text,
)
from inkline.kit.recipe.text import (
    EVERYDAY,
    TABLE_EXAMPLES,
    TO_CHECK,
    TO_DRAW,
    TO_EXPLAIN,
    recipe_text,
)
from inkline.kit.recipe.weights import SUGGESTED


def test_the_printed_recipe_says_what_holds_without_it():
    assert default_recipe() == recipe_from_text(LEAST, source="x", folder=Path())
    assert default_recipe().number == DEFAULT_NUMBER


def test_the_printed_recipe_has_every_key_and_the_sentences_of_everyday_ones():
    text = recipe_text(5)
    flat = " ".join(text.replace("\n# ", " ").split())
    named = {
        name
        for line in re.findall(r"More keys here: ((?:.*,\s*#?\s*)*.*)", text)
        for name in re.split(r"[\s,#]+", line)
    }
    for key in KEYS:
        if key.name in EVERYDAY.get(key.table, ()):
            assert f"\n{'# ' if key.name in SUGGESTED else ''}{key.name} = " in text
            assert " ".join(key.sentence.split()) in flat
        else:
            assert key.name in named or key.table in {"names", "files", "guide", "shop", "finish"}
    for table, sentence in TABLES.items():
        assert f"[{table}]" in text or f"[{table}." in text
        assert sentence in flat
    assert max(len(line) for line in text.splitlines()) <= 110
    assert len(text.splitlines()) <= 150


def test_whoever_explains_a_recipe_its_lines_stay_where_they_are():
    """Faults of the default recipe name lines that are those of the recipe that a person has."""
    theirs = recipe_text(5, to_draw="draw", to_explain=f"explain {60 * '.'}", to_check="check")
    assert theirs.startswith("# The recipe of a stamp kit. Change what you like and run: draw\n")
    assert theirs.splitlines()[4:] == recipe_text(5).splitlines()[4:]


@pytest.mark.parametrize("place", [TO_DRAW, TO_EXPLAIN.partition("(")[0], TO_CHECK])
def test_what_a_recipe_of_the_library_names_is_there(place):
    assert callable(pkgutil.resolve_name(place))


def test_what_is_everyday_is_a_key():
    assert {
        table: names
        for table, names in EVERYDAY.items()
        if not {key.name for key in keys_of(table)} >= {*names}
    } == {}


def test_examples_in_the_printed_recipe_can_be_used_as_they_stand():
    """Without the mark before them, as a person would try them.

    Each table by itself, since they are not one kit.
    """
    lines = [
        line.removeprefix("# ")
        for line in recipe_text(5).splitlines()
        if re.match(r'# (\[|"|[a-z_.]+ = )', line)
    ]
    starts = [index for index, line in enumerate(lines) if line.startswith("[")]
    blocks = ["\n".join(lines[a:b]) for a, b in zip(starts, [*starts[1:], None], strict=True)]
    assert len(blocks) == len(TABLE_EXAMPLES)
    for block in blocks:
        assert recipes_from_text(f"{LEAST}{block}\n", source="x", folder=Path())


def test_the_printed_recipe_carries_its_number():
    assert recipe_from_text(recipe_text(123), source="x", folder=Path()).number == 123


@pytest.mark.parametrize("number", [-1, LARGEST_NUMBER + 1])
def test_a_number_out_of_range_is_not_printed(number):
    with pytest.raises(
        ValueError, match=f"a drawing number must lie between 0 and 999999999, not {number}"
    ):
        recipe_text(number)


def test_the_examples_of_drawing_again_are_names_of_the_default_kit():
    """They stand commented out; without the mark each must be taken, as a person would try it."""
    text = recipe_text(7)
    examples = [
        line
        for line in text.split("[again]\n")[1].split("\n\n")[0].splitlines()
        if line.startswith('# "')
    ]
    again = "\n".join(line.removeprefix("# ") for line in examples)
    recipe = read(f"[again]\n{again}\n")
    assert dict(recipe.again) == {
        "tall/dates-3/17": 1,
        "standard/grid-6/down-3": 1,
        "standard/blocks-5/r5c4": 1,
    }
    assert len(KitOrder(recipe=recipe).open_and_check().kit.plans) == 59
