"""Numerals that would break out of the blocks that they are cut out of."""

import re
from functools import cache
from pathlib import Path

import pytest
import shapely

from faces import shipped_family
from inkline.drawing import Shape
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import plan_by_name
from inkline.kit.stamps.faults.every import recipe_faults

RULES = 'gap_from = "rules"\ngap = 0.15\n'


@cache
def read(body, *, blocks="cut"):
    text = f'version = 1\nnumber = 5\n[formats.one]\nblocks = "{blocks}"\n{body}'
    return recipe_from_text(text, source="one.toml", folder=Path())


def sentences(body, family="scullery", **options):
    return [
        fault.sentence for fault in recipe_faults(read(body, **options), shipped_family(family))
    ]


def left_of_blocks(body, family):
    """The least that is left of a block beside its numeral, in px, by shapely."""
    plan = plan_by_name(read(body), shipped_family(family), "one/blocks-6-cut-1")
    blocks, numerals = plan.drawing().layers
    shapes = [shapely.Polygon(mark.contours[0]) for mark in blocks.marks]
    least = []
    for mark in numerals.marks:
        ink = (
            shapely.Polygon(mark.contours[0])
            if isinstance(mark, Shape)
            else shapely.LineString(mark.points).buffer(mark.width_px / 2, quad_segs=32)
        )
        block = next(one for one in shapes if one.intersects(ink))
        outside = ink.difference(block).area
        least.append(-outside if outside > 1e-3 else block.exterior.distance(ink))
    return min(least)


MIDDLE = 'side = "centre"\nlevel = "middle"\n'


@pytest.mark.parametrize(
    ("body", "family"),
    [
        (f"{RULES}numeral = 0.62\n", "scullery"),
        (f"{RULES}numeral = 0.57\n", "errand"),
        (f'{RULES}numeral = "71 pt"\n', "scullery"),
        (f'{MIDDLE}block_form = "circle"\nnumeral = 0.6\n', "scullery"),
        (f'{MIDDLE}block_form = "circle"\nnumeral = 0.6\n', "errand"),
        (f"{MIDDLE}weekday_row = 1\nblock_corner = 0.4\nnumeral = 0.6\n", "scullery"),
    ],
)
def test_numerals_that_open_their_blocks_are_refused_with_the_largest_that_fits(body, family):
    (sentence,) = sentences(body, family)
    found = re.search(
        r'numeral must be at most "?([\d.]+)(?: pt")? for the \d+ to stay within the block',
        sentence,
    )
    assert found, sentence
    mended = re.sub(r"numeral = (\"?)[\d.]+", rf"numeral = \g<1>{found[1]}", body)
    assert sentences(mended, family) == []
    assert left_of_blocks(mended, family) >= 0.03 * 340 - 0.1
    larger = re.sub(r"numeral = (\"?)[\d.]+", rf"numeral = \g<1>{float(found[1]) * 1.01}", body)
    assert sentences(larger, family)
    # The blocks are what refuses it: plain ones may lie under numerals as they like.
    assert sentences(body, family, blocks="plain") == []


def test_numerals_that_no_size_keeps_within_their_blocks_are_told_by_their_gap():
    body = 'gap_from = "rules"\ngap = 0.05\nevenness = 0\nblock_inset = 0.12\nnumeral = 0.3\n'
    (sentence,) = sentences(body)
    assert sentence.startswith("formats.one.gap: the ")
    assert "at any size" in sentence
    assert sentences(body.replace("0.05", "0.2")) == []


def test_a_wider_gap_is_told_where_a_numeral_meets_a_rounded_corner():
    """The 7 has ink in its upper left corner, where the block has none."""
    body = 'gap_from = "blocks"\nnumeral = 0.5\nevenness = 0.4\nstem = 7.4\ngap = '
    (fault,) = sentences(f"{body}0.08\n")
    held = re.search(r"the 7 to stay within .* not 0\.5; or gap = (0\.\d+)$", fault)
    assert held is not None, fault
    assert sentences(f"{body}{held[1]}\n") == []


@pytest.mark.parametrize("body", ['block_fill = "outlined"\n', 'block_form = "underline"\n'])
def test_lines_hold_no_numeral(body):
    assert sentences(f"{RULES}{body}numeral = 0.6\n") == []
