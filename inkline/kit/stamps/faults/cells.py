"""What is found wrong with the numerals of a format once its layout and letters are known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from inkline.geometry.boxes import Box
from inkline.kit.recipe.choices import Level, Shows, Side, SixthWeek
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.model import Recipe
from inkline.kit.recipe.numbers import NUMERALS, px_text
from inkline.kit.stamps.cells import NumeralSet, numerals_of
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.measures import px_of_share
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.shared import shared_fit
from inkline.source.faults import Fault, largest_that_fits, text_rounded_down, text_rounded_up
from inkline.units import Length

_ROUNDING_PX = 1e-6
"""Shortfalls below this come from rounding, not from the recipe."""
LEAST_WHITE = 0.015
"""White that must stay between letters and the rules around them, as a share of the cell's width.
Chosen by eye."""


def numeral_faults(place: Place) -> Iterator[Fault]:
    """Numerals that come too near, or over, the rules or the sides of the block around them."""
    recipe, shape, layout = place.recipe, place.shape, place.layout
    numerals = numerals_of(place)
    cell = (0.0, 0.0, layout.cell_width, layout.cell_height)
    inks = {text: _ink_without_shift(numerals, text, cell, layout) for text in NUMERALS}
    edges = "blocks' edges" if layout.gap_is_from_blocks else "rules"
    room = LEAST_WHITE * layout.cell_width + layout.edge
    table = f"{FORMATS}.{shape.name}"
    # The mean white is the gap; a numeral's outermost points stand nearer, by what its size says.
    nearest = min((near for ink in inks.values() for near in _near(ink, layout)), default=room)
    lacking = room - nearest
    if min(_spaces(layout, room)) <= 0.0:
        width = f"{px_text(layout.cell_width)} wide and {px_text(layout.cell_height)} high"
        yield recipe.fault(
            f"{table}.gap", f"{table}.gap leaves a numeral no place in its cell, which is {width}"
        )
        return
    # Everything about a numeral but the white before it grows with its size.
    fits = {text: _fit(ink, layout, room) for text, ink in inks.items()}
    worst = min(fits, key=fits.__getitem__)
    if lacking > _ROUNDING_PX and (fits[worst] >= 1.0 or layout.white <= room):
        least = _like(
            shape.gap,
            text_rounded_up(
                (layout.gap + lacking) / _unit_px(recipe, shape.gap, layout.cell_width)
            ),
        )
        sentence = (
            f"must be at least {least} for all numerals to stand clear of the {edges}, "
            f"not {shape.gap}"
        )
        yield recipe.fault(f"{table}.gap", f"{table}.gap {sentence}", fits=least)
    elif fits[worst] < 1.0:
        clear = (layout.white - room) / (layout.white - nearest) if lacking > 0.0 else 1.0
        number = shape.numeral.value if isinstance(shape.numeral, Length) else shape.numeral
        most = _like(shape.numeral, text_rounded_down(number * min(fits[worst], clear)))
        sentence = f"must be at most {most} for the {worst} to fit its cell, not {shape.numeral}"
        yield recipe.fault(f"{table}.numeral", f"{table}.numeral {sentence}", fits=most)
    else:
        yield from _shift_faults(recipe, table, layout, inks)


def _ink_without_shift(numerals: NumeralSet, text: str, cell: Box, layout: FormatLayout) -> Box:
    x0, y0, x1, y1 = numerals.text_in_cell(text, cell, layout).ink
    right, lower = layout.shifts.get(text, (0.0, 0.0))
    return (x0 - right, y0 - lower, x1 - right, y1 - lower)


def _near(ink: Box, layout: FormatLayout) -> Iterator[float]:
    """How far the ink stays from the sides of its cell that it is placed from."""
    side, level = layout.place
    if side is not Side.CENTRE:
        yield ink[0] if side is Side.LEFT else layout.cell_width - ink[2]
    if level is not Level.MIDDLE:
        yield ink[1] if level is Level.TOP else layout.cell_height - ink[3]


def _spaces(layout: FormatLayout, room: float) -> tuple[float, float]:
    """How far a numeral may reach from the line that it is placed by, across and down."""
    side, level = layout.place
    across = layout.cell_width / 2.0 if side is Side.CENTRE else layout.cell_width - layout.white
    high = layout.cell_height / 2.0 if level is Level.MIDDLE else layout.cell_height - layout.white
    return across - room, high - room


def _fit(ink: Box, layout: FormatLayout, room: float) -> float:
    """How many times larger the numeral could be."""
    x0, y0, x1, y1 = ink
    width, height, white = layout.cell_width, layout.cell_height, layout.white
    side, level = layout.place
    across = {
        Side.LEFT: x1 - white,
        Side.CENTRE: max(x1 - width / 2.0, width / 2.0 - x0),
        Side.RIGHT: width - white - x0,
    }[side]
    high = {
        Level.TOP: y1 - white,
        Level.MIDDLE: max(y1 - height / 2.0, height / 2.0 - y0),
        Level.BOTTOM: height - white - y0,
    }[level]
    spaces = _spaces(layout, room)
    return min(spaces[0] / across, spaces[1] / high)


def _shift_faults(
    recipe: Recipe, table: str, layout: FormatLayout, inks: dict[str, Box]
) -> Iterator[Fault]:
    """Numerals that a shift of their own takes over a rule.

    Nearer to it is for the person to decide.
    """
    edge = layout.rule / 2.0
    for text, (right, lower) in layout.shifts.items():
        x0, y0, x1, y1 = inks[text]
        least_right, most_right = edge - x0, layout.cell_width - edge - x1
        least_lower, most_lower = edge - y0, layout.cell_height - edge - y1
        if not (least_right <= right <= most_right and least_lower <= lower <= most_lower):
            yield recipe.fault(
                f"{table}.shift.{text}",
                f"{table}.shift must keep the {text} between its rules: from {least_right:.1f} "
                f"to {most_right:.1f} px to the right and "
                f"from {least_lower:.1f} to {most_lower:.1f} px down, not {right:.4g} px and "
                f"{lower:.4g} px",
            )


def _unit_px(recipe: Recipe, value: float | Length, whole_px: float) -> float:
    """What 1 in the unit of `value` is in px: of a share, the whole."""
    return px_of_share(
        recipe, Length(1.0, value.unit) if isinstance(value, Length) else 1.0, whole_px
    )


def _like(value: float | Length, number: str) -> str:
    """`number` as the recipe would write it in place of `value`.

    It is a bare share, or a length in its unit.
    """
    return f'"{number} {value.unit.value}"' if isinstance(value, Length) else number


_SMALLEST = 0.2
"""The least share of the height that a recipe may ask for."""


_TRIALS = 10
"""Halvings of what is left between a share that fits and one that doesn't: to a thousandth."""


