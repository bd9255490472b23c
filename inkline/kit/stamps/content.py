"""What a stamp holds: rules, blocks or letters.

Each gives its exact marks, and its exact geometry for the manifest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np

from inkline.calendar.grid import Direction, Rule
from inkline.drawing import Cap, Layer, Mark, Role, Shape, Stroke
from inkline.geometry.boxes import Box, Interval, rounded_box
from inkline.kit.stamps.names import part_name

CORNER_TOLERANCE_PX = 0.002
"""How far a block's corner may lie inside its true circle: half a grey level of one pixel, unseen
in the exact picture."""


_WHITE_SHARE = 0.8
"""How far into the white between two panels a rule may ever run over, as a share of that white.
Chosen by eye: less, and in a narrow gutter the corners of all frames stay open, since pens with a
large tip then have to stop short of them."""


class Content(Protocol):
    """What a stamp holds."""

    @property
    def labels(self) -> tuple[str, ...]:
        """Names of its parts in full names, after the stamp's own; none if it is all one."""

    def layer(self, stamp: str) -> Layer:
        """Its exact marks, with full names that begin with `stamp`."""

    def geometry(self, stamp: str) -> dict[str, Any]:
        """Its exact geometry in px as the manifest gives it, with full names as in `layer`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleContent:
    """The rules of a grid.

    Attributes:
        rules: all rules.
        canvas: its width and height in px.
        safe: no ink comes nearer to the canvas edge, in px.
        whites: where there is white between the frames of neighbouring panels, in x and in y, each
            from edge to edge.
    """

    rules: tuple[Rule, ...]
    canvas: tuple[int, int]
    safe: float
    whites: tuple[tuple[Interval, ...], tuple[Interval, ...]] = ((), ())

    @property
    def labels(self) -> tuple[str, ...]:
        """The rules' names."""
        return tuple(rule.name for rule in self.rules)

    def layer(self, stamp: str) -> Layer:
        """One stroke for each rule.

        Those of a panel that run the same way are neighbours and share a little drift.
        """
        return Layer(name="rules", marks=tuple(self._stroke(stamp, rule) for rule in self.rules))

    def geometry(self, stamp: str) -> dict[str, Any]:
        """Names, centrelines and widths of the rules.

        The exact picture is the union of the rectangles that they span.
        """
        return {
            "lines": [
                {
                    "name": part_name(stamp, rule.name),
                    "from": list(rule.start),
                    "to": list(rule.end),
                    "width_px": rule.width_px,
                }
                for rule in self.rules
            ]
        }

    def _stroke(self, stamp: str, rule: Rule) -> Stroke:
        axis = 0 if rule.direction is Direction.ACROSS else 1
        first, last = rule.start[axis], rule.end[axis]
        before = first - max(
            (self.safe, *(at for at in self._bounds(axis, 1.0 - _WHITE_SHARE) if at < first))
        )
        beyond = (
            min(
                (
                    self.canvas[axis] - self.safe,
                    *(at for at in self._bounds(axis, _WHITE_SHARE) if at > last),
                )
            )
            - last
        )
        name, panel = part_name(stamp, rule.name), f"{rule.panel}-" if rule.panel else ""
        return Stroke(
            name=name,
            group=name,
            role=Role.RULE,
            points=np.array([rule.start, rule.end]),
            width_px=rule.width_px,
            cap=Cap.BUTT,
            origin=rule.start,
            crossings=rule.crossings,
            room_px=(max(before, 0.0), max(beyond, 0.0)),
            shared=f"{stamp}/{panel}{rule.direction.value}",
        )

    def _bounds(self, axis: int, share: float) -> Iterator[float]:
        """Where ink must stop at the latest in each white, `share` of the way through it."""
        return (start + share * (end - start) for start, end in self.whites[axis])


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockContent:
    """Blocks: rounded boxes of one radius, each with its label."""

    boxes: tuple[tuple[str, Box], ...]
    radius: float

    @property
    def labels(self) -> tuple[str, ...]:
        """The blocks' names."""
        return tuple(label for label, _ in self.boxes)

    def layer(self, stamp: str) -> Layer:
        """One shape for each block."""
        return Layer(
            name="blocks",
            marks=tuple(self._shape(part_name(stamp, label), box) for label, box in self.boxes),
        )

    def geometry(self, stamp: str) -> dict[str, Any]:
        """Boxes with their names and corner radius."""
        return {
            "boxes": [
                {
                    "name": part_name(stamp, label),
                    "x0": x0,
                    "y0": y0,
                    "x1": x1,
                    "y1": y1,
                    "radius": self.radius,
                }
                for label, (x0, y0, x1, y1) in self.boxes
            ]
        }

    def _shape(self, name: str, box: Box) -> Shape:
        contour = rounded_box(*box, self.radius, tolerance=CORNER_TOLERANCE_PX)
        return Shape(
            name=name, group=name, role=Role.BLOCK, contours=(contour,), origin=(box[0], box[1])
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedContent:
    """What another stamp holds, drawn as it is there: the same names, so the same ink.

    Attributes:
        content: what it is.
        stamp: the full name of the stamp that it has it from.
    """

    content: Content
    stamp: str

    @property
    def labels(self) -> tuple[str, ...]:
        """None: its parts go by the names that they have on the other stamp."""
        return ()

    def layer(self, stamp: str) -> Layer:  # noqa: ARG002 - its names are those on the other stamp
        """The exact marks of the other stamp."""
        return self.content.layer(self.stamp)

    def geometry(self, stamp: str) -> dict[str, Any]:  # noqa: ARG002 - likewise
        """The exact geometry of the other stamp."""
        return self.content.geometry(self.stamp)


class CellContent(Protocol):
    """What stands in a cell: a numeral, a pair of them, a word, a line of the pen or a blot."""

    @property
    def text(self) -> str:
        """What it says, or what the manifest calls it."""

    @property
    def cell(self) -> Box:
        """The cell that it belongs to, in px."""

    @property
    def ink(self) -> Box:
        """Exact bounds of its undrawn ink in px."""

    def marks(self, stamp: str, role: Role) -> tuple[Mark, ...]:
        """Its exact marks on a stamp."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TextContent:
    """Numerals or words, and what the pen draws beside them, set only when they are asked for.

    Attributes:
        role: numerals, words, or rules for lines that are as free as these.
        layer_name: what their layer is called.
        labels: names of the parts.
        setting: places them.
    """

    role: Role
    layer_name: str
    labels: tuple[str, ...]
    setting: Callable[[], Sequence[CellContent]]

    def layer(self, stamp: str) -> Layer:
        """Strokes or outlines of all pieces."""
        marks: tuple[Mark, ...] = tuple(
            mark for piece in self.setting() for mark in piece.marks(stamp, self.role)
        )
        return Layer(name=self.layer_name, marks=marks)

    def geometry(self, stamp: str) -> dict[str, Any]:  # noqa: ARG002 - pieces say what they are
        """Each piece with its cell and the bounds of its undrawn ink."""
        return {
            "glyphs": [
                {"text": piece.text, "cell": list(piece.cell), "ink": list(piece.ink)}
                for piece in self.setting()
            ]
        }
