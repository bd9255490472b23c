"""Dates to 31 and of their own length, padded, in other digits, and in strips.

They may be split at the weekend, or stand two to a cell.
"""

import calendar
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely

from faces import ARABIC
from inkline.drawing import Cap, Stroke
from inkline.ink.engine import draw
from inkline.kit.letters import face_of
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import plan_makers
from inkline.kit.stamps.measures import layout_of
from inkline.kit.stamps.place import place_of
from inkline.kit.stamps.shared import pairs_in_one_cell, shared_fit
from inkline.raster.compose import render
from inkline.styles.files import style_of

HEAD = 'version = 1\ntitle = "t"\nnumber = 5\n[canvas]\nside = "{side} px"\n'
STARTS = {"sunday": 6, "monday": 0, "saturday": 5}
CYCLE = range(2000, 2400)
ALL_STARTS = '[calendar]\nweek_starts = ["sunday", "monday", "saturday"]\n'
FAMILIES = (
    "clothesline",
    "scullery",
    "stairwell",
    "errand",
    "mantelpiece",
    "porchlight",
    "woodshed",
)
"""Noto Sans Arabic (SIL OFL 1.1)."""


@cache
def kit(text, side=2500):
    recipe = recipe_from_text(HEAD.format(side=side) + text, source="one.toml", folder=Path())
    face = FACES.setdefault((recipe.family, recipe.font, recipe.way), None) or face_of(recipe)
    FACES[recipe.family, recipe.font, recipe.way] = face
    return recipe, face, plan_makers(recipe, face)


FACES = {}
"""Opened once, so that what was set in them is found again."""


@cache
def plan(text, name, side=2500):
    return kit(text, side)[2][name]()


def stems(text, shape="one"):
    names = (
        name.removeprefix(f"{shape}/") for name in kit(text)[2] if name.startswith(f"{shape}/dates")
    )
    return list(names)


def one(keys="", rest=""):
    return f"{rest}[formats.one]\n{keys}"


@cache
def marks_of(text, stamp):
    return {mark.name: mark for mark in plan(text, stamp).drawing().marks}


def area_of(mark):
    """A mark's exact ink by shapely."""
    if isinstance(mark, Stroke):
        if mark.profile is not None:
            halves = 0.5 * mark.width_px * mark.profile
            discs = shapely.buffer(shapely.points(mark.points), halves, quad_segs=32)
            return shapely.union_all(shapely.convex_hull(shapely.union(discs[:-1], discs[1:])))
        cap = "round" if mark.cap is Cap.ROUND else "flat"
        return shapely.LineString(mark.points).buffer(
            mark.width_px / 2, quad_segs=32, cap_style=cap
        )
    area = shapely.Polygon(mark.contours[0])
    for contour in mark.contours[1:]:
        area = area.symmetric_difference(shapely.Polygon(contour))
    return area


def ink_of(text, stamp, part):
    return shapely.union_all(
        [area_of(m) for name, m in marks_of(text, stamp).items() if f"/{part}/" in name]
    )


def cells_of(text, stamp):
    return {glyph["text"]: tuple(glyph["cell"]) for glyph in plan(text, stamp).geometry()["glyphs"]}


def test_a_silent_recipe_has_the_seven_stamps_to_31():
    assert stems(one()) == [f"dates-{n}" for n in range(1, 8)]


def test_exact_dates_are_the_28_layouts_of_months():
    expected = [f"dates-{n}-{days}" for n in range(1, 8) for days in (28, 29, 30, 31)]
    assert stems(one('dates = "exact"\n')) == expected
    both = [
        name
        for n in range(1, 8)
        for name in (f"dates-{n}", *(f"dates-{n}-{days}" for days in (28, 29, 30)))
    ]
    assert stems(one('dates = "both"\n')) == both