def shared_faults(place: Place) -> Iterator[Fault]:
    """Shared numerals that come too near the rules about their cell, with a share that fits."""
    recipe, shape, layout = place.recipe, place.shape, place.layout
    if shape.shows is not Shows.MONTH or shape.sixth_week is not SixthWeek.SHARED:
        return
    white = LEAST_WHITE * layout.cell_width

    def fits(share: float) -> bool:
        smaller = replace(place, shape=replace(shape, shared_numeral=share))
        return shared_fit(smaller, white=white) >= 1.0

    if fits(shape.shared_numeral):
        return
    table = f"{FORMATS}.{shape.name}"
    if not fits(_SMALLEST):
        yield recipe.fault(
            f"{table}.sixth_week",
            f'{table}.sixth_week = "shared" needs smaller numerals or larger cells: at any size '
            f"that shared_numeral allows, 23/30 and 24/31 "
            "run into the rules",
        )
        return
    most = text_rounded_down(
        largest_that_fits(fits, _SMALLEST, shape.shared_numeral, n_trials=_TRIALS)
    )
    yield recipe.fault(
        f"{table}.shared_numeral",
        f"{table}.shared_numeral must be at most {most} for 23/30 and 24/31 to stand clear of "
        f"the rules, not {shape.shared_numeral:g}",
        fits=most,
    )
