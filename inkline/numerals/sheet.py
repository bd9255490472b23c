"""The overview of a numeral set: all its pictures on one sheet, a card for each folder."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Grey
from inkline.ink.style import Style
from inkline.lettering.face import Face
from inkline.numerals.setting import NumeralPlan
from inkline.output.png import colour_png_bytes
from inkline.pages.letters import PLAIN, print_line
from inkline.pages.lines import Align, TextLine, Tone
from inkline.pages.page import Page, shrink_picture
from inkline.pages.palette import CARD, INK, PAPER

SHEET_VERSION = 1
"""Raised when the sheet is set in another way, so that it is made again."""
_PPI = 150.0
_WIDTH, _MARGIN = 2400, 130
_TITLE, _NOTE, _HEADING = 104, 36, 34
_INSIDE, _GAP, _SECTION = 56, 30, 84
_CELL_WIDE = {"digits": 202, "numerals": 280, "ordinals": 210, "letters": 180}
"""Room for one picture by folder: the folder's widest fills it; the values were chosen by eye."""
_CELL = 300
_FILLED = 0.9
"""Share of its room that a picture fills in width; numerals set closer read as one long number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Card:
    """One folder's place: its pictures, each at (x, y), all at one size."""

    folder: str
    top: int
    bottom: int
    size: tuple[int, int]
    places: tuple[tuple[int, int], ...]


def overview_png(
    plans: Sequence[NumeralPlan],
    pictures: Mapping[str, Grey],
    *,
    title: str,
    note: str,
    face: Face,
    style: Style,
    number: int,
) -> bytes:
    """The sheet as a PNG file.

    Args:
        plans: every picture of the set, folder by folder.
        pictures: their coverage by name.
        title: lettered in `style`.
        note: a few words opposite.
        face: the letters of title and headings.
        style: the ink of the title.
        number: the drawing number.
    """
    cards, height = _cards(plans)
    page = Page((_WIDTH, height), colour=PAPER)
    for card in cards:
        solid = np.full((card.bottom - card.top, _WIDTH - 2 * _MARGIN), 255, np.uint8)
        page.ink(solid, at=(_MARGIN, card.top), colour=CARD)
        shown = [plan for plan in plans if plan.name.partition("/")[0] == card.folder]
        for plan, place in zip(shown, card.places, strict=True):
            page.ink(shrink_picture(pictures[plan.name], size=card.size), at=place, colour=INK)
    for index, line in enumerate(_lines(title, note, cards)):
        ink = PLAIN if line.style_index is None else style
        name = f"overview/line-{index + 1}"
        print_line(page, line, face=face, style=ink, number=number, name=name)
    return colour_png_bytes(page.srgb(), ppi=_PPI)


def _lines(title: str, note: str, cards: Sequence[_Card]) -> Iterator[TextLine]:
    """What is written on the sheet: the title, the note opposite, and a heading over each card."""
    top = _MARGIN + _TITLE
    yield TextLine(
        text=title,
        x=_MARGIN,
        baseline=top,
        height=_TITLE,
        room=1500,
        tone=Tone.STRONG,
        style_index=0,
    )
    right = _WIDTH - _MARGIN
    yield TextLine(text=note, x=right, baseline=top, height=_NOTE, room=560, align=Align.RIGHT)
    for card in cards:
        yield TextLine(
            text=card.folder,
            x=_MARGIN,
            baseline=card.top - 30,
            height=_HEADING,
            room=1500,
            tone=Tone.ACCENT,
        )


def _cards(plans: Sequence[NumeralPlan]) -> tuple[list[_Card], int]:
    """The cards from the top, and the height of the sheet."""
    cards, y = [], _MARGIN + _TITLE + 150
    inner = _WIDTH - 2 * _MARGIN - 2 * _INSIDE
    for folder in dict.fromkeys(plan.name.partition("/")[0] for plan in plans):
        own = [plan for plan in plans if plan.name.partition("/")[0] == folder]
        canvas = own[0].canvas
        cell = _CELL_WIDE.get(folder, _CELL)
        columns = min(len(own), max(1, inner // cell))
        scale = min(1.0, _FILLED * cell / canvas[0])
        size = max(1, round(canvas[0] * scale)), max(1, round(canvas[1] * scale))
        step = inner / columns
        places = []
        for index in range(len(own)):
            row, column = divmod(index, columns)
            x = _MARGIN + _INSIDE + round((column + 0.5) * step - size[0] / 2)
            places.append((x, y + _INSIDE + row * (size[1] + _GAP)))
        rows = -(-len(own) // columns)
        bottom = y + 2 * _INSIDE + rows * (size[1] + _GAP) - _GAP
        cards.append(_Card(folder=folder, top=y, bottom=bottom, size=size, places=tuple(places)))
        y = bottom + _SECTION + _HEADING + 30
    return cards, cards[-1].bottom + _MARGIN
