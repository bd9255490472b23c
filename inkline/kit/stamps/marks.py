"""Marks on the days that the user lists, month by month, in register with the dates."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from inkline.calendar.months import dates_number, month_length
from inkline.drawing import Role
from inkline.kit.recipe.choices import MarkedBy, Shows, SixthWeek
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.cells import placed_dates
from inkline.kit.stamps.content import TextContent
from inkline.kit.stamps.pieces import Blot, PenLine
from inkline.kit.stamps.placed_marks import placed_mark
from inkline.kit.stamps.plan import Part, Place
from inkline.kit.stamps.shared import SharedCell, placed_shared_dates, shared_pairs
from inkline.lettering.setting import PlacedText

Marked = tuple[tuple[int, MarkedBy], ...]
"""Days of one month in order, each with what it is marked by; a day may be marked in more than one way."""


def mark_parts(place: Place) -> Iterator[Part]:
    """A stamp for each month with marked days, and each day on which weeks begin; of strips one a month."""
    shape = place.shape
    months = marked_months(place.recipe)
    if shape.shows is Shows.STRIP:
        for (year, month), marked in months.items():
            yield _part(place, f"marks-{year}-{month:02d}", marked, 0)
    elif shape.shows is Shows.MONTH:
        for (year, month), marked in months.items():
            for name, start in place.recipe.starts.items():
                offset, stem = dates_number(year, month, week_start=start) - 1, f"marks-{year}-{month:02d}-{name}"
                yield _part(place, stem, marked, offset)
                days = month_length(year, month)
                shared = {day for pair in shared_pairs(offset, days) for day in pair}
                if shape.sixth_week is SixthWeek.SHARED and shared.intersection(day for day, _ in marked):
                    yield _part(place, stem, marked, offset, shared_of=days)


def marked_months(recipe: Recipe) -> dict[tuple[int, int], Marked]:
    """The marked days of each month that has any, by year and month in order: of their own year, or of every year of the kit."""
    found: dict[tuple[int, int], dict[tuple[int, MarkedBy], None]] = {}
    for mark in recipe.marks:
        for year in recipe.words.years if mark.year is None else (mark.year,):
            if mark.day <= month_length(year, mark.month):
                found.setdefault((year, mark.month), {})[mark.day, mark.by] = None
    return {month: tuple(sorted(found[month])) for month in sorted(found)}


def _part(place: Place, stem: str, marked: Marked, offset: int, *, shared_of: int = 0) -> Part:
    labels = tuple(_label(marked, day, by) for day, by in marked)
    setting = partial(placed_marks, place, stem, marked, offset, shared_of=shared_of)
    content = TextContent(role=Role.RULE, layer_name="marks", labels=labels, setting=setting)
    return Part(stem=f"{stem}-shared" if shared_of else stem, kind="marks", content=content)


def placed_marks(
    place: Place, stem: str, marked: Marked, offset: int, *, shared_of: int = 0
) -> tuple[PenLine | Blot, ...]:
    """The marks of one month.

    Args:
        place: the format.
        stem: the last part of the name of the stamp that has all days in cells of their own.
        marked: the days, and what marks them.
        offset: columns before the first of the month.
        shared_of: days of the month if the sixth week's share the cells of the fifth; else 0.
    """
    texts, cells = _numerals(place, marked, offset, shared_of)
    marks = []
    for day, by in marked:
        cell = cells.get(str(day))
        name = f"{place.layout.name}/{stem}{'-shared' if cell else ''}/{_label(marked, day, by)}"
        text, number = texts[str(day)], place.recipe.number
        marks.append(placed_mark(text, by, place.layout, number=number, name=name, shared=cell))
    return tuple(marks)


def _numerals(
    place: Place, marked: Marked, offset: int, shared_of: int
) -> tuple[dict[str, PlacedText], dict[str, SharedCell]]:
    """The numerals of the marked days, and the cells that two days share, by what the days are called."""
    recipe, shape, layout, face = place.recipe, place.shape, place.layout, place.face
    days = sorted({day for day, _ in marked})
    if not shared_of:
        return {one.label: one for one in placed_dates(recipe, shape, layout, face, offset, days=days)}, {}
    pieces = placed_shared_dates(recipe, shape, layout, face, offset, days=shared_of)
    texts = {piece.label: piece for piece in pieces if isinstance(piece, PlacedText)}
    pairs = [
        (text, piece) for piece in pieces if isinstance(piece, SharedCell) for text in (piece.earlier, piece.later)
    ]
    return texts | {text.label: text for text, _ in pairs}, {text.label: cell for text, cell in pairs}


def _label(marked: Marked, day: int, by: MarkedBy) -> str:
    """A mark is called by its day, and by its kind as well where the day has more than one."""
    return str(day) if sum(one == day for one, _ in marked) == 1 else f"{day}-{by.value}"
