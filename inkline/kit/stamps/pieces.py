"""What stands in cells: numerals and words, and what the pen draws beside them.

That is a stroke between two, a ring around one, a line under it, or a blot.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from inkline.drawing import Cap, Mark, Role, Shape, Stroke
from inkline.geometry.arrays import Points
from inkline.geometry.boxes import Box
from inkline.kit.stamps.names import part_name
from inkline.lettering.line import SetLine, marks_from_line
from inkline.lettering.setting import TypeSize, line_ink


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PenLine:
    """One movement of the pen.

    Attributes:
        label: the last part of its full name.
        text: what the manifest calls it.
        points: its centreline in px, `(n, 2)`.
        width_px: width of the pen.
        cell: the cell it belongs to, in px.
        drawn_as: the full name of its drawing, if another stamp has that as well; else "".
    """

    label: str
    text: str
    points: Points
    width_px: float
    cell: Box
    drawn_as: str = ""

    @property
    def ink(self) -> Box:
        """Exact bounds of the undrawn ink in px."""
        half = 0.5 * self.width_px
        (x0, y0), (x1, y1) = self.points.min(axis=0) - half, self.points.max(axis=0) + half
        return (float(x0), float(y0), float(x1), float(y1))

    def marks(self, stamp: str, role: Role) -> tuple[Mark, ...]:
        """Its exact mark."""
        name = self.drawn_as or part_name(stamp, self.label)
        x, y = self.points[0]
        stroke = Stroke(
            name=f"{name}/1",
            group=name,
            role=role,
            points=self.points,
            width_px=self.width_px,
            cap=Cap.ROUND,
            origin=(float(x), float(y)),
        )
        return (stroke,)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Blot:
    """A filled spot of ink.

    Attributes:
        label: the last part of its full name.
        text: what the manifest calls it.
        contour: its outline in px, closed, of positive area by the page's own coordinates, `(n,
            2)`.
        cell: the cell it belongs to, in px.
        drawn_as: the full name of its drawing, if another stamp has that as well; else "".
    """

    label: str
    text: str
    contour: Points
    cell: Box
    drawn_as: str = ""

    @property
    def ink(self) -> Box:
        """Exact bounds of the undrawn ink in px."""
        (x0, y0), (x1, y1) = self.contour.min(axis=0), self.contour.max(axis=0)
        return (float(x0), float(y0), float(x1), float(y1))

    def marks(self, stamp: str, role: Role) -> tuple[Mark, ...]:  # noqa: ARG002 - it is no line
        """Its exact mark: a shape, as blocks are."""
        name = self.drawn_as or part_name(stamp, self.label)
        x, y = self.contour.mean(axis=0)
        origin = (float(x), float(y))
        return (
            Shape(
                name=f"{name}/1",
                group=name,
                role=Role.BLOCK,
                contours=(self.contour,),
                origin=origin,
            ),
        )


def farthest(marks: tuple[Mark, ...], way: Points) -> float:
    """How far the exact ink of `marks` reaches in the direction `way`, in px from the origin.

    The direction is a unit vector, `(2,)`.
    """
    reaches = []
    for mark in marks:
        if isinstance(mark, Stroke):
            half = 0.5 * mark.width_px * (1.0 if mark.profile is None else mark.profile)
            reaches.append(float(np.max(mark.points @ way + half)))
        else:
            reaches.extend(float(np.max(contour @ way)) for contour in mark.contours)
    return max(reaches)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlacedText:
    """A numeral or word at its place.

    Attributes:
        label: the last part of its full name; "" where the stamp's own name is the full name.
        line: what is set.
        size: how large.
        baseline: where its baseline starts, in px.
        cell: the cell it belongs to, in px.
        drawings: for letters that have one drawing throughout the kit, by their index in the text,
            that drawing's full name.
        drawn_as: the full name of its drawing, if it is one that another stamp has as well, such as
            `tall/dates-3/17`; else "".
    """

    label: str
    line: SetLine
    size: TypeSize
    baseline: tuple[float, float]
    cell: Box
    drawings: Mapping[int, str] = field(default_factory=dict)
    drawn_as: str = ""

    @property
    def text(self) -> str:
        """What it says."""
        return self.line.text

    @property
    def ink(self) -> Box:
        """Exact bounds of the undrawn ink in px."""
        x0, y0, x1, y1 = line_ink(self.line, self.size)
        x, y = self.baseline
        return (x0 + x, y0 + y, x1 + x, y1 + y)

    def marks(self, stamp: str, role: Role) -> tuple[Mark, ...]:
        """Its exact marks."""
        name = self.drawn_as or part_name(stamp, self.label)
        if not self.drawings:
            return self._marks(self.line, name, role)
        own = self._letters(
            item.letter for item in self.line.glyphs if item.letter not in self.drawings
        )
        marks = self._marks(own, name, role)
        for letter, drawing in self.drawings.items():
            marks += self._marks(self._letters((letter,)), drawing, role)
        return marks

    def _letters(self, letters: Iterable[int]) -> SetLine:
        """The line with only some of its letters."""
        wanted = set(letters)
        return replace(
            self.line, glyphs=tuple(item for item in self.line.glyphs if item.letter in wanted)
        )

    def _marks(self, line: SetLine, name: str, role: Role) -> tuple[Mark, ...]:
        size = self.size
        return marks_from_line(
            line,
            name=name,
            role=role,
            baseline=self.baseline,
            size_px=size.em_px,
            width_px=size.pen_px,
        )
