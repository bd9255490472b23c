"""The colours of an SVG file (SVG 2, 13.2; CSS Color 4)."""

from __future__ import annotations

from dataclasses import replace
from xml.etree.ElementTree import Element

from tinycss2 import color4

from inkline.artwork.model import Paint
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


class Paints:
    """Finds the paint of elements, and says what of it is left out."""

    def __init__(self, tree: SvgTree, styles: Styles) -> None:
        self._tree, self._styles = tree, styles

    def paint_of(self, style: Style, what: str, opacity: float) -> tuple[Paint | None, str]:
        """The paint of a fill or stroke, `None` for none, and what of it is left out.

        Args:
            style: of the element.
            what: "fill" or "stroke".
            opacity: of the groups that the element lies in.
        """
        text = style[what].strip()
        whole = opacity * number_from_text(style[f"{what}-opacity"], 1.0)
        lack = ""
        if text.lower().startswith("url("):
            reference, _, other = text[4:].partition(")")
            server = self._tree.with_id(reference.strip(" \"'").removeprefix("#"))
            paint = None if server is None else self._plain_paint(server)
            if paint is not None and server is not None:
                lack = f"a <{plain_tag(server)}> is drawn as one plain colour"
            else:
                paint = _colour_from_text(other.strip() or "none", current=style["color"])
                if server is not None:
                    lack = f"a <{plain_tag(server)}> can't be drawn"
        elif text.lower() in {"context-fill", "context-stroke"}:
            paint, lack = _BLACK, f"{text} is drawn black"
        else:
            paint = _colour_from_text(text, current=style["color"])
            if paint is None and text.lower() != "none":
                lack = f"the colour {text!r} can't be read; nothing is drawn with it"
        if paint is None:
            return None, lack
        return replace(paint, opacity=min(max(paint.opacity * whole, 0.0), 1.0)), lack

    def _plain_paint(self, server: Element) -> Paint | None:
        """One colour in place of a gradient: the mean of its stops; `None` of anything else."""
        for _ in range(_MOST_REFERENCES):
            if plain_tag(server) not in {"linearGradient", "radialGradient"}:
                return None
            stops = [child for child in server if plain_tag(child) == "stop"]
            reference = server.get("href") or server.get(XLINK_HREF) or ""
            if stops:
                return _mean_paint([self._stop_paint(stop) for stop in stops])
            other = self._tree.with_id(reference.strip().removeprefix("#"))
            if other is None:
                return None
            server = other
        return None

    def _stop_paint(self, stop: Element) -> Paint:
        values = {"stop-color": "black", "stop-opacity": "1", "color": "black"}
        values |= {name: value for name, value in stop.attrib.items() if name in values}
        for _, name, value in sorted(self._styles.declared.get(stop, ()), key=lambda one: one[0]):
            values[name] = value
        paint = _colour_from_text(values["stop-color"], current=values["color"]) or _BLACK
        return replace(paint, opacity=paint.opacity * number_from_text(values["stop-opacity"], 1.0))


def _mean_paint(paints: list[Paint]) -> Paint:
    n = len(paints)
    return Paint(
        red=sum(paint.red for paint in paints) / n,
        green=sum(paint.green for paint in paints) / n,
        blue=sum(paint.blue for paint in paints) / n,
        opacity=sum(paint.opacity for paint in paints) / n,
    )
