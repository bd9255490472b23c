"""What a sampler draws in every style: where it lies and what it holds."""

import numpy as np
import pytest

from inkline.ink.engine import draw
from inkline.raster.compose import render
from inkline.sampler.scenes import (
    BAND,
    NUMERALS,
    SHEET_PX,
    SPECIMEN,
    SUBJECT,
    band_rules,
    corner,
    exact_rules,
    lone_rules,
    only_layer,
    specimen,
)
from inkline.styles.files import load_style, style_files

HAND = "sampler"


PEN = load_style(style_files()["round-pen"])


def test_drawings_lie_on_their_canvas_and_are_as_large_as_stamps(scullery):
    for drawing, canvas in (
        (specimen(scullery, HAND), SPECIMEN),
        (corner(scullery, HAND), SUBJECT),
        (band_rules(HAND), BAND),
    ):
        assert (drawing.canvas, drawing.sheet_px) == (canvas, SHEET_PX)
    drawn = render(draw(specimen(scullery, HAND), PEN, 1))
    assert not drawn[[0, -1]].any()
    assert not drawn[:, [0, -1]].any()


def test_a_specimen_holds_grid_numerals_word_and_blocks(scullery):
    names = {
        mark.group.removeprefix(f"{HAND}/specimen/").partition(".")[0]
        for mark in specimen(scullery, HAND).marks
    }
    rules = {"across-1", "across-2", "across-3", "across-9", "down-1", "down-2", "down-3"}
    assert names == {*rules, *NUMERALS, "word", "block-1", "block-2", "block-3"}
    widths = {rule.width_px for rule in exact_rules(specimen(scullery, HAND))}
    assert len(widths) == 2


def test_the_corner_shows_the_rules_that_are_measured(scullery):
    """The corner is a window on the band: the same strokes, drawn alike."""
    shown = render(draw(only_layer(corner(scullery, HAND), "rules"), PEN, 5))
    whole = render(draw(band_rules(HAND), PEN, 5))
    assert np.array_equal(shown, whole[: SUBJECT[1], : SUBJECT[0]])


def test_lone_rules_stand_apart_and_run_the_band_s_width():
    rules = exact_rules(lone_rules(HAND))
    assert {(rule.start[0], rule.end[0]) for rule in rules} == {
        (rules[0].start[0], rules[0].end[0])
    }
    assert rules[0].length_px == pytest.approx(7 * 340.0)
    assert np.diff([rule.start[1] for rule in rules]).min() > 120.0
