"""Finished months with every date in its place and every layer on one canvas.

The calendar in colour shows no more and no less than its layers.
"""

import calendar
import datetime as dt
import io
import re
from dataclasses import replace
from itertools import product
from pathlib import Path

import numpy as np
import pytest
import shapely
from PIL import Image
from pyora import Project

from inkline.drawing import Role
from inkline.errors import InputError
from inkline.ink.engine import draw
from inkline.ink.style import EXACT
from inkline.kit.build import finish_months
from inkline.kit.letters import face_of
from inkline.kit.months.plans import AIR, month_plans
from inkline.kit.months.recipe import months_recipe
from inkline.kit.papers import calendars as month_sheets
from inkline.kit.papers.calendars import month_sheet, month_sheet_names
from inkline.kit.papers.parts import drawn_box
from inkline.kit.papers.poster import set_poster
from inkline.kit.papers.sheet import SheetJob
from inkline.kit.product import KitOrder, MonthsOrder, months_catalogue
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.month import calendar_month
from inkline.output.pictures import read_grey
from inkline.pages.palette import ACCENT, INK, PALE_BLOCK, STRONG_BLOCK
from inkline.raster.compose import render

STARTS = {"sunday": 6, "monday": 0, "saturday": 5}
PLAIN = """
version = 1
title = "M"
number = 9
[canvas]
side = "160 px"
margin = "2.4 %"
[formats.standard]
[formats.strip]
[words]
years = [2027]
"""
LAYERS = ["blocks", "blocks-head", "grid", "dates", "weekdays", "name", "year"]


def recipe(text=PLAIN, **formats):
    """The recipe with more keys in its formats' tables."""
    for name, keys in formats.items():
        text = text.replace(f"[formats.{name}]", f"[formats.{name}]\n{keys}")
    return recipe_from_text(text, source="month.toml", folder=Path())


FACES = {}
"""Families that are open: what is set in one is remembered with it."""


def plans_of(chosen, *months, formats=("standard",), week_start=None, language=None):
    wanted = months_recipe(
        chosen, months, formats=formats, week_start=week_start, language=language
    )
    if chosen.family not in FACES:
        FACES[chosen.family] = face_of(chosen)
    return {plan.name: plan for plan in month_plans(wanted, FACES[chosen.family])}


def layers_of(chosen, month, **options):
    return {
        name.rpartition("/")[2]: plan for name, plan in plans_of(chosen, month, **options).items()
    }


def cells_of(plan):
    """Text, and left, top, right and bottom of the cell, of each thing that is set."""
    return {glyph["text"]: glyph["cell"] for glyph in plan.geometry()["glyphs"]}


# Where every date stands, against Python's calendar module, over the 400 years after which the
# Gregorian calendar repeats itself.


def test_each_month_of_the_cycle_is_known_by_its_column_its_length_and_its_rows():
    for (start, first), year, month in product(STARTS.items(), range(2000, 2400), range(1, 13)):
        shown = calendar_month(year, month, start=start)
        weeks = calendar.Calendar(first).monthdayscalendar(year, month)
        assert shown.rows == len(weeks)
        assert weeks[0].index(1) == shown.offset
        assert max(weeks[-1]) == shown.days


def distinct_months():
    """One month for each column and length and each day on which weeks begin, all 28.

    They are months of the 400-year cycle.
    """
    found = {}
    for start, year, month in product(STARTS, range(2000, 2400), range(1, 13)):
        shown = calendar_month(year, month, start=start)
        found.setdefault((start, shown.offset, shown.days), (year, month))
    return found


@pytest.mark.parametrize("languages", ['["en", "de"]', '"en"'])
def test_a_month_in_another_language_is_made_of_that_languages_stamps(languages):
    chosen = recipe(PLAIN + f"language = {languages}\n", strip="")
    for shape in ("standard", "strip"):
        plans = plans_of(chosen, (2027, 3), formats=(shape,), language="de")
        (name,) = plans[f"2027-03-{shape}/name"].content.setting()
        assert name.line.text == "MÄRZ"
        assert name.drawn_as == "words/month-03-de"
    plans = plans_of(chosen, (2027, 3), language="de")
    marks = plans["2027-03-standard/weekdays"].drawing().marks
    assert {mark.name.rpartition("/")[0].split("/")[1] for mark in marks} == {"weekdays-sunday-de"}
    own = plans_of(chosen, (2027, 3))
    assert own["2027-03-standard/name"].content.setting()[0].line.text == "MARCH"
    assert own["2027-03-standard/name"].content.setting()[0].drawn_as == "words/month-03"
    dates = [one["2027-03-standard/dates"].drawing().marks for one in (own, plans)]
    assert [mark.name for mark in dates[0]] == [mark.name for mark in dates[1]]


