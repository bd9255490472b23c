import calendar
import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, box, union_all

from inkline.calendar.grid import Direction, Grid, HeaderOver, RuleWidths, Standing
from inkline.calendar.months import first_weekday, month_length, offset_from
from inkline.geometry.boxes import inset_box

WIDTHS = RuleWidths(frame_px=22, header_px=20, inner_px=16)
EXACT = 1e-9
LAW = settings(max_examples=60, deadline=None)

lengths = st.floats(1, 3000)
gutters = st.one_of(st.just(0.0), st.floats(0.01, 500))
grids = st.builds(
    Grid,
    n_rows=st.integers(1, 8),
    n_columns=st.integers(1, 31),
    cell_width_px=lengths,
    cell_height_px=lengths,
    origin=st.tuples(st.floats(-5000, 5000), st.floats(-5000, 5000)),
    header_height_px=st.one_of(st.just(0.0), lengths),
    column_gutter_px=gutters,
    row_gutter_px=gutters,
    header_over=st.sampled_from(HeaderOver),
    mirrored=st.booleans(),
)
small_grids = st.builds(
    Grid,
    n_rows=st.integers(1, 4),
    n_columns=st.integers(1, 4),
    cell_width_px=st.floats(20, 90),
    cell_height_px=st.floats(20, 90),
    origin=st.tuples(st.floats(-50, 50), st.floats(-50, 50)),
    header_height_px=st.one_of(st.just(0.0), st.floats(20, 90)),
    column_gutter_px=st.one_of(st.just(0.0), st.floats(10, 50)),
    row_gutter_px=st.one_of(st.just(0.0), st.floats(10, 50)),
    header_over=st.sampled_from(HeaderOver),
)


def grid_of(**changes):
    values = {
        "n_rows": 6,
        "cell_width_px": 340.0,
        "cell_height_px": 300.0,
        "origin": (60.0, 315.0),
        **changes,
    }
    return Grid(**values)


def rectangle(rule):
    return LineString([rule.start, rule.end]).buffer(rule.width_px / 2, cap_style="flat")


def cells_of(grid):
    """All cells, header cells too, by what they are and where."""
    cells = {
        ("cell", r, c): grid.cell(r, c) for r in range(grid.n_rows) for c in range(grid.n_columns)
    }
    n_headers = len(grid.header_bands)
    return cells | {
        ("header", r, c): grid.header_cell(c, row=r)
        for r in range(n_headers)
        for c in range(grid.n_columns)
    }


def across_and_down(rules):
    return [[rule for rule in rules if rule.direction is direction] for direction in Direction]


def test_edges_of_a_grid_with_a_weekday_row():
    grid = grid_of(header_height_px=150.0)
    edges = (60, 400, 740, 1080, 1420, 1760, 2100, 2440)
    assert grid.columns == tuple(itertools.pairwise(edges))
    assert grid.rows == tuple(itertools.pairwise((315, 615, 915, 1215, 1515, 1815, 2115)))
    assert grid.header_bands == ((165, 315),)
    assert grid.outer_box == (60, 165, 2440, 2115)
    assert grid.header_cell(2) == (740, 165, 1080, 315)


def test_edges_of_a_week_with_gutters_and_a_header_over_each_row():
    grid = grid_of(
        n_rows=2,
        n_columns=3,
        header_height_px=50.0,
        column_gutter_px=20.0,
        row_gutter_px=10.0,
        header_over=HeaderOver.EACH_ROW,
    )
    assert grid.columns == ((60, 400), (420, 760), (780, 1120))
    assert grid.rows == ((315, 615), (685, 985))
    assert grid.header_bands == ((255, 305), (625, 675))
    assert grid.outer_box == (60, 255, 1120, 985)
    assert grid.header_cell(1, row=1) == (420, 625, 760, 675)


@given(grid=grids)
@LAW
def test_columns_and_rows_are_equal_and_so_are_their_gutters(grid):
    pitch = grid.cell_height_px + grid.row_gutter_px
    if grid.header_height_px > 0 and grid.header_over is HeaderOver.EACH_ROW:
        pitch += grid.header_height_px + grid.row_gutter_px
    for (row, column), (left, top, right, bottom) in (
        (key[1:], cell) for key, cell in cells_of(grid).items() if key[0] == "cell"
    ):
        place = grid.n_columns - 1 - column if grid.mirrored else column
        assert abs(right - left - grid.cell_width_px) < EXACT
        assert abs(bottom - top - grid.cell_height_px) < EXACT
        assert (
            abs(left - grid.origin[0] - place * (grid.cell_width_px + grid.column_gutter_px))
            < EXACT
        )
        assert abs(top - grid.origin[1] - row * pitch) < EXACT
    for before, after in itertools.pairwise(grid.columns):
        assert abs(after[0] - before[1] - grid.column_gutter_px) < EXACT


