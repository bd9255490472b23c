"""Colourways: what is printed can be read, by the contrast that WCAG 2 defines, on any palette.

The ratios of black on white (21:1) and of #777777 on white (4.48:1) are examples of WCAG's working
group; from memory.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.kit.recipe.pictures import USUAL_PALETTE
from inkline.shop.palette import Palette, colourway_on, contrast, grounds_of

COLOURS = st.tuples(*[st.integers(0, 255)] * 3).map(lambda rgb: "#{:02x}{:02x}{:02x}".format(*rgb))


def test_contrast_is_that_of_wcag():
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("dates_on_blocks", [True, False])
def test_all_that_the_usual_palette_prints_can_be_read(dates_on_blocks):
    palette = Palette.of(USUAL_PALETTE)
    for ground in grounds_of(palette):
        way = colourway_on(palette, ground, dates_on_blocks=dates_on_blocks)
        assert contrast(way.rule, ground) >= 4.0
        assert contrast(way.word, ground) >= 3.0
        assert contrast(way.date, way.block) >= 3.0
        assert contrast(way.rest, way.block) >= 3.0
        if not dates_on_blocks:
            assert contrast(way.date, ground) >= 4.0
    on_paper = colourway_on(palette, palette.paper, dates_on_blocks=True)
    assert on_paper.block == palette.tint
    assert contrast(on_paper.date, on_paper.block) >= 4.5


@settings(max_examples=150, deadline=None)
@given(st.tuples(*[COLOURS] * 5), st.booleans())
def test_no_palette_prints_worse_than_its_better_ink(colours, dates_on_blocks):
    palette = Palette.of(colours)
    for ground in grounds_of(palette):
        way = colourway_on(palette, ground, dates_on_blocks=dates_on_blocks)
        best = max(contrast(palette.ink, ground), contrast(palette.paper, ground))
        assert contrast(way.rule, ground) == best
        assert contrast(way.word, ground) >= min(3.0, best)
        assert contrast(way.date, way.block) >= min(4.5, 0.6 * best)