def test_a_language_that_nobody_knows_is_refused():
    with pytest.raises(InputError, match="a language is required") as caught:
        months_recipe(recipe(), [(2027, 3)], language="klingon")
    assert caught.value.setting == "language"


def test_every_date_stands_in_its_row_and_column():
    chosen = recipe()
    months = distinct_months()
    assert len(months) == 3 * 28
    for (start, _, _), (year, month) in months.items():
        layers = layers_of(chosen, (year, month), week_start=start)
        cells, heads = (
            cells_of(layers["dates"]),
            [glyph["cell"] for glyph in layers["weekdays"].geometry()["glyphs"]],
        )
        weeks = calendar.Calendar(STARTS[start]).monthdayscalendar(year, month)
        assert set(cells) == {str(day) for week in weeks for day in week if day}
        tops = sorted({cell[1] for cell in cells.values()})
        assert len(tops) == len(weeks)
        for (row, week), column in product(enumerate(weeks), range(7)):
            if week[column]:
                left, top, right, _ = cells[str(week[column])]
                assert (left, right) == (heads[column][0], heads[column][2])
                assert top == tops[row]


def test_the_weekday_over_a_date_is_the_one_that_python_tells():
    names = ["MON", "TUE", "WED", "THU", "FRI", "SAT", "SUN"]
    for start, (year, month) in product(STARTS, [(2027, 2), (2027, 5), (2028, 2), (2100, 2)]):
        layers = layers_of(recipe(), (year, month), week_start=start)
        over = {cell[0]: text for text, cell in cells_of(layers["weekdays"]).items()}
        for day, cell in cells_of(layers["dates"]).items():
            assert over[cell[0]] == names[calendar.weekday(year, month, int(day))]


def test_the_grid_has_the_rows_of_the_month_and_blocks_lie_under_its_days_alone():
    for month, rows in (((2027, 2), 4), ((2027, 4), 5), ((2027, 5), 6)):
        layers = layers_of(recipe(), month, week_start="monday")
        across = [line for line in layers["grid"].geometry()["lines"] if "across" in line["name"]]
        assert len(across) == rows + 2
        cells, boxes = cells_of(layers["dates"]).values(), layers["blocks"].geometry()["boxes"]
        middles = {
            (round((b["x0"] + b["x1"]) / 2, 6), round((b["y0"] + b["y1"]) / 2, 6)) for b in boxes
        }
        assert middles == {
            (round((c[0] + c[2]) / 2, 6), round((c[1] + c[3]) / 2, 6)) for c in cells
        }


def test_all_layers_of_all_months_of_a_format_share_a_canvas_and_their_cells():
    chosen = recipe()
    for name in ("standard", "strip"):
        months = [(2027, month) for month in (2, 3, 5)]
        plans = plans_of(chosen, *months, formats=[name])
        assert len({plan.canvas for plan in plans.values()}) == 1
        first = [cells_of(plans[f"2027-{month:02d}-{name}/dates"]) for _, month in months]
        lefts = [sorted({round(cell[0], 6) for cell in cells.values()}) for cells in first]
        shortest = min(map(len, lefts))
        assert all(left[:shortest] == lefts[0][:shortest] for left in lefts)


def test_white_is_even_and_title_and_calendar_lie_within_it():
    chosen = recipe()
    for name in ("standard", "strip"):
        layers = layers_of(chosen, (2027, 5), formats=[name], week_start="monday")
        width, height = layers["grid"].canvas
        ends = np.array(
            [
                end
                for line in layers["grid"].geometry()["lines"]
                for end in (line["from"], line["to"])
            ]
        )
        inks = np.array(
            [layers[layer].geometry()["glyphs"][0]["ink"] for layer in ("name", "year")]
        )
        air = AIR * 160
        left, right, bottom = ends[:, 0].min(), width - ends[:, 0].max(), height - ends[:, 1].max()
        top = inks[:, 1].min()
        frame = 0.04 * air + 1.0  # rules have some width, canvases are whole px
        for white in (left, right, bottom):
            assert air - frame <= white <= air + 1.0 + frame
        assert air - 1e-9 <= top  # letters of other months may stand higher
        assert inks[:, 3].max() < ends[:, 1].min()


