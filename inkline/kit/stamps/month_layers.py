"""Which stamps of a format make one calendar together, whatever its recipe leaves out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from inkline.calendar.months import (
    MONTHS_PER_YEAR,
    first_weekday,
    month_length,
    offset_from,
    rows_needed,
)
from inkline.kit.recipe.choices import Shows, SixthWeek
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.recipe.model import FormatRecipe
from inkline.kit.stamps.plan import WEEKDAY_LABELS
from inkline.kit.stamps.week_names import weeks_stamp

LONGEST = 31
_MOST_ROWS, _SHARED_ROWS = 6, 5
_TAKES = ("", "-a")
"""What the name of a thing's first take ends in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """The month that a calendar shows.

    Attributes:
        year: its year.
        month: 1 to 12.
        offset: empty cells before its first day.
        days: how many it has.
        start: the day on which weeks begin, as `key.WEEK_STARTS` names it.
    """

    year: int
    month: int
    offset: int
    days: int
    start: str

    @property
    def rows(self) -> int:
        """Weeks that it touches."""
        return rows_needed(self.offset, self.days)


def shown_month(year: int, month: int, *, start: str) -> Shown:
    """`month` (1 to 12) of `year` in weeks that begin on `start`.

    Raises:
        ValueError: a month or year outside its range.
    """
    offset = offset_from(first_weekday(year, month), week_start=WEEK_STARTS[start])
    return Shown(year=year, month=month, offset=offset, days=month_length(year, month), start=start)


def fitting_month(shape: FormatRecipe, year: int, *, start: str) -> Shown:
    """The first month of `year` with 31 days, as many as every set of dates shows, that the format's grids have rows for, or January."""
    months = [shown_month(year, month, start=start) for month in range(1, MONTHS_PER_YEAR + 1)]
    long = [month for month in months if month.days == LONGEST]
    most = _MOST_ROWS if _shares(shape) else max(shape.weeks, default=_MOST_ROWS)
    return next((month for month in long if month.rows <= most), long[0])


def calendar_stems(there: Iterable[str], shape: FormatRecipe, shown: Shown) -> tuple[str, ...]:
    """The last parts of the names of the stamps that make the calendar of `shown`, back to front.

    Args:
        there: the last parts of the names of the format's stamps.
        shape: the format.
        shown: the month.
    """
    stems = set(there)
    wanted = {Shows.MONTH: _month, Shows.STRIP: _strip, Shows.SMALL: _small}.get(
        shape.shows, _undated
    )
    layers = (
        next((stem for stem in choice if stem in stems), None)
        for choice in wanted(stems, shape, shown)
    )
    return tuple(stem for stem in layers if stem is not None)


def _shares(shape: FormatRecipe) -> bool:
    return shape.sixth_week is SixthWeek.SHARED and _SHARED_ROWS in shape.weeks


def _month(stems: set[str], shape: FormatRecipe, shown: Shown) -> Iterator[list[str]]:
    """For each layer the stems that may serve, the best first."""
    shared = _shares(shape) and shown.rows > _SHARED_ROWS
    rows = [_SHARED_ROWS] if shared else sorted(shape.weeks, reverse=True)
    blocks = [f"blocks-{n}{take}" for n in rows for take in _TAKES]
    cut = [f"blocks-{n}{take}-cut-{shown.offset + 1}" for n in rows for take in _TAKES]
    yield [*blocks, *cut]
    yield [f"blocks-head{take}" for take in _TAKES]
    yield [f"grid-{n}{head}{take}" for n in rows for head in ("-head", "") for take in _TAKES]
    if stems.intersection(blocks) or not stems.intersection(cut):
        yield from _dates(stems, shown, shared="-shared" if shared else "")
    yield [f"weekdays-{shown.start}"]
    weeks = weeks_stamp(
        shape.week_numbers, shown.year, shown.month, week_start=WEEK_STARTS[shown.start]
    )
    yield [f"{weeks}-{_SHARED_ROWS if shared else shown.rows}-rows", weeks]
    marks = f"marks-{shown.year}-{shown.month:02d}-{shown.start}"
    yield [f"{marks}-shared", marks] if shared else [marks]


def _dates(stems: set[str], shown: Shown, *, shared: str) -> Iterator[list[str]]:
    """The dates, days of work and of rest apart where they have stamps of their own."""
    column = f"dates-{shown.offset + 1}"
    for whole in (f"{column}-{shown.days}", column):
        split = [
            f"{whole}{shared}-{part}-{shown.start}" for part in ("workdays", "saturdays", "sundays")
        ]
        if stems.issuperset(split):
            yield from ([stem] for stem in split)
            return
    yield [f"{column}-{shown.days}{shared}", f"{column}{shared}"]


def _strip(stems: set[str], shape: FormatRecipe, shown: Shown) -> Iterator[list[str]]:  # noqa: ARG001 - one of several
    yield from _undated_blocks()
    yield [f"dates-{shown.days}", f"dates-{LONGEST}"]
    yield [f"weekdays-from-{WEEKDAY_LABELS[first_weekday(shown.year, shown.month)]}"]
    yield [f"marks-{shown.year}-{shown.month:02d}"]


def _small(stems: set[str], shape: FormatRecipe, shown: Shown) -> Iterator[list[str]]:  # noqa: ARG001 - one of several
    yield [f"month-{shown.offset + 1}-{shown.days}-{shown.start}"]


def _undated(stems: set[str], shape: FormatRecipe, shown: Shown) -> Iterator[list[str]]:  # noqa: ARG001 - one of several
    yield from _undated_blocks()
    yield [f"weekdays-{shown.start}"]


def _undated_blocks() -> Iterator[list[str]]:
    yield [f"blocks{take}" for take in _TAKES]
    yield [f"blocks-head{take}" for take in _TAKES]
    yield [f"grid{head}{take}" for head in ("-head", "") for take in _TAKES]
