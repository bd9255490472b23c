"""What an SVG shape's line is drawn with (SVG 2, 13.5)."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from inkline.artwork.maps import scale_of
from inkline.artwork.model import FillRule, LineCap, LineJoin, Pen
from inkline.artwork.svg.lacks import Lacks
from inkline.artwork.svg.place import Place
from inkline.artwork.svg.units import number_from_text


def pen_of(element: Element, place: Place, lacks: Lacks) -> Pen | None:
    """What a shape's line is drawn with, in px; `None` for a line of no width."""
    style, diagonal = place.style, place.viewport.diagonal
    scale = scale_of(place.matrix)
    if style["vector-effect"] == "non-scaling-stroke":
        lacks.add(element, "a line that keeps its width is drawn as wide as it stands")
    width = place.length(style["stroke-width"], 1.0, diagonal) * scale
    if width <= 0.0:
        return None
    gaps = style["stroke-dasharray"].removeprefix("none").replace(",", " ").split()
    lengths = [place.length(part, -1.0, diagonal) * scale for part in gaps]
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
        dash_offset=place.length(style["stroke-dashoffset"], 0.0, diagonal) * scale,
    )


def fill_rule_of(text: str) -> FillRule:
    """The rule of that name, the usual one where it is none."""
    return FillRule(_one_of(text, FillRule, "nonzero"))


def _one_of(text: str, kind: type[FillRule | LineCap | LineJoin], usual: str) -> str:
    """A keyword, or the usual one where `text` is none of its kind."""
    return text if text in {str(one) for one in kind} else usual
