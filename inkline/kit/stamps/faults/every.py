"""What is found wrong with a recipe once its layout and letters are known.

Every sentence says what would be right: the largest size that fits, or the smallest margin.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from inkline.calendar.months import month_length
from inkline.calendar.names import NameWidth, month_names
from inkline.kit.recipe.choices import Shows
from inkline.kit.recipe.formats import formats_with_values
from inkline.kit.recipe.model import Recipe, language_tags
from inkline.kit.stamps.catalogue import plan_makers
from inkline.kit.stamps.faults.cells import numeral_faults, shared_faults
from inkline.kit.stamps.faults.cut import cut_faults
from inkline.kit.stamps.faults.measures import layout_faults, place_or_fault
from inkline.kit.stamps.faults.names import again_faults
from inkline.kit.stamps.faults.near import crowding_notes, mark_notes
from inkline.kit.stamps.faults.use import vanishing_faults, vanishing_notes
from inkline.kit.stamps.faults.words import (
    glyph_faults,
    week_number_faults,
    weekday_faults,
    word_faults,
)
from inkline.kit.stamps.file_names import file_faults
from inkline.kit.stamps.place import Place, place_of
from inkline.kit.stamps.words import months_as_short
from inkline.lettering.face import Face
from inkline.source.faults import Fault

_NEARLY = 0.8
"""How much alike two names are, of 1, of which one may be meant by the other."""


def recipe_faults(recipe: Recipe, face: Face) -> tuple[Fault, ...]:
    """All faults of `recipe` that its layout and letters show; none if it can be drawn."""
    faults = [*glyph_faults(recipe, face)]
    has_letters = not faults
    for shape in recipe.formats:
        place = place_or_fault(recipe, shape, face)
        if isinstance(place, Fault):
            faults.append(place)
            continue
        own = [*layout_faults(place)]
        faults += own
        if has_letters:
            faults += _letter_faults(place, has_blocks=not any(map(_is_of_blocks, own)))
    if has_letters:
        faults += word_faults(recipe, face)
    if not faults:
        makers = plan_makers(recipe, face)
        faults += file_faults(recipe, makers)
        faults += again_faults(recipe, makers)
    return tuple(faults)


def recipe_notes(recipe: Recipe, face: Face) -> tuple[str, ...]:
    """What the owner of a recipe without faults should know all the same, in sentences."""
    places = [place_of(recipe, shape, face) for shape in recipe.formats]
    about = (vanishing_notes, crowding_notes, mark_notes)
    formats = (note for place in places for notes in about for note in notes(place))
    return (*_marks_notes(recipe), *_names_notes(recipe), *_format_notes(recipe), *formats)


def _marks_notes(recipe: Recipe) -> Iterator[str]:
    """Marked days of every year that no year of the kit has."""
    for mark in recipe.marks:
        if mark.year is None and not any(
            mark.day <= month_length(year, mark.month) for year in recipe.words.years
        ):
            day = f"{mark.month:02d}-{mark.day:02d}"
            yield f'marks: no year of the kit has a day "{day}", so nothing is marked there'


def _names_notes(recipe: Recipe) -> Iterator[str]:
    """Months that have one stamp for both of their names, as these are the same."""
    for language in language_tags(recipe):
        months = months_as_short(recipe, language)
        if months:
            names = month_names(language, width=NameWidth.WIDE, case=recipe.words.letters)
            said = ", ".join(names[month - 1] for month in months)
            yield (
                f"words.months: in {language} the full name is as short as the abbreviated one, "
                f"so one stamp does for both: {said}"
            )


def _format_notes(recipe: Recipe) -> Iterator[str]:
    """Formats that are called nearly as one that inkline has values of its own for."""
    known = formats_with_values()
    for shape in recipe.formats:
        if shape.name in known:
            continue
        near = difflib.get_close_matches(shape.name, known, n=1, cutoff=_NEARLY)
        if near:
            yield (
                f'formats.{shape.name} is a format of your own name; did you mean "{near[0]}"? It '
                f"would then have the values of that"
            )


def _is_of_blocks(fault: Fault) -> bool:
    return fault.key.endswith(".block_inset")


def _letter_faults(place: Place, *, has_blocks: bool) -> Iterator[Fault]:
    """Numerals and weekdays that don't fit their places, and strokes that would vanish.

    Of blocks that aren't as their owner means them, nothing is said but that.
    """
    if place.shape.shows not in {Shows.WEEK, Shows.DAY}:
        if has_blocks or not place.layout.gap_is_from_blocks:
            own = [*numeral_faults(place)]
            yield from own
            if not own and has_blocks:
                yield from cut_faults(place)
        yield from shared_faults(place)
    if place.shape.shows is not Shows.DAY:
        yield from weekday_faults(place)
    yield from week_number_faults(place)
    yield from vanishing_faults(place)
