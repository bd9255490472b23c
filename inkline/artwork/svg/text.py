"""Runs of text in an SVG file (SVG 2, 11), to be set with letters that the user chooses."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from xml.etree.ElementTree import Element

import numpy as np

from inkline.artwork.maps import Matrix, keeps_shape, moved, scale_of
from inkline.artwork.model import Paint, TextRun
from inkline.artwork.svg.lacks import Lacks
from inkline.artwork.svg.place import Place, place_of_child
from inkline.artwork.svg.styles import Styles
from inkline.artwork.svg.tree import XML_SPACE, SvgTree, plain_tag
from inkline.artwork.svg.units import length_from_text

_SPANS = frozenset({"tspan", "a"})
_BLANKS = re.compile(r"[ \t\r\n]+")


@dataclass(slots=True)
class _Cursor:
    """Where text goes next, in user units.

    Attributes:
        x, y: the place.
        is_new: whether a line begins there.
    """

    x: float = 0.0
    y: float = 0.0
    is_new: bool = True


class Texts:
    """Finds the runs of text of an element."""

    def __init__(
        self,
        tree: SvgTree,
        styles: Styles,
        lacks: Lacks,
        fill_of: Callable[[Element, Place], Paint | None],
    ) -> None:
        self._tree, self._styles, self._lacks, self._fill_of = tree, styles, lacks, fill_of

    def runs(self, element: Element, place: Place) -> tuple[TextRun, ...]:
        """The runs of a `text` element, in order."""
        if not keeps_shape(place.matrix):
            self._lacks.add(element, "letters that are stretched or slanted are set upright")
        found = list(self._runs(element, place, _Cursor(), element.get("id", "")))
        while found and not found[-1].text.strip():
            found.pop()
        if found:
            found[-1] = replace(found[-1], text=found[-1].text.rstrip())
        return tuple(found)

    def _runs(
        self, element: Element, place: Place, cursor: _Cursor, name: str
    ) -> Iterator[TextRun]:
        self._place_cursor(element, place, cursor)
        yield from self._run(element, element.text, place, cursor, name)
        for child in element:
            tag = plain_tag(child)
            inner, _ = place_of_child(child, place, self._styles)
            if tag in _SPANS and inner is not None:
                yield from self._runs(child, inner, cursor, child.get("id", "") or name)
            elif tag and tag not in {"title", "desc"} | _SPANS:
                self._lacks.add(child, "it is left out of the text")
            yield from self._run(element, child.tail, place, cursor, name)

    def _place_cursor(self, element: Element, place: Place, cursor: _Cursor) -> None:
        for axis, whole in (("x", place.viewport.width), ("y", place.viewport.height)):
            first = self._lengths(element, axis, place, whole)
            if first is not None:
                setattr(cursor, axis, first)
                cursor.is_new = True
            step = self._lengths(element, f"d{axis}", place, whole)
            if step is not None:
                setattr(cursor, axis, getattr(cursor, axis) + step)
                cursor.is_new = cursor.is_new or axis == "y"
        for attribute in ("rotate", "textLength"):
            if element.get(attribute) is not None:
                self._lacks.add(element, f"{attribute} is left out")

    def _lengths(self, element: Element, name: str, place: Place, whole: float) -> float | None:
        parts = re.split(r"[\s,]+", element.get(name, "").strip())
        if parts == [""]:
            return None
        if len(parts) > 1:
            self._lacks.add(element, "a place for each letter is left out", what=name)
        return length_from_text(parts[0], 0.0, whole=whole, font_size=place.viewport.font_size)

    def _run(
        self, element: Element, text: str | None, place: Place, cursor: _Cursor, name: str
    ) -> Iterator[TextRun]:
        keeps = element.get(XML_SPACE) == "preserve"
        shown = (text or "").replace("\n", " ") if keeps else _BLANKS.sub(" ", text or "")
        if cursor.is_new and not keeps:
            shown = shown.lstrip()
        fill = self._fill_of(element, place)
        size = place.viewport.font_size * scale_of(place.matrix)
        if not shown or place.style["visibility"] != "visible" or fill is None or size <= 0.0:
            return
        x, y = moved(np.array([[cursor.x, cursor.y]]), place.matrix)[0]
        yield TextRun(
            name=name,
            layer=place.layer,
            line=self._tree.line_of(element),
            text=shown,
            at=(float(x), float(y)),
            size=size,
            turn=_turn(place.matrix),
            anchor=place.style["text-anchor"],
            follows=not cursor.is_new,
            fill=fill,
            clip=place.clip,
        )
        cursor.is_new = False


def _turn(matrix: Matrix) -> float:
    """By how much a map turns the line of writing, in radians."""
    return math.atan2(float(matrix[1, 0]), float(matrix[0, 0]))
