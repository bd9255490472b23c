"""Blocks that are lines: boxes and circles drawn around, and lines under numerals."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from inkline.chance import stream
from inkline.drawing import Cap, Layer, Role, Stroke
from inkline.geometry.arrays import Points
from inkline.geometry.boxes import Box, inset_box, rounded_box
from inkline.geometry.polyline import closed_arc_lengths
from inkline.kit.stamps.content import CORNER_TOLERANCE_PX
from inkline.kit.stamps.names import part_name

_LEAST_START, _MOST_START = -0.08, 0.10
"""Where the pen sets out, from the left end of a box's upper side or the top of a circle, as a
share of the way around, to the right. Chosen by eye: nobody begins at the same place each time, and
hardly anybody elsewhere than up there."""
LEAST_OVERLAP, MOST_OVERLAP = 0.03, 0.09
"""How far the pen goes on over its start, as a share of the way around. Chosen by eye: enough to
close the line however the hand strays."""
_LEFTWARDS = 0.8
"""Share of outlines that are drawn anticlockwise, as right-handed people mostly draw them. Chosen
by eye."""
_UNEVEN_ENDS = 1.6
"""By how many times its weight an underline's end may stop short of its room. Chosen by eye: in
narrow room all would else end flush."""
_PART = "outline"


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineContent:
    """Boxes or circles drawn around with a pen, each with its label.

    The outer edge of a line is the box's own. A pen leaves no corner sharper than half its width: a
    smaller radius counts as that.

    Attributes:
        boxes: label and box of each; a circle is a square box whose radius is half its side.
        radius: of the corners of the outer edge, in px.
        line_px: width of the line, less than half of the smallest box.
        number: the drawing number: where the pen sets out and how far it runs over its start depend
            on it.
    """

    boxes: tuple[tuple[str, Box], ...]
    radius: float
    line_px: float
    number: int

    @property
    def labels(self) -> tuple[str, ...]:
        """The blocks' names."""
        return tuple(label for label, _ in self.boxes)

    def layer(self, stamp: str) -> Layer:
        """One stroke for each block, from where the pen sets out to where it lifts."""
        return Layer(
            name="blocks",
            marks=tuple(self._stroke(part_name(stamp, label), box) for label, box in self.boxes),
        )

    def geometry(self, stamp: str) -> dict[str, Any]:
        """Boxes with their names, corner radius, and the width of the line inside them."""
        named = ((part_name(stamp, label), box) for label, box in self.boxes)
        return {
            "boxes": [
                {
                    "name": name,
                    "x0": x0,
                    "y0": y0,
                    "x1": x1,
                    "y1": y1,
                    "radius": self._outer,
                    "line_px": self.line_px,
                }
                for name, (x0, y0, x1, y1) in named
            ]
        }

    @property
    def _outer(self) -> float:
        return max(self.radius, self.line_px / 2.0)

    def _stroke(self, name: str, box: Box) -> Stroke:
        x0, y0, x1, y1 = inset_box(box, self.line_px / 2.0)
        # Half the sides of a circle's box, which rounding may have made a hair shorter than its
        # radius says.
        radius = min(self._outer - self.line_px / 2.0, 0.5 * (x1 - x0), 0.5 * (y1 - y0))
        around = rounded_box(x0, y0, x1, y1, radius, tolerance=CORNER_TOLERANCE_PX)
        start, overlap, way = stream(self.number, name, 0, _PART).random(3)
        return Stroke(
            name=name,
            group=name,
            role=Role.BLOCK,
            points=run_around(
                around,
                reference=(x0 + radius, y0),
                start=_LEAST_START + start * (_MOST_START - _LEAST_START),
                overlap=LEAST_OVERLAP + overlap * (MOST_OVERLAP - LEAST_OVERLAP),
                leftwards=float(way) < _LEFTWARDS,
            ),
            width_px=self.line_px,
            cap=Cap.ROUND,
            origin=(box[0], box[1]),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class UnderlineContent:
    """Lines under numerals or words, each with its label.

    Attributes:
        lines: label, left end, right end and height of the middle of each.
        line_px: their width.
        room_px: how far ink may run beyond their ends.
        number: the drawing number: how much of the room each end may use depends on it.
    """

    lines: tuple[tuple[str, float, float, float], ...]
    line_px: float
    room_px: float
    number: int

    @property
    def labels(self) -> tuple[str, ...]:
        """The blocks' names."""
        return tuple(label for label, *_ in self.lines)

    def layer(self, stamp: str) -> Layer:
        """One stroke for each line."""
        strokes = (
            self._stroke(part_name(stamp, label), left, right, y)
            for label, left, right, y in self.lines
        )
        return Layer(name="blocks", marks=tuple(strokes))

    def geometry(self, stamp: str) -> dict[str, Any]:
        """Names, centrelines and widths, as of rules."""
        return {
            "lines": [
                {
                    "name": part_name(stamp, label),
                    "from": [left, y],
                    "to": [right, y],
                    "width_px": self.line_px,
                }
                for label, left, right, y in self.lines
            ]
        }

    def _stroke(self, name: str, left: float, right: float, y: float) -> Stroke:
        """The stroke of a line, which by itself is a rule, with ends as free as its room allows.

        None is stopped where the one above it is.
        """
        less = stream(self.number, name, 0, _PART).random(2) * _UNEVEN_ENDS * self.line_px
        return Stroke(
            name=name,
            group=name,
            role=Role.RULE,
            points=np.array([(left, y), (right, y)]),
            width_px=self.line_px,
            cap=Cap.BUTT,
            origin=(left, y),
            room_px=(float(self.room_px - less[0]), float(self.room_px - less[1])),
        )


def run_around(
    contour: Points,
    *,
    reference: tuple[float, float],
    start: float,
    overlap: float,
    leftwards: bool,
) -> Points:
    """The way of a pen once around a closed contour and on over its start, `(n, 2)`.

    Every point of `contour` is passed in order, so what is swept along the way is what is swept
    along the contour.

    Args:
        contour: clockwise as the page shows it, `(n, 2)`.
        reference: near one of its points, from where the start is counted.
        start: where the pen sets out, as a share of the way around, clockwise from the reference.
        overlap: how far it runs on over its start, as a share of the way around, 0 to 1.
        leftwards: whether it runs anticlockwise.
    """
    at = int(np.argmin(((contour - np.array(reference)) ** 2).sum(axis=1)))
    turned = np.roll(contour, -at, axis=0)
    if leftwards:
        turned, start = np.roll(turned[::-1], 1, axis=0), -start
    twice = np.concatenate((turned, turned, turned, turned[:1]))
    once = closed_arc_lengths(turned)
    around = float(once[-1])
    lengths = np.concatenate((once[:-1], once[:-1] + around, once + 2.0 * around))
    first = (1.0 + start) * around
    last = first + (1.0 + overlap) * around
    between = np.flatnonzero((lengths > first) & (lengths < last))
    ends = np.column_stack([np.interp((first, last), lengths, twice[:, axis]) for axis in (0, 1)])
    return np.concatenate((ends[:1], twice[between], ends[1:]))
