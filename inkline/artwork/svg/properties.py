"""What SVG files ask for that no pen draws: properties, attributes and elements, told by line.

The names are those of SVG 2 (its definitions of elements, attributes and properties). What isn't
in these tables is either taken by the reader, or changes nothing of what a file shows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from xml.etree.ElementTree import Element

from inkline.artwork.svg.lacks import LEFT_OUT, Lacks
from inkline.artwork.svg.shapes import GEOMETRY, SHAPES
from inkline.artwork.svg.styles import PROPERTIES, Styles
from inkline.artwork.svg.tree import SvgTree, plain_tag

_LETTERS = "letters are those of the family or the font that you choose"
_ONE_LINE = "text runs on from left to right on its own line"
_NO_BLENDING = "colours lie over each other, and are not blended"
_FLAT = "it is left out"
_TEXT_PROPERTIES: Mapping[str, tuple[str, str]] = {
    "font-family": ("", _LETTERS),
    "font-weight": ("normal 400", _LETTERS),
    "font-style": ("normal", _LETTERS),
    "font-stretch": ("normal 100%", _LETTERS),
    "font-variant": ("normal none", _LETTERS),
    "font-variant-caps": ("normal", _LETTERS),
    "font-variant-ligatures": ("normal", _LETTERS),
    "font-variant-numeric": ("normal", _LETTERS),
    "font-size-adjust": ("none", _LETTERS),
    "font-kerning": ("auto normal", _LETTERS),
    "font-feature-settings": ("normal", _LETTERS),
    "font": ("", _LETTERS),
    "writing-mode": ("lr lr-tb horizontal-tb", _ONE_LINE),
    "direction": ("ltr", "text runs in the direction of its script"),
    "unicode-bidi": ("normal", "text runs in the direction of its script"),
    "glyph-orientation-vertical": ("auto 0 0deg", _ONE_LINE),
    "glyph-orientation-horizontal": ("auto 0 0deg", _ONE_LINE),
    "text-orientation": ("mixed", _ONE_LINE),
    "text-combine-upright": ("none", _ONE_LINE),
    "inline-size": ("auto 0", "lines are not broken, but run on"),
    "shape-inside": ("auto none", "lines are not broken, but run on"),
    "text-overflow": ("clip", _FLAT),
    "text-indent": ("0", _FLAT),
    "text-decoration-style": ("solid", "lines under letters are drawn plain"),
    "text-decoration-color": ("currentcolor", "lines under letters have their colour"),
    "text-decoration-fill": ("", "lines under letters have their colour"),
    "text-decoration-stroke": ("none", "lines under letters have their colour"),
    "vertical-align": ("baseline", _FLAT),
}
"""Properties of text that aren't taken: the values that ask for nothing, and what is told."""
_SHAPE_PROPERTIES: Mapping[str, tuple[str, str]] = {
    "mix-blend-mode": ("normal", _NO_BLENDING),
    "mask-image": ("none", _FLAT),
    "mask-border": ("none", _FLAT),
    "clip": ("auto", _FLAT),
    "z-index": ("auto 0", "what comes later in the file lies above"),
    "transform-box": ("view-box", "it moves as if it said view-box"),
    "translate": ("none", _FLAT),
    "rotate": ("none", _FLAT),
    "scale": ("none", _FLAT),
    "offset-path": ("none", _FLAT),
    "stroke-linejoin": ("miter round bevel", "its corners are pointed"),
    "vector-effect": ("none non-scaling-stroke", _FLAT),
    "backdrop-filter": ("none", _FLAT),
}
_LATER = frozenset({"inherit", "initial", "unset", "revert"})
_NOT_ATTRIBUTES = frozenset({"translate", "rotate", "scale", "offset-path", "z-index"})
"""Properties whose names mean other things as attributes, or nothing."""
_UNSEEN_WITHIN = frozenset({"filter", "metadata", "font", "script", "style"})
_MOVING = frozenset(
    {"animate", "animateColor", "animateMotion", "animateTransform", "discard", "set"}
)
_ANYWHERE = _MOVING | {"script"}
"""Elements that may stand within shapes and text."""
_WITHIN_SHAPES = _ANYWHERE | frozenset(
    {"clipPath", "desc", "hatch", "linearGradient", "marker", "mask", "metadata", "mpath"}
    | {"pattern", "radialGradient", "style", "title"}
)
_LETTERS_OF_FILE = frozenset({"font", "font-face"})
_SYMBOL_PLACE = ("refX", "refY")
_COMPUTED = re.compile(r"\b(var|calc|env|attr|min|max|clamp)\(", re.IGNORECASE)
_UNKNOWN_UNIT = re.compile(
    r"[+-]?[\d.]+(?:e[+-]?\d+)?(vw|vh|vi|vb|vmin|vmax|ch|ic|lh|rlh|cap)", re.IGNORECASE
)
_LENGTHS = GEOMETRY | {"x1", "x2", "y1", "y2", "dx", "dy", "stroke-width", "font-size"}


def add_lacks_of_file(tree: SvgTree, styles: Styles, lacks: Lacks) -> None:
    """Note what a file asks for that isn't taken, wherever it stands."""
    for sentence in tree.sheets_outside:
        lacks.add(tree.root, sentence, what="xml-stylesheet")
    with_text = _with_text(tree.root)
    waiting = [(tree.root, False)]
    while waiting:
        element, is_within_shape = waiting.pop()
        tag = plain_tag(element)
        if tag in _ANYWHERE:
            lacks.add(element, LEFT_OUT[tag])
        elif is_within_shape and tag and tag not in _WITHIN_SHAPES:
            lacks.add(element, "nothing within a shape is drawn")
        if tag in _LETTERS_OF_FILE:
            lacks.add(element, "letters that a file brings with it are left out")
        if not tag or tag in _UNSEEN_WITHIN or tag in _MOVING:
            continue
        for name, sentence in _unmet(element, styles, has_text=element in with_text):
            lacks.add(element, sentence, what=name)
        waiting.extend((child, tag in SHAPES) for child in reversed(element))


def _with_text(root: Element) -> set[Element]:
    """The elements that are text, or have text within them."""
    found = set[Element]()

    def look(element: Element) -> bool:
        inside = [look(child) for child in element]
        has = plain_tag(element) in {"text", "tspan", "textPath"} or any(inside)
        if has:
            found.add(element)
        return has

    look(root)
    return found


def _unmet(element: Element, styles: Styles, *, has_text: bool) -> Iterator[tuple[str, str]]:
    """Names of what an element asks for that isn't taken, and what becomes of each."""
    said = {name: value for name, value in element.attrib.items() if name not in _NOT_ATTRIBUTES}
    said |= styles.sheet_values(element)
    for name, value in said.items():
        text = value.strip().lower()
        table = _SHAPE_PROPERTIES
        if has_text and name in _TEXT_PROPERTIES:
            table = _TEXT_PROPERTIES
        usual, sentence = table.get(name, ("", ""))
        if sentence and text not in usual.split() and text not in _LATER:
            yield name, sentence
        if name in PROPERTIES or name in GEOMETRY:
            computed = _COMPUTED.search(text)
            if computed:
                yield name, f"{computed[1]}() is not computed, and the value is left out"
        if name in _LENGTHS and _UNKNOWN_UNIT.fullmatch(text):
            unit = _UNKNOWN_UNIT.fullmatch(text)
            yield name, f"{unit[1] if unit else text} is no unit of a page, and is left out"
    if plain_tag(element) == "symbol":
        for name in _SYMBOL_PLACE:
            if element.get(name) is not None:
                yield name, "it is left out: a symbol is placed by its corner"
