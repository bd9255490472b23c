"""The ink engine: an exact drawing in, a drawn one out.

Each stroke goes through hand (where the centreline runs), nib (how wide it is), edge (how rough its
outline is) and paper (what stays bare); outlines and blocks move as one piece and enter at the
edge. Everything happens in mm of the sheet about the mark's own origin; the scale to the canvas is
applied once, at the end.
"""

from __future__ import annotations

from collections.abc import Mapping

from inkline.drawing import Drawing
from inkline.ink.inked import InkedDrawing
from inkline.ink.master import Master
from inkline.ink.stages import Stages
from inkline.ink.style import Style


def draw(
    drawing: Drawing,
    style: Style,
    number: int,
    *,
    again: Mapping[str, int] | None = None,
    kept: Mapping[str, Master] | None = None,
    cut_style: Style | None = None,
) -> InkedDrawing:
    """The ink of `drawing` in `style`.

    Args:
        drawing: the exact drawing.
        style: how it is drawn.
        number: the drawing number, which seeds every stroke together with the stroke's name.
        again: for a mark or a numeral by full name, how many times it was asked to be drawn afresh.
        kept: masters by key; a mark whose key is among them is not drawn.
        cut_style: how the layers that leave white are drawn, if not in `style`.

    Returns:
        Contours in px for each mark, its masters, and how many were drawn.
    """
    return Stages(drawing, number, again=again).inked(style, kept=kept, cut_style=cut_style)
