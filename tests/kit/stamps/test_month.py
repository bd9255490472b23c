"""Which stamps make a month, among those that there are."""

from pathlib import Path

from faces import scullery
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import stamp_names
from inkline.kit.stamps.month import calendar_month, calendar_stems, month_that_fits

KIT = """
version = 1
number = 5
[calendar]
week_starts = ["monday", "saturday"]
[formats.standard]
split = "weekend"
sixth_week = "shared"
weeks = [5]
dates = "exact"
blocks = "none"
header = "with"
[formats.tall]
[marks]
"05-20" = "underline"
[words]
years = [2027]
"""

SHARED_MAY = (
    "grid-5-head",
    "dates-6-shared-workdays-monday",
    "dates-6-shared-saturdays-monday",
    "dates-6-shared-sundays-monday",
    "weekdays-monday",
    "marks-2027-05-monday",
)


def kit(**pieces):
    text = KIT
    for old, new in pieces.items():
        text = text.replace(old, new)
    return recipe_from_text(text, source="months.toml", folder=Path())


def test_a_calendar_of_shared_cells_or_of_whole_rows_is_found_whatever_there_is():
    recipe = kit()
    shape = recipe.formats[0]
    names = stamp_names(recipe, scullery())
    stems = {name.partition("/")[2] for name in names if name.startswith("standard/")}
    may = calendar_month(2027, 5, start="monday")
    assert calendar_stems(stems, shape, may) == SHARED_MAY
    assert calendar_stems(set(), shape, may) == ()
    assert calendar_stems({"dates-6-shared"}, shape, may) == ("dates-6-shared",)


def test_the_month_on_the_overview_fits_the_grids():
    shapes = {shape.name: shape for shape in kit().formats}
    assert month_that_fits(shapes["tall"], 2027, start="sunday").month == 3
    assert month_that_fits(shapes["tall"], 2027, start="monday").month == 1
    five = kit(**{'sixth_week = "shared"': 'sixth_week = "own row"'}).formats[0]
    assert month_that_fits(five, 2027, start="sunday").month == 3
    four = kit(
        **{'sixth_week = "shared"': 'sixth_week = "own row"', "weeks = [5]": "weeks = [4]"}
    ).formats[0]
    assert month_that_fits(four, 2027, start="sunday").month == 1
