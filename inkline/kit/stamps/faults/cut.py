"""What is found wrong with numerals that are cut out of blocks: those that break out of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from inkline.drawing import Role, Stroke
from inkline.geometry.arrays import Points
from inkline.geometry.boxes import Box
from inkline.kit.recipe.choices import BlockFill, BlockForm, Blocks, Shows
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.numbers import NUMERALS
from inkline.kit.stamps.blocks import block_of_cell
from inkline.kit.stamps.cells import numerals_of
from inkline.kit.stamps.place import Place, place_of
from inkline.source.faults import (
    Fault,
    Fix,
    largest_that_fits,
    text_rounded_down,
    text_rounded_up,
)
from inkline.units import Length

_WHITE = 0.03
"""What must stay of a block around the numeral that is cut out of it, as a share of the cell's
width: a hand strays by half of it, on either side. Chosen by eye."""
_CUT = frozenset({Blocks.CUT, Blocks.BOTH})
_DATED = frozenset({Shows.MONTH, Shows.STRIP})
_TRIALS = 9
"""Halvings between a size that fits and one that doesn't: to a fifth of a percent."""
_GAP_STEP, _GAP_STEPS = 0.01, 10
"""Shares of the cell's width by which a wider gap is looked for, and how often."""
_SMALLEST = 0.25
"""No smaller share of the size that was asked for is suggested."""


def cut_faults(place: Place) -> Iterator[Fault]:
    """Numerals that would open the edges of the blocks that they are cut out of."""
    shape = place.shape
    is_cut = shape.blocks in _CUT and shape.block_fill is BlockFill.FILLED
    if not is_cut or shape.shows not in _DATED or shape.block_form is BlockForm.UNDERLINE:
        return
    worst, lacking = _worst(place)
    if lacking <= 0.0:
        return
    table = f"{FORMATS}.{shape.name}"
    most = _largest(place)
    if most is None:
        yield place.recipe.fault(
            f"{table}.gap",
            f"{table}.gap: the {worst} would break out of the block that it is cut out of, at any "
            f'size; smaller blocks, gap_from = "blocks" or another gap hold it',
        )
        return
    said = f'"{most} {shape.numeral.unit.value}"' if isinstance(shape.numeral, Length) else most
    gap = _gap_that_holds(place)
    yield place.recipe.fault(
        f"{table}.numeral",
        f"{table}.numeral must be at most {said} for the {worst} to stay within the block that it "
        f"is cut out of, not {shape.numeral}{f'; or gap = {gap}' if gap else ''}",
        fits=said,
        fixes=[Fix(key=f"{table}.gap", value=gap)] if gap else (),
    )


def _gap_that_holds(place: Place) -> str:
    """The gap with which numerals of the size asked for stay in; "" if none."""
    gap = place.shape.gap
    if isinstance(gap, Length):
        return ""
    wider = (gap + _GAP_STEP * step for step in range(1, _GAP_STEPS + 1))
    holds = next((one for one in wider if _worst(_with_gap(place, one))[1] <= 0.0), None)
    return "" if holds is None else text_rounded_up(holds)


def _with_gap(place: Place, gap: float) -> Place:
    return place_of(place.recipe, replace(place.shape, gap=gap), place.face)


def _largest(place: Place) -> str | None:
    """The largest size that stays within its blocks, as a number; `None` if none does."""

    def fits(share: float) -> bool:
        return _worst(_at_share(place, share))[1] <= 0.0

    if not fits(_SMALLEST):
        return None
    share = largest_that_fits(fits, _SMALLEST, 1.0, n_trials=_TRIALS)
    said = place.shape.numeral
    return text_rounded_down(share * (said.value if isinstance(said, Length) else said))


def _at_share(place: Place, share: float) -> Place:
    """The format with numerals of `share` of their size."""
    said = place.shape.numeral
    smaller = Length(said.value * share, said.unit) if isinstance(said, Length) else said * share
    return replace(place, shape=replace(place.shape, numeral=smaller))


def _worst(place: Place) -> tuple[str, float]:
    """The numeral that lacks the most room in its block, and how much in px; 0 or less if none."""
    layout, numerals = place.layout, numerals_of(place)
    cell = (0.0, 0.0, layout.cell_width, layout.cell_height)
    box, radius = block_of_cell(place, cell)
    white = _WHITE * layout.cell_width
    lacks = {}
    for text in NUMERALS:
        marks = numerals.text_in_cell(text, cell, layout).marks("", Role.NUMERAL)
        beyond = max(
            _beyond(points, box, radius) + half
            for mark in marks
            for points, half in (
                [(mark.points, 0.5 * mark.width_px)]
                if isinstance(mark, Stroke)
                else [(contour, 0.0) for contour in mark.contours]
            )
        )
        lacks[text] = beyond + white
    worst = max(lacks, key=lacks.__getitem__)
    return worst, lacks[worst]


def _beyond(points: Points, box: Box, radius: float) -> float:
    """How far the farthest of `points` lies outside a rounded box; less than 0 within it."""
    middle = np.array((box[0] + box[2], box[1] + box[3])) / 2.0
    half = np.array((box[2] - box[0], box[3] - box[1])) / 2.0
    off = np.abs(points - middle) - (half - radius)
    outside = np.hypot(*np.maximum(off, 0.0).T) + np.minimum(off.max(axis=1), 0.0) - radius
    return float(outside.max())
