"""The catalogue: every stamp of a kit by its name, with what makes its plan."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from inkline.errors import InputError
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.blocks import block_parts
from inkline.kit.stamps.dates import date_parts
from inkline.kit.stamps.grids import grid_parts
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.marks import mark_parts
from inkline.kit.stamps.place import place_of
from inkline.kit.stamps.plan import Part, PartMaker, StampPlan
from inkline.kit.stamps.small import small_parts
from inkline.kit.stamps.weekdays import weekday_parts
from inkline.kit.stamps.weeks import week_number_parts
from inkline.kit.stamps.words import word_parts, word_plan
from inkline.lettering.face import Face
from inkline.source.faults import did_you_mean


def stamp_names(recipe: Recipe, face: Face) -> tuple[str, ...]:
    """Names of all stamps, in the catalogue's order, without setting any."""
    return tuple(plan_makers(recipe, face))


def plan_by_name(recipe: Recipe, face: Face, name: str) -> StampPlan:
    """The plan of one stamp, equal to the catalogue's own.

    It is made without the others and without checking the recipe.

    Raises:
        InputError: no stamp of that name.
    """
    makers = plan_makers(recipe, face)
    if name not in makers:
        raise InputError(f'there is no stamp "{name}"{did_you_mean(name, makers)}')
    return makers[name]()


Maker = Callable[[], StampPlan]


_MAKERS: tuple[PartMaker, ...] = (
    grid_parts,
    block_parts,
    date_parts,
    small_parts,
    weekday_parts,
    week_number_parts,
    mark_parts,
)
"""In the order in which a format's stamps are listed."""


def plan_makers(recipe: Recipe, face: Face) -> dict[str, Maker]:
    """For each stamp's name, what makes its plan: format by format, then the words."""
    makers: dict[str, Maker] = {}
    for shape in recipe.formats:
        place = place_of(recipe, shape, face)
        for part in (part for parts in _MAKERS for part in parts(place)):
            makers[part.name.text] = partial(_format_plan, place.layout, part)
    for name, sheets, index in word_parts(recipe, face):
        makers[name] = partial(word_plan, name, recipe, sheets, index)
    return makers


def _format_plan(layout: FormatLayout, part: Part) -> StampPlan:
    return StampPlan(
        name=part.name.text,
        kind=part.kind,
        format=layout.name,
        canvas=part.canvas or layout.canvas,
        sheet_px=float(layout.side),
        content=part.content,
        raggedness=part.raggedness,
        crisp=part.crisp,
        cut=part.cut,
    )
