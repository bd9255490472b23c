"""Whether all stamps of one format fit over each other, by their geometry and by their pictures.

The grid of a format that has rules in most places is the measure. What has a canvas of its own, or
lies beside the grid, is judged only by what lines up with it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import pairwise
from typing import Any

import numpy as np

from inkline.geometry.arrays import Grey
from inkline.geometry.boxes import Box
from inkline.proof.finding import Bounds, Check, Finding, ListedStamp, Unjudged
from inkline.proof.picture import HALF
from inkline.proof.stamp_proof import rules_from_lines

_GRID = "grid"
_TOUCHING_PX = 1e-6
"""Sides that are nearer than this are the same side; the last bits of their sums differ."""
_NO_GRID = "how it lines up with the others: its format has no grid"
_OWN_CANVAS = "how it lines up with the others: it has a canvas of its own"
_BESIDE = "how some of it lines up with the others: it lies beside the grid"


def register_findings(
    entries: list[ListedStamp], *, picture: Callable[[ListedStamp], Grey | None], bounds: Bounds
) -> Iterator[Finding | Unjudged]:
    """How well the stamps of one format lie over each other.

    Args:
        entries: the format's stamps as the manifest lists them.
        picture: gives a stamp's picture, or None for one that is not to be judged.
        bounds: what is allowed.
    """
    grid = max(
        filter(_is_grid, entries),
        key=lambda entry: sum(len(set(places)) for places in _lines_of_grid(entry)),
        default=None,
    )
    if grid is None:
        yield from (Unjudged(stamp=entry["name"], sentence=_NO_GRID) for entry in entries)
        return
    for entry in entries:
        if list(entry["canvas"]) != list(grid["canvas"]):
            yield Unjudged(stamp=entry["name"], sentence=_OWN_CANVAS)
        else:
            yield from _side_findings(entry, grid, bounds=bounds)
            yield from _inset_findings(entry, grid, bounds=bounds)
    lettered = [
        entry for entry in entries if "glyphs" in entry and not {"lines", "boxes"} & entry.keys()
    ]
    yield from _overlap_findings(grid, lettered, picture=picture)


def _is_grid(entry: ListedStamp) -> bool:
    return bool(entry["kind"] == _GRID and entry.get("lines"))


def _side_findings(
    entry: ListedStamp, grid: ListedStamp, *, bounds: Bounds
) -> Iterator[Finding | Unjudged]:
    """How far a stamp's cells, or a grid's rules, stand from the rules of the largest grid."""
    xs, ys = _lines_of_grid(grid)
    beside = False
    for what, box, (along_x, along_y) in _sides(entry, xs, ys):
        distances = [_distance(box[0::2], xs)] * along_x + [_distance(box[1::2], ys)] * along_y
        beside = beside or not distances
        if distances:
            sentence = f"{what} stands {max(distances):.3g} px off the rules of {grid['name']}"
            share = max(distances) / bounds.register_px
            yield Finding(stamp=entry["name"], check=Check.REGISTER, sentence=sentence, share=share)
    if beside:
        yield Unjudged(stamp=entry["name"], sentence=_BESIDE)


def _sides(
    entry: ListedStamp, xs: list[float], ys: list[float]
) -> Iterator[tuple[str, Box, tuple[bool, bool]]]:
    """What of a stamp must lie on rules: what it is, its box, and whether in x and whether in y."""
    for glyph in entry.get("glyphs", ()):
        cell: Box = tuple(glyph["cell"])
        yield f"the cell of {glyph['text']!r}", cell, _sides_to_line_up(cell, xs, ys)
    if _is_grid(entry):
        own_xs, own_ys = _lines_of_grid(entry)
        for x in own_xs:
            yield f"the rule at x = {x:g}", (x, own_ys[0], x, own_ys[-1]), (True, True)
        for y in own_ys:
            yield f"the rule at y = {y:g}", (own_xs[0], y, own_xs[-1], y), (True, True)


def _sides_to_line_up(box: Box, xs: list[float], ys: list[float]) -> tuple[bool, bool]:
    """Whether a cell must line up with the rules down, and with those across.

    A cell left or right of the grid, as of a week number, lines up with the rows alone. One above
    or below it, as a weekday's over a grid without a row for them, lines up with the columns alone,
    if it is no wider than one: a title is free.
    """
    left, top, right, bottom = box
    beside_x = right <= xs[0] + _TOUCHING_PX or left >= xs[-1] - _TOUCHING_PX
    beside_y = bottom <= ys[0] + _TOUCHING_PX or top >= ys[-1] - _TOUCHING_PX
    widest = max((after - before for before, after in pairwise(xs)), default=0.0)
    is_column = right - left <= widest + _TOUCHING_PX
    return not beside_x and not (beside_y and not is_column), not beside_y


def _inset_findings(entry: ListedStamp, grid: ListedStamp, *, bounds: Bounds) -> Iterator[Finding]:
    """How equally blocks are set in from the rules about them.

    Circles may stand farther in on two sides that are opposite.
    """
    xs, ys = _lines_of_grid(grid)
    for number, box in enumerate(entry.get("boxes", ()), start=1):
        insets = _insets(box, xs, ys)
        parts = (insets[0::2], insets[1::2]) if _is_circle(box) else (insets,)
        uneven = max(max(part) - min(part) for part in parts)
        shown = ", ".join(f"{inset:.6g}" for inset in insets)
        sentence = (
            f"block {number} must be set in equally from the rules about it, not by {shown} px"
        )
        yield Finding(
            stamp=entry["name"],
            check=Check.REGISTER,
            sentence=sentence,
            share=uneven / bounds.register_px,
        )


def _is_circle(box: Mapping[str, Any]) -> bool:
    width, height = box["x1"] - box["x0"], box["y1"] - box["y0"]
    return bool(np.isclose(width, height) and np.isclose(box["radius"], 0.5 * width))


def _insets(box: Mapping[str, Any], xs: list[float], ys: list[float]) -> Box:
    """How far a block stands from the rules left, above, right and below; infinite without one."""
    gaps = (
        [box["x0"] - x for x in xs],
        [box["y0"] - y for y in ys],
        [x - box["x1"] for x in xs],
        [y - box["y1"] for y in ys],
    )
    left, top, right, bottom = (
        min((gap for gap in row if gap >= 0), default=float("inf")) for row in gaps
    )
    return left, top, right, bottom


def _lines_of_grid(grid: ListedStamp) -> tuple[list[float], list[float]]:
    """Where the grid's upright rules stand in x and its level ones in y, ascending."""
    rules = rules_from_lines(grid["lines"])
    xs = sorted(
        rule.start[0]
        for rule in rules
        if abs(rule.end[0] - rule.start[0]) < abs(rule.end[1] - rule.start[1])
    )
    ys = sorted(
        rule.start[1]
        for rule in rules
        if abs(rule.end[0] - rule.start[0]) > abs(rule.end[1] - rule.start[1])
    )
    return xs, ys


def _distance(values: Iterable[float], places: list[float]) -> float:
    """The largest distance of any of `values` from the nearest of `places`."""
    return max(
        min((abs(value - place) for place in places), default=float("inf")) for value in values
    )


def _overlap_findings(
    grid: ListedStamp, entries: list[ListedStamp], *, picture: Callable[[ListedStamp], Grey | None]
) -> Iterator[Finding]:
    """Whether numerals or words run into the rules when stamped over the grid."""
    rules = picture(grid)
    for entry in entries:
        letters = picture(entry)
        if rules is None or letters is None or rules.shape != letters.shape:
            continue
        n_both = int(np.count_nonzero((rules >= HALF) & (letters >= HALF)))
        sentence = f"its ink runs into the rules of {grid['name']} in {n_both} px"
        if n_both:
            yield Finding.fault(entry["name"], Check.REGISTER, sentence)