def test_titles_stand_on_one_line_at_one_size_through_a_year():
    plans = plans_of(recipe(), *((2027, month) for month in range(1, 13)))
    names = [plans[f"2027-{month:02d}-standard/name"].drawing() for month in range(1, 13)]
    strokes = [mark for drawing in names for mark in drawing.marks]
    assert len({mark.width_px for mark in strokes}) == 1
    years = [
        plans[f"2027-{month:02d}-standard/year"].geometry()["glyphs"] for month in range(1, 13)
    ]
    assert all(year == years[0] for year in years)


@pytest.mark.parametrize("family", ["errand", "porchlight", "clothesline", "scullery", "stairwell"])
@pytest.mark.parametrize("language", ["de", "tr", "hu"])
def test_titles_never_meet_and_never_leave_the_calendar(family, language):
    text = PLAIN.replace("[words]", f'[words]\nlanguage = "{language}"').replace(
        "[formats.strip]\n", ""
    )
    chosen = replace(recipe(text), family=family)
    plans = plans_of(chosen, *((2027, month) for month in range(1, 13)))
    for month in range(1, 13):
        name, year, grid = (
            plans[f"2027-{month:02d}-standard/{layer}"].geometry()
            for layer in ("name", "year", "grid")
        )
        (x0, _, x1, y1), (y_x0, _, y_x1, _) = name["glyphs"][0]["ink"], year["glyphs"][0]["ink"]
        xs = [end[0] for line in grid["lines"] for end in (line["from"], line["to"])]
        assert min(xs) <= x0
        assert x1 < y_x0
        assert y_x1 <= max(xs)
        assert y1 < min(end[1] for line in grid["lines"] for end in (line["from"], line["to"]))


# What is drawn.


def test_dates_are_the_kits_own_to_the_pixel():
    """March 2027 has 31 days and begins on Monday: the kit's first set of dates, moved."""
    chosen = recipe()
    wanted = months_recipe(chosen, [(2027, 3)], week_start="monday")
    kit = KitOrder(recipe=chosen).open_and_check().kit
    month = MonthsOrder(recipe=wanted).open_and_check().kit
    ours, theirs = month.plans["2027-03-standard/dates"], kit.plans["standard/dates-1"]
    moved = {glyph["text"]: glyph["cell"] for glyph in ours.geometry()["glyphs"]}["1"]
    still = {glyph["text"]: glyph["cell"] for glyph in theirs.geometry()["glyphs"]}["1"]
    x, y = round(moved[0] - still[0]), round(moved[1] - still[1])
    assert (moved[0] - still[0], moved[1] - still[1]) == pytest.approx((x, y), abs=1e-9)
    seen = render(draw(ours.drawing(), month.style, chosen.number))
    expected = render(draw(theirs.drawing(), kit.style, chosen.number))
    height, width = expected.shape
    full = np.zeros(
        (max(seen.shape[0], height + y) + 160, max(seen.shape[1], width + x) + 160), np.uint8
    )
    full[80 + y : 80 + y + height, 80 + x : 80 + x + width] = expected
    assert (full[80 : 80 + seen.shape[0], 80 : 80 + seen.shape[1]] == seen).all()
    assert seen.max() == 255


def test_grids_are_drawn_for_each_month_alone():
    chosen = recipe()
    plans = plans_of(chosen, (2027, 2), (2027, 3))
    names = [
        {mark.name for mark in plans[f"2027-0{month}-standard/grid"].drawing().marks}
        for month in (2, 3)
    ]
    assert not names[0] & names[1]
    words = [mark.name for mark in plans["2027-02-standard/name"].drawing().marks]
    assert all(re.match(r"words/month-02", name) for name in words)


