"""The four recipes that are published.

They are well without a note, hold what their buyers need, and finish months.
"""

from pathlib import Path

import pytest

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.cli.recipe_run import kit_lines
from inkline.kit.check import check_recipe_file
from inkline.kit.letters import face_of
from inkline.kit.months.recipe import months_recipe
from inkline.kit.product import catalogue, months_catalogue
from inkline.kit.recipe.loading import load_recipe, load_recipes
from inkline.kit.stamps.file_names import plans_with_files

RECIPES = Path(__file__).parents[2] / "shared" / "recipes"
LEAST, MOST = 40, 90
"""Stamps of a kit that is worth its price and can still be looked through."""
COUNTS = {
    ("evenings", ""): {"standard": 21, "tall": 33, "words": 25},
    ("lanterns", ""): {"tall": 24, "words": 36},
    ("larder", "english"): {"wide": 21, "strip": 9, "week": 2, "day": 1, "words": 26},
    ("larder", "continent"): {"wide": 22, "week": 3, "day": 1, "words": 37},
    ("moons", ""): {"moon": 35, "small": 28, "words": 26},
}
MAY = "words.months: in en the full name is as short as the abbreviated one, so one stamp does for "
SMALL = "moon: the small months that stand in empty cells of finished months would have numerals "
NOTES = {"lanterns": (f"{MAY}both: MAY",), "moons": (SMALL,)}
"""What the lines are told of all the same, or how that begins."""
LAYERS = {
    ("evenings", ""): ("2027-03-standard/blocks", "2027-03-tall/grid"),
    ("lanterns", ""): ("2027-03-tall/blocks", "2027-03-tall/blocks-head"),
    ("larder", "english"): ("2027-03-wide/weeks", "2027-03-strip/dates"),
    ("larder", "continent"): ("2027-03-wide/weeks",),
    ("moons", ""): ("2027-03-moon/dates-sundays", "2027-03-moon/marks"),
}
"""What a finished March must hold among others."""


def kit_of(line, kit):
    return load_recipe(RECIPES / f"{line}.toml", kit=kit)


def names_of(line, kit=""):
    recipe = kit_of(line, kit)
    return [plan.name for plan in catalogue(recipe, face_of(recipe))]


def test_these_four_are_all():
    assert sorted(path.stem for path in RECIPES.iterdir()) == sorted({line for line, _ in COUNTS})
    found = {(path.stem, kit) for path in RECIPES.iterdir() for kit in load_recipes(path)}
    assert found == set(COUNTS)


@pytest.mark.parametrize("line", sorted({line for line, _ in COUNTS}))
def test_each_is_well_with_these_notes_alone_and_holds_what_is_counted(line):
    path = RECIPES / f"{line}.toml"
    check = check_recipe_file(path)
    assert check.is_whole
    assert check.faults == ()
    notes = tuple(note for kit in check.kits for note in kit.notes)
    assert len(notes) == len(NOTES.get(line, ()))
    assert all(map(str.startswith, notes, NOTES.get(line, ())))
    lines = [words for words in kit_lines(path, check) if not words.endswith(notes)]
    for kit, words in zip(check.kits, lines, strict=True):
        assert dict(kit.stamps) == COUNTS[line, kit.name]
        assert LEAST <= sum(kit.stamps.values()) <= MOST
        assert words.partition(": ")[2].startswith(f'all is well; "{kit.title}" will hold ')
        assert "\n" not in words


@pytest.mark.parametrize(("line", "kit"), COUNTS)
def test_each_finishes_a_march(line, kit):
    recipe = months_recipe(kit_of(line, kit), [(2027, 3)])
    names = {plan.name for plan in months_catalogue(recipe, face_of(recipe))}
    assert names > set(LAYERS[line, kit])


def test_no_two_lines_look_alike():
    kits = [kit_of(line, kit) for line, kit in COUNTS]
    looks = {(kit.style_name, kit.family, kit.number) for kit in kits}
    assert len(looks) == len(kits)
    assert len({kit.title for kit in kits}) == len(kits)


def test_a_line_extends_another_and_says_only_what_differs():
    base, line = kit_of("evenings", ""), kit_of("lanterns", "")
    assert line.words.years == base.words.years == (2027, 2028, 2029)
    assert line.edition == base.edition
    assert [shape.name for shape in line.formats] == ["tall"]


def test_what_the_lines_are_there_to_show():
    evenings, lanterns, moons = names_of("evenings"), names_of("lanterns"), names_of("moons")
    assert {"standard/grid-6-head-a", "standard/grid-6-head-b", "standard/dates-7-shared"} < set(
        evenings
    )
    assert {
        f"tall/dates-{first}-{days}"
        for first in range(1, DAYS_PER_WEEK + 1)
        for days in (28, 29, 30, 31)
    } < set(evenings)
    assert "tall/blocks-6-cut-7" in lanterns
    assert {
        "moon/dates-3-saturdays-monday",
        "moon/marks-2027-03-monday",
        "words/years-2027-2028",
    } < set(moons)
    assert {"words/month-01", "words/month-01-fr", "wide/weekdays-monday-fr"} < set(
        names_of("larder", "continent")
    )


def test_files_are_called_by_the_pattern():
    recipe = kit_of("larder", "english")
    plans = plans_with_files(recipe, catalogue(recipe, face_of(recipe)))
    files = {plan.name: plan.file for plan in plans}
    assert Path(files["wide/dates-3"]).name == "wide-dates-3.png"
