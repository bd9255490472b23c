"""Whether an element of an SVG file is to be drawn at all (SVG 2, 5.9 and 5.10)."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from inkline.artwork.svg.lacks import UNSEEN
from inkline.artwork.svg.tree import plain_tag

_LANGUAGE = "en"
"""Of files that hold several, the one that is drawn; there is no browser to say another."""


def unmet_condition(element: Element) -> str:
    """Why an element is left out, "" if it isn't."""
    if element.get("requiredExtensions") is not None:
        return "it asks for an extension of the standard, and is left out"
    return "" if _is_in_language(element) else "it is for another language, and is left out"


def chosen_child(switch: Element) -> tuple[Element | None, str]:
    """The first child of a `switch` whose conditions hold, and what is to be told of that.

    Where none is in our language, the first that any could draw is taken, and told.
    """
    children = [child for child in switch if plain_tag(child) not in {"", *UNSEEN}]
    for child in children:
        if not unmet_condition(child):
            return child, ""
    for child in children:
        if child.get("requiredExtensions") is None:
            return child, "none of it is in English; what comes first is drawn"
    return None, "nothing of it can be drawn without an extension of the standard"


def _is_in_language(element: Element) -> bool:
    text = element.get("systemLanguage")
    if text is None:
        return True
    names = [name.strip().lower() for name in text.split(",")]
    return any(name.partition("-")[0] == _LANGUAGE for name in names)
