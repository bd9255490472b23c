"""The stamps that a guide shows as a month, and for which years it has charts.

It draws nothing, so that a run which leaves the guide alone learns here that it may.
"""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import dataclass

from inkline.calendar.months import LAST_YEAR
from inkline.kit.papers.shown_layers import USUAL_YEAR
from inkline.kit.recipe.choices import Shows
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.month import calendar_month, calendar_stems
from inkline.kit.stamps.names import Subject, last_part, name_from_text
from inkline.kit.stamps.plan import StampPlan
from inkline.kit.stamps.words import month_name, year_name

HEAD = "head"
"""The kind of the blocks behind the weekdays, which are stamped with the other blocks."""
_JANUARY = 1
_N_YEARS = 5
"""For which the guide of a kit has charts."""
_KINDS = {
    Subject.BLOCKS: "blocks",
    Subject.HEADER_BLOCKS: HEAD,
    Subject.CUT_BLOCKS: "cut",
    Subject.STRIP_CUT_BLOCKS: "cut",
    Subject.GRID: "grid",
    Subject.DATES: "dates",
    Subject.STRIP_DATES: "dates",
    Subject.WEEKDAYS: "weekdays",
    Subject.STRIP_WEEKDAYS: "weekdays",
}
"""What kind of layer stamps of each subject are; others are none of an example."""

_FURTHER = {
    Subject.CUT_BLOCKS: "cut",
    Subject.WEEKS: "weeks",
    Subject.MARKS: "marks",
    Subject.SMALL_MONTH: "small",
    Subject.STRIP_DATES: "strip",
}
"""What kind stamps are that a month may also have, in the order in which they are told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExampleStamps:
    """The stamps of a finished month.

    Attributes:
        layers: from back to front, each with what kind of layer it is; at least one.
        words: that stand over it, from left to right: the month's name and the year; none where it
            has no dates.
        further: stamps of the other kinds that a month may have, each with its kind: one of each
            that the kit has.
    """

    layers: tuple[tuple[str, StampPlan], ...]
    words: tuple[StampPlan, ...]
    further: tuple[tuple[str, StampPlan], ...] = ()

    def plans(self) -> tuple[StampPlan, ...]:
        """All of them."""
        return (*(plan for _, plan in (*self.layers, *self.further)), *self.words)


def guide_years(recipe: Recipe) -> range:
    """The years of a kit's own charts: five from its first year on."""
    first = min(recipe.words.years, default=USUAL_YEAR)
    return range(first, min(first + _N_YEARS, LAST_YEAR + 1))


def example_stamps(recipe: Recipe, stamps: Mapping[str, StampPlan], *, year: int) -> ExampleStamps:
    """January of `year` in the kit's first format that shows months.

    Where none does, it is what the kit's first format has in place of it. `stamps` are those of the
    kit by their names, at least one.
    """
    shape = next((one for one in recipe.formats if one.shows is Shows.MONTH), recipe.formats[0])
    own = {last_part(name): plan for name, plan in stamps.items() if plan.format == shape.name}
    month = calendar_month(year, _JANUARY, start=next(iter(recipe.starts)))
    layers: list[tuple[str, StampPlan]] = []
    for stem in calendar_stems(own, shape, month):
        name = name_from_text(stem)
        kind = "" if name is None else _KINDS.get(name.subject, "")
        if kind:
            layers.append((kind, own[stem]))
    dated = any(kind in {"dates", "cut"} for kind, _ in layers)
    names = (month_name(_JANUARY), year_name(year)) if dated else ()
    return ExampleStamps(
        layers=tuple(layers) or (("grid", next(iter(stamps.values()))),),
        words=tuple(stamps[name] for name in names if name in stamps),
        further=_further(stamps, {kind for kind, _ in layers}) if dated else (),
    )


def _further(
    stamps: Mapping[str, StampPlan], shown: Container[str]
) -> tuple[tuple[str, StampPlan], ...]:
    """The first stamp of each kind that a month may have besides those that are `shown`."""
    found: dict[str, StampPlan] = {}
    for name, plan in stamps.items():
        read = name_from_text(last_part(name))
        kind = "" if read is None else _FURTHER.get(read.subject, "")
        if kind and kind not in shown:
            found.setdefault(kind, plan)
    return tuple((kind, found[kind]) for kind in _FURTHER.values() if kind in found)
