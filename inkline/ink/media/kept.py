"""Fields of marks that were just drawn, kept until they are filled."""

from __future__ import annotations

import dataclasses
from collections import OrderedDict
from collections.abc import Callable

from inkline.geometry.arrays import Points
from inkline.ink.media.field import MediumField
from inkline.ink.media.fields import field_over
from inkline.ink.media.medium import Medium

# So many fields are kept.
_MOST_KEPT = 160

_kept: OrderedDict[Medium, MediumField] = OrderedDict()
"""Fields of marks just drawn, which are about to be filled."""


def keep_field(field: MediumField, medium: Medium) -> None:
    """Keep `field` for the next `field_of(medium)`; `medium` is that of the field at its level."""
    _kept[medium] = dataclasses.replace(field, medium=medium)
    while len(_kept) > _MOST_KEPT:
        _kept.popitem(last=False)


def field_of(medium: Medium, contours: Callable[[], tuple[Points, ...]]) -> MediumField:
    """`medium` over the contours of its mark, in mm about its origin as its master keeps them."""
    return _kept.pop(medium, None) or field_over(medium, contours())