def test_an_exact_grid_is_the_rectangles_that_the_manifest_tells():
    """Pixel by pixel against GEOS (shapely): areas of the union of rectangles."""
    plan = layers_of(recipe(), (2027, 5), week_start="monday")["grid"]
    seen = render(draw(plan.drawing(), EXACT, 9)).astype(int)
    boxes = []
    for line in plan.geometry()["lines"]:
        (x0, y0), (x1, y1), half = line["from"], line["to"], line["width_px"] / 2
        boxes.append(
            shapely.box(x0, y0 - half, x1, y1 + half)
            if y0 == y1
            else shapely.box(x0 - half, y0, x1 + half, y1)
        )
    rows, columns = np.indices(seen.shape)
    pixels = shapely.box(columns, rows, columns + 1, rows + 1)
    areas = shapely.area(shapely.intersection(pixels, shapely.union_all(boxes)))
    assert np.abs(seen - np.round(255 * areas)).max() <= 1


def linear(colour):
    """IEC 61966-2-1, from memory."""
    values = np.array([int(colour[at : at + 2], 16) for at in (1, 3, 5)]) / 255
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def composed(layers):
    """The layers (picture, colour) over each other on white, as sRGB."""
    light = np.ones((*layers[0][0].shape, 3))
    for picture, colour in layers:
        cover = picture[:, :, None] / 255
        light = light * (1 - cover) + linear(colour) * cover
    return 255 * np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)


def pixels_of(data):
    with Image.open(io.BytesIO(data) if isinstance(data, bytes) else data) as picture:
        return np.asarray(picture.convert("RGB")).astype(float)


def test_the_calendar_is_its_layers_in_their_colours(tmp_path):
    wanted = months_recipe(recipe(), [(2027, 2)], formats=["standard"], week_start="monday")
    report = finish_months(wanted, tmp_path, workers=1)
    folder = tmp_path / "2027-02-standard"
    assert sorted(path.name for path in folder.iterdir()) == sorted(
        [f"{layer}.png" for layer in [*LAYERS, "calendar"]]
    )
    colours = [PALE_BLOCK, PALE_BLOCK, INK, INK, INK, INK, INK]
    pictures = [read_grey(folder / f"{layer}.png") for layer in LAYERS]
    assert all(picture.max() > 200 for picture in pictures)
    expected = composed(list(zip(pictures, colours, strict=True)))
    assert np.abs(pixels_of(folder / "calendar.png") - expected).max() <= 1.0
    assert report.sheets == ("2027-02-standard/calendar",)


def test_a_calendar_may_also_be_one_file_of_its_layers(tmp_path, contents):
    """Read by pyora: the stamps' own coverage, back to front over paper."""
    wanted = months_recipe(recipe(), [(2027, 2)], formats=["standard"], week_start="monday")
    finish_months(wanted, tmp_path, workers=1)
    before = contents(tmp_path)
    report = finish_months(wanted, tmp_path, workers=1, also=["ora"])
    assert (report.drawn, report.sheets) == ((), ("2027-02-standard/calendar",))
    assert report.files_made == ("2027-02-standard/calendar.ora",)
    after = contents(tmp_path)
    assert {name for name in after if before.get(name) != after[name]} == {
        "2027-02-standard/calendar.ora",
        "manifest.json",
    }
    folder = tmp_path / "2027-02-standard"
    layers = list(Project.load(str(folder / "calendar.ora")).iter_layers)
    assert [layer.name for layer in layers] == ["paper", *LAYERS]
    for layer in layers[1:]:
        alpha = np.asarray(layer.get_image_data())[:, :, 3]
        assert np.array_equal(alpha, read_grey(folder / f"{layer.name}.png"))
    assert finish_months(wanted, tmp_path, workers=1, also=["ora"]).files_made == ()
    Image.new("L", (60, 90), 0).save(folder / "grid.png")
    retouched = finish_months(wanted, tmp_path, workers=1, also=["ora"])
    assert set(retouched.files_made) == {
        "2027-02-standard/calendar.png",
        "2027-02-standard/calendar.ora",
    }


def test_a_second_run_draws_nothing_and_keeps_what_was_retouched(tmp_path, contents):
    wanted = months_recipe(recipe(), [(2027, 2)], formats=["standard"], week_start="monday")
    finish_months(wanted, tmp_path, workers=1)
    before = contents(tmp_path)
    again = finish_months(wanted, tmp_path, workers=1)
    assert (again.drawn, again.sheets, again.n_marks) == ((), (), 0)
    assert contents(tmp_path) == before
    grid = tmp_path / "2027-02-standard" / "grid.png"
    Image.new("L", read_grey(grid).shape[::-1], 0).save(grid)
    (tmp_path / "2027-02-standard" / "year.png").unlink()
    third = finish_months(wanted, tmp_path, workers=1)
    assert third.kept == ("2027-02-standard/grid",)
    assert third.drawn == ("2027-02-standard/year",)
    assert third.n_marks == 0
    assert third.sheets == ("2027-02-standard/calendar",)
    assert read_grey(grid).max() == 0