@pytest.mark.parametrize("direction", ["left to right", "right to left"])
@pytest.mark.parametrize("start", STARTS)
def test_every_date_of_the_cycle_stands_where_pythons_calendar_has_it(start, direction):
    text = one('dates = "exact"\n', f'[words]\ndirection = "{direction}"\n')
    recipe, _, _ = kit(text)
    cells = layout_of(recipe, recipe.formats[0]).grid()
    places = {}
    for offset in range(7):
        for days in (28, 29, 30, 31):
            found = cells_of(text, f"one/dates-{offset + 1}-{days}")
            assert list(found) == [str(day) for day in range(1, days + 1)]
            places[offset, days] = {int(day): cell for day, cell in found.items()}
    columns = sorted(
        {cell[0] for cell in places[6, 31].values()}, reverse=direction == "right to left"
    )
    rows = sorted({cell[1] for cell in places[6, 31].values()})
    assert (len(columns), len(rows)) == (7, 6)
    assert np.ptp(np.diff(columns)) < 1e-9
    assert abs(abs(np.diff(columns)[0]) - cells.cell_width_px) < 1e-9
    weeks = calendar.Calendar(firstweekday=STARTS[start])
    for year in CYCLE:
        for month in range(1, 13):
            lines = weeks.monthdayscalendar(year, month)
            found = places[lines[0].index(1), max(lines[-1])]
            for row, line in enumerate(lines):
                for column, day in enumerate(line):
                    assert day == 0 or found[day][:2] == (columns[column], rows[row])


def test_a_day_in_its_cell_is_one_drawing_on_all_stamps():
    text = one(
        'dates = "both"\nsplit = "weekend"\nsixth_week = "shared"\nblocks = "plain"\n', ALL_STARTS
    )
    for number in range(1, 8):
        whole = marks_of(text, f"one/dates-{number}")
        assert all(name.startswith(f"one/dates-{number}/") for name in whole)
        for stem in stems(text):
            if not stem.startswith(f"dates-{number}-"):
                continue
            shared = set()
            for name, mark in marks_of(text, f"one/{stem}").items():
                if "-shared/" in name:
                    shared.add(name.split("/")[2])
                else:
                    assert np.array_equal(mark.points, whole[name].points)
                    assert (mark.group, mark.origin, mark.width_px) == (
                        whole[name].group,
                        whole[name].origin,
                        whole[name].width_px,
                    )
            assert bool(shared) <= ("shared" in stem)


def test_exact_kits_draw_all_dates_as_those_to_31():
    text = one('dates = "exact"\n')
    names = {name.rpartition("/")[0] for name in marks_of(text, "one/dates-3-30")}
    assert names == {f"one/dates-3/{day}" for day in range(1, 31)}
    assert plan(text, "one/dates-3-30").content.labels == tuple(str(day) for day in range(1, 31))


@pytest.mark.parametrize("start", STARTS)
def test_split_days_are_the_weekdays_that_python_says(start):
    text = one('split = "weekend"\n', ALL_STARTS)
    for year, month in [(2027, month) for month in range(1, 13)] + [(2028, 2)]:
        first = calendar.weekday(year, month, 1)
        number = (first - STARTS[start]) % 7 + 1
        for kind, kept in [("workdays", range(5)), ("saturdays", (5,)), ("sundays", (6,))]:
            expected = [day for day in range(1, 32) if (first + day - 1) % 7 in kept]
            found = plan(text, f"one/dates-{number}-{kind}-{start}").content.labels
            assert [int(day) for day in found] == expected


def test_split_stamps_are_for_each_week_start_and_each_length():
    text = one('split = "weekend"\ndates = "exact"\n')
    endings = [
        f"{kind}-{start}"
        for start in ("sunday", "monday")
        for kind in ("workdays", "saturdays", "sundays")
    ]
    expected = [f"dates-3-30{end}" for end in ("", *(f"-{ending}" for ending in endings))]
    assert [stem for stem in stems(text) if stem.startswith("dates-3-30")] == expected
    assert len(stems(text)) == 28 * 7


@pytest.mark.parametrize(
    ("style", "whole"), [("round-pen", "dates-4"), ("chalk", "dates-7-shared")]
)
def test_split_stamps_add_up_to_the_whole_pixel_for_pixel(style, whole):
    text = one('split = "weekend"\nsixth_week = "shared"\n')
    recipe, _, makers = kit(text, 300)

    def picture(stem):
        return render(
            draw(makers[f"one/{stem}"]().drawing(), style_of(style, {}, where=""), recipe.number)
        ).astype(int)

    parts = [picture(f"{whole}-{kind}-monday") for kind in ("workdays", "saturdays", "sundays")]
    assert np.array_equal(sum(parts), picture(whole))
    assert all((part > 0).any() for part in parts)
    assert (sum((part > 0).astype(int) for part in parts) <= 1).all()


