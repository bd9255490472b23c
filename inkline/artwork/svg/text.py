"""Runs of text in an SVG file (SVG 2, 11), to be set with letters that the user chooses."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from xml.etree.ElementTree import Element

import numpy as np

from inkline.artwork.maps import Matrix, after, keeps_shape, moved, scale_of
from inkline.artwork.model import Paint, TextRun
from inkline.artwork.svg.baselines import baseline_drop, level_shift
from inkline.artwork.svg.lacks import Lacks
from inkline.artwork.svg.place import Place, place_of_child, reference_of
from inkline.artwork.svg.shapes import SHAPES, shape_subpaths
from inkline.artwork.svg.styles import Styles
from inkline.artwork.svg.tree import XLINK_HREF, SvgTree, plain_tag
from inkline.artwork.svg.units import length_from_text, number_from_text, transform_from_text
from inkline.geometry.arrays import Points
from inkline.geometry.polyline import arc_lengths

_SPANS = frozenset({"tspan", "a"})
_AXES, _STEPS = ("x", "y"), ("dx", "dy")
_UNTOLD = frozenset({"animate", "animateTransform", "desc", "script", "set", "style", "title"})
"""What may stand within text and isn't set: nothing, or told where all of the file is looked at."""
_KEPT_BLANKS = frozenset({"pre", "pre-wrap", "break-spaces"})
_CASES: Mapping[str, Callable[[str], str]] = {
    "uppercase": str.upper,
    "lowercase": str.lower,
    "capitalize": lambda text: re.sub(r"(?<!\S)\S", lambda first: first[0].upper(), text),
}
_LINES = {"underline": -0.1, "line-through": 0.25, "overline": 0.8}
"""Heights of lines along text in em (common practice, no source)."""
_BLANKS = re.compile(r"[ \t\r\n]+")


@dataclass(slots=True)
class _Cursor:
    """Where text goes next, in user units.

    Attributes:
        x, y: the place.
        is_new: whether a line begins there.
        path: what it stands on in px of the picture, if that is no straight line.
        path_from: px along that.
        shift: how far the next run stands from where it would, if it follows, along and below.
        length: what the next run is to fill, in user units, or `None`.
        is_stretched: whether its letters are stretched for that.
        level: how far below its baseline the last letter stood, in user units.
        places: what is said of each letter to come: x, y, dx, dy and rotate.
    """

    x: float = 0.0
    y: float = 0.0
    is_new: bool = True
    path: Points | None = None
    path_from: float = 0.0
    shift: tuple[float, float] = (0.0, 0.0)
    length: float | None = None
    is_stretched: bool = False
    level: float = 0.0
    places: dict[str, list[float]] = field(default_factory=dict)

    def take_place(self) -> float:
        """Take what is said of the next letter; by how much it is turned, in degrees.

        The last turn holds for all letters after it (SVG 2, 11.4.2).
        """
        for axis in _AXES:
            if self.places.get(axis):
                setattr(self, axis, self.places[axis].pop(0))
                self.is_new = True
        along, below = (self.places[one].pop(0) if self.places.get(one) else 0.0 for one in _STEPS)
        if self.is_new and self.path is None:
            self.x, self.y = self.x + along, self.y + below
        else:
            self.shift = (self.shift[0] + along, self.shift[1] + below)
        if self.is_new:
            self.level = 0.0
        turns = self.places.get("rotate", [])
        if not turns:
            return 0.0
        return turns.pop(0) if len(turns) > 1 else turns[0]

    def stand(self, level: float) -> None:
        """Move the next letter so far below its baseline."""
        if self.is_new and self.path is None:
            self.y += level - self.level
        else:
            self.shift = (self.shift[0], self.shift[1] + level - self.level)
        self.level = level

    def is_placed(self) -> bool:
        """Whether anything is said of the next letter alone."""
        return any(self.places.values())


