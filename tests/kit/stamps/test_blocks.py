"""Blocks of all forms, where they lie, and those with dates cut out."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely

from faces import scullery
from inkline.drawing import Leaves, Role, Stroke
from inkline.geometry.boxes import inset_box
from inkline.geometry.polygon import signed_area
from inkline.ink.engine import draw
from inkline.ink.style import EXACT
from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import plan_makers
from inkline.kit.stamps.measures import layout_of
from inkline.kit.stamps.outlines import LEAST_OVERLAP, MOST_OVERLAP, OutlineContent, run_around
from inkline.press.shop import inputs_of_drawn
from inkline.raster.compose import render

HEAD = (
    'version = 1\ntitle = "B"\nnumber = 7\n[canvas]\nside = "{side} px"\n[style]\n'
    'name = "{style}"\n[formats.sheet]\n'
)
IN_BLOCKS = 'gap_from = "blocks"\ngap = 0.12\nnumeral = 0.4\n'


def recipe(body, *, side=1000, style="round-pen", number=7):
    text = HEAD.format(side=side, style=style).replace("number = 7", f"number = {number}") + body
    return recipe_from_text(text, source="t.toml", folder=Path())


def plans(body, **options):
    return {
        name: make()
        for name, make in plan_makers(recipe(body, **options), scullery()).items()
        if "/bl" in name
    }


def boxes_of(plan):
    return {box["name"].split("/")[-1]: box for box in plan.geometry()["boxes"]}


def cells_of(body):
    one = recipe(body)
    return layout_of(one, one.formats[0])


def stems(body):
    return [name.split("/")[1] for name in plans(body)]


CUT_5 = [f"blocks-5-cut-{n}" for n in range(1, 6)]
CUT_6 = [f"blocks-6-cut-{n}" for n in range(1, 8)]
LENGTHS = (28, 29, 30, 31)
CUT_5_EXACT = [
    f"blocks-5-cut-{n}-{days}" for n in range(1, 8) for days in LENGTHS if n - 1 + days <= 35
]
CUT_6_EXACT = [
    f"blocks-6-cut-{n}-{days}" for n in range(1, 8) for days in LENGTHS if n - 1 + days > 35
]


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ("", ["blocks-5", "blocks-6", "blocks-head"]),
        ("blocks = 'none'", []),
        ("blocks = 'cut'", ["blocks-head", *CUT_5, *CUT_6]),
        ("blocks = 'both'\nweeks = [5]", ["blocks-5", "blocks-head", *CUT_5]),
        ("blocks = 'both'\nweeks = [4]", ["blocks-4", "blocks-head"]),
        (
            "blocks = 'cut'\nweeks = [5]\ndates = 'exact'\nsplit = 'weekend'",
            ["blocks-head", *CUT_5_EXACT],
        ),
        (
            "blocks = 'cut'\ndates = 'exact'\nheader = 'without'",
            ["blocks-4-cut-1-28", *CUT_5_EXACT[1:], *CUT_6_EXACT],
        ),
        (
            "blocks = 'cut'\nweeks = [6]\ndates = 'both'\nheader = 'without'",
            [
                one
                for n in range(1, 8)
                for one in (
                    f"blocks-6-cut-{n}",
                    *(f"blocks-6-cut-{n}-{days}" for days in (28, 29, 30)),
                )
            ],
        ),
        ("weeks = [6]\ntakes = 2", ["blocks-6-a", "blocks-6-b", "blocks-head-a", "blocks-head-b"]),
        ("weeks = [6]\ntakes = 2\nblock_edge = 'crisp'", ["blocks-6", "blocks-head"]),
        ("shows = 'strip'\nblocks = 'both'", ["blocks", "blocks-head", "blocks-cut-31"]),
        (
            "shows = 'strip'\nblocks = 'cut'\ndates = 'exact'",
            ["blocks-head", "blocks-cut-31", "blocks-cut-30", "blocks-cut-29", "blocks-cut-28"],
        ),
        ("shows = 'week'\nblocks = 'both'", ["blocks", "blocks-head"]),
        ("shows = 'day'", ["blocks", "blocks-head"]),
        ("shows = 'small'", []),
        ("shows = 'small'\nblocks = 'plain'", ["blocks", "blocks-head"]),
    ],
)
def test_a_format_has_these_blocks(body, expected):
    assert stems(body) == expected


@pytest.mark.parametrize("shows", ["month", "strip", "week", "day", "small"])
@pytest.mark.parametrize("form", ["box", "circle"])
@pytest.mark.parametrize("fill", ["filled", "outlined"])
def test_blocks_stand_in_the_middle_of_their_cells(shows, form, fill):
    body = (
        f"shows = '{shows}'\nblocks = 'plain'\nblock_form = '{form}'\nblock_fill = "
        f"'{fill}'\nblock_line = '1 px'\n"
        "column_gutter = 0.05\nrow_gutter = 0.08\nblock_inset = 0.005\nblock_corner = 0.005"
    )
    layout = cells_of(body)
    grid = layout.grid()
    cells = {
        f"r{r + 1}c{c + 1}": grid.cell(r, c)
        for r in range(grid.n_rows)
        for c in range(grid.n_columns)
    }
    cells |= {f"c{number}": cell for number, cell in enumerate(layout.header_cells, start=1)}
    made = plans(body)
    days = max((name for name in made if "head" not in name), key=len)
    found = boxes_of(made[days]) | boxes_of(made["sheet/blocks-head"])
    for name, box in found.items():
        x0, y0, x1, y1 = cells[name]
        room = (x1 - x0 - 2 * layout.inset, y1 - y0 - 2 * layout.inset)
        # Words are wide: over weekdays there are boxes.
        wanted = room if form == "box" or name.startswith("c") else (min(room), min(room))
        assert (box["x0"] + box["x1"], box["y0"] + box["y1"]) == pytest.approx(
            (x0 + x1, y0 + y1), abs=1e-9
        )
        assert (box["x1"] - box["x0"], box["y1"] - box["y0"]) == pytest.approx(wanted, abs=1e-9)
    if shows != "month":
        assert set(found) == set(cells)


def test_every_circle_is_as_round_as_its_box_is_wide():
    for box in boxes_of(plans("block_form = 'circle'\ncell = 1.3")["sheet/blocks-5"]).values():
        assert 2 * box["radius"] == pytest.approx(box["x1"] - box["x0"], abs=1e-9)


@pytest.mark.parametrize("side", [1000, 2500])
@pytest.mark.parametrize("fill", ["filled", "outlined"])
def test_circles_can_be_drawn_however_their_sides_are_rounded(side, fill):
    for inset in np.linspace(0.01, 0.2, 9):
        body = (
            f"weeks = [5]\ncell = 1.2\nblock_form = 'circle'\nblock_fill = '{fill}'\n"
            f"block_inset = {inset:.5f}"
        )
        for plan in plans(body, side=side).values():
            assert len(list(plan.drawing().marks)) in {7, 35}


def test_blocks_are_left_out_by_name_and_nothing_else_changes():
    whole, less = plans(""), plans("block_omit = ['r5c4', 'c1']")
    for stem, gone in (("blocks-5", {"r5c4"}), ("blocks-6", {"r5c4"}), ("blocks-head", {"c1"})):
        one, other = boxes_of(whole[f"sheet/{stem}"]), boxes_of(less[f"sheet/{stem}"])
        assert set(one) - set(other) == gone
        assert all(one[name] == box for name, box in other.items())
        assert set(less[f"sheet/{stem}"].content.labels) == set(other)


def test_right_to_left_calendars_count_blocks_from_the_right():
    plan = plans("[words]\ndirection = 'right to left'")["sheet/blocks-5"]
    boxes = boxes_of(plan)
    assert boxes["r1c1"]["x0"] > boxes["r1c7"]["x0"]


def areas_of(parts, side):
    """Area of `parts`, polygons apart from one another, on each pixel, 0 to 1, by GEOS.

    Only pixels near each polygon are asked for.
    """
    areas = np.zeros((side, side))
    for part in parts:
        x0, y0, x1, y1 = (int(bound) for bound in shapely.bounds(part))
        x, y = np.meshgrid(np.arange(x0, x1 + 1), np.arange(y0, y1 + 1))
        areas[y0 : y1 + 1, x0 : x1 + 1] += shapely.area(
            shapely.intersection(shapely.box(x, y, x + 1, y + 1), part)
        )
    return areas


def ring_area(box):
    """The exact outline by GEOS: the rounded box less a smaller one."""
    x0, y0, x1, y1 = (box[key] for key in ("x0", "y0", "x1", "y1"))
    radius, line = box["radius"], box["line_px"]

    def rounded(inset):
        r = radius - inset
        core = shapely.box(x0 + radius, y0 + radius, x1 - radius, y1 - radius)
        return core.buffer(r, quad_segs=48)

    return rounded(0.0).difference(rounded(line))


@pytest.mark.parametrize("form", ["box", "circle"])
def test_an_outline_lies_inside_the_box_s_edge_exactly(form):
    """Every pixel of the exact picture against areas by GEOS.

    The pen's run over its start shows nowhere.
    """
    body = (
        f"weeks = [4]\nblock_form = '{form}'\nblock_fill = 'outlined'\nblock_line = '4 px'\n"
        f"block_omit = ['r1c1']"
    )
    plan = plans(body, side=240)["sheet/blocks-4"]
    picture = render(draw(plan.drawing(), EXACT, 7))
    areas = areas_of([ring_area(box) for box in plan.geometry()["boxes"]], 240)
    assert np.abs(picture - 255 * areas).max() <= 2.0
    assert abs((picture - 255 * areas).sum()) < 0.04 * (picture > 0).sum()


def outline(width=120.0, radius=20.0, line=6.0, number=7, count=60):
    boxes = tuple((f"r1c{n}", (0.0, 0.0, width, 90.0)) for n in range(1, count))
    return OutlineContent(boxes=boxes, radius=radius, line_px=line, number=number)


def test_pens_set_out_somewhere_else_each_time_but_mostly_up_there():
    starts = np.array([mark.points[0] for mark in outline().layer("t/blocks-5").marks])
    assert len({tuple(start) for start in starts.round(3)}) == len(starts)
    assert (starts[:, 1] < 45.0).all()
    assert (starts[:, 0] < 75.0).all()
    ways = [np.sign(signed_area(mark.points)) for mark in outline().layer("t/blocks-5").marks]
    assert 0.6 < ways.count(-1.0) / len(ways) < 0.95


def test_where_they_set_out_depends_on_the_number_and_the_name_alone():
    def starts(content, stamp="t/blocks-5"):
        return [tuple(mark.points[0]) for mark in content.layer(stamp).marks]

    few = replace(outline(), boxes=outline().boxes[5:9])
    assert starts(outline())[5:9] == starts(few)
    assert starts(outline()) != starts(outline(number=8))
    assert starts(outline()) != starts(outline(), "t/blocks-5-b")


def test_the_way_runs_once_around_and_on_over_its_start():
    for mark in outline(count=20).layer("t/blocks-5").marks:
        assert isinstance(mark, Stroke)
        assert mark.role is Role.BLOCK
        length = np.hypot(*np.diff(mark.points, axis=0).T).sum()
        around = 2 * (120.0 - 6.0 - 34.0) + 2 * (90.0 - 6.0 - 34.0) + 2 * np.pi * 17.0
        assert 1 + LEAST_OVERLAP - 1e-3 < length / around < 1 + MOST_OVERLAP + 1e-3
        assert np.hypot(*np.diff(mark.points, axis=0).T).min() > 0.0


def test_a_way_around_a_square_by_hand():
    square = np.array([(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)])
    right = run_around(square, reference=(0.1, 0.0), start=0.125, overlap=0.0625, leftwards=False)
    assert right.tolist() == [[2, 0], [4, 0], [4, 4], [0, 4], [0, 0], [3, 0]]
    left = run_around(square, reference=(0.1, 0.0), start=0.125, overlap=0.1875, leftwards=True)
    assert left.tolist() == [[2, 0], [0, 0], [0, 4], [4, 4], [4, 0], [0, 0], [0, 1]]
    before = run_around(square, reference=(0.1, 0.0), start=-0.125, overlap=0.0625, leftwards=False)
    assert before.tolist() == [[0, 2], [0, 0], [4, 0], [4, 4], [0, 4], [0, 1]]


def test_a_pen_leaves_no_corner_sharper_than_half_its_width():
    (box, *_) = outline(radius=0.0).geometry("t/blocks-5")["boxes"]
    assert (box["radius"], box["line_px"]) == (3.0, 6.0)


@pytest.mark.parametrize("level", ["top", "middle", "bottom"])
def test_underlines_lie_under_the_numerals_and_in_their_boxes(level):
    body = (
        f"weeks = [5]\nblock_form = 'underline'\nblock_line = '5 px'\nlevel = '{level}'\n"
        f"numeral = 0.3"
    )
    layout = cells_of(body)
    makers = plan_makers(recipe(body), scullery())
    plan, dates = makers["sheet/blocks-5"](), makers["sheet/dates-1"]()
    lines = {line["name"].split("/")[-1]: line for line in plan.geometry()["lines"]}
    assert len(lines) == 35
    for glyph in dates.geometry()["glyphs"]:
        row, column = divmod(int(glyph["text"]) - 1, 7)
        line = lines[f"r{row + 1}c{column + 1}"]
        x0, _, x1, foot = inset_box(layout.grid(5).cell(row, column), layout.inset)
        assert (line["from"][0], line["to"][0]) == pytest.approx((x0, x1), abs=1e-9)
        assert line["from"][1] == line["to"][1] <= foot - 2.5 + 1e-9
        assert line["from"][1] - 2.5 > glyph["ink"][3]
        if level == "bottom":
            assert line["from"][1] == pytest.approx(foot - 2.5, abs=1e-9)


@pytest.mark.parametrize(
    "body",
    [
        "block_form = 'underline'",
        "header = 'without'",
        f"block_omit = {[f'c{number}' for number in range(1, 8)]}",
    ],
)
def test_blocks_over_weekdays_are_left_out_where_they_would_be_nothing_or_in_the_way(body):
    assert stems(body) == ["blocks-5", "blocks-6"]


def test_underlines_of_one_row_lie_on_one_line_and_never_reach_the_rules():
    body = "weeks = [5]\nblock_form = 'underline'\nshift = { '17' = ['2 px', '6 px'] }"
    layout = cells_of(body)
    plan = plans(body)["sheet/blocks-5"]
    heights = {line["name"].split("/")[-1]: line["from"][1] for line in plan.geometry()["lines"]}
    assert len({round(heights[f"r3c{column}"], 9) for column in range(1, 8)}) == 1
    room = layout.inset - max(layout.rule, layout.heavy) / 2
    rooms = np.array([mark.room_px for mark in plan.drawing().marks])
    assert room > 0
    assert (rooms <= 0.6 * room).all()
    assert (rooms >= 0.6 * room - 1.6 * layout.block_line).all()
    assert len(np.unique(rooms)) == rooms.size
    assert plan.content.labels[:2] == ("r1c1", "r1c2")


def test_crisp_blocks_keep_their_exact_edges_and_their_numerals_are_drawn_all_the_same():
    kit = opened(
        recipe(f"weeks = [5]\nblocks = 'both'\nblock_edge = 'crisp'\n{IN_BLOCKS}", side=300)
    )
    blocks, cut = kit.pieces["sheet/blocks-5"], kit.pieces["sheet/blocks-5-cut-1"]
    style = blocks.style
    assert replace(style, drawn_at=EXACT.drawn_at) == EXACT
    assert style.drawn_at == kit.kit.style.drawn_at
    assert cut.cut_style == kit.kit.style == kit.pieces["sheet/dates-1"].style
    assert blocks.cut_style is None
    plan = blocks.plan
    assert np.array_equal(
        render(draw(plan.drawing(), style, 7)), render(draw(plan.drawing(), EXACT, 7))
    )


def opened(recipe):
    return KitOrder(recipe=recipe).open_and_check()


def inputs_of(kit, name):
    return inputs_of_drawn(kit.pieces[name], "png")


def drawn_in(kit, name):
    piece = kit.pieces[name]
    return draw(piece.plan.drawing(), piece.style, kit.number, cut_style=piece.cut_style)


@pytest.mark.parametrize("style", ["round-pen", "chalk"])
@pytest.mark.parametrize(
    ("side", "used"),
    [(1300, ""), (1000, "used_at = 12\nrule = '0.9 %'\nstem = 5\nweekday_stem = 3\n")],
    ids=["full", "small"],
)
def test_cut_blocks_are_the_blocks_times_what_the_numerals_leave(style, side, used):
    """Blocks show the same drawings as the two other stamps, in register to the pixel.

    Small cuts and their calmer edges are included. Below 1250 px grain is finer than a pixel, and
    means of products are no products of means.
    """
    body = f"weeks = [5]\nblocks = 'both'\ntakes = 2\n{used}{IN_BLOCKS}"
    kit = opened(recipe(body, side=side, style=style))
    cut, blocks, dates = (
        render(drawn_in(kit, f"sheet/{stem}")).astype(float)
        for stem in ("blocks-5-cut-3", "blocks-5-a", "dates-3")
    )
    inside = dates == 0
    for box in boxes_of(
        kit.kit.plans["sheet/blocks-5-a"]
    ).values():  # away from where edges cross, which a product gets wrong
        x0, y0, x1, y1 = (round(box[key]) for key in ("x0", "y0", "x1", "y1"))
        inside[y0 + 8 : y1 - 8, x0 + 8 : x1 - 8] = True
    assert np.abs(cut - blocks * (1.0 - dates / 255.0))[inside].max() <= 1.0
    assert (inside & (cut < 20) & (dates > 235)).sum() > 3000


def test_cut_blocks_hold_the_same_marks_as_the_stamps_that_they_are_made_of():
    made = plan_makers(recipe(f"blocks = 'cut'\nweeks = [5]\n{IN_BLOCKS}"), scullery())
    drawing, dates = made["sheet/blocks-5-cut-4"]().drawing(), made["sheet/dates-4"]().drawing()
    whole = plans(f"blocks = 'plain'\nweeks = [5]\n{IN_BLOCKS}")["sheet/blocks-5"].drawing()
    for leaves, other in ((Leaves.INK, whole), (Leaves.WHITE, dates)):
        for mark, same in zip(drawing.marks_that_leave(leaves), other.marks, strict=True):
            assert mark.name == same.name
            points = [
                one.points if isinstance(one, Stroke) else one.contours[0] for one in (mark, same)
            ]
            assert np.array_equal(*points)


def test_what_is_cut_out_of_exact_blocks_is_exactly_the_numerals():
    """Blocks less numerals by GEOS, with numerals that stand across the blocks' edges."""
    body = "weeks = [5]\nblocks = 'cut'\nblock_inset = 0.2\nnumeral = 0.5\ngap = 0.13"
    plan = plan_makers(recipe(body, side=220), scullery())["sheet/blocks-5-cut-2"]()
    drawing = plan.drawing()
    picture = render(draw(drawing, EXACT, 7))
    blocks = shapely.union_all(
        [shapely.Polygon(mark.contours[0]) for mark in drawing.marks_that_leave(Leaves.INK)]
    )
    numerals = shapely.union_all(
        [
            shapely.LineString(mark.points).buffer(mark.width_px / 2, quad_segs=64)
            for mark in drawing.marks_that_leave(Leaves.WHITE)
        ]
    )
    assert numerals.difference(blocks).area > 100
    areas = areas_of(blocks.difference(numerals).geoms, 220)
    assert np.abs(picture - 255 * areas).max() <= 1.5


