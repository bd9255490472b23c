"""Where numerals stand in their cells, and what of them is refused."""

from functools import cache, partial
from pathlib import Path

import font_lato
import numpy as np
import pytest
import shapely
import shapely.affinity

from faces import scullery
from inkline.drawing import Stroke
from inkline.kit.letters import face_of
from inkline.kit.product import catalogue
from inkline.kit.recipe.choices import Side
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import plan_by_name
from inkline.kit.stamps.cells import COUNTED_DEPTH, numeral_size
from inkline.kit.stamps.measures import layout_of
from inkline.kit.stamps.place import place_of
from inkline.kit.stamps.weekdays import weekday_size
from inkline.kit.stamps.words import word_size
from inkline.lettering.font import open_font
from inkline.lettering.line import set_line
from inkline.lettering.small_cut import HEAVIER
from inkline.lettering.writing import Way, face_in_way
from inkline.source.faults import RecipeError
from inkline.units import Length, Unit

HEAD = (
    'version = 1\ntitle = "t"\nnumber = 5\n[canvas]\nside = "2500 px"\n[formats.one]\n'
    'numeral = 0.3\nblocks = "none"\n'
)


@cache
def read(text):
    return recipe_from_text(HEAD + text, source="one.toml", folder=Path())


def glyphs(text, stamp="one/dates-1"):
    return {
        glyph["text"]: glyph
        for glyph in plan_by_name(read(text), scullery(), stamp).geometry()["glyphs"]
    }


def fault_of(text):
    with pytest.raises(RecipeError) as caught:
        catalogue(read(text), scullery())
    (fault,) = caught.value.faults
    return fault


def area_of(text, numeral):
    """A numeral's exact ink by shapely."""
    (layer,) = plan_by_name(read(text), scullery(), "one/dates-1").drawing().layers
    marks = [mark for mark in layer.marks if mark.name.split("/")[2] == numeral]
    assert all(isinstance(mark, Stroke) for mark in marks)
    return shapely.union_all(
        [shapely.LineString(mark.points).buffer(mark.width_px / 2, quad_segs=32) for mark in marks]
    )


def mean_white(area, guide, cap, *, n=600):
    """Mean white to the right of a vertical guide, capped, by shapely's cuts at n heights."""
    x0, y0, x1, y1 = area.bounds
    heights = y0 + (y1 - y0) * (np.arange(n) + 0.5) / n
    cuts = shapely.intersection(
        shapely.linestrings([[[x0 - 9, y], [x1 + 9, y]] for y in heights]), area
    )
    return np.minimum(shapely.bounds(cuts)[:, 0] - guide, cap).mean()


