"""Grids of all formats: which there are, their takes, and how far rules may run over."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faces import scullery
from inkline.calendar.grid import Grid, RuleWidths
from inkline.ink.engine import draw
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import plan_makers
from inkline.kit.stamps.content import RuleContent
from inkline.kit.stamps.grids import _whites
from inkline.styles.files import style_of

HEAD = 'version = 1\ntitle = "G"\nnumber = 7\n[canvas]\nside = "1000 px"\n'
PANELS = "column_gutter = 0.15\nrow_gutter = 0.1"


def makers(body, name="sheet"):
    return plan_makers(
        recipe_from_text(f"{HEAD}[formats.{name}]\n{body}", source="t.toml", folder=Path()),
        scullery(),
    )


def stems(body, kind="grid"):
    return [
        name.split("/")[1]
        for name, make in makers(body).items()
        if name.startswith(f"sheet/{kind}")
    ]


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ("", ["grid-5", "grid-6", "grid-5-head", "grid-6-head"]),
        ("weeks = [4, 5, 6]\nheader = 'with'", ["grid-4-head", "grid-5-head", "grid-6-head"]),
        ("weeks = [6]\nheader = 'without'", ["grid-6"]),
        ("weeks = [6]\ntakes = 2", ["grid-6-a", "grid-6-b", "grid-6-head-a", "grid-6-head-b"]),
        ("shows = 'strip'", ["grid", "grid-head"]),
        (
            "shows = 'week'\ntakes = 3\nheader = 'with'",
            ["grid-head-a", "grid-head-b", "grid-head-c"],
        ),
        ("shows = 'day'\nheader = 'without'", ["grid"]),
        ("shows = 'small'", []),
    ],
)
def test_a_format_has_these_grids(body, expected):
    assert stems(body) == expected


def test_takes_share_their_exact_geometry_and_differ_in_ink():
    made = {
        name: make() for name, make in makers("weeks = [5]\ntakes = 3\nheader = 'with'").items()
    }
    takes = [made[f"sheet/grid-5-head-{letter}"] for letter in "abc"]
    lines = [
        [(line["from"], line["to"], line["width_px"]) for line in take.geometry()["lines"]]
        for take in takes
    ]
    assert lines[0] == lines[1] == lines[2]
    style = style_of("round-pen", {}, where="t")
    inks = [draw(take.drawing(), style, 7).marks for take in takes]
    for one, other in zip(inks[0], inks[1], strict=True):
        assert not np.array_equal(one.contours[0], other.contours[0])


def test_four_weeks_are_six_less_two_rows():
    made = {name: make() for name, make in makers("weeks = [4, 6]\nheader = 'without'").items()}
    four, six = (made[f"sheet/grid-{n}"].geometry()["lines"] for n in (4, 6))
    level = [
        [line["from"][1] for line in lines if "across" in line["name"]] for lines in (four, six)
    ]
    assert level[0] == level[1][:5]


@pytest.mark.parametrize("shows", ["month", "strip", "day"])
def test_rules_may_run_over_up_to_what_is_safe_from_the_canvas_edge(shows):
    plan = next(
        make()
        for name, make in makers(f"shows = '{shows}'\nheight = 'fit'").items()
        if "grid" in name
    )
    width, height = plan.canvas
    assert height != width
    for mark in plan.drawing().marks:
        axis = int(mark.points[0][0] == mark.points[1][0])
        far = (width, height)[axis]
        assert mark.points[0][axis] - mark.room_px[0] == pytest.approx(
            9.6, abs=1e-9
        )  # 0.96 % of 1000 px
        assert mark.points[1][axis] + mark.room_px[1] == pytest.approx(far - 9.6, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(
    columns=st.integers(1, 5),
    rows=st.integers(1, 4),
    gutters=st.tuples(st.floats(0.0, 60.0), st.floats(0.0, 60.0)),
    header=st.sampled_from([0.0, 30.0]),
    frame=st.floats(1.0, 12.0),
)
def test_no_rule_may_reach_the_next_panel_and_those_that_face_one_another_have_white_between(
    columns, rows, gutters, header, frame
):
    widths = RuleWidths(frame_px=frame, header_px=frame, inner_px=frame / 2.0)
    across, down = (0.0 if gutter < frame + 1.0 else gutter for gutter in gutters)
    grid = Grid(
        n_rows=rows,
        n_columns=columns,
        cell_width_px=80.0,
        cell_height_px=60.0,
        origin=(50.0, 150.0),
        header_height_px=header,
        column_gutter_px=across,
        row_gutter_px=down,
    )
    whites = (_whites(grid.columns, widths), _whites((*grid.header_bands, *grid.rows), widths))
    content = RuleContent(rules=grid.rules(widths), canvas=(800, 700), safe=9.0, whites=whites)
    edges = [sorted(grid.columns), sorted((*grid.header_bands, *grid.rows))]
    for mark in content.layer("t/grid").marks:
        axis = int(mark.points[0][0] == mark.points[1][0])
        first, last = mark.points[0][axis] - mark.room_px[0], mark.points[1][axis] + mark.room_px[1]
        own = [
            at
            for at in edges[axis]
            if mark.points[0][axis] - frame < at[0] and at[1] < mark.points[1][axis] + frame
        ]
        later = [at[0] - frame / 2.0 for at in edges[axis] if at[0] > own[-1][1] + frame / 2.0]
        before = [at[1] + frame / 2.0 for at in edges[axis] if at[1] < own[0][0] - frame / 2.0]
        assert last < min((*later, 800.0))
        assert first > max((*before, 0.0))
        assert min(mark.room_px) >= 0.0


@pytest.mark.parametrize("name", ["round-pen", "dip-pen"])
def test_ink_stays_out_of_the_next_panels(name):
    """A rule drawn with run-over, touchdowns and edge keeps to its own panel.

    No rule's ink crosses into the box of another panel's frame.
    """
    made = makers(f"weeks = [5]\nheader = 'without'\n{PANELS}")
    drawing = made["sheet/grid-5"]().drawing()
    inked = draw(drawing, style_of(name, {}, where="t"), 7)
    across = [mark for mark in drawing.marks if "across" in mark.name]
    starts = sorted({round(float(mark.points[0][0]), 6) for mark in across})
    ends = sorted({round(float(mark.points[1][0]), 6) for mark in across})
    assert len(starts) == len(ends) == 7
    run_over = []
    for mark in inked.marks:
        if "across" not in mark.name:
            continue
        column = int(mark.name.split("c")[1].split("-")[0]) - 1
        xs = np.concatenate([contour[:, 0] for contour in mark.contours])
        assert column == 6 or xs.max() < starts[column + 1]
        assert column == 0 or xs.min() > ends[column - 1]
        run_over.append(xs.max() - ends[column])
    # They end in the ink of their frame, or beyond it where there is room.
    assert max(run_over) > -0.5 * max(mark.width_px for mark in across)


def test_panels_share_their_drift_among_their_own_rules_only():
    made = makers(f"weeks = [5]\nheader = 'without'\n{PANELS}")
    shared = {mark.shared for mark in made["sheet/grid-5"]().drawing().marks}
    assert len(shared) == 2 * 5 * 7
    assert {mark.shared for mark in makers("")["sheet/grid-5"]().drawing().marks} == {
        "sheet/grid-5/across",
        "sheet/grid-5/down",
    }


@pytest.mark.parametrize("stem", ["grid-5", "grid-5-head", "blocks-5", "blocks-head"])
def test_the_first_of_several_takes_is_what_the_only_one_was(stem):
    one, several = (
        makers("weeks = [5]")[f"sheet/{stem}"](),
        makers("weeks = [5]\ntakes = 2")[f"sheet/{stem}-a"](),
    )
    style = style_of("round-pen", {}, where="t")
    before, after = (draw(plan.drawing(), style, 7).marks for plan in (one, several))
    assert [mark.name for mark in before] == [mark.name for mark in after]
    for mark, same in zip(before, after, strict=True):
        for contour, its in zip(mark.contours, same.contours, strict=True):
            np.testing.assert_array_equal(contour, its)
