"""A picture of what was found in a file: its marks in a colour of their kind, with their names."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from inkline.drawing import Mark, Role, Shape, Stroke
from inkline.finishing.marks import Found, InkRun
from inkline.finishing.request import OpenSheet
from inkline.geometry.arrays import Points

_RULE, _CURVE, _WORD = "#2f6db3", "#2e8b57", "#8a5fb0"
_SHAPE, _SHAPE_EDGE, _NAME, _HALO, _CELLS = "#e7dcc6", "#b8935a", "#1d2b36", "#ffffff", "#f0b9a6"
"""Colours that are told apart also by those who see red and green alike."""
_WIDEST_PX = 2_400
"""Pictures are made smaller than that, so that names can be read when all is seen at once."""
_LETTERS_SHARE, _LEAST_LETTERS_PX = 0.011, 11
"""Height of names as a share of the picture's longer side."""
_MOST_NAMES = 400
_NUMBERED = {Role.WORD: re.compile(r"(/\d{1,3})+$"), Role.NUMERAL: re.compile(r"/\d{1,3}$")}
"""What letters and their strokes have behind the name of their word, and strokes of a numeral."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundPicture:
    """A picture of what was found.

    Attributes:
        png: its file.
        n_named: how many names stand on it.
        n_crowded: how many don't, since others stand there.
    """

    png: bytes
    n_named: int
    n_crowded: int


def found_picture(sheet: OpenSheet, runs: tuple[InkRun, ...], found: Found) -> FoundPicture:
    """The marks of a file and their names, as recipes call them, without the file's own name."""
    board = _Board(sheet)
    marks = [mark for run in runs for mark in run.drawing.marks]
    for shape in (one for one in marks if isinstance(one, Shape)):
        board.shape(shape)
    if found.grid is not None:
        for index in range(found.grid.columns * found.grid.rows):
            board.cell(found.grid.cell(index))
    for stroke in (one for one in marks if isinstance(one, Stroke)):
        board.stroke(stroke)
    for name, at in _names(marks, sheet.stem):
        board.name(name, at)
    return board.picture()


def _names(marks: list[Mark], stem: str) -> Iterator[tuple[str, Points]]:
    """What can be named, each once, with its middle: letters go by their text."""
    groups: dict[str, list[Points]] = {}
    for mark in marks:
        short = mark.name.removeprefix(f"{stem}/")
        if mark.role in _NUMBERED:
            short = _NUMBERED[mark.role].sub("", short)
        own = (mark.points,) if isinstance(mark, Stroke) else mark.contours
        groups.setdefault(short, []).extend(own)
    for short, outlines in groups.items():
        points = np.concatenate(outlines)
        yield short, 0.5 * (points.min(axis=0) + points.max(axis=0))


@dataclass(slots=True)
class _Board:
    """What is drawn on."""

    sheet: OpenSheet
    scale: float = field(init=False)
    image: Image.Image = field(init=False)
    pencil: ImageDraw.ImageDraw = field(init=False)
    font: ImageFont.FreeTypeFont | ImageFont.ImageFont = field(init=False)
    taken: list[tuple[float, float, float, float]] = field(default_factory=list)
    n_crowded: int = 0

    def __post_init__(self) -> None:
        width, height = self.sheet.artwork.canvas
        self.scale = min(1.0, _WIDEST_PX / max(width, height))
        size = (max(1, round(width * self.scale)), max(1, round(height * self.scale)))
        self.image = Image.new("RGB", size, "#ffffff")
        self.pencil = ImageDraw.Draw(self.image)
        letters = max(_LEAST_LETTERS_PX, round(_LETTERS_SHARE * max(size)))
        self.font = ImageFont.load_default(letters)

    def _placed(self, points: Points) -> list[tuple[float, float]]:
        return [(float(x), float(y)) for x, y in points * self.scale]

    def shape(self, mark: Shape) -> None:
        """A filled shape."""
        for contour in mark.contours:
            self.pencil.polygon(self._placed(contour), fill=_SHAPE, outline=_SHAPE_EDGE)

    def stroke(self, mark: Stroke) -> None:
        """A line in the colour of its kind, with dots at its ends."""
        points = np.concatenate((mark.points, mark.points[:1])) if mark.closed else mark.points
        colour = _CURVE if len(mark.points) > 2 else _RULE
        if mark.group != mark.name:
            colour = _WORD
        width = max(1, round(mark.width_px * self.scale))
        placed = self._placed(points)
        self.pencil.line(placed, fill=colour, width=width, joint="curve")
        if colour == _RULE:
            for x, y in (placed[0], placed[-1]):
                self.pencil.ellipse((x - 3, y - 3, x + 3, y + 3), fill=_HALO, outline=colour)

    def cell(self, box: tuple[float, float, float, float]) -> None:
        """A cell of a grid."""
        x0, y0, x1, y1 = (value * self.scale for value in box)
        inset = 3.0
        if x1 - x0 > 4 * inset and y1 - y0 > 4 * inset:
            self.pencil.rectangle((x0 + inset, y0 + inset, x1 - inset, y1 - inset), outline=_CELLS)

    def name(self, text: str, at: Points) -> None:
        """A name about a place, unless another stands there."""
        place = at * self.scale
        box = self.pencil.textbbox((float(place[0]), float(place[1])), text, self.font, "mm")
        crowded = any(
            box[0] < x1 and x0 < box[2] and box[1] < y1 and y0 < box[3]
            for x0, y0, x1, y1 in self.taken
        )
        if crowded or len(self.taken) >= _MOST_NAMES:
            self.n_crowded += 1
            return
        self.taken.append(box)
        centre = (float(place[0]), float(place[1]))
        self.pencil.text(centre, text, _NAME, self.font, "mm", stroke_width=2, stroke_fill=_HALO)

    def picture(self) -> FoundPicture:
        """The finished picture."""
        data = io.BytesIO()
        self.image.save(data, "PNG")
        return FoundPicture(png=data.getvalue(), n_named=len(self.taken), n_crowded=self.n_crowded)
