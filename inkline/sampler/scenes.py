"""What a sampler draws in every style: exact drawings as large as the default square format's.

Lengths are px of a canvas whose whole sheet is `SHEET_PX` wide, so a rule or a numeral is as large
here as on a stamp. Names of marks begin with a `hand`: drawings of one hand move alike, those of
two hands are two people's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from inkline.calendar.grid import Direction, Grid, Rule, RuleWidths, Standing
from inkline.drawing import Cap, Drawing, Layer, Mark, Role, Shape, Stroke
from inkline.geometry.boxes import Box, inset_box, rounded_box
from inkline.lettering.face import Face
from inkline.lettering.line import ink_bounds, marks_from_line, set_line
from inkline.proof.slices import ExactRule

SHEET_PX = 2500.0
_RULE_PX, _FRAME_PX = 17.0, 23.8
_NUMERAL_PX, _WORD_PX = 187.0, 140.0
_NUMERAL_STEMS, _WORD_STEMS = 8.0, 8.0
_SAFE_PX = 4.0
"""Ink comes no nearer to the edge of a picture."""
_CELL, _CORNER, _INSET, _GAP = 340.0, 34.0, 26.0, 40.0
_WIDTHS = RuleWidths(frame_px=_FRAME_PX, header_px=_RULE_PX, inner_px=_RULE_PX)

SPECIMEN = (1560, 640)
NUMERALS = ("4", "7", "17", "28")
_WORD = "MARCH"
_SPECIMEN_CELL = 256.0
_ASIDE = (838.0, 1500.0)
"""From where to where words, a lone rule and blocks stand beside the specimen's grid."""
_BLOCK_PX = 196.0

BAND = (2500, 1672)
"""A calendar's grid; what is measured is measured on its rules, which are as long as a kit's."""
SUBJECT = (430, 420)
"""The corner of the band that a matrix shows."""
_BAND_ORIGIN, _BAND_CELL, _BAND_ROWS = (60.0, 62.0), 258.0, 6
_REACH_PX = 200.0
"""How far beyond the corner a mark may lie whose ink still reaches into it."""

_N_LONE, _LONE_STEP_PX = 14, 136.0
"""Lone rules, apart from one another by more than an edge can reach."""

RULES, LETTERS, BLOCKS = "rules", "letters", "blocks"
"""The layers, which are printed each in its own colour."""


def specimen(face: Face, hand: str) -> Drawing:
    """A small grid with numerals in its cells and, beside it, a word, a lone rule and blocks."""
    grid = Grid(
        n_rows=2,
        n_columns=2,
        cell_width_px=_CELL,
        cell_height_px=_SPECIMEN_CELL,
        origin=(60.0, 64.0),
    )
    name = f"{hand}/specimen"
    rules = [_stroke(name, rule, SPECIMEN) for rule in grid.rules(_WIDTHS)]
    left, right = _ASIDE
    level = 304.0
    inner = next(rule for rule in grid.rules(_WIDTHS) if rule.place is Standing.INNER)
    alone = replace(inner, number=9, start=(left, level), end=(right, level), crossings=())
    rules.append(replace(_stroke(name, alone, SPECIMEN), shared=""))
    letters = list(_word(face, name, (left, 64.0 - 0.5 * _FRAME_PX), right - left))
    for index, text in enumerate(NUMERALS):
        letters += _numeral(face, name, text, grid.cell(*divmod(index, 2)))
    step = (right - left - _BLOCK_PX) / 2.0
    top = grid.outer_box[3] + 0.5 * _FRAME_PX - _BLOCK_PX
    boxes = [
        (left + index * step, top, left + index * step + _BLOCK_PX, top + _BLOCK_PX)
        for index in range(3)
    ]
    blocks = [_block(f"{name}/block-{index + 1}", box) for index, box in enumerate(boxes)]
    return _drawing_of_layers(name, SPECIMEN, rules, letters, blocks)


def corner(face: Face, hand: str) -> Drawing:
    """The upper left corner of the band, with a numeral and a block in its cells."""
    grid = _band_grid()
    name = f"{hand}/band"
    rules = [mark for mark in band_rules(hand).marks if _reaches(mark, SUBJECT)]
    block = _block(f"{name}/block-1", inset_box(grid.cell(1, 0), _INSET))
    return _drawing_of_layers(
        name, SUBJECT, rules, _numeral(face, name, "17", grid.cell(0, 0)), (block,)
    )


def band_rules(hand: str) -> Drawing:
    """The rules of the band alone."""
    name = f"{hand}/band"
    return _drawing_of_layers(
        name, BAND, [_stroke(name, rule, BAND) for rule in _band_grid().rules(_WIDTHS)], (), ()
    )


