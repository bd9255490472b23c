"""What of an SVG file is left out, told by element and line, and nothing twice."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from inkline.artwork.model import Lack
from inkline.artwork.svg.tree import SvgTree, plain_tag

_MOST_LACKS = 1_000
LEFT_OUT = {
    "image": "pictures within the file are left out",
    "foreignObject": "what is no drawing is left out",
    "textPath": "it stands in no text, and is left out",
    "video": "moving pictures are left out",
    "audio": "sound is left out",
    "iframe": "other pages are left out",
    "canvas": "what a script would draw is left out",
    "mesh": "meshes are left out",
    "animate": "nothing moves; it is drawn as it begins",
    "animateTransform": "nothing moves; it is drawn as it begins",
    "animateMotion": "nothing moves; it is drawn as it begins",
    "animateColor": "nothing moves; it is drawn as it begins",
    "discard": "nothing moves; it is drawn as it begins",
    "set": "nothing moves; it is drawn as it begins",
    "script": "scripts are not run",
}
"""Elements that can't be drawn, and what becomes of them."""
UNSEEN = frozenset(
    {
        "clipPath",
        "cursor",
        "defs",
        "desc",
        "filter",
        "font",
        "font-face",
        "hatch",
        "meshgradient",
        "linearGradient",
        "marker",
        "mask",
        "metadata",
        "pattern",
        "radialGradient",
        "solidcolor",
        "style",
        "symbol",
        "title",
        "view",
    }
)
"""Elements that show nothing where they stand."""


class Lacks:
    """Collects what is left out."""

    def __init__(self, tree: SvgTree) -> None:
        self._tree = tree
        self._found: dict[Lack, None] = {}

    def add(
        self, element: Element, sentence: str, *, what: str = "", has_plain: bool = False
    ) -> None:
        """Note what becomes of an element, or of a property of it that `what` names.

        `has_plain` says whether it could be drawn as its nearest plain thing.
        """
        if len(self._found) < _MOST_LACKS:
            shown = f"<{plain_tag(element)}>" + (f" {what}" if what else "")
            line = self._tree.line_of(element)
            self._found.setdefault(
                Lack(line=line, what=shown, sentence=sentence, has_plain=has_plain)
            )

    def extend(self, lacks: tuple[Lack, ...]) -> None:
        """Note what somebody else found."""
        self._found |= dict.fromkeys(lacks)

    def all(self) -> tuple[Lack, ...]:
        """All that was noted, by line."""
        return tuple(sorted(self._found))
