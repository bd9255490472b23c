"""What a recipe that has a kit and artwork of its owner's asks of each."""

import pytest

from inkline.finishing.recipe import request_from_recipe, request_of_recipe
from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import load_recipe
from inkline.source.faults import RecipeError

LINE = '<path id="edge" d="M5 5H50" stroke="#123" stroke-width="1"/>'
RECIPE = """\
version = 1
number = 31
[canvas]
side = "500 px"
[formats.slip]
shows = "day"
[finish]
files = ["plan.svg"]
[again]
"slip/grid" = 1
"plan/edge" = 2
"""


def test_what_is_drawn_again_belongs_to_the_kit_or_to_the_artwork(tmp_path):
    (tmp_path / "plan.svg").write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="10mm">{LINE}</svg>'
    )
    file = tmp_path / "both.toml"
    file.write_text(RECIPE)
    assert request_from_recipe(file).again == {"plan/edge": 2}
    kit = KitOrder(recipe=load_recipe(file)).open_and_check()
    assert "slip/grid" in kit.pieces


def test_a_name_that_neither_has_is_told_by_both(tmp_path):
    (tmp_path / "plan.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'/>")
    file = tmp_path / "both.toml"
    file.write_text(RECIPE.replace("plan/edge", "plam/edge"))
    assert request_of_recipe(load_recipe(file)).again == {"plam/edge": 2}
    with pytest.raises(RecipeError, match='nothing in this kit is called "plam/edge"'):
        KitOrder(recipe=load_recipe(file)).open_and_check()
