"""Stamps of pairs of numerals and of what the pen draws beside numerals."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from inkline.drawing import Layer, Mark, Role
from inkline.kit.layout_pieces import Blot, PenLine
from inkline.kit.layout_shared import SharedCell
from inkline.kit.layout_text import PlacedText

Piece = PlacedText | SharedCell | PenLine | Blot
"""What stands in a cell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceContent:
    """Numerals, pairs of numerals, lines of the pen and blots, set only when they are asked for.

    Attributes:
        role: numerals, or rules for lines that are as free as these.
        layer_name: what their layer is called.
        labels: names of the parts.
        setting: places them.
    """

    role: Role
    layer_name: str
    labels: tuple[str, ...]
    setting: Callable[[], tuple[Piece, ...]]

    def layer(self, stamp: str) -> Layer:
        """Strokes or outlines of all pieces."""
        marks: tuple[Mark, ...] = tuple(mark for piece in self.setting() for mark in piece.marks(stamp, self.role))
        return Layer(name=self.layer_name, marks=marks)

    def geometry(self, stamp: str) -> dict[str, Any]:  # noqa: ARG002 - pieces are told by what they say
        """Each piece with its cell and the bounds of its undrawn ink."""
        return {
            "glyphs": [
                {"text": _said(piece), "cell": list(piece.cell), "ink": list(piece.ink)} for piece in self.setting()
            ]
        }


def _said(piece: Piece) -> str:
    return piece.line.text if isinstance(piece, PlacedText) else piece.text
