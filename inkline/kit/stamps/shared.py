"""Two days in one cell, as wall calendars have 23/30.

The earlier stands above, the later below, a slanted stroke of the pen between them.

The stroke stands in a lane as wide as itself and a white on either side, which neither numeral
enters. All shared cells of a format have one slant, the steepest at which their pairs have room
between the rules.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.drawing import Mark, Role
from inkline.geometry.arrays import Points
from inkline.geometry.boxes import Box, box_around, shrunk_box
from inkline.kit.recipe.choices import Level, Side
from inkline.kit.stamps.cells import (
    LONGEST,
    NumeralSet,
    date_texts,
    dates_name,
    smaller_numerals_of,
)
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.names import last_part, part_name
from inkline.kit.stamps.pieces import PenLine, PlacedText, farthest
from inkline.kit.stamps.place import Place

SHARED_ROWS = 5
"""Rows of a grid in which the days of a sixth week share the cells of the fifth."""
_PAIRS = ((23, 30), (24, 31))
"""All pairs of days that ever share a cell."""
_SLANTS_DEG = tuple(range(54, 29, -2))
"""Slants of the stroke, steepest first. Chosen by eye: steeper ones part two numerals that stand
beside each other, flatter ones two that stand above each other, and neither is a pair any more."""
_LANE_WHITE = 0.75
"""White between the stroke and the numerals, in widths of their pen."""
_STROKE_PENS = 0.85
"""Width of the stroke in widths of the numerals' pen."""
_STROKE_SHARE = 0.78
"""Length of the stroke, as a share of what would cross the box about both numerals."""
_RULE_WHITE = 0.05
"""White that stays between a pair and the rules, as a share of the cell's width, where there is
room for it."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SharedCell:
    """Two days that share a cell, at their places.

    Attributes:
        earlier: the numeral above.
        later: the numeral below.
        stroke: what stands between them.
    """

    earlier: PlacedText
    later: PlacedText
    stroke: PenLine

    @property
    def text(self) -> str:
        """Both days, as the manifest calls them."""
        return f"{self.earlier.line.text}/{self.later.line.text}"

    @property
    def cell(self) -> Box:
        """The cell that they share, in px."""
        return self.earlier.cell

    @property
    def ink(self) -> Box:
        """Exact bounds of the undrawn ink in px."""
        return box_around([self.earlier.ink, self.later.ink, self.stroke.ink])

    def marks(self, stamp: str, role: Role) -> tuple[Mark, ...]:
        """The exact marks of both numerals and the stroke."""
        return tuple(
            mark
            for part in (self.earlier, self.later, self.stroke)
            for mark in part.marks(stamp, role)
        )

    def shift(self, right: float, down: float) -> SharedCell:
        """All of it moved by px."""
        earlier, later = (
            replace(one, baseline=(one.baseline[0] + right, one.baseline[1] + down))
            for one in (self.earlier, self.later)
        )
        stroke = replace(self.stroke, points=self.stroke.points + np.array((right, down)))
        return SharedCell(earlier=earlier, later=later, stroke=stroke)


def pairs_in_one_cell(offset: int, days: int = LONGEST) -> tuple[tuple[int, int], ...]:
    """The pairs of days that share a cell of the fifth row, as (23, 30).

    Args:
        offset: columns before the first of the month.
        days: how many days the month has.
    """
    first = SHARED_ROWS * DAYS_PER_WEEK - offset + 1
    return tuple((day - DAYS_PER_WEEK, day) for day in range(first, days + 1))


def shared_date_pieces(
    place: Place,
    offset: int,
    *,
    days: int = LONGEST,
    shown: Iterable[int] = range(1, LONGEST + 1),
) -> tuple[PlacedText | SharedCell, ...]:
    """The numerals of a month that needs six rows, in five.

    Args:
        place: a format of months.
        offset: columns before the first of the month.
        days: how many days the month has.
        shown: the days that the stamp shows; the days of one cell fall on one weekday and go
            together.
    """
    pairs = pairs_in_one_cell(offset, days)
    wanted = [day for day in shown if day <= days]
    alone = [day for day in wanted if all(day not in pair for pair in pairs)]
    numerals = smaller_numerals_of(place, place.shape.shared_numeral)
    stamp = replace(dates_name(place.shape, offset), shared=True).text
    grid = place.layout.grid()
    cells = (
        _shared_cell(place, numerals, pair, grid.day_cell(pair[0], offset=offset), stamp=stamp)
        for pair in pairs
        if pair[0] in wanted
    )
    return (*date_texts(place, offset, days=alone), *cells)


def shared_fit(place: Place, *, white: float) -> float:
    """How many times larger shared numerals could be; below 1 they don't fit.

    Args:
        place: the format.
        white: what is left to the rules about them, in px.
    """
    layout = place.layout
    numerals = smaller_numerals_of(place, place.shape.shared_numeral)
    room = shrunk_box((0.0, 0.0, layout.cell_width, layout.cell_height), layout.edge + white)
    slant = _slant(numerals, _room(layout), layout.mirrored)
    return _fit(
        _boxes(numerals, slant, mirrored=layout.mirrored), (room[2] - room[0], room[3] - room[1])
    )


def _shared_cell(
    place: Place, numerals: NumeralSet, pair: tuple[int, int], cell: Box, *, stamp: str
) -> SharedCell:
    recipe, layout = place.recipe, place.layout
    slant = _slant(numerals, _room(layout), layout.mirrored)
    texts = []
    for day in map(str, pair):
        full_name = part_name(stamp, day)
        forms = numerals.forms(recipe, day, full_name)
        texts.append(
            PlacedText(
                label=day,
                line=numerals.numeral(day, forms).line,
                size=numerals.size,
                baseline=(0.0, 0.0),
                cell=cell,
                drawings=dict(numerals.drawings(recipe, day)),
                drawn_as=full_name,
            )
        )
    group = _pair_with_stroke(
        texts[0],
        texts[1],
        slant,
        mirrored=layout.mirrored,
        name=part_name(stamp, f"{pair[0]}-{pair[1]}"),
        pen=_pen(numerals),
    )
    return _in_cell(
        group, numerals, layout, [group.ink, *_boxes(numerals, slant, mirrored=layout.mirrored)]
    )


def _room(layout: FormatLayout) -> tuple[float, float]:
    """Width and height between what a pair keeps clear of."""
    x0, y0, x1, y1 = shrunk_box(
        (0.0, 0.0, layout.cell_width, layout.cell_height),
        layout.edge + _RULE_WHITE * layout.cell_width,
    )
    return x1 - x0, y1 - y0


def _pen(numerals: NumeralSet) -> float:
    """Width of the numerals' own lines in px."""
    face = numerals.face
    return (
        numerals.size.pen_px
        if face.is_drawn_with_pen
        else face.nominal_stem_em * numerals.size.em_px
    )


