"""A stamp of finished artwork in ink, each mark in the style that its part of the artwork has."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from inkline.drawing import Drawing, Layer, Leaves
from inkline.finishing.stamps import FinishedStamp
from inkline.finishing.treatment import Treatment
from inkline.ink.engine import draw
from inkline.ink.inked import InkedDrawing, InkedMark
from inkline.ink.master import Master
from inkline.ink.style import EXACT, Style
from inkline.press.inputs import drawing_digest, style_digest


def inked_stamp(
    stamp: FinishedStamp,
    style: Style,
    number: int,
    *,
    again: Mapping[str, int] | None = None,
    kept: Mapping[str, Master] | None = None,
) -> InkedDrawing:
    """The ink of a stamp.

    Args:
        stamp: what is drawn.
        style: that of marks without one of their own.
        number: the drawing number.
        again: how often what is named is to be drawn afresh.
        kept: masters by their keys; what has one is not drawn.
    """
    styles = _styles(stamp, style)
    if not styles:
        return draw(stamp.drawing, meeting_style(style), number, again=again, kept=kept)
    parts = [_part(stamp, own, style) for own in dict.fromkeys((style, *styles.values()))]
    drawn = [draw(part, meeting_style(own), number, again=again, kept=kept) for part, own in parts]
    pairs = [(part, one) for (part, _), one in zip(parts, drawn, strict=True)]
    return _joined(stamp.drawing, pairs, fillet_px=fillet_of_stamp(stamp, style))


def meeting_style(style: Style) -> Style:
    """`style` with a hand whose lines never end short: what meets in a layout meets in ink."""
    return replace(style, hand=replace(style.hand, fall_short=0.0, fall_short_share=0.0))


def fillet_of_stamp(stamp: FinishedStamp, style: Style) -> float:
    """The radius in px to which ink fills corners: the least of all styles on a stamp.

    So what is left exact is exact where it crosses.
    """
    styles = [style if own is None else own.style for own in _treatments(stamp)]
    fillet = min((one.edge.fillet for one in styles), default=style.edge.fillet)
    return fillet * stamp.drawing.sheet_px / style.drawn_at


def exact_stamp(stamp: FinishedStamp, style: Style) -> InkedDrawing:
    """A stamp as it was before any hand: its exact drawing."""
    return draw(stamp.drawing, replace(EXACT, drawn_at=style.drawn_at), 0)


def stamp_digest(
    stamp: FinishedStamp, style: Style, *, number: int, again: Mapping[str, int], ppi: float
) -> str:
    """The digest of all that a stamp's picture depends on."""
    own = {name: style_digest(one.to_dict()) for name, one in _styles(stamp, style).items()}
    values: dict[str, Any] = style.to_dict() | ({"parts": own} if own else {})
    return drawing_digest(stamp.drawing, number=number, again=again, style=values, ppi=ppi)


def _styles(stamp: FinishedStamp, style: Style) -> dict[str, Style]:
    """The styles of marks that aren't drawn in the usual one, by full name."""
    return {
        mark.name: own.style
        for mark, own in zip(stamp.drawing.marks, _treatments(stamp), strict=True)
        if own is not None and own.style != style
    }


def _treatments(stamp: FinishedStamp) -> list[Treatment | None]:
    """How each mark is treated; parts of one that was divided as that was."""
    return [stamp.treatments.get(mark.name.partition("~over")[0]) for mark in stamp.drawing.marks]


def _part(stamp: FinishedStamp, own: Style, usual: Style) -> tuple[Drawing, Style]:
    """The marks of a stamp that are drawn in one style, on the same canvas, and that style."""
    styles, whole = _styles(stamp, usual), stamp.drawing
    layers = [
        Layer(
            name=layer.name,
            leaves=layer.leaves,
            marks=tuple(mark for mark in layer.marks if styles.get(mark.name, usual) == own),
        )
        for layer in whole.layers
    ]
    sheet_px = whole.sheet_px * own.drawn_at / usual.drawn_at
    return replace(whole, layers=tuple(layers), sheet_px=sheet_px), own


def _joined(
    drawing: Drawing, parts: Sequence[tuple[Drawing, InkedDrawing]], *, fillet_px: float
) -> InkedDrawing:
    """Parts of a drawing as one, marks and masters in its own order."""
    inked, cut, masters = dict[str, InkedMark](), dict[str, InkedMark](), dict[str, Master]()
    for part, drawn in parts:
        inked |= {mark.name: mark for mark in drawn.marks}
        cut |= {mark.name: mark for mark in (drawn.cut.marks if drawn.cut is not None else ())}
        masters |= dict(zip(_names_of_masters(part), drawn.masters, strict=True))
    first = parts[0][1]
    whole = replace(
        first,
        marks=_in_order(inked, drawing),
        masters=tuple(masters[name] for name in _names_of_masters(drawing)),
        n_drawn=sum(drawn.n_drawn for _, drawn in parts),
        fillet_px=fillet_px,
        cut=None,
    )
    if not cut:
        return whole
    return replace(whole, cut=replace(whole, marks=_in_order(cut, drawing), masters=(), n_drawn=0))


def _names_of_masters(drawing: Drawing) -> list[str]:
    """The names of marks in the order in which the engine gives their masters."""
    return [mark.name for leaves in Leaves for mark in drawing.marks_that_leave(leaves)]


def _in_order(marks: Mapping[str, InkedMark], drawing: Drawing) -> tuple[InkedMark, ...]:
    return tuple(marks[mark.name] for mark in drawing.marks if mark.name in marks)