@pytest.mark.parametrize(
    ("offset", "days", "pairs"),
    [
        (6, 31, ((23, 30), (24, 31))),
        (6, 30, ((23, 30),)),
        (5, 31, ((24, 31),)),
        (5, 30, ()),
        (6, 29, ()),
        (0, 28, ()),
    ],
)
def test_pairs_are_those_of_wall_calendars(offset, days, pairs):
    # 23/30 and 24/31 in one cell: common practice, no source.
    assert pairs_in_one_cell(offset, days) == pairs


def test_months_of_the_cycle_share_cells_just_where_they_reach_a_sixth_week():
    weeks = calendar.Calendar(firstweekday=6)
    for year in CYCLE:
        for month in range(1, 13):
            lines = weeks.monthdayscalendar(year, month)
            sixth = [day for day in (lines[5] if len(lines) > 5 else []) if day]
            expected = tuple((lines[4][column], day) for column, day in enumerate(sixth))
            assert pairs_in_one_cell(lines[0].index(1), max(lines[-1])) == expected


def test_shared_stamps_have_these_names():
    shared = [stem for stem in stems(one('sixth_week = "shared"\n')) if "shared" in stem]
    assert shared == ["dates-6-shared", "dates-7-shared"]
    shared = [
        stem for stem in stems(one('sixth_week = "shared"\ndates = "exact"\n')) if "shared" in stem
    ]
    assert shared == ["dates-6-shared", "dates-7-30-shared", "dates-7-shared"]
    shared = [
        stem
        for stem in stems(one('sixth_week = "shared"\nsplit = "weekend"\n'))
        if "dates-6-shared" in stem
    ]
    assert len(shared) == 7


PROPORTIONS = {"standard": "", "tall": 'cell = 1.25\nnumeral = 0.34\nstem = 7.0\nrule = "0.42 %"\n'}
CORNERS = {
    "upper left": "",
    "middle": 'side = "centre"\nlevel = "middle"\n',
    "lower right": 'side = "right"\nlevel = "bottom"\n',
}


LEAST_WHITE = {"left to right": 0.05, "right to left": 0.044}
"""What shared numerals leave to the rules, as shares of the cell's width. From right to left the
wide 4 of 24/31 stands out, furthest in Mantelpiece, where 0.0445 is left."""


def shared_text(family, proportion, corner, direction):
    keys = (
        f'sixth_week = "shared"\ndates = "both"\n'
        f"{PROPORTIONS[proportion]}{CORNERS[corner]}gap = 0.15\n"
    )
    return one(keys, f'[lettering]\nfamily = "{family}"\n[words]\ndirection = "{direction}"\n')


@pytest.mark.parametrize(
    ("corner", "direction"),
    [("upper left", "right to left"), *((corner, "left to right") for corner in CORNERS)],
)
@pytest.mark.parametrize("proportion", PROPORTIONS)
@pytest.mark.parametrize("family", FAMILIES)
def test_nothing_overlaps_in_a_shared_cell(family, proportion, corner, direction):
    text = shared_text(family, proportion, corner, direction)
    recipe, face, _ = kit(text)
    layout = layout_of(recipe, recipe.formats[0])
    white = LEAST_WHITE[direction] * layout.cell_width
    assert shared_fit(place_of(recipe, recipe.formats[0], face), white=white) >= 1.0
    for stamp, pairs in [("dates-6-shared", [(24, 31)]), ("dates-7-shared", [(23, 30), (24, 31)])]:
        for pair in pairs:
            earlier, later = (ink_of(text, f"one/{stamp}", f"{stamp}/{day}") for day in pair)
            stroke = ink_of(text, f"one/{stamp}", f"{pair[0]}-{pair[1]}")
            pen = min(
                m.width_px
                for n, m in marks_of(text, f"one/{stamp}").items()
                if f"{stamp}/{pair[0]}/" in n
            )
            assert min(stroke.distance(earlier), stroke.distance(later)) == pytest.approx(
                0.75 * pen, abs=0.05
            )
            assert earlier.distance(later) > 1.5 * pen
            cell = cells_of(text, f"one/{stamp}")[f"{pair[0]}/{pair[1]}"]
            room = shapely.box(*cell).buffer(-(layout.edge + white) + 1e-6, join_style="mitre")
            assert room.contains(shapely.union_all([earlier, later, stroke]).envelope.buffer(-1e-3))
            sense = 1 if direction == "left to right" else -1
            first, second = earlier.centroid, later.centroid
            assert sense * (second.x - first.x) > 0
            assert second.y - first.y > 0


