"""Marks on the days that the user lists, month by month, in register with the dates."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

import numpy as np

from inkline.calendar.months import dates_number, month_length
from inkline.chance import stream
from inkline.drawing import Role
from inkline.geometry.arrays import Points
from inkline.geometry.boxes import shrunk_box
from inkline.kit.recipe.choices import MarkedBy, Shows, SixthWeek
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.cells import date_texts
from inkline.kit.stamps.content import TextContent
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.names import StampName, Subject, last_part
from inkline.kit.stamps.pieces import Blot, PenLine, PlacedText
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.plan import Part
from inkline.kit.stamps.rings import PART, STEPS, Around, ring
from inkline.kit.stamps.shared import SharedCell, pairs_in_one_cell, shared_date_pieces

Marked = tuple[tuple[int, MarkedBy], ...]
"""Days of one month in order, each with what it is marked by; a day may be marked in more than one
way."""


def mark_parts(place: Place) -> Iterator[Part]:
    """A stamp for each month with marked days, and each day on which weeks begin.

    Of strips there is one a month.
    """
    shape = place.shape
    months = marks_by_month(place.recipe)
    if shape.shows is Shows.STRIP:
        for (year, month), marked in months.items():
            name = StampName(folder=shape.name, subject=Subject.STRIP_MARKS, year=year, month=month)
            yield _part(place, name, marked, 0)
    elif shape.shows is Shows.MONTH:
        for (year, month), marked in months.items():
            for start, day in place.recipe.starts.items():
                offset = dates_number(year, month, week_start=day) - 1
                name = StampName(
                    folder=shape.name, subject=Subject.MARKS, year=year, month=month, start=start
                )
                yield _part(place, name, marked, offset)
                days = month_length(year, month)
                shared = {day for pair in pairs_in_one_cell(offset, days) for day in pair}
                if shape.sixth_week is SixthWeek.SHARED and shared.intersection(
                    day for day, _ in marked
                ):
                    yield _part(place, replace(name, shared=True), marked, offset, shared_of=days)


def marks_by_month(recipe: Recipe) -> dict[tuple[int, int], Marked]:
    """The marked days of each month that has any, by year and month in order.

    They are of their own year, or of every year of the kit.
    """
    found: dict[tuple[int, int], dict[tuple[int, MarkedBy], None]] = {}
    for mark in recipe.marks:
        for year in recipe.words.years if mark.year is None else (mark.year,):
            if mark.day <= month_length(year, mark.month):
                found.setdefault((year, mark.month), {})[mark.day, mark.by] = None
    return {month: tuple(sorted(found[month])) for month in sorted(found)}


def _part(
    place: Place, name: StampName, marked: Marked, offset: int, *, shared_of: int = 0
) -> Part:
    labels = tuple(_label(marked, day, by) for day, by in marked)
    setting = partial(_mark_pieces, place, name, marked, offset, shared_of=shared_of)
    content = TextContent(role=Role.RULE, layer_name="marks", labels=labels, setting=setting)
    return Part(name=name, kind="marks", content=content)


def _mark_pieces(
    place: Place, name: StampName, marked: Marked, offset: int, *, shared_of: int = 0
) -> tuple[PenLine | Blot, ...]:
    """The marks of one month.

    Args:
        place: the format.
        name: the stamp's name; marks in cells of one day are called by the stamp that has all days
            in cells of their own.
        marked: the days, and what marks them.
        offset: columns before the first of the month.
        shared_of: days of the month if the sixth week's share the cells of the fifth; else 0.
    """
    texts, cells = _numerals(place, marked, offset, shared_of)
    marks = []
    for day, by in marked:
        cell = cells.get(str(day))
        own = replace(name, shared=cell is not None, part=_label(marked, day, by)).text
        text, number = texts[str(day)], place.recipe.number
        marks.append(_mark_piece(text, by, place.layout, number=number, name=own, shared=cell))
    return tuple(marks)


def _numerals(
    place: Place, marked: Marked, offset: int, shared_of: int
) -> tuple[dict[str, PlacedText], dict[str, SharedCell]]:
    """The numerals of the marked days, and the cells that two days share, by the day's name."""
    days = sorted({day for day, _ in marked})
    if not shared_of:
        return {text.label: text for text in date_texts(place, offset, days=days)}, {}
    pieces = shared_date_pieces(place, offset, days=shared_of)
    texts = {piece.label: piece for piece in pieces if isinstance(piece, PlacedText)}
    pairs = [
        (text, piece)
        for piece in pieces
        if isinstance(piece, SharedCell)
        for text in (piece.earlier, piece.later)
    ]
    return texts | {text.label: text for text, _ in pairs}, {
        text.label: cell for text, cell in pairs
    }


