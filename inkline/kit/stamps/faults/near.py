"""What the owner of a recipe should know of things that stand too near to one another."""

from __future__ import annotations

from collections.abc import Iterator

from inkline.geometry.boxes import Box
from inkline.kit.recipe.choices import Shows, Side
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.numbers import NUMERALS
from inkline.kit.stamps.cells import numerals_of
from inkline.kit.stamps.content import TextContent
from inkline.kit.stamps.faults.cells import LEAST_WHITE
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.marks import mark_parts
from inkline.kit.stamps.place import Place
from inkline.source.faults import text_rounded_down

_CROWDED = 0.5
"""A numeral whose white on the far side is less than this share of that before it looks as if it
ran into the rule. Chosen by eye."""
_SMALLEST = 0.5
"""No smaller share of the size that was asked for is suggested."""
_DATED = frozenset({Shows.MONTH, Shows.STRIP})


def crowding_notes(place: Place) -> Iterator[str]:
    """Numerals that crowd the side of their cell that they aren't placed from."""
    shape, layout = place.shape, place.layout
    side, _ = layout.place
    if shape.shows not in _DATED or side is Side.CENTRE:
        return
    numerals, cell = numerals_of(place), (0.0, 0.0, layout.cell_width, layout.cell_height)
    inks = {text: numerals.text_in_cell(text, cell, layout).ink for text in NUMERALS}
    whites = {text: _whites(ink, layout) for text, ink in inks.items()}
    before = min(white for white, _ in whites.values())
    worst = min(whites, key=lambda text: whites[text][1])
    after = whites[worst][1]
    if after >= _CROWDED * before:
        return
    width = inks[worst][2] - inks[worst][0]
    fits = (layout.cell_width - 2.0 * (before + layout.edge)) / width
    edges = "blocks" if layout.gap_is_from_blocks else "rules"
    far = "left" if side is Side.RIGHT else "right"
    help_ = ""
    if _SMALLEST <= fits < 1.0 and not isinstance(shape.numeral, str):
        size = numerals.size.height_px * fits / layout.cell_width
        help_ = f"; numeral = {text_rounded_down(size)} has as much on both"
    yield (
        f"{FORMATS}.{shape.name}.numeral: the {worst} stands {after:.0f} px from the edge at its "
        f"{far}, and numerals {before:.0f} px from that of the {edges} which they are placed "
        f"from{help_}"
    )


def _whites(ink: Box, layout: FormatLayout) -> tuple[float, float]:
    """White between the ink and the edge that it is placed from, and on the far side."""
    left, right = ink[0] - layout.edge, layout.cell_width - ink[2] - layout.edge
    return (right, left) if layout.place[0] is Side.RIGHT else (left, right)


def mark_notes(place: Place) -> Iterator[str]:
    """The mark that comes nearest to the rules about its cell, if a hand's stray would touch."""
    layout = place.layout
    nearest = []
    for part in mark_parts(place):
        assert isinstance(part.content, TextContent)  # noqa: S101 - marks are
        for piece in part.content.setting():
            ink, cell = piece.ink, piece.cell
            room = min(ink[0] - cell[0], ink[1] - cell[1], cell[2] - ink[2], cell[3] - ink[3])
            nearest.append((room - layout.rule / 2.0, part.name.stem, piece.text))
    if not nearest or min(nearest)[0] >= LEAST_WHITE * layout.cell_width:
        return
    room, stem, what = min(nearest)
    where = f"stands {room:.0f} px from a rule" if room >= 1.0 else "touches a rule"
    yield (
        f"marks: in {place.shape.name} the {what} of {stem} {where}, and a hand strays farther; a "
        f"smaller numeral, or another mark, leaves it room"
    )