@pytest.mark.parametrize("numeral", ["1", "4", "7", "8", "10", "17", "31"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_numerals_leave_the_same_mean_white_at_either_side(side, numeral):
    recipe = read(f'side = "{side}"\n')
    layout = layout_of(recipe, recipe.formats[0])
    x0, _, x1, _ = glyphs(f'side = "{side}"\n')[numeral]["cell"]
    area = area_of(f'side = "{side}"\n', numeral)
    size = numeral_size(place_of(recipe, recipe.formats[0], scullery()))
    depth = COUNTED_DEPTH * size.height_px
    guide = x0 + layout.rule / 2
    if side == "right":  # the mirror image
        area = shapely.affinity.scale(area, xfact=-1.0, origin=(0, 0))
        guide = -(x1 - layout.rule / 2)
    white, nearest = mean_white(area, guide, layout.gap + depth), area.bounds[0] - guide
    assert nearest > layout.gap - depth - 0.05
    if nearest > layout.gap - depth + 0.05:
        assert white == pytest.approx(layout.gap, abs=0.6)
    else:  # a thin flag or bar comes no nearer, so the numeral as a whole stands farther off
        assert layout.gap < white < layout.gap + depth


def test_even_numerals_have_the_same_mean_white():
    """White by shapely's cuts, counted to a third of the height.

    That is more than the eye reckons with.
    """
    whites = {}
    for text in ("", "evenness = 1.0\ngap = 0.13\n"):
        recipe = read(text)
        layout = layout_of(recipe, recipe.formats[0])
        high = numeral_size(place_of(recipe, recipe.formats[0], scullery())).height_px
        found = []
        for numeral in ("1", "7", "8", "11", "31"):
            guide = glyphs(text)[numeral]["cell"][0] + layout.rule / 2
            found.append(mean_white(area_of(text, numeral), guide, layout.gap + high / 3) / high)
        whites[text] = np.ptp(found)
    assert whites[""] > 0.08
    assert whites["evenness = 1.0\ngap = 0.13\n"] < 0.02


def test_centred_numerals_stand_midway_between_left_and_right():
    left, centre, right = (glyphs(f'side = "{side}"\n') for side in ("left", "centre", "right"))
    for text, glyph in centre.items():
        midway = (np.array(left[text]["ink"]) + right[text]["ink"]) / 2.0
        assert glyph["ink"] == pytest.approx(midway, abs=1e-9)
    ring = centre["8"]
    assert ring["ink"][0] - ring["cell"][0] == pytest.approx(
        ring["cell"][2] - ring["ink"][2], abs=2.0
    )


@pytest.mark.parametrize("level", ["top", "middle", "bottom"])
def test_a_row_keeps_one_baseline(level):
    found = glyphs(f'level = "{level}"\n')
    feet = {text: found[text]["ink"][3] - found[text]["cell"][1] for text in ("1", "2", "4", "7")}
    assert np.ptp(list(feet.values())) < 1e-6


def test_levels_lie_where_they_are_called():
    tops = {}
    for level in ("top", "middle", "bottom"):
        glyph = glyphs(f'level = "{level}"\n')["8"]
        tops[level] = (glyph["ink"][1] - glyph["cell"][1], glyph["cell"][3] - glyph["ink"][3])
    assert tops["top"][0] == pytest.approx(tops["bottom"][1], abs=4.0)
    assert tops["middle"][0] == pytest.approx(tops["middle"][1], abs=4.0)
    assert tops["top"][0] < tops["middle"][0] < tops["bottom"][0]


def test_in_blocks_the_gap_begins_at_the_block():
    rules, blocks = glyphs(""), glyphs('gap_from = "blocks"\n')
    layout = layout_of(read(""), read("").formats[0])
    for text in ("1", "31"):
        moved = np.array(blocks[text]["ink"]) - rules[text]["ink"]
        assert moved == pytest.approx(np.full(4, layout.inset - layout.rule / 2), abs=1e-9)


def test_a_shift_moves_its_numeral_and_no_other():
    plain, shifted = glyphs(""), glyphs('[formats.one.shift]\n"17" = ["5 px", "-0.1 %"]\n')
    assert np.array(shifted["17"]["ink"]) - plain["17"]["ink"] == pytest.approx(
        [5.0, -2.5, 5.0, -2.5]
    )
    assert all(shifted[text] == plain[text] for text in plain if text != "17")
    assert read('[formats.one.shift]\n"17" = ["5 px", "-0.1 %"]\n').formats[0].shift == (
        ("17", Length(5, Unit.PX), Length(-0.1, Unit.PERCENT)),
    )


def test_a_shift_over_a_rule_is_refused_with_what_would_do():
    fault = fault_of('[formats.one.shift]\n"17" = ["300 px", "0 px"]\n')
    assert fault.key == "formats.one.shift.17"
    assert fault.line == 10
    assert fault.sentence.startswith("formats.one.shift must keep the 17 between its rules: from -")
    assert fault.sentence.endswith("px down, not 300 px and 0 px")


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "shift = 3",
            (
                "formats.one.shift must give numerals two lengths, to the right and down, such as "
                '"17" = ["3 px", "-1 px"], not 3'
            ),
        ),
        ('[formats.one.shift]\n"32" = ["1 px", "1 px"]', 'there is no numeral "32"'),
        ('[formats.one.shift]\n"3" = "1 px"', 'not "1 px" for the 3'),
        ('[formats.one.shift]\n"3" = ["1 px"]', 'not ["1 px"] for the 3'),
        ('[formats.one.shift]\n"3" = ["1", "1 px"]', 'must be two lengths with units, not "1"'),
        (
            '[formats.one.shift]\n"3" = ["900 px", "1 px"]',
            "must lie between -375 px and 375 px on this canvas, not 900 px",
        ),
        (
            'side = "middle"',
            'formats.one.side must be "start" or "left" or "centre" or "right", not "middle"',
        ),
        ("level = 1", 'formats.one.level must be "top" or "middle" or "bottom", not 1'),
        (
            'gap_from = "rule"',
            'formats.one.gap_from must be "nearest" or "rules" or "blocks", not "rule"',
        ),
        ("evenness = 2", "formats.one.evenness must be a number from 0 to 1, not 2"),
        ("used_at = 0", "formats.one.used_at must be a number from 5 to 100, not 0"),
        ('used_at = "12 px"', 'formats.one.used_at must be a number from 5 to 100, not "12 px"'),
    ],
)
def test_what_is_no_place_is_refused(text, sentence):
    with pytest.raises(RecipeError) as caught:
        recipe_from_text(HEAD + text, source="one.toml", folder=Path())
    assert sentence in str(caught.value)


