import itertools
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from inkline.geometry.boxes import inset_box
from inkline.kit.recipe.choices import ColumnsRun, Shows
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.layout import HANGING_WHITE
from inkline.kit.stamps.measures import NoRoomError, layout_of
from inkline.units import Length, Unit

EXACT = 1e-9
LAW = settings(max_examples=80, deadline=None)
RECIPES = Path(__file__).parents[1] / "data"
ALL_KINDS = "\n".join(
    f"[formats.{name}]" for name in ("standard", "tall", "wide", "strip", "week", "day", "small")
)


@cache
def recipe_of(text=ALL_KINDS, *, head='version = 1\ntitle = "S"\nnumber = 7\n'):
    return recipe_from_text(head + text, source="test.toml", folder=Path())


@cache
def shared_recipe(name):
    path = RECIPES / name
    return recipe_from_text(path.read_text(encoding="utf-8"), source=name, folder=RECIPES)


def layout_in(text, **options):
    recipe = recipe_of(text)
    return layout_of(recipe, recipe.formats[0], **options)


def percent(low, high):
    return st.floats(low, high).map(lambda value: Length(value, Unit.PERCENT))


def near(value):
    return pytest.approx(value, abs=EXACT, rel=0)


margins = st.one_of(st.just("canvas"), st.tuples(*[percent(0, 12)] * 4))
gutters = st.one_of(st.just(0.0), st.floats(0, 0.5), percent(0, 0.4))


@st.composite
def kits(draw):
    """A recipe and one of its formats, with a layout of any kind."""
    recipe = recipe_of()
    words = replace(recipe.words, direction=draw(st.sampled_from(ColumnsRun)))
    recipe = replace(recipe, words=words, side_px=draw(st.integers(400, 5000)))
    shape = replace(
        draw(st.sampled_from(recipe.formats)),
        cell=draw(st.floats(0.2, 2)),
        weekday_row=draw(st.floats(0.1, 2)),
        column_gutter=draw(gutters),
        row_gutter=draw(gutters),
        margin=draw(margins),
        height=draw(st.one_of(st.just("fit"), st.floats(0.7, 2))),
    )
    return recipe, shape


# Literal values, worked out by hand from the recipes' numbers.


@pytest.mark.parametrize(
    ("load", "index", "canvas", "cell", "header", "origin"),
    [
        # 2500 px, 2.4 % = 60 px: 2380 / 7 = 340 wide; 6.5 rows of 340 = 2210 high, 145 above; 170
        # for the weekdays.
        (recipe_of, 0, (2500, 2500), (340.0, 340.0), 170.0, (60.0, 315.0)),
        # 1.25 as high: 2380 / (6.5 x 1.25) = 292.923; 7 x 292.923 = 2050.46, 224.77 at the left.
        (
            recipe_of,
            1,
            (2500, 2500),
            (2380 / 8.125, 2380 / 6.5),
            1190 / 6.5,
            (1250 - 3.5 * 2380 / 8.125, 60 + 1190 / 6.5),
        ),
        (
            lambda: shared_recipe("evenings-fine.toml"),
            0,
            (5000, 5000),
            (4760 / 8.125, 4760 / 6.5),
            2380 / 6.5,
            (2500 - 3.5 * 4760 / 8.125, 120 + 2380 / 6.5),
        ),
        # 3 % = 75 px: 2350 / 7 wide, 235 high, 141 for the weekdays; 6.6 x 235 = 1551 high, 474.5
        # above.
        (
            lambda: shared_recipe("evenings-wide.toml"),
            0,
            (2500, 2500),
            (2350 / 7, 235.0),
            141.0,
            (75.0, 615.5),
        ),
    ],
)
def test_the_layouts_that_kits_of_old_have(load, index, canvas, cell, header, origin):
    recipe = load()
    layout = layout_of(recipe, recipe.formats[index])
    assert layout.canvas == canvas
    assert layout.side == canvas[0]
    assert (layout.cell_width, layout.cell_height) == near(cell)
    assert layout.header_height == near(header)
    assert layout.origin == near(origin)
    assert (layout.column_gutter, layout.row_gutter, layout.mirrored) == (0, 0, False)