@given(grid=grids)
@LAW
def test_what_touches_shares_its_edge_to_the_last_bit(grid):
    if grid.column_gutter_px == 0:
        assert all(before[1] == after[0] for before, after in itertools.pairwise(grid.columns))
    bands = sorted(grid.rows + grid.header_bands)
    if grid.row_gutter_px == 0:
        assert all(above[1] == below[0] for above, below in itertools.pairwise(bands))
    for above, below in itertools.pairwise(bands):
        assert abs(below[0] - above[1] - grid.row_gutter_px) < EXACT


@given(grid=grids)
@LAW
def test_header_bands_lie_over_their_rows_by_the_row_gutter(grid):
    n_bands = (
        0
        if grid.header_height_px == 0
        else 1
        if grid.header_over is HeaderOver.FIRST_ROW
        else grid.n_rows
    )
    assert len(grid.header_bands) == n_bands
    for row in range(n_bands):
        for column in range(grid.n_columns):
            header, cell = grid.header_cell(column, row=row), grid.cell(row, column)
            assert (header[0], header[2]) == (cell[0], cell[2])
            assert abs(header[3] - header[1] - grid.header_height_px) < EXACT
            assert abs(cell[1] - header[3] - grid.row_gutter_px) < EXACT


@given(grid=grids)
@LAW
def test_grids_with_and_without_header_bands_share_their_cells(grid):
    bare = grid.without_header()
    assert bare.header_bands == ()
    assert {key: cell for key, cell in cells_of(grid).items() if key[0] == "cell"} == cells_of(bare)


@given(grid=grids)
@LAW
def test_a_mirrored_grid_is_the_mirror_image(grid):
    values = {name: getattr(grid, name) for name in Grid.__dataclass_fields__}
    other = Grid(**{**values, "mirrored": not grid.mirrored})
    both_sides = grid.outer_box[0] + grid.outer_box[2]
    mirrored = cells_of(other)
    for key, (left, top, right, bottom) in cells_of(grid).items():
        image = both_sides - right, top, both_sides - left, bottom
        assert all(abs(one - two) < EXACT for one, two in zip(mirrored[key], image, strict=True))
    assert other.rules(WIDTHS) == grid.rules(WIDTHS)


@given(grid=grids)
@LAW
def test_blocks_stand_in_the_middle_of_their_cells(grid):
    smallest = min(grid.cell_width_px, grid.cell_height_px)
    for cell in (grid.cell(0, 0), grid.cell(grid.n_rows - 1, grid.n_columns - 1)):
        block = inset_box(cell, smallest / 5.0)
        for low, high in ((0, 2), (1, 3)):
            assert abs(block[low] + block[high] - cell[low] - cell[high]) < EXACT
            assert (
                abs((cell[high] - cell[low]) - (block[high] - block[low]) - smallest / 2.5) < EXACT
            )


def test_every_day_of_the_cycle_stands_in_its_column_and_row():
    # All 4800 months of the Gregorian cycle and three first days of the week against Python's
    # calendar module.
    where = {}
    for mirrored in (False, True):
        grid = grid_of(header_height_px=150.0, mirrored=mirrored, column_gutter_px=7.0)
        places = {grid.cell(row, column): (row, column) for row in range(6) for column in range(7)}
        lefts = sorted({cell[0] for cell in places})
        for offset in range(7):
            for day in range(1, 32):
                cell = grid.day_cell(day, offset=offset)
                from_left = lefts.index(cell[0])
                where[mirrored, offset, day] = (
                    places[cell][0],
                    6 - from_left if mirrored else from_left,
                )
    n_days = 0
    for start in (calendar.SUNDAY, calendar.MONDAY, calendar.SATURDAY):
        reference = calendar.Calendar(firstweekday=start)
        for year, month in itertools.product(range(2000, 2400), range(1, 13)):
            offset = offset_from(first_weekday(year, month), week_start=start)
            weeks = reference.monthdayscalendar(year, month)
            days = {
                day: (row, column)
                for row, week in enumerate(weeks)
                for column, day in enumerate(week)
                if day
            }
            ours = {
                day: where[False, offset, day] for day in range(1, month_length(year, month) + 1)
            }
            assert ours == days
            n_days += len(days)
    assert n_days == 3 * 146_097  # days of the cycle, a fact of the calendar's rule
    assert all(where[True, offset, day] == where[False, offset, day] for _, offset, day in where)