@lru_cache(maxsize=64)
def _slant(
    numerals: NumeralSet,
    room: tuple[float, float],
    mirrored: bool,  # noqa: FBT001 - a fact of the layout
) -> int:
    """The steepest slant in degrees at which all pairs have room, or lack least."""
    fits = {slant: _fit(_boxes(numerals, slant, mirrored=mirrored), room) for slant in _SLANTS_DEG}
    return next(
        (slant for slant in _SLANTS_DEG if fits[slant] >= 1.0), max(fits, key=fits.__getitem__)
    )


def _fit(boxes: list[Box], room: tuple[float, float]) -> float:
    return min(min(room[0] / (x1 - x0), room[1] / (y1 - y0)) for x0, y0, x1, y1 in boxes)


def _boxes(numerals: NumeralSet, slant: int, *, mirrored: bool) -> list[Box]:
    """Bounds of all pairs at a slant, in their usual forms."""
    groups = []
    for pair in _PAIRS:
        earlier, later = (
            PlacedText(
                label=str(day),
                line=numerals.numeral(str(day)).line,
                size=numerals.size,
                baseline=(0.0, 0.0),
                cell=(0.0, 0.0, 0.0, 0.0),
            )
            for day in pair
        )
        groups.append(
            _pair_with_stroke(
                earlier, later, slant, mirrored=mirrored, name="pair", pen=_pen(numerals)
            )
        )
    return [group.ink for group in groups]


