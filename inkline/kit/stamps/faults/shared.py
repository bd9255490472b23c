"""Pairs of days that are too large for the cell that they share."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from inkline.kit.recipe.choices import Shows, SixthWeek
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.faults.cells import LEAST_WHITE
from inkline.kit.stamps.measures import FormatLayout
from inkline.kit.stamps.shared import shared_fit
from inkline.lettering.face import Face
from inkline.source.faults import Fault, down

_SMALLEST = 0.2
"""The least share of the height that a recipe may ask for."""
_TRIALS = 10
"""Halvings of what is left between a share that fits and one that doesn't: to a thousandth."""


def shared_faults(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout, face: Face) -> Iterator[Fault]:
    """Shared numerals that would come too near the rules about their cell, with the largest share that fits."""
    if shape.shows is not Shows.MONTH or shape.sixth_week is not SixthWeek.SHARED:
        return
    white = LEAST_WHITE * layout.cell_width

    def fits(share: float) -> bool:
        return shared_fit(recipe, replace(shape, shared_numeral=share), layout, face, white=white) >= 1.0

    if fits(shape.shared_numeral):
        return
    table = f"{FORMATS}.{shape.name}"
    if not fits(_SMALLEST):
        yield recipe.fault(
            f"{table}.sixth_week",
            f'{table}.sixth_week = "shared" needs smaller numerals or larger cells: at any size that shared_numeral allows, 23/30 and 24/31 '
            "run into the rules",
        )
        return
    low, high = _SMALLEST, shape.shared_numeral
    for _ in range(_TRIALS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if fits(middle) else (low, middle)
    yield recipe.fault(
        f"{table}.shared_numeral",
        f"{table}.shared_numeral must be at most {down(low)} for 23/30 and 24/31 to stand clear of the rules, not {shape.shared_numeral:g}",
    )