@pytest.mark.parametrize("side", ["left", "centre", "right"])
@pytest.mark.parametrize("level", ["top", "middle", "bottom"])
def test_the_largest_size_that_is_suggested_fits(side, level):
    place = f'side = "{side}"\nlevel = "{level}"\n'
    big = place.replace("side", "stem = 9\nside", 1)
    text = HEAD.replace("numeral = 0.3", "numeral = 1.4\ngap = 0.25") + big
    recipe = recipe_from_text(text, source="one.toml", folder=Path())
    with pytest.raises(
        RecipeError, match=r"formats\.one\.numeral must be at most \S+ for the \d+ to fit"
    ) as caught:
        catalogue(recipe, scullery())
    most = str(caught.value).partition("at most ")[2].split()[0]
    catalogue(
        recipe_from_text(text.replace("1.4", most), source="one.toml", folder=Path()), scullery()
    )
    more = f"{float(most) * 1.02:.4f}"
    with pytest.raises(RecipeError, match="must be at most"):
        catalogue(
            recipe_from_text(text.replace("1.4", more), source="one.toml", folder=Path()),
            scullery(),
        )


def test_a_gap_too_small_at_the_right_is_refused_with_the_least_that_does():
    fault = fault_of('side = "right"\nlevel = "bottom"\ngap = 0.0\n')
    assert fault.sentence.startswith("formats.one.gap must be at least 0.0")
    least = fault.sentence.partition("at least ")[2].split()[0]
    catalogue(read(f'side = "right"\nlevel = "bottom"\ngap = {least}\n'), scullery())


def test_a_gap_within_blocks_names_the_blocks():
    assert "clear of the blocks' edges" in fault_of('gap_from = "blocks"\ngap = 0.0\n').sentence


def test_a_gap_that_leaves_no_place_is_refused():
    assert (
        "formats.one.gap leaves a numeral no place in its cell" in fault_of("gap = 1.0\n").sentence
    )


@pytest.mark.parametrize("said", ["", "stem = 9\nweekday_stem = 9\n[words]\nstem = 9\n"])
@pytest.mark.parametrize("used_at", ["", 'used_at = "12 %"\n'])
def test_a_traced_font_keeps_its_own_weight_unless_the_recipe_sets_another(said, used_at):
    recipe = read(used_at + said)
    face = face_in_way(open_font(font_lato.font_files["Lato"]), way=Way.STROKE)
    place = place_of(recipe, recipe.formats[0], face)
    heavier = HEAVIER if used_at else 1.0
    sizes = {
        numeral_size(place): (face.digit_height_em, heavier),
        word_size(recipe, face): (face.cap_height_em, 1.0),
        weekday_size(place, ("MO",), partial(set_line, face)): (face.cap_height_em, 1.0),
    }
    for size, (design, pen) in sizes.items():
        stems = 9.0 if said else design / face.nominal_stem_em
        assert size.height_px / size.pen_px == pytest.approx(stems / pen)


