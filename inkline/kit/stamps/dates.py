"""The dates of a format: the numerals of a month.

There are stamps for each column in which it may begin and each length that it may have.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.drawing import Role
from inkline.kit.recipe.choices import Dates, Shows, SixthWeek, Split
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.stamps.cells import LONGEST, date_texts, dates_name
from inkline.kit.stamps.content import TextContent
from inkline.kit.stamps.names import SplitPart as SplitName
from inkline.kit.stamps.names import StampName
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.plan import SMALL_RAGGEDNESS, Part
from inkline.kit.stamps.shared import pairs_in_one_cell, shared_date_pieces

LENGTHS = (28, 29, 30, 31)
"""Days that a month may have."""
_DATED = frozenset({Shows.MONTH, Shows.STRIP})
_SATURDAY, _SUNDAY = WEEK_STARTS["saturday"], WEEK_STARTS["sunday"]


_PartOf = Callable[[Place, StampName, "_DateRun", tuple[int, ...]], Part]


@dataclass(frozen=True, slots=True, kw_only=True)
class _DateRun:
    """The dates of one stamp.

    Attributes:
        name: the stamp's name.
        offset: columns before the first of the month.
        days: how many days there are.
    """

    name: StampName
    offset: int
    days: int = LONGEST


def date_parts(place: Place) -> Iterator[Part]:
    """The dates for each column in which a month may begin.

    They run to 31 or are exact, and come whole, in five rows, and split at the weekend.
    """
    shape = place.shape
    if shape.shows not in _DATED:
        return
    for run in _date_runs(place):
        yield from _whole_and_split(place, run, run.name, _date_part)
        if (
            shape.shows is Shows.MONTH
            and shape.sixth_week is SixthWeek.SHARED
            and pairs_in_one_cell(run.offset, run.days)
        ):
            yield from _whole_and_split(place, run, _shared_name(run), _shared_part)


def _whole_and_split(place: Place, run: _DateRun, name: StampName, part: _PartOf) -> Iterator[Part]:
    """A stamp of all days of a run, and of its weekends and other days where asked for."""
    yield part(place, name, run, tuple(range(1, run.days + 1)))
    if place.shape.shows is Shows.MONTH and place.shape.split is Split.WEEKEND:
        for start, split, days in _days_of_rest_and_work(place, run):
            yield part(place, replace(name, split=split, start=start), run, days)


def _shared_name(run: _DateRun) -> StampName:
    """The name of a run in five rows.

    It says no length of 31 days, since all others are drawn from that.
    """
    days = None if run.days == LONGEST else run.name.days
    return replace(run.name, days=days, shared=True)


def _date_runs(place: Place) -> Iterator[_DateRun]:
    """All whole stamps of dates of a format, in the order of their names."""
    shape = place.shape
    lengths = (
        ()
        if shape.dates is Dates.TO_31
        else LENGTHS
        if shape.dates is Dates.EXACT
        else LENGTHS[:-1]
    )
    if shape.shows is Shows.STRIP:
        whole = dates_name(shape, 0)
        for days in sorted({LONGEST, *lengths}, reverse=True):
            yield _DateRun(name=replace(whole, days=days), offset=0, days=days)
        return
    for offset in range(DAYS_PER_WEEK):
        name = dates_name(shape, offset)
        if shape.dates is not Dates.EXACT:
            yield _DateRun(name=name, offset=offset)
        for days in lengths:
            yield _DateRun(name=replace(name, days=days), offset=offset, days=days)


def _days_of_rest_and_work(
    place: Place, run: _DateRun
) -> Iterator[tuple[str, SplitName, tuple[int, ...]]]:
    """For each day on which weeks begin the days of work, the Saturdays and the Sundays of a run.

    Each with the name of that day, and what they are called in their stamps' names.
    """
    for name, start in place.recipe.starts.items():
        weekdays = {
            day: (start + run.offset + day - 1) % DAYS_PER_WEEK for day in range(1, run.days + 1)
        }
        for split, kept in (
            (SplitName.WORKDAYS, range(_SATURDAY)),
            (SplitName.SATURDAYS, (_SATURDAY,)),
            (SplitName.SUNDAYS, (_SUNDAY,)),
        ):
            yield name, split, tuple(day for day, weekday in weekdays.items() if weekday in kept)


def _date_part(place: Place, name: StampName, run: _DateRun, days: tuple[int, ...]) -> Part:
    setting = partial(date_texts, place, run.offset, days=days)
    labels = tuple(str(day) for day in days)
    content = TextContent(role=Role.NUMERAL, layer_name="numerals", labels=labels, setting=setting)
    return Part(name=name, kind="dates", content=content, raggedness=_raggedness(place))


def _shared_part(place: Place, name: StampName, run: _DateRun, days: tuple[int, ...]) -> Part:
    setting = partial(shared_date_pieces, place, run.offset, days=run.days, shown=days)
    strokes = (
        f"{pair[0]}-{pair[1]}"
        for pair in pairs_in_one_cell(run.offset, run.days)
        if pair[0] in days
    )
    labels = (*(str(day) for day in days), *strokes)
    content = TextContent(role=Role.NUMERAL, layer_name="numerals", labels=labels, setting=setting)
    return Part(name=name, kind="dates", content=content, raggedness=_raggedness(place))


def _raggedness(place: Place) -> float:
    """Share of the style's raggedness that the numerals of a format are drawn with."""
    return SMALL_RAGGEDNESS if place.shape.is_small else 1.0