def test_the_days_of_a_strip_run_on():
    strip = grid_of(n_rows=2, n_columns=16, header_height_px=40.0, header_over=HeaderOver.EACH_ROW)
    assert strip.day_cell(16, offset=0) == strip.cell(0, 15)
    assert strip.day_cell(17, offset=0) == strip.cell(1, 0)


def test_days_follow_the_rows():
    grid = grid_of()
    assert grid.day_cell(1, offset=0) == grid.cell(0, 0)
    assert grid.day_cell(1, offset=6) == grid.cell(0, 6)
    assert grid.day_cell(2, offset=6) == grid.cell(1, 0)
    assert grid.day_cell(31, offset=6) == grid.cell(5, 1)


def test_the_first_day_of_a_mirrored_week_stands_at_the_right():
    grid = grid_of(mirrored=True, header_height_px=150.0)
    assert grid.cell(0, 0) == (2100, 315, 2440, 615)
    assert grid.header_cell(6) == (60, 165, 400, 315)


def test_a_day_beyond_the_grid_is_refused():
    with pytest.raises(IndexError, match=r"5 rows and 7 columns has no cell \(5, 1\)"):
        grid_of(n_rows=5).day_cell(31, offset=6)


@pytest.mark.parametrize(("column", "row"), [(-1, 0), (7, 0), (0, 1), (0, -1)])
def test_a_header_cell_beyond_the_grid_is_refused(column, row):
    with pytest.raises(IndexError, match=f"no header cell {column} over row {row}"):
        grid_of(header_height_px=100.0).header_cell(column, row=row)


def test_a_grid_without_header_bands_has_no_cell_of_one():
    with pytest.raises(IndexError, match="no header cell 0 over row 0"):
        grid_of().header_cell(0)


def test_names_and_places_of_rules():
    across, down = across_and_down(grid_of(header_height_px=150.0).rules(WIDTHS))
    assert [rule.name for rule in across] == [f"across-{number}" for number in range(1, 9)]
    assert [rule.name for rule in down] == [f"down-{number}" for number in range(1, 9)]
    assert [rule.place for rule in across] == [
        Standing.FRAME,
        Standing.HEADER,
        *[Standing.INNER] * 5,
        Standing.FRAME,
    ]
    assert [rule.place for rule in down] == [Standing.FRAME, *[Standing.INNER] * 6, Standing.FRAME]
    assert [rule.width_px for rule in across] == [22, 20, 16, 16, 16, 16, 16, 22]
    assert {rule.panel for rule in across + down} == {""}


def test_a_rule_lies_under_each_header_band():
    grid = grid_of(n_rows=3, header_height_px=150.0, header_over=HeaderOver.EACH_ROW)
    across, _ = across_and_down(grid.rules(WIDTHS))
    inner = [Standing.HEADER, Standing.INNER] * 2 + [Standing.HEADER]
    assert [rule.place for rule in across] == [Standing.FRAME, *inner, Standing.FRAME]
    assert [rule.start[1] for rule in across] == [165, 315, 615, 765, 1065, 1215, 1515]


@pytest.mark.parametrize(
    ("changes", "panels"),
    [
        ({"column_gutter_px": 9.0}, ["c1", "c2"]),
        ({"row_gutter_px": 9.0}, ["r1", "r2", "r3"]),
        (
            {"row_gutter_px": 9.0, "column_gutter_px": 9.0},
            ["r1c1", "r1c2", "r2c1", "r2c2", "r3c1", "r3c2"],
        ),
    ],
)
def test_names_of_the_rules_of_panels(changes, panels):
    grid = grid_of(n_rows=2, n_columns=2, header_height_px=40.0, **changes)
    rules = grid.rules(WIDTHS)
    assert [panel for panel, _ in itertools.groupby(rule.panel for rule in rules)] == panels
    assert rules[0].name == f"{panels[0]}-across-1"
    assert len({rule.name for rule in rules}) == len(rules)
    for panel in panels:
        for one_way in across_and_down([rule for rule in rules if rule.panel == panel]):
            assert [rule.number for rule in one_way] == list(range(1, len(one_way) + 1))
            assert [rule.place is Standing.FRAME for rule in one_way] == [
                number in {1, len(one_way)} for number in range(1, len(one_way) + 1)
            ]


