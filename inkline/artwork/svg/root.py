"""What an SVG file's outermost element says of all of it."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from inkline.artwork.svg.tree import plain_tag
from inkline.artwork.svg.units import length_from_text, unit_of_length, view_box

_USUAL_SIZE = (300.0, 150.0)
"""Width and height in CSS px of a file that states none (CSS 2.2, 10.3.2)."""


def root_size(root: Element) -> tuple[float, float]:
    """Width and height of the whole in CSS px."""
    box = view_box(root.get("viewBox"))
    usual = _USUAL_SIZE if box is None else box[2:]
    stated = []
    for name, whole in zip(("width", "height"), usual, strict=True):
        text = root.get(name)
        is_share = text is None or unit_of_length(text) == "%"
        length = 0.0 if is_share else length_from_text(text, 0.0, whole=whole, font_size=16.0)
        stated.append(length)
    width, height = stated
    if width <= 0.0 and height <= 0.0:
        return usual
    if width <= 0.0:
        width = height * usual[0] / usual[1]
    if height <= 0.0:
        height = width * usual[1] / usual[0]
    return width, height


def title_of(element: Element) -> str:
    """What an element calls itself."""
    for child in element:
        if plain_tag(child) == "title":
            return " ".join("".join(child.itertext()).split())
    return ""