def _pair_with_stroke(
    earlier: PlacedText, later: PlacedText, slant: int, *, mirrored: bool, name: str, pen: float
) -> SharedCell:
    """The pair with its stroke, the earlier where it is.

    The later lies straight across the stroke from it.
    """
    angle = np.deg2rad(slant)
    sense = -1.0 if mirrored else 1.0
    up = np.array([sense * np.cos(angle), -np.sin(angle)])
    across = np.array([sense * np.sin(angle), np.cos(angle)])
    width, white = _STROKE_PENS * pen, _LANE_WHITE * pen
    near = farthest(earlier.marks("", Role.NUMERAL), across)
    far = -farthest(later.marks("", Role.NUMERAL), -across)
    step = _centre(earlier.ink) - _centre(later.ink)
    step = step + across * (near + 2.0 * white + width - far - float(across @ step))
    later = replace(later, baseline=(later.baseline[0] + step[0], later.baseline[1] + step[1]))
    middle = 0.5 * (_centre(earlier.ink) + _centre(later.ink))
    middle = middle + across * (near + white + 0.5 * width - float(across @ middle))
    half = _STROKE_SHARE * _half_way(middle, up, box_around([earlier.ink, later.ink])) - 0.5 * width
    stroke = PenLine(
        label=last_part(name),
        text="/",
        points=np.array([middle + half * up, middle - half * up]),
        width_px=width,
        cell=earlier.cell,
        drawn_as=name,
    )
    return SharedCell(earlier=earlier, later=later, stroke=stroke)


def _centre(box: Box) -> Points:
    return np.array([0.5 * (box[0] + box[2]), 0.5 * (box[1] + box[3])])


def _half_way(middle: Points, way: Points, box: Box) -> float:
    """How far one may go from `middle`, inside `box`, both along `way` and back."""
    ahead = [
        (side - at) / step
        for at, step, sides in ((middle[0], way[0], box[0::2]), (middle[1], way[1], box[1::2]))
        for side in sides
    ]
    return float(min(abs(one) for one in ahead))


def _in_cell(
    group: SharedCell, numerals: NumeralSet, layout: FormatLayout, boxes: list[Box]
) -> SharedCell:
    """The pair in its cell: where a single numeral would stand, but clear of the rules.

    Where there is too little room, it stands midway between them.

    Clear is what keeps the inks of all pairs, `boxes`, clear, so that pairs in neighbouring cells
    stand alike.
    """
    cell, (side, level) = group.cell, layout.place
    pieces = sorted((group.earlier, group.later), key=lambda one: one.ink[0])
    (top, bottom), box = numerals.levels, group.ink
    left, right = (numerals.numeral(one.label) for one in pieces)
    x = {
        Side.LEFT: cell[0] + layout.white - (pieces[0].baseline[0] + left.left),
        Side.CENTRE: 0.5 * (cell[0] + cell[2] - box[0] - box[2]),
        Side.RIGHT: cell[2] - layout.white - (pieces[1].baseline[0] + right.right),
    }[side]
    y = {
        Level.TOP: cell[1] + layout.white - (group.earlier.baseline[1] + top),
        Level.MIDDLE: 0.5 * (cell[1] + cell[3] - box[1] - box[3]),
        Level.BOTTOM: cell[3] - layout.white - (group.later.baseline[1] + bottom),
    }[level]
    room = shrunk_box(cell, layout.edge + _RULE_WHITE * layout.cell_width)
    across, down = ([one[axis::2] for one in boxes] for axis in (0, 1))
    return group.shift(_move_within(x, across, room[0::2]), _move_within(y, down, room[1::2]))


def _move_within(move: float, inks: list[tuple[float, ...]], room: tuple[float, ...]) -> float:
    """`move`, or what comes next to it that keeps all `inks` within `room`.

    Where that is too small it is midway.
    """
    least, most = max(room[0] - ink[0] for ink in inks), min(room[1] - ink[1] for ink in inks)
    return 0.5 * (least + most) if least > most else min(max(move, least), most)
