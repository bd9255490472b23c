"""Where an element of an SVG file stands: its map to the picture, its style and its bounds."""

from __future__ import annotations

from dataclasses import dataclass, replace
from xml.etree.ElementTree import Element

import numpy as np

from inkline.artwork.maps import Matrix, after, scaled
from inkline.artwork.svg.styles import Style, Styles
from inkline.artwork.svg.tree import SvgTree
from inkline.artwork.svg.units import (
    Viewport,
    length_from_text,
    number_from_text,
    transform_from_text,
)
from inkline.geometry.arrays import Points
from inkline.geometry.clipping import common_area

_FONT_SIZES = {
    "xx-small": 9.6,
    "x-small": 12.0,
    "small": 13.333,
    "medium": 16.0,
    "large": 19.2,
    "x-large": 24.0,
    "xx-large": 32.0,
}
"""Sizes in px by their names, for a medium of 16 px (CSS Fonts 4, 2.5)."""
_SIDES = {"left": "0", "top": "0", "center": "50%", "right": "100%", "bottom": "100%"}
Area = tuple[Points, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Place:
    """Where something stands.

    Attributes:
        matrix: from its user units to px of the picture.
        style: its computed style.
        viewport: what percentages are taken of.
        opacity: of all groups around it and of itself.
        layer: the name of the topmost group.
        clip: what bounds it in px, `None` for nothing.
        depth: how many `use` elements lead to it.
        css_px: how many px of the picture are one of the file's own, before it moves anything.
    """

    matrix: Matrix
    style: Style
    viewport: Viewport
    opacity: float = 1.0
    layer: str = ""
    clip: Area | None = None
    depth: int = 0
    css_px: float = 1.0

    def within(self, area: Area) -> Place:
        """The same place, bounded by `area` too."""
        clip = area if self.clip is None else common_area(self.clip, area)
        return replace(self, clip=clip)

    def length(self, text: str | None, usual: float, whole: float) -> float:
        """A length in user units."""
        font_size = self.viewport.font_size
        return length_from_text(text, usual, whole=whole, font_size=font_size)


def place_of_child(element: Element, parent: Place, styles: Styles) -> tuple[Place | None, str]:
    """The place of an element in its parent's, `None` if nothing is to be seen of it.

    The second value says what is wrong with its transform, "" if nothing.
    """
    style = styles.style_of(element, parent.style)
    if style["display"] == "none":
        return None, ""
    own = transform_from_text(style["transform"])
    if own is None:
        return None, "its transform can't be read, so it is left out"
    around = parent.viewport.font_size
    size = _font_size(style["font-size"], around)
    x, y = _origin(style["transform-origin"], parent.viewport)
    about = after(scaled(1.0, 1.0, x, y), after(own, scaled(1.0, 1.0, -x, -y)))
    matrix = after(parent.matrix, about)
    if not np.isfinite(matrix).all():
        return None, "its transform goes too far, so it is left out"
    return (
        replace(
            parent,
            matrix=matrix,
            style={**style, "font-size": repr(size)},
            viewport=replace(parent.viewport, font_size=size),
            opacity=parent.opacity * min(max(number_from_text(style["opacity"], 1.0), 0.0), 1.0),
        ),
        "",
    )


def _origin(text: str, view: Viewport) -> tuple[float, float]:
    """The point that a transform leaves where it is (CSS Transforms 1, 8), in user units."""
    words = text.split()[:2] or ["0"]
    if len(words) == 1:
        words = ["50%", words[0]] if words[0] in {"top", "bottom"} else [words[0], "50%"]
    if words[0] in {"top", "bottom"} or words[1] in {"left", "right"}:
        words.reverse()
    x, y = (
        length_from_text(_SIDES.get(word, word), 0.0, whole=whole, font_size=view.font_size)
        for word, whole in zip(words, (view.width, view.height), strict=True)
    )
    return x, y


def _font_size(text: str, around: float) -> float:
    """The size of letters in user units, where those around are of the size `around`."""
    named = _FONT_SIZES.get(text)
    if named is not None:
        return named
    if text in {"smaller", "larger"}:
        return around / 1.2 if text == "smaller" else around * 1.2
    return max(length_from_text(text, around, whole=around, font_size=around), 0.0)


def reference_of(text: str | None, tree: SvgTree) -> Element | None:
    """The element that `#name` or `url(#name)` names in the same file."""
    if text is None:
        return None
    name = text.strip()
    if name.lower().startswith("url("):
        name = name[4:].partition(")")[0].strip(" \"'")
    return tree.with_id(name[1:]) if name.startswith("#") else None