def test_the_other_measures_of_the_standard_format():
    # 0.68 % = 17 px of rule, 1.4 times that for frames, 1.04 % = 26 px of inset; 0.1 and 0.13 of
    # 340 px.
    layout = layout_in("[formats.standard]")
    assert (layout.rule, layout.heavy, layout.inset) == near((17.0, 23.8, 26.0))
    assert (layout.corner, layout.gap, layout.edge, layout.white) == near((34.0, 44.2, 26.0, 70.2))
    assert layout.edge_of_marks == near(8.5)
    assert layout.block_line == near(10.5)
    assert (layout.safe, layout.title_box) == (24.0, None)


def test_a_strip_is_as_high_as_its_cells_need():
    # 2380 px for 31 cells, 1.6 times as high, half of that above for the letters, and 60 px on all
    # sides.
    cell = 2380 / 31
    layout = layout_in("[formats.strip]\nweekday_row = 0.5\ncell = 1.6")
    assert layout.canvas == (2500, 305)
    assert 304 < 2.4 * cell + 120 < 305
    assert layout.origin == near((60.0, (305 - 2.4 * cell) / 2 + 0.8 * cell))
    assert len(layout.header_cells) == 31


def test_a_strip_in_two_lines_has_letters_over_both():
    layout = layout_in("[formats.strip]\ncolumns = 16\nrows = 2\ncell = 2.0\nweekday_row = 0.25")
    cell = 2380 / 16
    assert layout.canvas == (2500, 864)
    assert layout.grid().cell(1, 0)[1] - layout.grid().cell(0, 0)[3] == near(0.5 * cell)
    assert len(layout.header_cells) == 32
    assert [rule.name for rule in layout.headed_grid().rules(layout.framed_widths)][:5] == [
        f"across-{number}" for number in range(1, 6)
    ]
    assert layout.grid().rules(layout.even_widths)[0].name == "r1-across-1"


def test_gutters_are_shares_of_the_cell_that_they_make():
    # 2380 px for 7 cells and 6 gutters of a tenth: 2380 / 7.6.
    layout = layout_in(
        '[formats.standard]\ncolumn_gutter = 0.1\nrow_gutter = "10 px"\nheight = "fit"'
    )
    cell = 2380 / 7.6
    assert (layout.cell_width, layout.column_gutter, layout.row_gutter) == near(
        (cell, cell / 10, 10.0)
    )
    assert layout.canvas == (2500, 2216)
    assert 2215 < 6.5 * cell + 6 * 10 + 120 < 2216


def test_four_margins_go_clockwise_from_the_top():
    layout = layout_in('[formats.strip]\nmargin = ["100 px", "200 px", "50 px", "300 px"]')
    assert (
        layout.margins.top,
        layout.margins.right,
        layout.margins.bottom,
        layout.margins.left,
    ) == (100, 200, 50, 300)
    left, top, right, bottom = layout.full_grid.outer_box
    assert (left, right) == near((300.0, 2300.0))
    assert top - 100 == near(layout.canvas[1] - 50 - bottom)
    assert 0 <= top - 100 < 0.5


def test_a_height_that_is_whole_but_for_rounding_isn_t_raised():
    # 0.75 x 340 x 6.2 = 1581 px and two margins of 60: 1701.0000000000002 in floats.
    text = '[formats.standard]\ncell = 0.75\nweekday_row = 0.2\nheight = "fit"'
    assert layout_in(text).canvas == (2500, 1701)


@pytest.mark.parametrize("shows", list(Shows))
def test_rows_and_columns_of_what_a_format_shows(shows):
    expected = {
        "month": (6, 7, 1),
        "strip": (1, 31, 1),
        "week": (4, 2, 4),
        "day": (12, 1, 1),
        "small": (6, 7, 1),
    }
    layout = layout_in(f'[formats.own]\nshows = "{shows.value}"')
    grid = layout.full_grid
    assert (grid.n_rows, grid.n_columns, len(grid.header_bands)) == expected[shows.value]


# Laws.


@given(kit=kits())
@LAW
def test_columns_rows_and_gutters_are_equal(kit):
    layout = layout_of(*kit)
    grid = layout.full_grid
    bands = sorted(grid.rows + grid.header_bands)
    assert all(right - left == near(layout.cell_width) for left, right in grid.columns)
    assert all(foot - top == near(layout.cell_height) for top, foot in grid.rows)
    assert all(foot - top == near(layout.header_height) for top, foot in grid.header_bands)
    assert all(
        two[0] - one[1] == near(layout.column_gutter)
        for one, two in itertools.pairwise(grid.columns)
    )
    assert all(two[0] - one[1] == near(layout.row_gutter) for one, two in itertools.pairwise(bands))


