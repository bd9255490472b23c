import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, box, union_all

from inkline.calendar.grid import Direction, MonthGrid, Place, RuleWidths, inset_box

WIDTHS = RuleWidths(frame_px=22, header_px=20, inner_px=16)


def grid_of(**changes):
    values = {"n_rows": 6, "cell_width_px": 340.0, "cell_height_px": 300.0, "origin": (60.0, 315.0), **changes}
    return MonthGrid(**values)


def rectangle(rule):
    return LineString([rule.start, rule.end]).buffer(rule.width_px / 2, cap_style="flat")


def test_edges_of_a_grid_with_a_weekday_row():
    grid = grid_of(header_height_px=150.0)
    assert grid.column_edges == (60, 400, 740, 1080, 1420, 1760, 2100, 2440)
    assert grid.cell_edges == (315, 615, 915, 1215, 1515, 1815, 2115)
    assert grid.row_edges == (165, *grid.cell_edges)
    assert grid.outer == (60, 165, 2440, 2115)
    assert grid.header_cell(2) == (740, 165, 1080, 315)


@given(
    width=st.floats(1, 3000),
    height=st.floats(1, 3000),
    x=st.floats(-5000, 5000),
    y=st.floats(-5000, 5000),
    n_rows=st.integers(1, 8),
)
@settings(max_examples=60, deadline=None)
def test_cells_are_equal_and_cover_the_grid(width, height, x, y, n_rows):
    grid = grid_of(cell_width_px=width, cell_height_px=height, origin=(x, y), n_rows=n_rows)
    for row in range(n_rows):
        for column in range(7):
            left, top, right, bottom = grid.cell(row, column)
            assert abs(right - left - width) < 1e-9
            assert abs(bottom - top - height) < 1e-9
            assert abs(left - x - column * width) < 1e-9


def test_days_follow_the_rows():
    grid = grid_of()
    assert grid.day_cell(1, offset=0) == grid.cell(0, 0)
    assert grid.day_cell(1, offset=6) == grid.cell(0, 6)
    assert grid.day_cell(2, offset=6) == grid.cell(1, 0)
    assert grid.day_cell(31, offset=6) == grid.cell(5, 1)


def test_a_day_beyond_the_grid_is_refused():
    with pytest.raises(IndexError, match=r"5 rows and 7 columns has no cell \(5, 1\)"):
        grid_of(n_rows=5).day_cell(31, offset=6)


@pytest.mark.parametrize("column", [-1, 7])
def test_a_weekday_beyond_the_week_is_refused(column):
    with pytest.raises(IndexError, match=f"no weekday cell {column}"):
        grid_of(header_height_px=100.0).header_cell(column)


def test_a_grid_without_weekdays_has_no_cell_for_one():
    with pytest.raises(IndexError, match="no weekday cell 0"):
        grid_of().header_cell(0)


def test_names_and_places_of_rules():
    rules = grid_of(header_height_px=150.0).rules(WIDTHS)
    across = [rule for rule in rules if rule.direction is Direction.ACROSS]
    down = [rule for rule in rules if rule.direction is Direction.DOWN]
    assert [rule.name for rule in across] == [f"across-{number}" for number in range(1, 9)]
    assert [rule.place for rule in across] == [Place.FRAME, Place.HEADER, *[Place.INNER] * 5, Place.FRAME]
    assert [rule.place for rule in down] == [Place.FRAME, *[Place.INNER] * 6, Place.FRAME]
    assert [rule.width_px for rule in across] == [22, 20, 16, 16, 16, 16, 16, 22]


def test_the_frame_has_square_corners_and_nothing_stands_out():
    # The union of all butt-ended rules fills the frame's outer box less the white of each cell (GEOS through shapely).
    grid = grid_of(header_height_px=150.0)
    drawn = union_all([rectangle(rule) for rule in grid.rules(WIDTHS)])
    left, top, right, bottom = grid.outer
    outer = box(left - 11, top - 11, right + 11, bottom + 11)
    assert outer.symmetric_difference(box(*drawn.bounds)).area < 1e-6
    assert outer.boundary.difference(drawn.boundary.buffer(1e-9)).length < 1e-6
    whites = outer.difference(drawn)
    assert len(whites.geoms) == 7 * 7


def test_crossings_are_where_rules_meet():
    rules = grid_of(header_height_px=150.0).rules(WIDTHS)
    across = [rule for rule in rules if rule.direction is Direction.ACROSS]
    down = [rule for rule in rules if rule.direction is Direction.DOWN]
    for rule, others, axis in [(r, down, 0) for r in across] + [(r, across, 1) for r in down]:
        assert [rule.start[axis] + length for length in rule.crossings] == [other.start[axis] for other in others]
        assert list(rule.crossings) == sorted(rule.crossings)
        assert rule.crossings[0] >= 0
        assert rule.crossings[-1] <= rule.end[axis] - rule.start[axis]


def test_five_weeks_are_six_less_the_last():
    five, six = grid_of(n_rows=5), grid_of(n_rows=6)
    assert six.row_edges[:-1] == five.row_edges
    assert six.column_edges == five.column_edges
    across = [rule for rule in six.rules(WIDTHS) if rule.direction is Direction.ACROSS]
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


def test_a_negative_weekday_row_is_refused():
    with pytest.raises(ValueError, match="header_height_px must be at least 0, not -1"):
        grid_of(header_height_px=-1)


def test_a_rule_without_width_is_refused():
    with pytest.raises(ValueError, match="inner_px must be above 0, not 0"):
        RuleWidths(frame_px=1, header_px=1, inner_px=0)