def test_shared_cells_stand_in_their_own_column_and_the_rest_is_as_it_was():
    text = shared_text("scullery", "standard", "upper left", "left to right")
    whole = plan(text, "one/dates-7").geometry()["glyphs"]
    shared = {
        glyph["text"]: glyph for glyph in plan(text, "one/dates-7-shared").geometry()["glyphs"]
    }
    for glyph in whole:
        if glyph["text"] not in {"23", "24", "30", "31"}:
            assert shared[glyph["text"]] == glyph
    cells = {glyph["text"]: glyph["cell"] for glyph in whole}
    assert shared["23/30"]["cell"] == cells["23"]
    assert cells["30"][0] == cells["23"][0]
    assert "24" in {
        glyph["text"] for glyph in plan(text, "one/dates-7-30-shared").geometry()["glyphs"]
    }
    assert "one/dates-7/24/1" in marks_of(text, "one/dates-7-30-shared")
    labels = plan(text, "one/dates-7-shared").content.labels
    assert labels[-2:] == ("23-30", "24-31")
    assert {name.split("/")[2] for name in marks_of(text, "one/dates-7-shared")} == set(labels)


@pytest.mark.parametrize("share", [0.4, 0.6])
def test_shared_numerals_have_their_share_of_the_height(share):
    text = one(f'sixth_week = "shared"\nshared_numeral = {share}\n')
    usual, shared = (
        ink_of(text, "one/dates-6", "31"),
        ink_of(text, "one/dates-6-shared", "dates-6-shared/31"),
    )
    heights = [ink.bounds[3] - ink.bounds[1] for ink in (usual, shared)]
    assert heights[1] / heights[0] == pytest.approx(share, rel=0.01)
    pens = [
        marks_of(text, name)[f"{name}/31/1"].width_px
        for name in ("one/dates-6", "one/dates-6-shared")
    ]
    assert share < pens[1] / pens[0] < 1.0


def test_a_pair_too_large_for_its_cell_is_told():
    text = one('sixth_week = "shared"\nshared_numeral = 0.9\n')
    recipe, face, _ = kit(text)
    fit = shared_fit(place_of(recipe, recipe.formats[0], face), white=10.0)
    assert 0.5 < fit < 1.0
    widest = next(
        g for g in plan(text, "one/dates-7-shared").geometry()["glyphs"] if g["text"] == "23/30"
    )
    lacks = [widest["cell"][side] - widest["ink"][side] for side in range(4)]
    assert lacks[0] > 0
    assert lacks[0] == pytest.approx(
        -lacks[2], abs=1e-6
    )  # midway, so it lacks as much on either side
    assert lacks[1] == pytest.approx(-lacks[3], abs=1e-6)


def test_padded_dates_keep_their_names():
    text = one('dates_as = "01"\n[formats.one.shift]\n"7" = ["9 px", "0 px"]\n')
    glyphs = plan(text, "one/dates-1").geometry()["glyphs"]
    assert [glyph["text"] for glyph in glyphs] == [f"{day:02d}" for day in range(1, 32)]
    assert plan(text, "one/dates-1").content.labels[6] == "7"
    assert "one/dates-1/7/1" in marks_of(text, "one/dates-1")
    unshifted = plan(one('dates_as = "01"\n'), "one/dates-1").geometry()["glyphs"]
    moved = np.array(glyphs[6]["ink"]) - unshifted[6]["ink"]
    assert moved == pytest.approx([9.0, 0.0, 9.0, 0.0])
    assert glyphs[7] == unshifted[7]