def test_the_frame_has_square_corners_and_nothing_stands_out():
    # The union of all butt-ended rules fills the frame's outer box less the white of each cell
    # (GEOS through shapely).
    grid = grid_of(header_height_px=150.0)
    drawn = union_all([rectangle(rule) for rule in grid.rules(WIDTHS)])
    left, top, right, bottom = grid.outer_box
    outer = box(left - 11, top - 11, right + 11, bottom + 11)
    assert outer.symmetric_difference(box(*drawn.bounds)).area < 1e-6
    assert outer.boundary.difference(drawn.boundary.buffer(1e-9)).length < 1e-6
    whites = outer.difference(drawn)
    assert len(whites.geoms) == 7 * 7


@given(grid=small_grids, width=st.floats(1, 9))
@LAW
def test_rules_draw_a_ring_around_each_cell_and_nothing_else(grid, width):
    # The union of rectangles against rings made from the cells alone (GEOS through shapely).
    widths = RuleWidths(frame_px=width, header_px=width, inner_px=width)
    drawn = union_all([rectangle(rule) for rule in grid.rules(widths)])
    half = width / 2.0
    rings = [
        box(x0 - half, y0 - half, x1 + half, y1 + half).difference(
            box(x0 + half, y0 + half, x1 - half, y1 - half)
        )
        for x0, y0, x1, y1 in cells_of(grid).values()
    ]
    assert drawn.symmetric_difference(union_all(rings)).area < 1e-6
    assert drawn.hausdorff_distance(union_all(rings)) < 1e-6


@given(grid=small_grids)
@LAW
def test_crossings_are_where_the_rules_of_a_panel_meet(grid):
    rules = grid.rules(WIDTHS)
    for rule in rules:
        axis = 0 if rule.direction is Direction.ACROSS else 1
        others = [
            other
            for other in rules
            if other.panel == rule.panel and other.direction is not rule.direction
        ]
        met = [rule.start[axis] + length for length in rule.crossings]
        assert met == pytest.approx([other.start[axis] for other in others], abs=EXACT)
        assert list(rule.crossings) == sorted(rule.crossings)
        assert rule.crossings[0] >= 0
        assert rule.crossings[-1] <= rule.end[axis] - rule.start[axis] + EXACT


@given(grid=small_grids)
@LAW
def test_gutters_part_the_rules_of_panels(grid):
    # Rules narrower than a gutter: as many separate drawn pieces as there are panels.
    widths = RuleWidths(frame_px=6, header_px=4, inner_px=4)
    drawn = union_all([rectangle(rule) for rule in grid.rules(widths)])
    pieces = len(getattr(drawn, "geoms", [drawn]))
    n_bands = grid.n_rows + len(grid.header_bands)
    expected = (n_bands if grid.row_gutter_px else 1) * (
        grid.n_columns if grid.column_gutter_px else 1
    )
    assert pieces == expected == len({rule.panel for rule in grid.rules(widths)})


def test_five_weeks_are_six_less_the_last():
    five, six = grid_of(n_rows=5), grid_of(n_rows=6)
    assert six.rows[:-1] == five.rows
    assert six.columns == five.columns
    across, _ = across_and_down(six.rules(WIDTHS))
    assert five.rules(WIDTHS)[:5] == tuple(across[:5])
    assert five.rules(WIDTHS)[5].start[1] == across[5].start[1]


def test_an_inset_is_the_same_on_all_sides():
    assert inset_box((0, 0, 100, 50), 10) == (10, 10, 90, 40)


@pytest.mark.parametrize("inset", [-1, 25, 30])
def test_an_inset_that_leaves_nothing_is_refused(inset):
    with pytest.raises(ValueError, match=f"an inset of {inset} px does not fit"):
        inset_box((0, 0, 100, 50), inset)


@pytest.mark.parametrize("field", ["n_rows", "n_columns", "cell_width_px", "cell_height_px"])
def test_a_grid_of_nothing_is_refused(field):
    with pytest.raises(ValueError, match=f"{field} must be above 0, not 0"):
        grid_of(**{field: 0})


@pytest.mark.parametrize("field", ["header_height_px", "column_gutter_px", "row_gutter_px"])
@pytest.mark.parametrize("value", [-1, float("inf"), float("nan")])
def test_what_is_less_than_nothing_is_refused(field, value):
    with pytest.raises(ValueError, match=f"{field} must be at least 0, not {value}"):
        grid_of(**{field: value})


def test_a_rule_without_width_is_refused():
    with pytest.raises(ValueError, match="inner_px must be above 0, not 0"):
        RuleWidths(frame_px=1, header_px=1, inner_px=0)
