"""The grids of a format: its rules, with and without the weekdays' row."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from inkline.calendar.grid import Grid, RuleWidths
from inkline.geometry.boxes import Interval
from inkline.kit.recipe.choices import Header, Shows
from inkline.kit.recipe.model import FormatRecipe
from inkline.kit.stamps.content import Content, RuleContent, SharedContent
from inkline.kit.stamps.measures import FormatLayout
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.plan import Part

TAKES = "abc"
FIRST_TAKE = f"-{TAKES[0]}"
"""What the names of takes end in after a hyphen, and that of the first."""


def grid_parts(place: Place) -> Iterator[Part]:
    """A grid for each number of rows, without a header and with one; small months have none."""
    layout, shape = place.layout, place.shape
    if shape.shows is Shows.SMALL:
        return
    if shape.header is not Header.WITH:
        for stem, n_rows in numbers_of_rows("grid", shape):
            yield from _takes(place, stem, _rules(layout, layout.grid(n_rows), layout.even_widths))
    if shape.header is not Header.WITHOUT:
        for stem, n_rows in numbers_of_rows("grid", shape):
            rules = _rules(layout, layout.headed_grid(n_rows), layout.framed_widths)
            yield from _takes(place, f"{stem}-head", rules)


def numbers_of_rows(stem: str, shape: FormatRecipe) -> tuple[tuple[str, int | None], ...]:
    """For each number of rows that a format has, what the names of its stamps begin with, and the number.

    A month has several, as `grid-5`. What always has the same is plainly `grid`, and its number
    `None`, which stands for all rows.
    """
    if shape.shows is Shows.MONTH:
        return tuple((f"{stem}-{n_rows}", n_rows) for n_rows in shape.weeks)
    return ((stem, None),)


def takes_of(place: Place) -> tuple[str, ...]:
    """What the names of a format's takes end in: nothing where there is one only."""
    return (
        ("",)
        if place.shape.takes == 1
        else tuple(f"-{letter}" for letter in TAKES[: place.shape.takes])
    )


def taken(place: Place, stem: str, take: str, content: Content) -> Content:
    """What the take of the stamp `stem` holds whose name ends in `take`: what differs is the name, which seeds the ink.

    The first of several is drawn as the only one would be, so that asking for more leaves what
    buyers have as it is.
    """
    return (
        SharedContent(content=content, stamp=f"{place.shape.name}/{stem}")
        if take == FIRST_TAKE
        else content
    )


def _takes(place: Place, stem: str, rules: RuleContent) -> Iterator[Part]:
    """The same rules, drawn as many times as there are takes."""
    for take in takes_of(place):
        yield Part(stem=f"{stem}{take}", kind="grid", content=taken(place, stem, take, rules))


def _rules(layout: FormatLayout, grid: Grid, widths: RuleWidths) -> RuleContent:
    whites = (_whites(grid.columns, widths), _whites((*grid.header_bands, *grid.rows), widths))
    return RuleContent(
        rules=grid.rules(widths), canvas=layout.canvas, safe=layout.safe, whites=whites
    )


def _whites(intervals: Iterable[Interval], widths: RuleWidths) -> tuple[Interval, ...]:
    """The white between the frames of neighbouring panels, for columns or bands that a gutter parts."""
    half = widths.frame_px / 2.0
    pairs = pairwise(sorted(intervals))
    return tuple(
        (before[1] + half, after[0] - half) for before, after in pairs if after[0] > before[1]
    )
