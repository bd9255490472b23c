"""What is found wrong with words: letters that are missing, and words wider than their places."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from inkline.kit.recipe.choices import Shows, WeekNumbers, WeekNumbersIn
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.faults.cells import LEAST_WHITE
from inkline.kit.stamps.faults.measures import in_px
from inkline.kit.stamps.layout import Margins
from inkline.kit.stamps.measures import NoRoomError
from inkline.kit.stamps.place import Place, place_of
from inkline.kit.stamps.two_faces import numerals_face
from inkline.kit.stamps.weekdays import all_weekday_texts, weekday_size_of
from inkline.kit.stamps.weeks import margin_lack, widest_week
from inkline.kit.stamps.words import widest_word, word_sets, word_size
from inkline.lettering.errors import MissingGlyphError
from inkline.lettering.face import Face
from inkline.lettering.families import families_with
from inkline.lettering.setting import LineSetter, figure_line, ink_width, spaced_words
from inkline.source.faults import Fault, Fix, text_rounded_down
from inkline.units import Length, Unit


def glyph_faults(recipe: Recipe, face: Face) -> Iterator[Fault]:
    """Letters that the face lacks, one fault for each key that needs them."""
    weekdays = tuple(
        dict.fromkeys(text for shape in recipe.formats for text in all_weekday_texts(recipe, shape))
    )
    needs: list[tuple[str, tuple[str, ...], LineSetter]] = [
        ("words.language", weekdays, spaced_words(recipe.words.spacing))
    ]
    needs += [(words.key, words.texts, words.setter) for words in word_sets(recipe)]
    missing: dict[str, list[str]] = {}
    names: dict[str, str] = {}
    faces = [(face, *need) for need in needs]
    if (numerals := numerals_face(face)) is not face:
        faces.append((numerals, "lettering.numerals", tuple(recipe.digits), figure_line))
    for own, key, texts, setter in faces:
        for text in texts:
            try:
                setter(own, text, recipe.figures, ())
            except MissingGlyphError as error:
                missing.setdefault(key, []).extend(error.characters)
                names[key] = own.name
    if not missing:
        return
    have = families_with(
        "".join(character for characters in missing.values() for character in characters)
    )
    help_ = (
        f"; families here that have them all: {', '.join(have)}"
        if have
        else "; no family here has them all"
    )
    for key, characters in missing.items():
        lacking = MissingGlyphError(characters, face=names[key])
        yield recipe.fault(key, f"{key} needs letters that are missing: {lacking}{help_}")


def weekday_faults(place: Place) -> Iterator[Fault]:
    """Weekdays asked for larger than their columns or their row; fitted ones fit."""
    recipe, shape, layout, face = place.recipe, place.shape, place.layout, place.face
    if isinstance(shape.weekday, str):
        return
    names = all_weekday_texts(recipe, shape)
    size, setter = weekday_size_of(place), spaced_words(recipe.words.spacing)
    widths = {name: ink_width(setter(face, name, recipe.figures, ()), size) for name in names}
    widest = max(widths, key=widths.__getitem__)
    room = 2.0 * LEAST_WHITE * layout.cell_width + layout.heavy
    factor = min(
        (layout.cell_width - room) / widths[widest], (layout.header_height - room) / size.height_px
    )
    table = f"{FORMATS}.{shape.name}"
    if factor <= 0.0:
        yield recipe.fault(
            f"{table}.weekday_row",
            f"{table}.weekday_row leaves the weekdays no place between its rules: it is "
            f"{layout.header_height:.4g} px high",
        )
    elif factor < 1.0:
        most = text_rounded_down(shape.weekday * factor)
        sentence = (
            f'must be at most {most}, or "fit", for {widest} to fit its place, '
            f"not {shape.weekday:g}"
        )
        yield recipe.fault(
            f"{table}.weekday",
            f"{table}.weekday {sentence}",
            fits=most,
            fixes=[Fix(key=f"{table}.weekday", value='"fit"')],
        )


def word_faults(recipe: Recipe, face: Face) -> Iterator[Fault]:
    """Words used alone that are wider than the canvas of the calendar that they go with."""
    widest, width = widest_word(recipe, face)
    most = recipe.side_px - 2.0 * recipe.px(recipe.words.margin)
    if width > most:
        height = text_rounded_down(word_size(recipe, face).height_px * most / width)
        yield recipe.fault(
            "words.height",
            f"words.height must be at most {height} px for {widest} to fit the canvas, not "
            f"{in_px(recipe, recipe.words.height)}",
            fits=f'"{height} px"',
        )


_LEAST_WEEK_NUMERAL = 0.08
"""Smaller week numbers, as a share of the cell's width, are not suggested: nobody would read them.
Chosen by eye."""


_MOST_TRIALS = 24
"""Cells, and with them the numbers, shrink as the margin grows; a few trials find the margin that
holds them."""


def week_number_faults(place: Place) -> Iterator[Fault]:
    """Week numbers that hang in a margin too narrow for them, with each of the three ways out."""
    shape, layout = place.shape, place.layout
    hang = (
        shape.week_numbers is not WeekNumbers.NONE and shape.week_numbers_in is WeekNumbersIn.MARGIN
    )
    if shape.shows is not Shows.MONTH or not hang:
        return
    lack = margin_lack(place)
    if lack <= 0.0:
        return
    widest = widest_week(place)
    side, ways = "right" if layout.mirrored else "left", {"week_numbers_in": '"narrow"'}
    smaller = shape.week_numeral * (widest - lack) / widest
    if smaller >= _LEAST_WEEK_NUMERAL:
        ways["week_numeral"] = text_rounded_down(smaller)
    wider = _wide_margin(place)
    if wider is not None:
        ways["margin"] = f"[{', '.join(wider)}]"
    table = f"{FORMATS}.{shape.name}"
    key, said = f"{table}.week_numbers", " or ".join(f"{way} = {ways[way]}" for way in ways)
    yield place.recipe.fault(
        key,
        f"{key}: the margin at the {side} of {shape.name} is {lack:.4g} px too narrow for week "
        f"numbers to hang in; {said} holds them",
        fixes=[Fix(key=f"{table}.{way}", value=value) for way, value in ways.items()],
    )


def _wide_margin(place: Place) -> tuple[str, ...] | None:
    """The format's margins with that beside the week numbers as wide as they need.

    They are in whole px, clockwise from the top; `None` if no margin holds the numbers.
    """
    margins = place.layout.margins
    for _ in range(_MOST_TRIALS):
        lack = max(1.0, margin_lack(place))
        key = "right" if place.layout.mirrored else "left"
        wider = {key: float(int(getattr(margins, key) + lack) + 1)}
        margins = Margins(
            **(
                {name: getattr(margins, name) for name in ("top", "right", "bottom", "left")}
                | wider
            )
        )
        four = (margins.top, margins.right, margins.bottom, margins.left)
        top, right, bottom, left = (Length(px, Unit.PX) for px in four)
        shape = replace(place.shape, margin=(top, right, bottom, left))
        try:
            place = place_of(place.recipe, shape, place.face)
        except NoRoomError:
            return None
        if margin_lack(place) <= 0.0:
            return tuple(f'"{px:g} px"' for px in four)
    return None