def test_months_gather_in_one_folder(tmp_path, contents):
    first, second = (
        months_recipe(recipe(), [(2027, month)], formats=["strip"]) for month in (2, 3)
    )
    finish_months(first, tmp_path, workers=1)
    before = contents(tmp_path / "2027-02-strip")
    report = finish_months(second, tmp_path, workers=1)
    assert contents(tmp_path / "2027-02-strip") == before
    assert len(report.drawn) == len(LAYERS)
    assert finish_months(first, tmp_path, workers=1).drawn == ()


def test_processes_draw_the_same_as_one(tmp_path, contents):
    wanted = months_recipe(recipe(), [(2027, 2)], formats=["strip"])
    finish_months(wanted, tmp_path / "one", workers=1)
    finish_months(wanted, tmp_path / "two", workers=2)
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


# What recipes may ask for besides.


def test_a_sixth_week_may_share_the_cells_of_the_fifth():
    layers = layers_of(recipe(standard='sixth_week = "shared"'), (2027, 5), week_start="monday")
    across = [line for line in layers["grid"].geometry()["lines"] if "across" in line["name"]]
    assert len(across) == 5 + 2
    assert set(cells_of(layers["dates"])) == {str(day) for day in range(1, 31) if day != 24} | {
        "24/31"
    }
    assert len(layers["blocks"].geometry()["boxes"]) == 30
    alone = layers_of(recipe(standard='sixth_week = "shared"'), (2027, 4), week_start="monday")
    assert len(cells_of(alone["dates"])) == 30


def test_weekends_are_layers_of_their_own_in_a_colour_of_their_own():
    layers = layers_of(recipe(standard='split = "weekend"'), (2027, 5), week_start="monday")
    assert "dates" not in layers
    days = {
        name: {int(day) for day in cells_of(layers[f"dates-{name}"])}
        for name in ("workdays", "saturdays", "sundays")
    }
    weekdays = {day: calendar.weekday(2027, 5, day) for day in range(1, 32)}
    assert days["saturdays"] == {day for day, weekday in weekdays.items() if weekday == 5}
    assert days["sundays"] == {day for day, weekday in weekdays.items() if weekday == 6}
    assert days["workdays"] == set(weekdays) - days["saturdays"] - days["sundays"]
    tones = month_sheets._layer_colours(list(layers.values()))
    accented = {name.rpartition("/")[2] for name, tone in tones.items() if tone == ACCENT}
    assert accented == {"dates-saturdays", "dates-sundays"}


def test_cut_blocks_hold_the_dates_as_white():
    layers = layers_of(
        recipe(standard='blocks = "cut"\ngap_from = "blocks"'), (2027, 5), week_start="monday"
    )
    assert "dates" not in layers
    assert layers["blocks"].cut is not None
    tones = month_sheets._layer_colours(list(layers.values()))
    assert tones["2027-05-standard/blocks"] == STRONG_BLOCK
    whole = layers_of(recipe(standard='gap_from = "blocks"'), (2027, 5), week_start="monday")
    cut = render(draw(layers["blocks"].drawing(), EXACT, 9)).astype(int)
    blocks, dates = (
        render(draw(whole[layer].drawing(), EXACT, 9)).astype(int) for layer in ("blocks", "dates")
    )
    sure = (blocks == 255) | (dates == 0)  # on edges that cross, areas say more than a product
    assert np.abs(cut - np.round(blocks * (255 - dates) / 255))[sure].max() <= 1


def test_recipes_leave_layers_out():
    layers = layers_of(
        recipe(standard='blocks = "none"\nheader = "without"'), (2027, 2), week_start="monday"
    )
    assert list(layers) == ["grid", "dates", "weekdays", "name", "year"]
    assert (
        len([line for line in layers["grid"].geometry()["lines"] if "across" in line["name"]]) == 5
    )


