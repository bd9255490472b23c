"""Names tucked into cells without a day: which cells, how large, and no rule through them."""

import calendar
from pathlib import Path

import pytest

from inkline.kit.letters import face_of
from inkline.kit.months.plans import month_plans
from inkline.kit.months.recipe import months_recipe
from inkline.kit.months.tucked import free_cells
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.month import calendar_month

TEXT = """
version = 1
number = 7
[canvas]
side = "1000 px"
[formats.standard]
[words]
name = "tucked"
"""


def layers(month, text=TEXT, **options):
    recipe = recipe_from_text(text, source="x.toml", folder=Path())
    wanted = months_recipe(recipe, [month], **options)
    return {plan.name.split("/")[1]: plan for plan in month_plans(wanted, face_of(wanted))}


def name_and_rules(plans):
    (glyph,) = plans["name"].geometry()["glyphs"]
    return glyph, plans["grid"].geometry()["lines"]


def through(rule, box):
    (x0, y0), (x1, y1) = rule["from"], rule["to"]
    return min(x1, box[2]) >= max(x0, box[0]) and min(y1, box[3]) >= max(y0, box[1])


@pytest.mark.parametrize("month", range(1, 13))
@pytest.mark.parametrize("start", ["sunday", "monday"])
def test_no_rule_goes_through_a_name_and_all_its_cells_are_free(month, start):
    """Days by Python's own calendar."""
    plans = layers((2027, month), week_start=start)
    glyph, rules = name_and_rules(plans)
    assert glyph["text"] == calendar.month_name[month].upper()
    assert [rule["name"] for rule in rules if through(rule, glyph["ink"])] == []
    dates = plans["dates"].geometry()["glyphs"]
    cell = glyph["cell"]
    for one in dates:
        box = one["cell"]
        is_apart = box[2] <= cell[0] + 1 or box[0] >= cell[2] - 1
        assert is_apart or box[3] <= cell[1] + 1 or box[1] >= cell[3] - 1
    assert len({rule["name"] for rule in rules}) == len(rules)


def test_rules_go_on_above_and_below_a_name():
    """May 2027 begins on a Saturday: six cells are free before it, and a name has no rule."""
    _, rules = name_and_rules(layers((2027, 5), week_start="sunday"))
    names = [rule["name"].rpartition("/")[2] for rule in rules]
    assert [name for name in names if name.startswith("head-")] == [
        f"head-down-{number}" for number in range(2, 7)
    ]
    by_name = dict(zip(names, rules, strict=True))
    whole, above, below = (by_name[name] for name in ("down-7", "head-down-3", "down-3"))
    assert above["from"][1] == pytest.approx(whole["from"][1], abs=3)
    assert below["to"][1] == pytest.approx(whole["to"][1], abs=3)
    row = by_name["across-3"]["from"][1] - by_name["across-2"]["from"][1]
    assert below["from"][1] - above["to"][1] == pytest.approx(row)


@pytest.mark.parametrize(
    ("month", "start", "rows", "taken", "cells"),
    [
        ((2027, 2), "sunday", 5, (), [(4, column) for column in range(1, 7)]),
        ((2027, 5), "sunday", 6, (), [(0, column) for column in range(6)]),
        ((2026, 2), "sunday", 4, (), []),
        ((2027, 2), "sunday", 5, ((4, 5), (4, 6)), [(4, column) for column in range(1, 5)]),
    ],
)
def test_which_cells_are_free(month, start, rows, taken, cells):
    shown = calendar_month(*month, start=start)
    assert list(free_cells(shown, n_rows=rows, taken=taken)) == cells


def test_a_month_without_a_free_cell_has_its_name_above():
    """February 2026 fills four weeks from Sunday."""
    glyph, rules = name_and_rules(layers((2026, 2), week_start="sunday"))
    top = min(rule["from"][1] for rule in rules)
    assert glyph["ink"][3] < top
    assert not any("head-" in rule["name"] for rule in rules)


def test_a_name_stays_above_where_each_column_has_rules_of_its_own():
    text = TEXT.replace("[formats.standard]", "[formats.standard]\ncolumn_gutter = 0.2")
    glyph, rules = name_and_rules(layers((2027, 5), text, week_start="sunday"))
    assert glyph["ink"][3] < min(rule["from"][1] for rule in rules)


def test_above_is_the_default():
    plain = layers((2027, 5), TEXT.replace('name = "tucked"', ""), week_start="sunday")
    said = layers((2027, 5), TEXT.replace("tucked", "above"), week_start="sunday")
    assert plain["name"].geometry() == said["name"].geometry()
    assert not any("head-" in rule["name"] for rule in plain["grid"].geometry()["lines"])