IN_ARABIC = (
    f'[lettering]\nfont = "{ARABIC}"\nway = "contour"\nnumbering = "{{}}"\n[formats.one]\n'
    f"numeral = 0.4\n"
)


@pytest.mark.parametrize(("system", "zero"), [("arab", 0x0660), ("arabext", 0x06F0)])
def test_other_digits_are_set_from_left_to_right_under_names_in_ours(system, zero):
    text = IN_ARABIC.format(system)
    glyphs = plan(text, "one/dates-3").geometry()["glyphs"]
    expected = ["".join(chr(zero + int(figure)) for figure in str(day)) for day in range(1, 32)]
    assert [glyph["text"] for glyph in glyphs] == expected
    names = {name.rpartition("/")[0] for name in marks_of(text, "one/dates-3")}
    assert names == {f"one/dates-3/{day}" for day in range(1, 32)}
    # Numbers are written with the tens before the units in Arabic as well (Unicode Standard Annex
    # 9).
    twelve = [mark for name, mark in marks_of(text, "one/dates-3").items() if "/12/" in name]
    tens, units = sorted(twelve, key=lambda mark: mark.contours[0][:, 0].min())
    alone = [
        next(m for n, m in marks_of(text, "one/dates-3").items() if f"/{day}/" in n)
        for day in (1, 2)
    ]
    for mark, single in zip((tens, units), alone, strict=True):
        assert np.allclose(
            np.ptp(mark.contours[0], axis=0), np.ptp(single.contours[0], axis=0), atol=0.01
        )


def test_other_digits_have_the_height_that_was_asked_for():
    text = IN_ARABIC.format("arab")
    recipe, _, _ = kit(text)
    layout = layout_of(recipe, recipe.formats[0])
    tallest = max(
        g["ink"][3] - g["ink"][1] for g in plan(text, "one/dates-1").geometry()["glyphs"][:9]
    )
    assert tallest == pytest.approx(0.4 * layout.cell_width, rel=0.05)
    assert all(
        g["ink"][1] - g["cell"][1] > layout.edge
        for g in plan(text, "one/dates-1").geometry()["glyphs"]
    )


def test_strips_run_on_whatever_the_weekday():
    text = (
        '[formats.strip]\ncolumns = 16\nrows = 2\ndates = "exact"\nsplit = "weekend"\n'
        'sixth_week = "shared"\n'
    )
    assert stems(text, "strip") == ["dates-31", "dates-30", "dates-29", "dates-28"]
    assert stems("[formats.strip]\n", "strip") == ["dates-31"]
    found = cells_of(text, "strip/dates-31")
    recipe, _, _ = kit(text)
    grid = layout_of(recipe, recipe.formats[0]).grid()
    assert list(found.values()) == [grid.cell(day // 16, day % 16) for day in range(31)]
    short = marks_of(text, "strip/dates-28")
    assert set(short) == {
        name for name in marks_of(text, "strip/dates-31") if int(name.split("/")[2]) <= 28
    }


@pytest.mark.parametrize("shows", ["week", "day", "small"])
def test_undated_formats_and_small_months_have_no_dates_apart(shows):
    assert stems(f"[formats.{shows}]\n", shows) == []


def test_guests_are_the_same_wherever_their_day_stands():
    text = one('dates = "both"\n', '[lettering]\nguests = "rare"\n')
    whole, short = marks_of(text, "one/dates-3"), marks_of(text, "one/dates-3-28")
    assert all(np.array_equal(mark.points, whole[name].points) for name, mark in short.items())
    plain = marks_of(one('dates = "both"\n'), "one/dates-3")
    assert any(
        name not in plain or not np.array_equal(m.points, plain[name].points)
        for name, m in whole.items()
    )


def test_with_one_drawing_a_digit_shared_numerals_use_it_too():
    text = one(
        'sixth_week = "shared"\ndates_as = "01"\n',
        '[lettering]\ndrawings = "one"\nguests = "rare"\n',
    )
    groups = {mark.group for mark in plan(text, "one/dates-6-shared").drawing().marks}
    assert groups == {f"words/digit-{digit}" for digit in range(10)} | {"one/dates-6-shared/24-31"}