def test_week_numbers_are_those_of_the_month_and_find_room():
    """ISO weeks of the Mondays of May 2027, against Python's datetime."""
    text = PLAIN.replace("160 px", "900 px")
    for where in ("margin", "narrow"):
        keys = f'week_numbers = "iso"\nweek_numbers_in = "{where}"' + (
            '\nmargin = "9 %"' if where == "margin" else ""
        )
        layers = layers_of(recipe(text, standard=keys), (2027, 5), week_start="monday")
        glyphs = layers["weeks"].geometry()["glyphs"]
        mondays = [dt.date(2027, 4, 26) + dt.timedelta(weeks=row) for row in range(6)]
        assert [glyph["text"] for glyph in glyphs] == [
            str(day.isocalendar().week) for day in mondays
        ]
        assert layers["weeks"].canvas == layers["grid"].canvas
        left = min(line["from"][0] for line in layers["grid"].geometry()["lines"])
        assert all(0 < glyph["ink"][0] < glyph["ink"][2] < left for glyph in glyphs)
        tops = sorted({cell[1] for cell in cells_of(layers["dates"]).values()})
        assert [glyph["cell"][1] for glyph in glyphs] == pytest.approx(tops)


def test_fewer_rows_have_fewer_week_numbers():
    keys = 'sixth_week = "shared"\nweek_numbers = "iso"\nmargin = "9 %"'
    layers = layers_of(
        recipe(PLAIN.replace("160 px", "900 px"), standard=keys), (2027, 5), week_start="monday"
    )
    assert [glyph["text"] for glyph in layers["weeks"].geometry()["glyphs"]] == [
        "17",
        "18",
        "19",
        "20",
        "21",
    ]


def test_marks_are_those_of_the_month():
    text = PLAIN + '[marks]\n"2027-05-08" = "ring"\n"03-09" = "dot"\n'
    may, march, june = (
        layers_of(recipe(text), (2027, month), week_start="monday") for month in (5, 3, 6)
    )
    assert [list(marks["marks"].content.labels) for marks in (may, march)] == [[], []]
    assert ("marks" in may, "marks" in march, "marks" in june) == (True, True, False)
    other = layers_of(recipe(text), (2028, 3), week_start="monday")
    assert "marks" in other


def test_calendars_from_right_to_left_have_their_name_on_the_right():
    text = PLAIN.replace("[words]", '[words]\ndirection = "right to left"')
    layers = layers_of(recipe(text), (2027, 5), week_start="monday")
    name, year = (layers[layer].geometry()["glyphs"][0]["ink"] for layer in ("name", "year"))
    assert year[2] < name[0]
    cells = cells_of(layers["dates"])
    assert cells["1"][0] > cells["2"][0]


def test_a_strip_ends_with_its_month():
    february, march = (layers_of(recipe(), (2027, month), formats=["strip"]) for month in (2, 3))
    for layers, days in ((february, 28), (march, 31)):
        down = [line for line in layers["grid"].geometry()["lines"] if "down" in line["name"]]
        assert len(down) == days + 1
        assert len(layers["dates"].geometry()["glyphs"]) == days
        assert len(layers["weekdays"].geometry()["glyphs"]) == days
        assert len(layers["blocks"].geometry()["boxes"]) == days
        assert len(layers["blocks-head"].geometry()["boxes"]) == days
    assert february["grid"].canvas == march["grid"].canvas
    two = recipe(strip="columns = 16\nrows = 2")
    layers = layers_of(two, (2027, 2), formats=["strip"])
    assert (
        len(layers["weekdays"].geometry()["glyphs"])
        == len(layers["blocks-head"].geometry()["boxes"])
        == 28
    )
    mirrored = recipe(PLAIN.replace("[words]", '[words]\ndirection = "right to left"'))
    cells = cells_of(layers_of(mirrored, (2027, 2), formats=["strip"])["dates"])
    assert cells["1"][2] == max(cell[2] for cell in cells.values())


def test_letters_over_a_strip_are_its_days():
    layers = layers_of(recipe(strip=""), (2027, 2), formats=["strip"])
    letters = [glyph["text"][0] for glyph in layers["weekdays"].geometry()["glyphs"]]
    names = "MTWTFSS"
    assert letters == [names[calendar.weekday(2027, 2, day)] for day in range(1, 29)]


# The poster of a year.


