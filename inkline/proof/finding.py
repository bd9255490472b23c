"""What a proof finds amiss, and the bounds that it holds a kit to."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Check(StrEnum):
    """What was looked at."""

    FILE = "file"
    FORMAT = "format"
    SIZE = "size"
    RESOLUTION = "resolution"
    VALUES = "values"
    EDGE = "edge"
    POSITION = "position"
    WIDTH = "width"
    AREA = "area"
    PLACE = "place"
    OUTSIDE = "outside"
    REGISTER = "register"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing that is not as it should be.

    Attributes:
        stamp: the stamp's name, such as `tall/dates-3`.
        check: what was looked at.
        sentence: what is required and what was found.
    """

    stamp: str
    check: Check
    sentence: str

    def __str__(self) -> str:
        return f"{self.stamp}: {self.check.value}: {self.sentence}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """How far a drawn kit may stray from its exact layout; the defaults suit a hand that is meant to look drawn.

    The shares are chosen from a kit in the default style, whose farthest numeral or word lay 0.08 off and whose blocks came within 0.045.

    Attributes:
        edge_px: least distance of ink from the canvas edge on stamps with a format, in px.
        offset_px: largest mean offset and drift of a rule, before what its edge's roughness adds by chance, in px.
        width_share: largest departure of a rule's mean width from its own, likewise.
        near_share: how far each side of a numeral's, word's or block's ink may lie from its exact place, as a share of the
            longer side of its exact box (for words, of their height).
        area_share: largest departure of a block's ink from its exact area.
        register_px: largest distance of a cell's side from the centre of its rule, in px.
    """

    edge_px: float = 24.0
    offset_px: float = 0.5
    width_share: float = 0.01
    near_share: float = 0.1
    area_share: float = 0.06
    register_px: float = 1e-6
