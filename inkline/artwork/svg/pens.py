"""What an SVG shape's line is drawn with (SVG 2, 13.5)."""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree.ElementTree import Element

import numpy as np

from inkline.artwork.maps import scale_of
from inkline.artwork.model import FillRule, LineCap, LineJoin, Pen, Subpath
from inkline.artwork.svg.lacks import Lacks
from inkline.artwork.svg.place import Place
from inkline.artwork.svg.units import number_from_text
from inkline.geometry.polyline import arc_lengths

_NO_SCALING = "non-scaling-stroke"


def keeps_width(place: Place) -> bool:
    """Whether a line is as wide as it says, however it is scaled (SVG 2, 8.13)."""
    return place.style["vector-effect"] == _NO_SCALING


def dash_scale_of(element: Element, subpaths: Sequence[Subpath], place: Place) -> float:
    """User units to each unit of a shape's gaps, which it may state (SVG 2, 9.6.1)."""
    stated = number_from_text(element.get("pathLength"), 0.0)
    if stated <= 0.0:
        return 1.0
    lengths = [
        float(
            arc_lengths(np.concatenate((run.points, run.points[:1])) if run.closed else run.points)[
                -1
            ]
        )
        for run in subpaths
    ]
    return sum(lengths) / max(scale_of(place.matrix), 1e-12) / stated


def pen_of(element: Element, place: Place, lacks: Lacks, *, dash_scale: float) -> Pen | None:
    """What a shape's line is drawn with, in px; `None` for a line of no width.

    Args:
        element: the shape.
        place: where it stands.
        lacks: where to note what can't be read.
        dash_scale: user units to each unit of its gaps.
    """
    style, diagonal = place.style, place.viewport.diagonal
    scale = place.css_px if keeps_width(place) else scale_of(place.matrix)
    width = place.length(style["stroke-width"], 1.0, diagonal) * scale
    if width <= 0.0:
        return None
    gaps = style["stroke-dasharray"].removeprefix("none").replace(",", " ").split()
    grown = scale * dash_scale
    lengths = [place.length(part, -1.0, diagonal) * grown for part in gaps]
    if lengths and min(lengths) < 0.0:
        lacks.add(element, "its gaps can't be read", what="stroke-dasharray")
        lengths = []
    limit = number_from_text(style["stroke-miterlimit"], 4.0)
    return Pen(
        width=width,
        cap=LineCap(_one_of(style["stroke-linecap"], LineCap, "butt")),
        join=LineJoin(_one_of(style["stroke-linejoin"], LineJoin, "miter")),
        miter_limit=max(limit, 1.0),
        dashes=tuple(lengths) if sum(lengths) > 0.0 else (),
        dash_offset=place.length(style["stroke-dashoffset"], 0.0, diagonal) * grown,
    )


def fill_rule_of(text: str) -> FillRule:
    """The rule of that name, the usual one where it is none."""
    return FillRule(_one_of(text, FillRule, "nonzero"))


def _one_of(text: str, kind: type[FillRule | LineCap | LineJoin], usual: str) -> str:
    """A keyword, or the usual one where `text` is none of its kind."""
    return text if text in {str(one) for one in kind} else usual