def _label(marked: Marked, day: int, by: MarkedBy) -> str:
    """A mark is called by its day, and by its kind as well where the day has more than one."""
    return str(day) if sum(one == day for one, _ in marked) == 1 else f"{day}-{by.value}"


_RULE_WHITE = 0.03
"""White that stays between a mark and the rules, as a share of the cell's width: a hand strays by
half of it. Chosen by eye."""


_PENS = 0.5
"""Width of a ring's and a line's pen, in widths of the numeral's. Chosen by eye: as heavy as the
numeral, a mark hides it."""


_DOT = 0.25
"""Diameter of a dot as a share of the numeral's height."""


_DOT_WHITE = 0.2
"""White between the numeral and a dot or a line, likewise."""


_LEAST_DOT = 0.12


_BULGES = ((2, 0.05), (3, 0.03), (4, 0.015))
"""How often a blot bulges around, and how far at most, as a share of its radius. Chosen by eye: ink
from a resting pen makes no circle."""


_LINE_WHITE = 0.12


_LEAST_LINE_WHITE = 0.4
"""Least white between the numeral and a line, in widths of its pen."""


_BEYOND = 0.08
"""How far a line under a numeral reaches beyond it on either side, as a share of the numeral's
height."""


_BOW, _BOW_STEPS = 0.02, 25
"""How far a line bows at most, as a share of its length, and its points."""


_SHORTEST = 0.6
"""A line under a numeral is at least so long, likewise."""


def _mark_piece(
    text: PlacedText,
    by: MarkedBy,
    layout: FormatLayout,
    *,
    number: int,
    name: str,
    shared: SharedCell | None = None,
) -> PenLine | Blot:
    """The mark of one day.

    Args:
        text: its numeral in its place.
        by: what it is marked by.
        layout: the format's measures.
        number: the drawing number.
        name: full name of the mark, such as `tall/marks-2027-03-monday/8`; with the number it says
            where a ring starts, how a blot bulges, and which way a line bows.
        shared: the cell, if two days share it; lines and dots then keep off the stroke and the
            other day.
    """
    white = _RULE_WHITE * layout.cell_width
    around = Around(
        text=text,
        height=text.size.height_px,
        pen=_PENS * text.size.pen_px,
        room=shrunk_box(text.cell, layout.edge_of_marks + white),
        white=white,
        name=name,
        stroke=shared.stroke if shared else None,
        other=(shared.later if text.label == shared.earlier.label else shared.earlier)
        if shared
        else None,
    )
    if by is MarkedBy.RING:
        return _line(around, "ring", ring(around, number))
    if by is MarkedBy.UNDERLINE:
        return _underline(around, number)
    return _dot(around, number)


def _line(around: Around, text: str, points: Points) -> PenLine:
    return PenLine(
        label=last_part(around.name),
        text=text,
        points=points,
        width_px=around.pen,
        cell=around.text.cell,
        drawn_as=around.name,
    )


def _underline(around: Around, number: int) -> PenLine:
    """A line under the numeral, or as low as the rule below allows.

    It is nearer to the rule than other marks only where it would touch the numeral.
    """
    ink, room, high = around.text.ink, around.room, around.height
    middle = 0.5 * (ink[0] + ink[2])
    half = max(0.5 * (ink[2] - ink[0]) + _BEYOND * high, 0.5 * _SHORTEST * high) - 0.5 * around.pen
    left = max(middle - half, room[0] + 0.5 * around.pen)
    right = min(middle + half, room[2] - 0.5 * around.pen)
    nearest = min(
        ink[3] + (0.5 + _LEAST_LINE_WHITE) * around.pen, 0.5 * (ink[3] + room[3] + around.white)
    )
    y = min(
        ink[3] + _LINE_WHITE * high + 0.5 * around.pen, max(room[3] - 0.5 * around.pen, nearest)
    )
    left, right = _beside_stroke(around, left, right, y)
    bow = min(_BOW * (right - left), 0.3 * max(y - 0.5 * around.pen - ink[3], 0.0))
    share = np.linspace(0.0, 1.0, _BOW_STEPS)
    # Bowed up or down by so little that only a ruled line would show it: a line of three points and
    # more is drawn as letters are, and doesn't run over its ends as rules do.
    rise = (
        4.0 * share * (1.0 - share)
        if stream(number, around.name, 0, PART).random() < 0.5
        else (2.0 * share - 1.0) ** 2
    )
    return _line(
        around, "underline", np.column_stack((left + share * (right - left), y - bow * rise))
    )


