"""Week numbers for which the margin beside the grid is too narrow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from inkline.kit.recipe.choices import Shows, WeekNumbers, WeekNumbersIn
from inkline.kit.recipe.key import FORMATS
from inkline.kit.stamps.measures import Margins, NoRoomError, layout_of
from inkline.kit.stamps.plan import Place
from inkline.kit.stamps.weeks import margin_lack, widest_week
from inkline.source.faults import Fault, down
from inkline.units import Length, Unit

LEAST_WEEK_NUMERAL = 0.08
"""Smaller week numbers, as a share of the cell's width, are not suggested: nobody would read them. Chosen by eye."""
_MOST_TRIALS = 24
"""Cells, and with them the numbers, shrink as the margin grows; a few trials find the margin that holds them."""


def week_number_faults(place: Place) -> Iterator[Fault]:
    """Week numbers that hang in a margin too narrow for them, with each of the three ways out."""
    shape, layout = place.shape, place.layout
    hang = shape.week_numbers is not WeekNumbers.NONE and shape.week_numbers_in is WeekNumbersIn.MARGIN
    if shape.shows is not Shows.MONTH or not hang:
        return
    lack = margin_lack(place)
    if lack <= 0.0:
        return
    widest = widest_week(place)
    side, ways = "right" if layout.mirrored else "left", ['week_numbers_in = "narrow"']
    smaller = shape.week_numeral * (widest - lack) / widest
    if smaller >= LEAST_WEEK_NUMERAL:
        ways.append(f"week_numeral = {down(smaller)}")
    wider = _wide_margin(place)
    if wider is not None:
        ways.append(f"margin = [{', '.join(wider)}]")
    key = f"{FORMATS}.{shape.name}.week_numbers"
    yield place.recipe.fault(
        key,
        f"{key}: the margin at the {side} of {shape.name} is {lack:.4g} px too narrow for week numbers to hang in; {' or '.join(ways)} holds "
        "them",
    )


def _wide_margin(place: Place) -> tuple[str, ...] | None:
    """The format's margins, clockwise from the top in whole px, with that beside the week numbers as wide as they need; `None` if none does."""
    margins = place.layout.margins
    for _ in range(_MOST_TRIALS):
        lack = max(1.0, margin_lack(place))
        key = "right" if place.layout.mirrored else "left"
        wider = {key: float(int(getattr(margins, key) + lack) + 1)}
        margins = Margins(**({name: getattr(margins, name) for name in ("top", "right", "bottom", "left")} | wider))
        four = (margins.top, margins.right, margins.bottom, margins.left)
        top, right, bottom, left = (Length(px, Unit.PX) for px in four)
        shape = replace(place.shape, margin=(top, right, bottom, left))
        try:
            place = replace(place, shape=shape, layout=layout_of(place.recipe, shape))
        except NoRoomError:
            return None
        if margin_lack(place) <= 0.0:
            return tuple(f'"{px:g} px"' for px in four)
    return None