def test_a_year_has_a_poster_of_all_its_months_but_their_years():
    wanted = months_recipe(
        recipe(), [(2027, month) for month in range(1, 13)], formats=["standard"]
    )
    plans = months_catalogue(wanted, face_of(wanted))
    sheets = month_sheet_names(wanted, plans)
    assert list(sheets) == [
        *(f"2027-{month:02d}-standard/calendar" for month in range(1, 13)),
        "2027-standard",
    ]
    assert set(sheets["2027-standard"]) == {
        plan.name for plan in plans if not plan.name.endswith("/year")
    }
    eleven = months_recipe(
        recipe(), [(2027, month) for month in range(1, 12)], formats=["standard"]
    )
    assert len(month_sheet_names(eleven, months_catalogue(eleven, face_of(eleven)))) == 11


@pytest.mark.parametrize("direction", ["left to right", "right to left"])
def test_every_month_has_its_place_on_the_poster(tmp_path, direction):
    text = PLAIN.replace("[words]", f'[words]\ndirection = "{direction}"')
    wanted = months_recipe(
        recipe(text), [(2027, month) for month in range(1, 13)], formats=["strip"]
    )
    kit = MonthsOrder(recipe=wanted).open_and_check().kit
    names = month_sheet_names(wanted, tuple(kit.plans.values()))["2027-strip"]
    full, empty = (Image.new("L", kit.plans[names[0]].canvas, grey) for grey in (255, 0))
    for name in names:
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (full if name == "2027-05-strip/grid" else empty).save(tmp_path / f"{name}.png")
    sheet = month_sheet(kit, SheetJob(name="2027-strip", folder=tmp_path, names=names))
    seen = pixels_of(sheet.picture)
    left, top, right, bottom = drawn_box([kit.plans[name] for name in names])
    poster = set_poster((right - left, bottom - top))
    poster = poster if direction == "left to right" else poster.mirror()
    assert seen.shape[:2] == poster.size[::-1]
    ink = [int(INK[at : at + 2], 16) for at in (1, 3, 5)]
    for month, (x, y) in enumerate(poster.places, start=1):
        tile = seen[y : y + poster.tile[1], x : x + poster.tile[0]]
        assert (tile == (ink if month == 5 else 255)).all()
    head = seen[: poster.places[0][1]]
    assert head.min() < 100  # the year
    rows = np.flatnonzero((head.min(axis=2) < 128).any(axis=1))
    assert rows[-1] + 1 == pytest.approx(poster.baseline, abs=8)
    assert rows[-1] - rows[0] == pytest.approx(poster.letters, rel=0.1)


# What is refused.


@pytest.mark.parametrize(
    ("months", "options", "message"),
    [
        ([], {}, "at least one month is required"),
        ([(1500, 1)], {}, "a year must lie between 1583 and 9999, not 1500"),
        ([(2027, 13)], {}, "a month must lie between 1 and 12, not 13"),
        (
            [(2027, 1)],
            {"week_start": "friday"},
            "weeks begin on sunday, monday or saturday, not on 'friday'",
        ),
        (
            [(2027, 1)],
            {"formats": ["standrd"]},
            'the recipe has no format "standrd"; did you mean "standard"?',
        ),
        (
            [(2027, 1)],
            {"formats": ["week"]},
            'the format "week" shows a week, and only months and strips can be finished',
        ),
    ],
)
def test_what_cannot_be_finished_is_refused(months, options, message):
    chosen = recipe(PLAIN.replace("[words]", "[formats.week]\n[words]"))
    with pytest.raises(InputError, match=f"^{re.escape(message)}$"):
        months_recipe(chosen, months, **options)


def test_a_recipe_without_months_is_refused():
    chosen = recipe(PLAIN.replace("[formats.standard]\n[formats.strip]", "[formats.week]"))
    with pytest.raises(
        InputError,
        match=r"^the recipe has no format that shows months or strips, so there is nothing to",
    ):
        months_recipe(chosen, [(2027, 1)])


def test_formats_and_days_come_from_the_recipe():
    chosen = recipe(
        PLAIN.replace("[words]", '[formats.week]\n[calendar]\nweek_starts = ["saturday"]\n[words]')
    )
    wanted = months_recipe(chosen, [(2027, 3), (2027, 2), (2027, 3)])
    assert (wanted.chosen, wanted.week_start, wanted.months) == (
        ("standard", "strip"),
        "saturday",
        ((2027, 2), (2027, 3)),
    )
    assert wanted.full_years == ()
    assert {mark.role for mark in layers_of(chosen, (2027, 2))["name"].drawing().marks} == {
        Role.WORD
    }