class Texts:
    """Finds the runs of text of an element."""

    def __init__(
        self,
        tree: SvgTree,
        styles: Styles,
        lacks: Lacks,
        paint_of: Callable[[Element, Place, str], Paint | None],
    ) -> None:
        self._tree, self._styles, self._lacks = tree, styles, lacks
        self._paint_of = paint_of

    def runs(self, element: Element, place: Place) -> tuple[TextRun, ...]:
        """The runs of a `text` element, in order."""
        if not keeps_shape(place.matrix):
            self._lacks.add(element, "letters that are stretched or slanted are set upright")
        found = list(self._runs(element, place, _Cursor(), element.get("id", ""), 0.0))
        while found and not found[-1].text.strip():
            found.pop()
        if found:
            found[-1] = replace(found[-1], text=found[-1].text.rstrip())
        return tuple(found)

    def _runs(
        self, element: Element, place: Place, cursor: _Cursor, name: str, level: float
    ) -> Iterator[TextRun]:
        """The runs within an element that is raised or lowered to a level."""
        around = dict(cursor.places)
        self._place_cursor(element, place, cursor)
        stand = level + baseline_drop(place)
        yield from self._run(element, element.text, place, cursor, name, stand)
        for child in element:
            tag = plain_tag(child)
            inner, _ = place_of_child(child, place, self._styles)
            own = child.get("id", "") or name
            if tag in _SPANS and inner is not None:
                low = level + level_shift(inner, place)
                yield from self._runs(child, inner, cursor, own, low)
            elif tag == "textPath" and inner is not None:
                yield from self._path_runs(child, inner, own, level)
            elif tag and tag not in {*_UNTOLD, *_SPANS}:
                self._lacks.add(child, "it is left out of the text")
            yield from self._run(element, child.tail, place, cursor, name, stand)
        cursor.places = around

    def _place_cursor(self, element: Element, place: Place, cursor: _Cursor) -> None:
        for axis, whole in (("x", place.viewport.width), ("y", place.viewport.height)):
            for name in (axis, f"d{axis}"):
                found = self._lengths(element, name, place, whole)
                if found:
                    cursor.places[name] = found
        turns = [number_from_text(one, 0.0) for one in _parts(element.get("rotate"))]
        if turns:
            cursor.places["rotate"] = turns
        if cursor.path is not None and any(map(cursor.places.get, (*_AXES, "rotate"))):
            self._lacks.add(element, "places of its own are left out of text on a path")
            cursor.places = {name: cursor.places.get(name, []) for name in _STEPS}
        self._take_length(element, place, cursor)

    def _take_length(self, element: Element, place: Place, cursor: _Cursor) -> None:
        """How long the element's text is to be (SVG 2, 11.5): only where it is one run."""
        if element.get("textLength") is None:
            return
        width = place.viewport.width
        length = place.length(element.get("textLength"), 0.0, width)
        if len(element) or length <= 0.0:
            self._lacks.add(element, "textLength is left out")
            return
        if any(map(len, cursor.places.values())) and max(map(len, cursor.places.values())) > 1:
            self._lacks.add(
                element, "textLength is left out where letters have places of their own"
            )
            return
        cursor.length = length
        cursor.is_stretched = element.get("lengthAdjust") == "spacingAndGlyphs"

    def _path_runs(
        self, element: Element, place: Place, name: str, level: float
    ) -> Iterator[TextRun]:
        """Text that stands on a path (SVG 2, 11.8)."""
        target = reference_of(element.get("href") or element.get(XLINK_HREF), self._tree)
        if element.get("path") is not None:
            target = Element("path", {"d": element.get("path", "")})
        own = None if target is None else transform_from_text(target.get("transform"))
        if target is None or own is None or plain_tag(target) not in SHAPES:
            self._lacks.add(element, "it names no path, and its text is left out")
            return
        declared = self._styles.sheet_values(target)
        subpaths, _ = shape_subpaths(target, after(place.matrix, own), place.viewport, declared)
        runs = [run for run in subpaths if len(run.points) > 1]
        if not runs:
            self._lacks.add(element, "its path has no length, and its text is left out")
            return
        for attribute, usual in (("side", "left"), ("method", "align")):
            if element.get(attribute, usual) != usual:
                self._lacks.add(element, f"{attribute} is taken for {usual!r}")
        if len(runs) > 1:
            self._lacks.add(element, "its path has several parts; text stands on the first alone")
        points = runs[0].points
        points = np.concatenate((points, points[:1])) if runs[0].closed else points
        scale = scale_of(place.matrix)
        whole = float(arc_lengths(points)[-1]) / max(scale, 1e-12)
        start = place.length(element.get("startOffset"), 0.0, whole)
        stated = number_from_text(target.get("pathLength"), 0.0)
        if stated > 0.0 and "%" not in element.get("startOffset", ""):
            start *= whole / stated
        cursor = _Cursor(path=points, path_from=start * scale)
        yield from self._runs(element, place, cursor, name, level)

    def _lengths(self, element: Element, name: str, place: Place, whole: float) -> list[float]:
        em = place.viewport.font_size
        parts = _parts(element.get(name))
        return [length_from_text(part, 0.0, whole=whole, font_size=em) for part in parts]

    def _run(
        self,
        element: Element,
        text: str | None,
        place: Place,
        cursor: _Cursor,
        name: str,
        level: float,
    ) -> Iterator[TextRun]:
        keeps = place.style["white-space"] in _KEPT_BLANKS
        shown = (text or "").replace("\n", " ") if keeps else _BLANKS.sub(" ", text or "")
        if (cursor.is_new or cursor.places.get("x")) and not keeps:
            shown = shown.lstrip()
        shown = _CASES.get(place.style["text-transform"], str)(shown)
        if not shown or place.viewport.font_size * scale_of(place.matrix) <= 0.0:
            return
        fill = self._ink_of(element, place, shown)
        while shown and fill is not None:
            turn = cursor.take_place()
            cursor.stand(level)
            n_taken = 1 if cursor.is_placed() else len(shown)
            yield self._piece(element, shown[:n_taken], place, cursor, name, fill, turn)
            shown = shown[n_taken:]

    def _ink_of(self, element: Element, place: Place, text: str) -> Paint | None:
        """The colour of letters: that of their outline where they have no other."""
        fill, line = (self._paint_of(element, place, what) for what in ("fill", "stroke"))
        if place.style["visibility"] != "visible" or (fill is None and line is None):
            if text.strip():
                self._lacks.add(element, "letters that aren't seen are left out, and take no room")
            return None
        if line is not None:
            what = "the outlines of letters are left out" if fill else "outlined letters are full"
            self._lacks.add(element, what, what="stroke")
        return fill or line

    def _piece(
        self,
        element: Element,
        text: str,
        place: Place,
        cursor: _Cursor,
        name: str,
        fill: Paint,
        turn: float,
    ) -> TextRun:
        """Letters that are set in one go."""
        x, y = moved(np.array([[cursor.x, cursor.y]]), place.matrix)[0]
        scale = scale_of(place.matrix)
        size = place.viewport.font_size * scale
        spaces = [
            scale * place.length(place.style[what], 0.0, place.viewport.font_size)
            for what in ("letter-spacing", "word-spacing")
        ]
        lines = place.style["text-decoration"].split()
        if cursor.path is not None and {*lines} & {*_LINES}:
            self._lacks.add(element, "it is left out of text on a path", what="text-decoration")
            lines = []
        run = TextRun(
            name=name,
            layer=place.layer,
            line=self._tree.line_of(element),
            text=text,
            at=(float(x), float(y)),
            size=size,
            turn=_turn(place.matrix),
            anchor=place.style["text-anchor"],
            follows=not cursor.is_new,
            fill=fill,
            clip=place.clip,
            shift=(scale * cursor.shift[0], scale * cursor.shift[1]),
            letter_turn=math.radians(turn),
            length=None if cursor.length is None else cursor.length * scale,
            is_stretched=cursor.is_stretched,
            path=cursor.path,
            path_from=cursor.path_from,
            letter_space=spaces[0],
            word_space=spaces[1],
            line_heights=tuple(size * _LINES[line] for line in lines if line in _LINES),
        )
        cursor.is_new, cursor.length, cursor.shift = False, None, (0.0, 0.0)
        return run


def _parts(text: str | None) -> list[str]:
    """The parts of a list that are parted by blanks or commas."""
    return [part for part in re.split(r"[\s,]+", (text or "").strip()) if part]


def _turn(matrix: Matrix) -> float:
    """By how much a map turns the line of writing, in radians."""
    return math.atan2(float(matrix[1, 0]), float(matrix[0, 0]))
