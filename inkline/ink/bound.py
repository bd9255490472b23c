"""How far ink may lie from the exact stroke, stated by the style itself."""

from __future__ import annotations

from inkline.drawing import Role
from inkline.ink.edge import largest_offset
from inkline.ink.firmness import style_for_role
from inkline.ink.media.specks import farthest_speck
from inkline.ink.nib import largest_pressure
from inkline.ink.style import Style


def reach_mm(style: Style, role: Role, *, width_mm: float) -> float:
    """The largest distance of ink from the exact stroke lengthened by its run-over, mm.

    Stray, plus half the width at its largest pressure, plus the most that the edge moves, or the
    reach of specks if that is more.

    Args:
        style: the style.
        role: what the stroke is in the calendar.
        width_mm: nominal width on the sheet.
    """
    mine = style_for_role(style, role)
    body = 0.5 * width_mm * largest_pressure(mine.nib)
    return (
        mine.hand.stray
        + body
        + max(largest_offset(mine.edge, 0.5 * width_mm), farthest_speck(mine.paper))
    )
