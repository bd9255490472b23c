"""Other glyphs in the places of a face's own: alternate forms, and glyphs that a person swaps."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from inkline.lettering.face import Glyph, PlacedGlyph

Forms = Mapping[int, Glyph]
"""For a letter's index in a text, the glyph to draw in place of the face's own."""

NO_FORMS: Forms = {}
"""Every letter as the face has it."""


def with_forms(
    placed: Sequence[PlacedGlyph], advance_em: float, forms: Forms
) -> tuple[tuple[PlacedGlyph, ...], float]:
    """The placed glyphs with `forms` in their letters' places, and the advance of the whole in em.

    A form takes the place of all glyphs of its letter (an accent among them), keeps the kerning of
    the glyph that it stands for, and pushes what follows by as much as it is wider.

    Args:
        placed: along a baseline, in the order of writing.
        advance_em: where a next letter would start.
        forms: by letter.
    """
    if not forms:
        return tuple(placed), advance_em
    return with_changes(placed, advance_em, lambda item: forms.get(item.letter, item.glyph))


def with_changes(
    placed: Sequence[PlacedGlyph], advance_em: float, changed: Callable[[PlacedGlyph], Glyph]
) -> tuple[tuple[PlacedGlyph, ...], float]:
    """The placed glyphs, each as `changed` makes it, and the advance of the whole in em.

    Where the glyph is another one, it stands for its whole letter: further glyphs of that letter
    that would be the same are left out.

    Args:
        placed: along a baseline, in the order of writing.
        advance_em: where a next letter would start.
        changed: the glyph to draw for a placed one.
    """
    kept: list[PlacedGlyph] = []
    shift, drawn = 0.0, set[int]()
    for item in placed:
        glyph = changed(item)
        if glyph is item.glyph:
            kept.append(replace(item, x_em=item.x_em + shift))
        elif item.letter not in drawn:
            kept.append(replace(item, glyph=glyph, x_em=item.x_em + shift))
            shift += glyph.advance_em - item.glyph.advance_em
            drawn.add(item.letter)
        else:
            shift -= item.glyph.advance_em
    return tuple(kept), advance_em + shift


Chosen = tuple[tuple[int, Glyph], ...]
"""Other forms of letters, each with the letter's index in its text."""


DIGITS = "0123456789"
"""The ten digits that a face's figures are measured by."""
