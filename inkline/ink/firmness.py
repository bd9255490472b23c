"""The style as it draws marks of one role, calmer or freer than by itself."""

from __future__ import annotations

import dataclasses

from inkline.drawing import Role
from inkline.ink.style import Style

# A mark of full firmness strays at most so much less than one of none.
_STRAY_FIRMNESS = 0.25
# The pressure of a mark of full firmness varies by so much less than of one of none.
_PRESS_FIRMNESS = 0.3


def style_for_role(style: Style, role: Role) -> Style:
    """The style as it draws marks of `role`: hand, nib and edge calmed by that role's firmness."""
    free = 1.0 - style.firmness.for_role(role)
    hand, edge = style.hand, style.edge
    calm_hand = dataclasses.replace(
        hand,
        drift=hand.drift * free,
        tremor=hand.tremor * free,
        hook=hand.hook * free,
        form_play=hand.form_play * free,
        stray=hand.stray * (1.0 - _STRAY_FIRMNESS * style.firmness.for_role(role)),
    )
    calm_edge = dataclasses.replace(
        edge, raggedness=edge.raggedness * free, events=edge.events * free, creep=edge.creep * free
    )
    even = 1.0 - _PRESS_FIRMNESS * style.firmness.for_role(role)
    calm_nib = dataclasses.replace(style.nib, pressure=style.nib.pressure * even)
    return dataclasses.replace(style, hand=calm_hand, nib=calm_nib, edge=calm_edge)