def _beside_stroke(around: Around, left: float, right: float, y: float) -> tuple[float, float]:
    """A line's ends, that towards the stroke of a shared cell drawn back from it."""
    if around.stroke is None:
        return left, right
    (x0, y0), (x1, y1) = around.stroke.points
    if not min(y0, y1) - around.pen < y < max(y0, y1) + around.pen:
        return left, right
    crossing = x0 + (x1 - x0) * (y - y0) / (y1 - y0)
    off = around.stroke.width_px + around.pen
    if 0.5 * (left + right) < crossing:
        return left, max(min(right, crossing - off), left + around.pen)
    return min(max(left, crossing + off), right - around.pen), right


def _dot(around: Around, number: int) -> Blot:
    """A round blot, beneath the numeral or else beside or above it.

    Where there is little room it is smaller.
    """
    x, y, radius = _dot_place(around)
    draws = stream(number, around.name, 0, PART).random((len(_BULGES), 2))
    turn = np.linspace(0.0, 2.0 * np.pi, STEPS, endpoint=False)
    # No two blots bulge alike; the largest bulge reaches the radius.
    waves = (
        bulge * (0.5 + 0.5 * size) * np.cos(count * turn + 2.0 * np.pi * place)
        for (count, bulge), (size, place) in zip(_BULGES, draws, strict=True)
    )
    reach = 1.0 + np.sum(list(waves), axis=0)
    contour = (radius * reach / reach.max())[:, None] * np.column_stack(
        (np.cos(turn), np.sin(turn))
    ) + (x, y)
    label = last_part(around.name)
    return Blot(
        label=label, text="dot", contour=contour, cell=around.text.cell, drawn_as=around.name
    )


def _dot_place(around: Around) -> tuple[float, float, float]:
    """Centre and radius of a dot: beneath if it can be.

    A smaller one there is better than a large one beside.
    """
    ink, room, high = around.text.ink, around.room, around.height
    middle, level, half = 0.5 * (ink[0] + ink[2]), 0.5 * (ink[1] + ink[3]), 0.5 * _DOT * high
    ways = (
        (room[3] - ink[3], (middle, ink[3]), (0.0, 1.0)),
        (room[2] - ink[2], (ink[2], level), (1.0, 0.0)),
        (ink[0] - room[0], (ink[0], level), (-1.0, 0.0)),
        (ink[1] - room[1], (middle, ink[1]), (0.0, -1.0)),
        *((room[3] - ink[3], (x, ink[3]), (0.0, 1.0)) for x in (ink[0] + half, ink[2] - half)),
        *((ink[1] - room[1], (x, ink[1]), (0.0, -1.0)) for x in (ink[0] + half, ink[2] - half)),
    )
    white, least = _DOT_WHITE * high, _LEAST_DOT * high
    places, sizes = [], []
    for space, (x, y), (right, down) in ways:
        size = min(_DOT * high, max(space - white, 0.5 * space))
        radius = 0.5 * max(size, least)
        off = min(radius + white, max(space - radius, radius))
        places.append((x + right * off, y + down * off, radius))
        sizes.append(
            size if size >= least and _is_free(around, places[-1]) else min(size, least) - least
        )
    best = next((index for index, size in enumerate(sizes) if size >= least), int(np.argmax(sizes)))
    return places[best]


def _is_free(around: Around, place: tuple[float, float, float]) -> bool:
    """Whether a dot touches neither the stroke nor the other numeral of a shared cell."""
    if around.stroke is None or around.other is None:
        return True
    x, y, radius = place
    start, end = around.stroke.points
    along = end - start
    share = float(np.clip((np.array((x, y)) - start) @ along / (along @ along), 0.0, 1.0))
    to_stroke = float(np.hypot(*(start + share * along - (x, y)))) - 0.5 * around.stroke.width_px
    x0, y0, x1, y1 = around.other.ink
    to_other = float(np.hypot(max(x0 - x, 0.0, x - x1), max(y0 - y, 0.0, y - y1)))
    return min(to_stroke, to_other) > radius + 0.5 * around.pen
