"""The colours of an SVG file (SVG 2, 13.2; CSS Color 4)."""

from __future__ import annotations

from dataclasses import replace
from xml.etree.ElementTree import Element

from tinycss2 import color4

from inkline.artwork.model import Paint
from inkline.artwork.svg.plain import (
    mean_of_parts,
    mean_of_stops,
    shapes_of_pattern,
    tile_area,
)
from inkline.artwork.svg.styles import Style, Styles
from inkline.artwork.svg.tree import XLINK_HREF, SvgTree, plain_tag
from inkline.artwork.svg.units import number_from_text

_MOST_REFERENCES = 16
_BLACK = Paint(red=0.0, green=0.0, blue=0.0)


def _colour_from_text(text: str, *, current: str) -> Paint | None:
    """A colour; `None` for "none" and for what is no colour that can be read.

    Args:
        text: as in CSS, such as "#123", "rgb(10% 20% 30%)" or "currentColor".
        current: the value of the property `color`.
    """
    colour = color4.parse_color(text)
    if colour == "currentcolor":
        colour = color4.parse_color(current)
    if colour is None or isinstance(colour, str):
        return None
    try:
        seen = colour.to("srgb")
    except NotImplementedError:
        return None
    red, green, blue = (min(max(float(part or 0.0), 0.0), 1.0) for part in seen.coordinates)
    return Paint(red=red, green=green, blue=blue, opacity=min(max(float(seen.alpha), 0.0), 1.0))


def with_context(style: Style, of: Style) -> Style:
    """A style in which a shape's context is another that has the style `of` (SVG 2, 13.2)."""
    paints = {}
    for what in ("fill", "stroke"):
        text = of[what].strip()
        text = of.get(text.lower(), text) if text.lower().startswith("context-") else text
        paints[f"context-{what}"] = of["color"] if text.lower() == "currentcolor" else text
    return {**style, **paints}


class Paints:
    """Finds the paint of elements, and says what of it is left out.

    Args:
        tree: the file.
        styles: of its elements.
        plainly: whether gradients and patterns are drawn as their mean colours, or left out.
    """

    def __init__(self, tree: SvgTree, styles: Styles, *, plainly: bool) -> None:
        self._tree, self._styles, self._plainly = tree, styles, plainly

    def paint_of(self, style: Style, what: str, opacity: float) -> tuple[Paint | None, str]:
        """The paint of a fill or stroke, `None` for none, and what of it is left out.

        Args:
            style: of the element.
            what: "fill" or "stroke".
            opacity: of the groups that the element lies in.
        """
        text = style[what].strip()
        if text.lower() in {"context-fill", "context-stroke"}:
            text = style[text.lower()].strip()
        whole = opacity * number_from_text(style[f"{what}-opacity"], 1.0)
        lack = ""
        if text.lower().startswith("url("):
            paint, lack = self._served_paint(text, style)
        else:
            paint = _colour_from_text(text, current=style["color"])
            if paint is None and text.lower() != "none":
                lack = f"the colour {text!r} can't be read; nothing is drawn with it"
        if paint is None:
            return None, lack
        return replace(paint, opacity=min(max(paint.opacity * whole, 0.0), 1.0)), lack

    def _served_paint(self, text: str, style: Style) -> tuple[Paint | None, str]:
        """What stands for a gradient or a pattern that `text` names, and what that leaves out."""
        reference, _, other = text[4:].partition(")")
        beside = _colour_from_text(other.strip() or "none", current=style["color"])
        server = self._tree.with_id(reference.strip(" \"'").removeprefix("#"))
        if server is None:
            there = "nothing is drawn with it" if beside is None else "the colour beside it is used"
            return beside, f"it names {reference.strip()[:40]!r}, which isn't there; {there}"
        tag = plain_tag(server)
        stops = self._stops(server)
        if stops is not None and len(stops) < 2:  # which is one colour, or none (SVG 2, 14.2.4)
            return (stops[0][1] if stops else None), ""
        if beside is not None:
            return beside, f"a <{tag}> is left out, and the colour beside it is used"
        if not self._plainly:
            return None, f"a <{tag}> is left out"
        mean = mean_of_stops(stops) if stops else self._mean_of_pattern(server)
        if mean is None:
            return None, f"a <{tag}> has no mean colour, and is left out"
        return mean, f"a <{tag}> is drawn as its mean colour"

    def _stops(self, server: Element) -> list[tuple[float, Paint]] | None:
        """The places and colours of a gradient's stops; `None` of anything else."""
        if plain_tag(server) not in {"linearGradient", "radialGradient"}:
            return None
        stops = [child for child in self._with_content(server) if plain_tag(child) == "stop"]
        return [(_share(stop.get("offset")), self._stop_paint(stop)) for stop in stops]

    def _with_content(self, server: Element) -> Element:
        """A gradient or pattern, or that which it takes what it holds from."""
        for _ in range(_MOST_REFERENCES):
            if len(server):
                break
            reference = server.get("href") or server.get(XLINK_HREF) or ""
            other = self._tree.with_id(reference.strip().removeprefix("#"))
            if other is None:
                break
            server = other
        return server

    def _mean_of_pattern(self, server: Element) -> Paint | None:
        """The mean colour of a pattern; `None` of anything else, and where nothing is in it."""
        if plain_tag(server) != "pattern":
            return None
        parts = list[tuple[float, Paint]]()
        for style, filled, stroked in shapes_of_pattern(self._with_content(server), self._styles):
            for what, area in (("fill", filled), ("stroke", stroked)):
                if style[what].strip().lower().startswith("url("):
                    continue  # which may be the pattern itself
                paint, _ = self.paint_of(style, what, number_from_text(style["opacity"], 1.0))
                parts += [] if paint is None else [(area, paint)]
        return mean_of_parts(parts, whole=tile_area(server))

    def _stop_paint(self, stop: Element) -> Paint:
        values = {"stop-color": "black", "stop-opacity": "1", "color": "black"}
        values |= {name: value for name, value in stop.attrib.items() if name in values}
        values |= self._styles.sheet_values(stop)
        paint = _colour_from_text(values["stop-color"], current=values["color"]) or _BLACK
        return replace(paint, opacity=paint.opacity * number_from_text(values["stop-opacity"], 1.0))


def _share(text: str | None) -> float:
    """A number or a percentage as a share; 0 where it is neither."""
    return number_from_text(text, 0.0)
