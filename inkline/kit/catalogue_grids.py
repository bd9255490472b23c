"""The grids of a format: its rules, with and without the row of weekdays."""

from __future__ import annotations

from collections.abc import Iterator

from inkline.calendar.grid import MonthGrid, RuleWidths
from inkline.kit.catalogue_content import RuleContent
from inkline.kit.catalogue_part import Part, Place
from inkline.kit.layout import FormatLayout
from inkline.kit.schema_words import Header


def grid_parts(place: Place) -> Iterator[Part]:
    """A grid for each number of rows, without a header and with one."""
    layout, shape = place.layout, place.shape
    for take in takes_of(place):
        if shape.header is not Header.WITH:
            for n_rows in shape.weeks:
                yield Part(
                    stem=f"grid-{n_rows}{take}",
                    kind="grid",
                    content=_rules(layout, layout.grid(n_rows), layout.even_widths),
                )
        if shape.header is not Header.WITHOUT:
            for n_rows in shape.weeks:
                rules = _rules(layout, layout.headed_grid(n_rows), layout.framed_widths)
                yield Part(stem=f"grid-{n_rows}-head{take}", kind="grid", content=rules)


def takes_of(place: Place) -> tuple[str, ...]:
    """What the names of a format's takes end in: nothing where there is one only."""
    return ("",) if place.shape.takes == 1 else tuple(f"-{letter}" for letter in "abc"[: place.shape.takes])


def _rules(layout: FormatLayout, grid: MonthGrid, widths: RuleWidths) -> RuleContent:
    return RuleContent(rules=grid.rules(widths), side=layout.side, safe=layout.safe)
