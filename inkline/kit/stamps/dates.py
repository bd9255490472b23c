"""The dates of a format: the numerals of a month for each column in which it may begin and each length that it may have."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.drawing import Role
from inkline.kit.recipe.choices import Dates, Shows, SixthWeek, Split
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.stamps.cells import LONGEST, dates_stem, placed_dates
from inkline.kit.stamps.content import TextContent
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.plan import SMALL_RAGGEDNESS, Part
from inkline.kit.stamps.shared import placed_shared_dates, shared_pairs

LENGTHS = (28, 29, 30, 31)
"""Days that a month may have."""
_DATED = frozenset({Shows.MONTH, Shows.STRIP})
_SATURDAY, _SUNDAY = WEEK_STARTS["saturday"], WEEK_STARTS["sunday"]


_PartOf = Callable[[Place, str, "DateRun", tuple[int, ...]], Part]


@dataclass(frozen=True, slots=True, kw_only=True)
class DateRun:
    """The dates of one stamp.

    Attributes:
        stem: the last part of the stamp's name.
        offset: columns before the first of the month.
        days: how many days there are.
    """

    stem: str
    offset: int
    days: int = LONGEST


def date_parts(place: Place) -> Iterator[Part]:
    """The dates for each column in which a month may begin: to 31 or exact, whole, in five rows, and split at the weekend."""
    shape = place.shape
    if shape.shows not in _DATED:
        return
    for run in date_runs(place):
        yield from _whole_and_split(place, run, run.stem, _dates)
        if (
            shape.shows is Shows.MONTH
            and shape.sixth_week is SixthWeek.SHARED
            and shared_pairs(run.offset, run.days)
        ):
            yield from _whole_and_split(place, run, f"{_own_stem(run)}-shared", _shared)


def _whole_and_split(place: Place, run: DateRun, stem: str, part: _PartOf) -> Iterator[Part]:
    """A stamp of all days of a run, and those of its weekends and other days where they are asked for."""
    yield part(place, stem, run, tuple(range(1, run.days + 1)))
    if place.shape.shows is Shows.MONTH and place.shape.split is Split.WEEKEND:
        for ending, days in split_days(place, run):
            yield part(place, f"{stem}-{ending}", run, days)


def _own_stem(run: DateRun) -> str:
    """The run's stem without the length of the longest month: in five rows that is what all others are drawn from."""
    return run.stem.removesuffix(f"-{LONGEST}")


def date_runs(place: Place) -> Iterator[DateRun]:
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
        for days in sorted({LONGEST, *lengths}, reverse=True):
            yield DateRun(stem=f"dates-{days}", offset=0, days=days)
        return
    for offset in range(DAYS_PER_WEEK):
        stem = dates_stem(shape, offset)
        if shape.dates is not Dates.EXACT:
            yield DateRun(stem=stem, offset=offset)
        for days in lengths:
            yield DateRun(stem=f"{stem}-{days}", offset=offset, days=days)


def split_days(place: Place, run: DateRun) -> Iterator[tuple[str, tuple[int, ...]]]:
    """The days of work, the Saturdays and the Sundays of a run for each day on which weeks begin, and how their stamps' names end."""
    for name, start in place.recipe.starts.items():
        weekdays = {
            day: (start + run.offset + day - 1) % DAYS_PER_WEEK for day in range(1, run.days + 1)
        }
        for kind, kept in (
            ("workdays", range(_SATURDAY)),
            ("saturdays", (_SATURDAY,)),
            ("sundays", (_SUNDAY,)),
        ):
            yield (
                f"{kind}-{name}",
                tuple(day for day, weekday in weekdays.items() if weekday in kept),
            )


def _dates(place: Place, stem: str, run: DateRun, days: tuple[int, ...]) -> Part:
    setting = partial(
        placed_dates, place.recipe, place.shape, place.layout, place.face, run.offset, days=days
    )
    labels = tuple(str(day) for day in days)
    content = TextContent(role=Role.NUMERAL, layer_name="numerals", labels=labels, setting=setting)
    return Part(stem=stem, kind="dates", content=content, raggedness=raggedness(place))


def _shared(place: Place, stem: str, run: DateRun, days: tuple[int, ...]) -> Part:
    setting = partial(
        placed_shared_dates,
        place.recipe,
        place.shape,
        place.layout,
        place.face,
        run.offset,
        days=run.days,
        shown=days,
    )
    strokes = (
        f"{pair[0]}-{pair[1]}" for pair in shared_pairs(run.offset, run.days) if pair[0] in days
    )
    labels = (*(str(day) for day in days), *strokes)
    content = TextContent(role=Role.NUMERAL, layer_name="numerals", labels=labels, setting=setting)
    return Part(stem=stem, kind="dates", content=content, raggedness=raggedness(place))


def raggedness(place: Place) -> float:
    """Share of the style's raggedness that the numerals of a format are drawn with."""
    return SMALL_RAGGEDNESS if place.shape.is_small else 1.0
