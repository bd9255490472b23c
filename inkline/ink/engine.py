"""The ink engine: an exact drawing in, a drawn one out.

Each stroke goes through hand (where the centreline runs), nib (how wide it is), edge (how rough its
outline is) and paper (what stays bare); outlines and blocks move as one piece and enter at the
edge. Everything happens in mm of the sheet about the mark's own origin; the scale to the canvas is
applied once, at the end.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from inkline.drawing import Drawing, Leaves, Mark, Stroke
from inkline.ink.inked import InkedDrawing, InkedMark
from inkline.ink.letters import Letters
from inkline.ink.master import Master, master_key
from inkline.ink.setup import setup_of_mark, times_again
from inkline.ink.shapes import shape_master
from inkline.ink.strokes import stroke_master
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
    ink, white = drawing.marks_that_leave(Leaves.INK), drawing.marks_that_leave(Leaves.WHITE)
    inked = _inked_marks(drawing, ink, style, number, again=again or {}, kept=kept or {})
    if not white:
        return inked
    cut = _inked_marks(
        drawing, white, cut_style or style, number, again=again or {}, kept=kept or {}
    )
    return replace(
        inked,
        masters=inked.masters + cut.masters,
        n_drawn=inked.n_drawn + cut.n_drawn,
        cut=replace(cut, masters=(), n_drawn=0),
    )


def _inked_marks(
    drawing: Drawing,
    marks: Sequence[Mark],
    style: Style,
    number: int,
    *,
    again: Mapping[str, int],
    kept: Mapping[str, Master],
) -> InkedDrawing:
    """Some marks of `drawing`, all of which leave the same, in ink."""
    px_per_mm = drawing.sheet_px / style.drawn_at
    letters = Letters(marks, style, number=number, again=again, px_per_mm=px_per_mm)
    masters, n_drawn = [], 0
    for mark in marks:
        key = master_key(
            mark,
            style,
            number=number,
            again=times_again(mark.name, again),
            px_per_mm=px_per_mm,
            letter=letters.strokes_with(mark),
        )
        master = kept.get(key)
        if master is None:
            master = _drawn_master(mark, style, number, letters, again=again, key=key)
            n_drawn += 1
        masters.append(master)
    placed = tuple(
        _mark_on_canvas(mark, master, px_per_mm)
        for mark, master in zip(marks, masters, strict=True)
        if master.contours
    )
    return InkedDrawing(
        name=drawing.name,
        canvas=drawing.canvas,
        marks=placed,
        masters=tuple(masters),
        n_drawn=n_drawn,
        fillet_px=style.edge.fillet * px_per_mm,
    )


def _drawn_master(
    mark: Mark,
    style: Style,
    number: int,
    letters: Letters,
    *,
    again: Mapping[str, int],
    key: str,
) -> Master:
    """The ink of one mark, drawn now."""
    setup = setup_of_mark(
        mark,
        style,
        number=number,
        again=again,
        px_per_mm=letters.px_per_mm,
        key=key,
        form=letters.form_of(mark),
    )
    return stroke_master(mark, setup) if isinstance(mark, Stroke) else shape_master(mark, setup)


def _mark_on_canvas(mark: Mark, master: Master, px_per_mm: float) -> InkedMark:
    """A master on its canvas; the one place where the sheet's scale is applied."""
    origin = np.array(mark.origin)
    contours = tuple(contour * px_per_mm + origin for contour in master.contours)
    return InkedMark(
        name=mark.name,
        contours=contours,
        origin=mark.origin,
        px_per_mm=px_per_mm,
        tooth=master.tooth,
    )