def test_small_use_takes_the_small_cut():
    usual, small = (
        plan_by_name(read(text), scullery(), "one/dates-1") for text in ("", 'used_at = "12 %"\n')
    )
    pens = [{mark.width_px for mark in plan.drawing().marks} for plan in (usual, small)]
    assert len(pens[0]) == len(pens[1]) == 1
    assert pens[1].pop() == pytest.approx(HEAVIER * pens[0].pop())
    heights = [plan.geometry()["glyphs"][6]["ink"] for plan in (usual, small)]
    assert heights[1][3] - heights[1][1] == pytest.approx(heights[0][3] - heights[0][1])
    assert (usual.raggedness, small.raggedness) == (1.0, 0.5)
    assert plan_by_name(read("used_at = 12\n"), scullery(), "one/grid-5").raggedness == 1.0
    assert plan_by_name(read("used_at = 13\n"), scullery(), "one/dates-1").raggedness == 1.0


FAMILIES = (
    "clothesline",
    "scullery",
    "stairwell",
    "errand",
    "mantelpiece",
    "porchlight",
    "woodshed",
)


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("name", ["standard", "tall"])
def test_by_default_numerals_stand_within_their_blocks(name, family):
    """Every numeral keeps a twentieth of its block's width on either side, and above."""
    recipe = recipe_from_text(
        f'version = 1\nnumber = 5\n[formats.{name}]\n[lettering]\nfamily = "{family}"\n',
        source="one.toml",
        folder=Path(),
    )
    face = face_of(recipe)
    blocks = {
        (round(one["x0"]), round(one["y0"])): one
        for one in plan_by_name(recipe, face, f"{name}/blocks-6").geometry()["boxes"]
    }
    inset = layout_of(recipe, recipe.formats[0]).inset
    for glyph in plan_by_name(recipe, face, f"{name}/dates-3").geometry()["glyphs"]:
        (x0, y0, _, _), (left, top, right, bottom) = glyph["cell"], glyph["ink"]
        block = blocks[round(x0 + inset), round(y0 + inset)]
        white = (block["x1"] - block["x0"]) / 20
        assert block["x0"] + white < left < right < block["x1"] - white, glyph["text"]
        assert block["y0"] + white < top < bottom < block["y1"] - white, glyph["text"]


def test_the_nearest_edges_are_those_of_boxes_that_numerals_stand_in():
    for body, from_blocks in (
        ("", True),
        ('blocks = "cut"', True),
        ('blocks = "none"', False),
        ('block_form = "circle"', False),
        ('block_form = "underline"', False),
        ("block_inset = 0.25\nblock_corner = 0", False),
        ("cell = 0.4\nblock_corner = 0", False),
        ('gap_from = "rules"', False),
        ('gap_from = "blocks"\nblocks = "none"', True),
    ):
        text = f"version = 1\nnumber = 5\n[formats.one]\n{body}\n"
        recipe = recipe_from_text(text, source="one.toml", folder=Path())
        layout = layout_of(recipe, recipe.formats[0])
        assert layout.gap_is_from_blocks == from_blocks, body
        assert layout.edge == (layout.inset if from_blocks else layout.rule / 2), body


def test_in_calendars_that_run_from_the_right_numerals_stand_at_the_right():
    ways = {
        direction: recipe_from_text(
            f'version = 1\nnumber = 5\n[formats.one]\n[words]\ndirection = "{direction}"\n',
            source="one.toml",
            folder=Path(),
        )
        for direction in ("left to right", "right to left")
    }
    places = {way: layout_of(one, one.formats[0]).place[0] for way, one in ways.items()}
    assert places == {"left to right": Side.LEFT, "right to left": Side.RIGHT}
    for way, recipe in ways.items():
        plan = plan_by_name(recipe, scullery(), "one/dates-1")
        for glyph in plan.geometry()["glyphs"][:9]:
            before, after = (abs(glyph["cell"][side] - glyph["ink"][side]) for side in (0, 2))
            assert (before < after) == (way == "left to right"), glyph["text"]