@given(kit=kits())
@LAW
def test_cells_have_the_asked_proportions(kit):
    recipe, shape = kit
    layout = layout_of(recipe, shape)
    assert layout.cell_height == near(shape.cell * layout.cell_width)
    assert layout.header_height == near(shape.weekday_row * layout.cell_height)
    for gutter, px in (
        (shape.column_gutter, layout.column_gutter),
        (shape.row_gutter, layout.row_gutter),
    ):
        assert px == near(
            recipe.px(gutter) if isinstance(gutter, Length) else gutter * layout.cell_width
        )


@given(kit=kits())
@LAW
def test_the_largest_cells_stand_in_the_middle_between_the_margins(kit):
    recipe, shape = kit
    layout = layout_of(recipe, shape)
    left, top, right, bottom = layout.full_grid.outer_box
    spaces = (
        left - layout.margins.left,
        layout.canvas[0] - layout.margins.right - right,
        top - layout.margins.top,
        layout.canvas[1] - layout.margins.bottom - bottom,
    )
    assert layout.canvas[0] == recipe.side_px
    assert spaces[0] == near(spaces[1])
    assert spaces[2] == near(spaces[3])
    assert min(spaces) > -1e-6
    if shape.height == "fit":
        assert spaces[0] == near(0.0)
        assert spaces[2] < 0.5
    else:
        assert layout.canvas[1] == round(shape.height * recipe.side_px)
        assert min(spaces[0], spaces[2]) == near(0.0)


@given(kit=kits())
@LAW
def test_all_grids_of_a_format_share_their_cells(kit):
    layout = layout_of(*kit)
    full = layout.full_grid
    cells = {
        (row, column): full.cell(row, column)
        for row in range(full.n_rows)
        for column in range(full.n_columns)
    }
    for n_rows in {1, full.n_rows - 1, full.n_rows} - {0}:
        for grid in (layout.grid(n_rows), layout.headed_grid(n_rows)):
            assert grid.n_rows == n_rows
            assert all(
                grid.cell(*place) == cell for place, cell in cells.items() if place[0] < n_rows
            )
    assert layout.grid() == layout.grid(full.n_rows)
    assert layout.grid().header_bands == ()


@given(kit=kits())
@LAW
def test_a_calendar_from_right_to_left_is_the_mirror_image(kit):
    recipe, shape = kit
    assume(isinstance(shape.margin, str))
    one, two = (
        layout_of(replace(recipe, words=replace(recipe.words, direction=direction)), shape)
        for direction in (ColumnsRun.LEFT_TO_RIGHT, ColumnsRun.RIGHT_TO_LEFT)
    )
    n_rows, n_columns = one.full_grid.n_rows, one.full_grid.n_columns
    pairs = [
        (one.full_grid.cell(r, c), two.full_grid.cell(r, c))
        for r in range(n_rows)
        for c in range(n_columns)
    ]
    pairs += zip(one.header_cells, two.header_cells, strict=True)
    pairs += [(one.hanging_cell(r), two.hanging_cell(r)) for r in range(n_rows)]
    for (left, top, right, bottom), other in pairs:
        assert other == near((one.side - right, top, one.side - left, bottom))
    assert one.headed_grid().rules(one.framed_widths) == two.headed_grid().rules(two.framed_widths)


@given(kit=kits())
@LAW
def test_header_cells_stand_over_their_columns_in_reading_order(kit):
    layout = layout_of(*kit)
    grid = layout.full_grid
    assert len(layout.header_cells) == grid.n_columns * len(grid.header_bands)
    for index, header in enumerate(layout.header_cells):
        row, column = divmod(index, grid.n_columns)
        cell = grid.cell(row, column)
        assert (header[0], header[2]) == (cell[0], cell[2])
        assert cell[1] - header[3] == near(layout.row_gutter)


@given(kit=kits())
@LAW
def test_blocks_stand_in_the_middle_of_their_cells(kit):
    layout = layout_of(*kit)
    assume(2 * layout.inset < min(layout.cell_width, layout.cell_height))
    grid = layout.grid()
    for row, column in itertools.product(range(grid.n_rows), range(grid.n_columns)):
        cell = grid.cell(row, column)
        block = inset_box(cell, layout.inset)
        assert (block[0] + block[2], block[1] + block[3]) == near(
            (cell[0] + cell[2], cell[1] + cell[3])
        )


