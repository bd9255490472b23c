"""Which letters of a text are drawn by another form, and which have one drawing throughout a kit.

Both depend on nothing but the recipe and the text's full name, so adding a stamp changes no other.
"""

from __future__ import annotations

from inkline.chance import stream
from inkline.kit.recipe.choices import Drawings, Guests
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.names import WORDS, StampName, Subject
from inkline.lettering.face import Face
from inkline.lettering.forms import DIGITS, Chosen

RARE = 1 / 6
"""Share of letters that another form stands for, where the face has one. Chosen by eye: more, and
the usual form is no longer usual."""
_PART = "form"


def chosen_forms(recipe: Recipe, face: Face, text: str, name: str) -> Chosen:
    """The letters of `text` that another form is drawn for.

    Each letter has a stream of its own, seeded by the drawing number, the text's full name and the
    letter's place in it. Asking for another drawing (`[again]`) keeps the form. Digits that have
    one drawing throughout the kit have one form.

    Args:
        recipe: says whether there are guests.
        face: says which other forms there are.
        text: what is set.
        name: its full name, such as `tall/dates-3/17`.
    """
    if recipe.guests is Guests.NONE:
        return ()
    chosen = []
    for index, character in enumerate(text):
        forms = face.alternates(character)
        if not forms or (recipe.drawings is Drawings.ONE and _digit(recipe, character)):
            continue
        share, pick = stream(recipe.number, f"{name}.{index + 1}", 0, _PART).random(2)
        if share < RARE:
            chosen.append((index, forms[int(pick * len(forms))]))
    return tuple(chosen)


def one_drawings(recipe: Recipe, text: str) -> tuple[tuple[int, str], ...]:
    """The digits of `text` that share one drawing with all others of their kind.

    It is that of the digit's own stamp.

    A digit may be written as 0 to 9 or in the kit's own digits; its stamp goes by the name in 0 to
    9.
    """
    if recipe.drawings is Drawings.EACH:
        return ()
    digits = ((index, _digit(recipe, character)) for index, character in enumerate(text))
    return tuple((index, _digit_stamp(digit)) for index, digit in digits if digit)


def _digit_stamp(digit: str) -> str:
    return StampName(folder=WORDS, subject=Subject.DIGIT, digit=int(digit)).text


def _digit(recipe: Recipe, character: str) -> str:
    """What digit a character is, as 0 to 9; "" if it is none of the kit's."""
    if character in DIGITS:
        return character
    place = recipe.digits.find(character)
    return "" if place < 0 else DIGITS[place]