def lone_rules(hand: str) -> Drawing:
    """Level rules as long as the band's with nothing across them, for reading edges.

    There are as many as it takes: the raggedness of one rule is some ten per cent off that of all
    rules, as it comes and goes.
    """
    name = f"{hand}/lone"
    level = _band_grid().rules(_WIDTHS)[1]
    canvas = BAND[0], round(_LONE_STEP_PX * (_N_LONE + 1))
    strokes = []
    for number in range(1, _N_LONE + 1):
        ends = [(x, number * _LONE_STEP_PX) for x, _ in (level.start, level.end)]
        rule = replace(level, number=number, start=ends[0], end=ends[1], crossings=())
        strokes.append(_stroke(name, rule, canvas))
    return _drawing_of_layers(name, canvas, strokes, (), ())


def _band_grid() -> Grid:
    """The exact grid of the band."""
    return Grid(
        n_rows=_BAND_ROWS, cell_width_px=_CELL, cell_height_px=_BAND_CELL, origin=_BAND_ORIGIN
    )


def exact_rules(drawing: Drawing) -> tuple[ExactRule, ...]:
    """The rules of `drawing` as `inkline.proof` takes them."""
    return tuple(
        ExactRule(
            start=(float(mark.points[0, 0]), float(mark.points[0, 1])),
            end=(float(mark.points[-1, 0]), float(mark.points[-1, 1])),
            width_px=mark.width_px,
        )
        for mark in drawing.marks
        if isinstance(mark, Stroke) and mark.role is Role.RULE
    )


def only_layer(drawing: Drawing, name: str) -> Drawing:
    """`drawing` with no other layer than `name`."""
    return replace(drawing, layers=tuple(layer for layer in drawing.layers if layer.name == name))


def only_role(drawing: Drawing, role: Role) -> Drawing:
    """`drawing` with no other marks than those of `role`."""
    marks = tuple(mark for mark in drawing.marks if mark.role is role)
    return replace(drawing, layers=(Layer(name=str(role), marks=marks),))


def _drawing_of_layers(
    name: str,
    canvas: tuple[int, int],
    rules: Sequence[Mark],
    letters: Sequence[Mark],
    blocks: Sequence[Mark],
) -> Drawing:
    named = ((BLOCKS, blocks), (RULES, rules), (LETTERS, letters))
    layers = tuple(Layer(name=layer, marks=tuple(marks)) for layer, marks in named)
    return Drawing(name=name, canvas=canvas, sheet_px=SHEET_PX, layers=layers)


def _reaches(mark: Mark, part: tuple[int, int]) -> bool:
    """Whether the ink of a rule may lie in the upper left `part` of its canvas."""
    return isinstance(mark, Stroke) and bool(
        (mark.points.min(axis=0) < np.array(part) + _REACH_PX).all()
    )


def _stroke(stamp: str, rule: Rule, canvas: tuple[int, int]) -> Stroke:
    axis = 0 if rule.direction is Direction.ACROSS else 1
    room = rule.start[axis] - _SAFE_PX, canvas[axis] - _SAFE_PX - rule.end[axis]
    name = f"{stamp}/{rule.name}"
    return Stroke(
        name=name,
        group=name,
        role=Role.RULE,
        points=np.array([rule.start, rule.end]),
        width_px=rule.width_px,
        cap=Cap.BUTT,
        origin=rule.start,
        crossings=rule.crossings,
        room_px=(max(room[0], 0.0), max(room[1], 0.0)),
        shared=f"{stamp}/{rule.direction.value}",
    )


def _numeral(face: Face, stamp: str, text: str, cell: Box) -> tuple[Mark, ...]:
    """A numeral in the upper left of its cell, an even gap from both rules."""
    size, width = _NUMERAL_PX / face.digit_height_em, _NUMERAL_PX / _NUMERAL_STEMS
    line = set_line(face, text)
    x0, y0, _, _ = ink_bounds(line, size_px=size, width_px=width)
    baseline = cell[0] + _GAP - x0, cell[1] + _GAP - y0
    return marks_from_line(
        line,
        name=f"{stamp}/{text}",
        role=Role.NUMERAL,
        baseline=baseline,
        size_px=size,
        width_px=width,
    )


def _word(face: Face, stamp: str, corner: tuple[float, float], room: float) -> Iterator[Mark]:
    """The word with its upper left ink at `corner`, spaced so that it fills `room`."""
    size, width = _WORD_PX / face.cap_height_em, _WORD_PX / _WORD_STEMS
    x0, _, x1, _ = ink_bounds(set_line(face, _WORD), size_px=size, width_px=width)
    line = set_line(face, _WORD, spacing_em=(room - (x1 - x0)) / size / (len(_WORD) - 1))
    x0, y0, _, _ = ink_bounds(line, size_px=size, width_px=width)
    baseline = corner[0] - x0, corner[1] - y0
    yield from marks_from_line(
        line, name=f"{stamp}/word", role=Role.WORD, baseline=baseline, size_px=size, width_px=width
    )


def _block(name: str, box: Box) -> Shape:
    contour = rounded_box(*box, _CORNER, tolerance=0.01)
    return Shape(
        name=name, group=name, role=Role.BLOCK, contours=(contour,), origin=(box[0], box[1])
    )