@given(kit=kits())
@LAW
def test_what_hangs_lies_between_the_safe_edge_and_the_outermost_rule(kit):
    layout = layout_of(*kit)
    left, top, right, bottom = layout.hanging_column
    grid, heaviest = layout.full_grid, max(layout.rule, layout.heavy)
    outer, off = grid.outer_box, heaviest / 2 + HANGING_WHITE * layout.cell_width
    expected = (
        (outer[2] + off, layout.side - layout.safe)
        if layout.mirrored
        else (layout.safe, outer[0] - off)
    )
    assert (left, right) == near(expected)
    assert (top, bottom) == (grid.rows[0][0], grid.rows[-1][1])
    for row, (upper, lower) in enumerate(grid.rows):
        assert layout.hanging_cell(row) == (left, upper, right, lower)


@given(kit=kits(), title=st.floats(0.01, 1.0))
@LAW
def test_a_title_moves_everything_down_by_whole_px(kit, title):
    recipe, shape = kit
    bare, titled = layout_of(recipe, shape), layout_of(recipe, shape, title=title)
    band = titled.canvas[1] - bare.canvas[1]
    assert isinstance(band, int)
    assert title * recipe.side_px - 1e-6 <= band < title * recipe.side_px + 1
    assert titled.canvas[0] == bare.canvas[0]
    assert titled.full_grid.columns == bare.full_grid.columns
    for below, above in zip(titled.header_cells, bare.header_cells, strict=True):
        assert below == near((above[0], above[1] + band, above[2], above[3] + band))
    left, top, right, bottom = titled.title_box
    outer = titled.full_grid.outer_box
    assert (left, right, top) == (outer[0], outer[2], titled.margins.top)
    assert bottom - top == near(band)
    assert bottom <= outer[1] + 1e-6
    assert replace(titled, canvas=bare.canvas, full_grid=bare.full_grid, title_box=None) == bare


@given(kit=kits())
@LAW
def test_a_larger_canvas_enlarges_everything_alike(kit):
    recipe, shape = kit
    assume(shape.height == "fit")
    small, large = (
        layout_of(recipe, shape),
        layout_of(replace(recipe, side_px=3 * recipe.side_px), shape),
    )
    assert large.cell_width == near(3 * small.cell_width)
    assert large.rule == near(3 * small.rule)
    assert large.origin[0] == near(3 * small.origin[0])


def test_a_margin_of_one_format_moves_no_other():
    changed = recipe_of(ALL_KINDS.replace("[formats.tall]", '[formats.tall]\nmargin = "5 %"'))
    for before, after in zip(recipe_of().formats, changed.formats, strict=True):
        same = layout_of(recipe_of(), before) == layout_of(changed, after)
        assert same == (before.name != "tall")


def test_five_px_of_height_are_little_but_something():
    # 125 px less two margins of 60.
    assert layout_in("[formats.standard]\nheight = 0.05").cell_height == near(5 / 6.5)


# Refusals.


def test_a_row_that_isn_t_there_has_no_hanging_cell():
    with pytest.raises(IndexError, match=r"no cell \(6, 0\)"):
        layout_in("[formats.standard]").hanging_cell(6)


@pytest.mark.parametrize(
    ("text", "key", "between", "gutters", "sentence"),
    [
        (
            '[formats.strip]\ncolumn_gutter = "100 px"',
            "column_gutter",
            2380,
            3000,
            (
                "the cells of strip need room from left to right: between the margins lie 2380 px, "
                "of which the gutters take 3000 px"
            ),
        ),
        (
            '[formats.day]\nrow_gutter = "250 px"',
            "row_gutter",
            2380,
            3000,
            (
                "the cells of day need room from top to bottom: between the margins lie 2380 px, "
                "of "
                "which the gutters take 3000 px"
            ),
        ),
        (
            '[formats.standard]\nheight = 0.05\nmargin = "4 %"',
            "row_gutter",
            -75,
            0,
            (
                "the cells of standard need room from top to bottom: between the margins lie -75 "
                "px, "
                "of which the gutters take 0 px"
            ),
        ),
    ],
)
def test_margins_and_gutters_that_leave_nothing_are_refused(text, key, between, gutters, sentence):
    with pytest.raises(NoRoomError) as caught:
        layout_in(text)
    assert str(caught.value) == sentence
    assert (caught.value.key, caught.value.between_px, caught.value.gutters_px) == (
        key,
        near(between),
        near(gutters),
    )
