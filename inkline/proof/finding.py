"""What a proof finds, and the bounds that it holds a kit to."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any, Self

from inkline.errors import UnitError
from inkline.geometry.boxes import Box
from inkline.units import length_from_text

ListedStamp = Mapping[str, Any]
"""A stamp as the manifest lists it: its `kind`, and `lines`, `glyphs` or `boxes`."""


class Check(StrEnum):
    """What was looked at."""

    KIT = "kit"
    FILE = "file"
    FORMAT = "format"
    SIZE = "size"
    RESOLUTION = "resolution"
    VALUES = "values"
    MASTERS = "masters"
    RETOUCH = "retouch"
    EDGE = "edge"
    POSITION = "position"
    WIDTH = "width"
    AREA = "area"
    PLACE = "place"
    SHIFT = "shift"
    OUTSIDE = "outside"
    REGISTER = "register"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing that was looked at.

    Attributes:
        stamp: the stamp's name, such as `tall/dates-3`.
        check: what was looked at.
        sentence: what was found and what is allowed; empty where something can only hold or not,
            and holds.
        share: what was found as a share of what is allowed, 0 or more; infinite where something can
            only hold or not, and doesn't.
        kind: of a difference from what was drawn, in one word.
        marks: what it concerns, such as `'17'` or `rule 3`.
        box: where on the stamp, in px.
    """

    stamp: str
    check: Check
    sentence: str
    share: float
    kind: str = ""
    marks: tuple[str, ...] = ()
    box: Box | None = None

    @classmethod
    def fault(cls, stamp: str, check: Check, sentence: str) -> Self:
        """What can only hold or not, and doesn't."""
        return cls(stamp=stamp, check=check, sentence=sentence, share=math.inf)

    @classmethod
    def clean(cls, stamp: str, check: Check) -> Self:
        """What can only hold or not, and holds."""
        return cls(stamp=stamp, check=check, sentence="", share=0.0)

    @property
    def holds(self) -> bool:
        """Whether it is within its bound; what could not be measured (NaN) is not."""
        return self.share <= 1.0

    def __str__(self) -> str:
        return f"{self.stamp}: {self.check.value}: {self.sentence}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Unjudged:
    """Something of a stamp that was not judged, and why.

    Attributes:
        stamp: the stamp's name.
        sentence: what was not judged, and why; the same for all stamps of which that is so.
    """

    stamp: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Retouch:
    """Something that was changed by hand on a stamp, which is no fault.

    Attributes:
        stamp: the stamp's name.
        sentence: what was changed.
    """

    stamp: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """How far a drawn kit may stray from its exact layout.

    The defaults suit a hand that is meant to look drawn. The shares are chosen from kits in the
    styles that inkline comes with: of 2 900 numerals, whose arms and bowls are another length each
    time they are drawn, the farthest lay 0.108 off, and blocks came within 0.045; those of large
    and small things, whose edges and hand are the same, from formats with few and with many cells.

    Attributes:
        edge_px: least distance of ink from the canvas edge on stamps of a format's full width, in
            px; None for `edge_share` of that width.
        edge_share: what recipes have unless they say otherwise.
        own_edge_px: the same on smaller canvases, which fit their ink closely, in px: one free
            pixel shows that nothing is cut off.
        offset_px: largest mean offset and drift of a rule, and of a stamp's numerals, words or
            blocks together, before what a rough edge or the hand adds by chance, in px.
        width_share: largest departure of a rule's mean width from what the style leaves of it,
            likewise.
        near_share: how far each side of a numeral's, word's or block's ink may lie from its exact
            place, as a share of the longer side of its exact box (for words, of their height).
        near_least_px: however small the thing is.
        near_most_px: however large it is.
        area_share: largest departure of a block's ink from its exact area.
        area_edge_px: or, for small blocks, how far all their edge may lie out or in on average, in
            px.
        dryness_share: how much more or less than its `dryness` a style may leave bare, as a share
            of the ink.
        register_px: largest distance of a cell's side from the centre of its rule, in px.
        stray_px: how far the hand of the style lets a rule stray, so that its ink is looked for as
            far, in px.
    """

    edge_px: float | None = None
    edge_share: float = 0.0096
    own_edge_px: float = 1.0
    offset_px: float = 0.5
    width_share: float = 0.01
    near_share: float = 0.13
    near_least_px: float = 2.0
    near_most_px: float = 30.0
    area_share: float = 0.06
    area_edge_px: float = 2.0
    dryness_share: float = 0.01
    register_px: float = 1e-6
    stray_px: float = 0.0


_USUAL_SIDE_PX = 2500.0
_RASTER_PX = 2.0
_ROUNDING_PX = 0.5
"""Ink is seen in whole pixels, so that an edge may seem to lie so much farther off."""
_SMALL_THINGS_PX = 8.0
"""Letters over the days of a strip are 28 px high and drawn by the same hand as large ones: of some
thousand the farthest lay 6.5 px off."""


def bounds_for(side_px: float) -> Bounds:
    """The bounds for a kit whose formats are `side_px` wide.

    The hand and the edge are enlarged with the sheet, pixels are not.
    """
    scale = side_px / _USUAL_SIDE_PX
    return Bounds(
        near_least_px=max(_RASTER_PX, _SMALL_THINGS_PX * scale + _ROUNDING_PX),
        near_most_px=max(_RASTER_PX, 30.0 * scale),
        area_edge_px=2.0 * scale,
    )


def bounds_in_style(bounds: Bounds, style: Mapping[str, Any], *, side_px: float) -> Bounds:
    """`bounds` for a stamp that was drawn in `style`, whose values are given, on that wide a sheet.

    Raises:
        AttributeError, KeyError, TypeError, ValueError: the values are none of a style.
    """
    if "hand" not in style:
        return bounds
    try:
        stray, sheet = (
            length_from_text(text).mm() for text in (style["hand"]["stray"], style["drawn_at"])
        )
    except UnitError as problem:
        raise ValueError(str(problem)) from problem
    return replace(bounds, stray_px=stray * side_px / max(sheet, 1.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class KitProof:
    """All that was found in a kit, in the order of its manifest.

    Attributes:
        n_stamps: how many stamps the manifest lists.
        bounds: what it was held to.
        findings: everything that was looked at, whether it holds or not.
        retouched: names of the stamps whose pictures are no longer those that were drawn; of these
            only that is judged which no hand can have meant.
        retouches: what was retouched on each, by the stamp's name, as far as its masters tell.
        unjudged: what else was not judged.
        n_measured: how many stamps had a picture that could be measured.
        strangers: files in the folder that the manifest doesn't list, from there.
    """

    n_stamps: int
    bounds: Bounds
    findings: tuple[Finding, ...]
    retouched: tuple[str, ...] = ()
    unjudged: tuple[Unjudged, ...] = ()
    retouches: tuple[Retouch, ...] = ()
    n_measured: int = 0
    strangers: tuple[str, ...] = ()

    @property
    def faults(self) -> tuple[Finding, ...]:
        """What doesn't hold."""
        return tuple(finding for finding in self.findings if not finding.holds)
