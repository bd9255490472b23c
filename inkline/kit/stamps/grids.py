"""The grids of a format: its rules, with and without the weekdays' row."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from inkline.calendar.grid import Grid, RuleWidths
from inkline.geometry.boxes import Interval
from inkline.kit.recipe.choices import Header, Shows
from inkline.kit.recipe.model import FormatRecipe
from inkline.kit.stamps.content import Content, RuleContent, SharedContent
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.names import TAKES, StampName, Subject
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.plan import Part


def grid_parts(place: Place) -> Iterator[Part]:
    """A grid for each number of rows, without a header and with one; small months have none."""
    layout, shape = place.layout, place.shape
    if shape.shows is Shows.SMALL:
        return
    for head in (False, True):
        if shape.header is (Header.WITHOUT if head else Header.WITH):
            continue
        for n_rows in numbers_of_rows(shape):
            name = StampName(folder=shape.name, subject=Subject.GRID, rows=n_rows, head=head)
            grid = layout.headed_grid(n_rows) if head else layout.grid(n_rows)
            rules = _rules(layout, grid, layout.framed_widths if head else layout.even_widths)
            for take in takes_of(shape):
                content = content_of_take(rules, name, take)
                yield Part(name=replace(name, take=take), kind="grid", content=content)


def numbers_of_rows(shape: FormatRecipe) -> tuple[int | None, ...]:
    """The numbers of rows that a format's grids have, as its names say them.

    A month has several, as `grid-5` says. What always has the same is plainly called `grid`, and
    its number is `None`, which stands for all rows.
    """
    return shape.weeks if shape.shows is Shows.MONTH else (None,)


def takes_of(shape: FormatRecipe) -> tuple[str, ...]:
    """What a format's takes are called in names: nothing where there is one only."""
    return ("",) if shape.takes == 1 else tuple(TAKES[: shape.takes])


def content_of_take(content: Content, name: StampName, take: str) -> Content:
    """What one take of the stamp `name` holds: what differs is the name, which seeds the ink.

    The first of several is drawn as the only one would be, so that asking for more leaves what
    buyers have as it is.
    """
    return SharedContent(content=content, stamp=name.text) if take == TAKES[0] else content


def _rules(layout: FormatLayout, grid: Grid, widths: RuleWidths) -> RuleContent:
    whites = (_whites(grid.columns, widths), _whites((*grid.header_bands, *grid.rows), widths))
    return RuleContent(
        rules=grid.rules(widths), canvas=layout.canvas, safe=layout.safe, whites=whites
    )


def _whites(intervals: Iterable[Interval], widths: RuleWidths) -> tuple[Interval, ...]:
    """The white between the frames of neighbouring panels, where a gutter parts them."""
    half = widths.frame_px / 2.0
    pairs = pairwise(sorted(intervals))
    return tuple(
        (before[1] + half, after[0] - half) for before, after in pairs if after[0] > before[1]
    )