def test_blocks_without_a_date_stay_whole_and_the_manifest_tells_of_both():
    plan = plan_makers(recipe(f"blocks = 'cut'\n{IN_BLOCKS}"), scullery())["sheet/blocks-6-cut-7"]()
    geometry = plan.geometry()
    assert len(geometry["boxes"]) == 42
    assert [glyph["text"] for glyph in geometry["glyphs"]] == [str(day) for day in range(1, 32)]
    assert geometry["boxes"][0]["name"] == "sheet/blocks-6/r1c1"
    cut = shapely.union_all([shapely.box(*glyph["ink"]) for glyph in geometry["glyphs"]])
    touched = [
        box for box in geometry["boxes"] if cut.intersects(shapely.box(*list(box.values())[1:5]))
    ]
    assert len(touched) == 31


def test_drawing_a_numeral_or_block_again_reaches_the_cut_blocks():
    kits = {
        again: opened(
            recipe(f"weeks = [5]\nblocks = 'both'\n{IN_BLOCKS}\n[again]\n{again}", side=200)
        )
        for again in ("", '"sheet/dates-1/17" = 1', '"sheet/blocks-5/r2c1" = 1')
    }
    digests = {inputs_of(kit, "sheet/blocks-5-cut-1") for kit in kits.values()}
    assert len(digests) == 3
    assert len({inputs_of(kit, "sheet/blocks-5-cut-2") for kit in kits.values()}) == 2
