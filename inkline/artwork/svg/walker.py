"""What an SVG file shows, collected element by element from its tree."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from xml.etree.ElementTree import Element

import numpy as np

from inkline.artwork.maps import Matrix, after, keeps_shape, scale_of, scaled
from inkline.artwork.model import ArtItem, ArtPath, Lack, Paint, Subpath
from inkline.artwork.overlaps import without_hidden_parts
from inkline.artwork.stretched import stretched_parts
from inkline.artwork.svg.clips import Clips, is_all_within, rectangle_area
from inkline.artwork.svg.conditions import chosen_child, unmet_condition
from inkline.artwork.svg.lacks import LEFT_OUT, UNSEEN, Lacks
from inkline.artwork.svg.markers import MARKED, marker_fit, placed_markers, vertices_of_steps
from inkline.artwork.svg.paint import Paints, with_context
from inkline.artwork.svg.pens import dash_scale_of, fill_rule_of, keeps_width, pen_of
from inkline.artwork.svg.place import Place, place_of_child, reference_of
from inkline.artwork.svg.plain import frame_of_picture
from inkline.artwork.svg.properties import add_lacks_of_file
from inkline.artwork.svg.root import title_of
from inkline.artwork.svg.shapes import SHAPES, shape_steps, shape_subpaths
from inkline.artwork.svg.styles import INHERITED, Styles, styles_of_tree
from inkline.artwork.svg.text import Texts
from inkline.artwork.svg.tree import XLINK_HREF, SvgTree, bad_svg, plain_tag
from inkline.artwork.svg.units import Viewport, fitted_box, number_from_text, view_box

_MOST_ITEMS, _MOST_USES, _DEEPEST_USE = 100_000, 10_000, 32
_MARKERS = ("marker-start", "marker-mid", "marker-end")
_GROUPS = frozenset({"g", "a", "svg", "symbol"})
_PAINTED = ("fill", "stroke", "markers")
"""What is painted of a shape, in the usual order (SVG 2, 13.8)."""


class Walker:
    """Goes through a tree and collects what it shows.

    Args:
        tree: the file.
        css_px: px of the picture to one of the file's own.
        plainly: as of `artwork_from_svg`.
    """

    def __init__(self, tree: SvgTree, *, css_px: float, plainly: bool) -> None:
        self._tree, self._css_px, self._plainly = tree, css_px, plainly
        self._styles: Styles = styles_of_tree(tree)
        self._lacks = lacks = Lacks(tree)
        lacks.extend(self._styles.lacks)
        add_lacks_of_file(tree, self._styles, lacks)
        self._paints = Paints(tree, self._styles, plainly=plainly)
        self._clips = Clips(tree, self._styles, lacks)
        self._texts = Texts(tree, self._styles, lacks, self._paint)
        self._items: list[ArtItem] = []
        self._using: list[Element] = []
        self._n_uses = 0

    def walk(
        self, matrix: Matrix, viewport: Viewport
    ) -> tuple[tuple[ArtItem, ...], tuple[Lack, ...]]:
        """All items, the hindmost first, and all that is left out."""
        above = Place(matrix=matrix, style=dict(INHERITED), viewport=viewport)
        above = replace(above, css_px=self._css_px)
        place = self._place(self._tree.root, above)
        if place is not None:
            self._children(self._tree.root, place, is_top=True)
        return tuple(self._items), self._lacks.all()

    def _place(self, element: Element, parent: Place) -> Place | None:
        place, wrong = place_of_child(element, parent, self._styles)
        if wrong:
            self._lacks.add(element, wrong)
        if place is None:
            return None
        found = [name for name in ("mask", "filter") if place.style[name] != "none"]
        for name in found:
            what = "it is drawn without it" if self._plainly else "what has one is left out"
            self._lacks.add(element, what, what=name, has_plain=not self._plainly)
        return None if found and not self._plainly else place

    def _children(self, element: Element, place: Place, *, is_top: bool = False) -> None:
        for child in element:
            if is_top and plain_tag(child) in _GROUPS:
                name = child.get("id") or title_of(child)
                self._element(child, replace(place, layer=name))
            else:
                self._element(child, place)

    def _element(self, element: Element, parent: Place) -> None:
        tag = plain_tag(element)
        if not tag or tag in UNSEEN:
            return
        if tag in LEFT_OUT and not (tag == "image" and self._plainly):
            self._lacks.add(element, LEFT_OUT[tag], has_plain=tag == "image")
            return
        unmet = unmet_condition(element)
        if unmet:
            self._lacks.add(element, unmet)
            return
        place = self._place(element, parent)
        if place is None:
            return
        start = len(self._items)
        self._draw(element, place, tag)
        own = min(max(number_from_text(place.style["opacity"], 1.0), 0.0), 1.0)
        if 0.0 < own < 1.0 and start < len(self._items):
            shown, lack = without_hidden_parts(self._items[start:], place.opacity)
            self._items[start:] = shown
            if lack:
                self._lacks.add(element, lack, what="opacity")

    def _draw(self, element: Element, place: Place, tag: str) -> None:
        if tag in SHAPES:
            self._shape(element, place)
            return
        draw = {
            "image": self._frame,
            "text": self._text,
            "use": self._use,
            "switch": self._switch,
            "svg": self._nested,
            "g": self._children,
            "a": self._children,
        }.get(tag)
        if draw is None:
            self._lacks.add(element, "it is not known, and left out")
        else:
            draw(element, self._clips.clipped(element, place, None))

    def _nested(self, element: Element, place: Place) -> None:
        self._viewport(element, place, element)

    def _switch(self, element: Element, place: Place) -> None:
        child, lack = chosen_child(element)
        if lack:
            self._lacks.add(element, lack)
        if child is not None:
            self._element(child, place)

    def _use(self, element: Element, place: Place) -> None:
        self._count_use(element)
        text = element.get("href") or element.get(XLINK_HREF)
        target = reference_of(text, self._tree)
        if target is None:
            what = "nothing outside the file is read" if text and "#" not in text[:1] else "no such"
            self._lacks.add(element, f"it shows {text!r}: {what}")
            return
        if target in self._using or place.depth >= _DEEPEST_USE:
            self._lacks.add(element, "it shows itself, and is left out")
            return
        x = place.length(element.get("x"), 0.0, place.viewport.width)
        y = place.length(element.get("y"), 0.0, place.viewport.height)
        inner = replace(
            place,
            matrix=after(place.matrix, scaled(1.0, 1.0, x, y)),
            depth=place.depth + 1,
            style=with_context(place.style, place.style),
        )
        self._using.append(target)
        if plain_tag(target) in {"symbol", "svg"}:
            around = self._place(target, inner)
            if around is not None:
                self._viewport(target, around, element)
        else:
            self._element(target, inner)
        self._using.pop()

    def _viewport(self, element: Element, place: Place, sized_by: Element) -> None:
        """A nested `svg` or a `symbol` that is used: a viewport of its own."""
        around = place.viewport
        sizes = []
        for name, whole in (("width", around.width), ("height", around.height)):
            text = sized_by.get(name) or element.get(name)
            text = None if text == "auto" else text
            sizes.append(place.length(text, whole, whole))
        width, height = sizes
        if width <= 0.0 or height <= 0.0:
            return
        x = y = 0.0
        if plain_tag(element) == "svg":
            x = place.length(element.get("x"), 0.0, around.width)
            y = place.length(element.get("y"), 0.0, around.height)
        box = view_box(element.get("viewBox"))
        if element.get("viewBox") is not None and box is None:
            return
        matrix = after(place.matrix, scaled(1.0, 1.0, x, y))
        if place.style["overflow"] not in {"visible", "auto"}:
            place = place.within(rectangle_area(matrix, 0.0, 0.0, width, height))
        fitted = fitted_box(box, (width, height), element.get("preserveAspectRatio"))
        inside = box or (0.0, 0.0, width, height)
        view = replace(around, width=inside[2], height=inside[3])
        self._children(element, replace(place, matrix=after(matrix, fitted), viewport=view))

    def _text(self, element: Element, place: Place) -> None:
        for run in self._texts.runs(element, place):
            self._add(element, run)

    def _frame(self, element: Element, place: Place) -> None:
        """The frame of a picture in its place."""
        frame = frame_of_picture(element, place, self._tree.line_of(element))
        if frame is None:
            self._lacks.add(element, LEFT_OUT["image"])
        else:
            self._lacks.add(element, "the frame of a picture is drawn in its place")
            self._add(element, frame)

    def _add(self, element: Element, item: ArtItem) -> None:
        if len(self._items) >= _MOST_ITEMS:
            line = self._tree.line_of(element)
            raise bad_svg(self._tree.file, f"at most {_MOST_ITEMS} shapes can be drawn", line)
        self._items.append(item)

    def _paint(self, element: Element, place: Place, what: str) -> Paint | None:
        paint, lack = self._paints.paint_of(place.style, what, place.opacity)
        if lack:
            has_plain = not self._plainly and paint is None and lack.endswith("> is left out")
            self._lacks.add(element, lack, what=what, has_plain=has_plain)
        return paint

    def _shape(self, element: Element, place: Place) -> None:
        declared = self._styles.sheet_values(element)
        subpaths, wrong = shape_subpaths(element, place.matrix, place.viewport, declared)
        if wrong:
            self._lacks.add(element, wrong)
        if not subpaths or place.style["visibility"] != "visible":
            return
        place = self._clips.clipped(element, place, _box_of(subpaths, place.matrix))
        fill, stroke = (self._paint(element, place, what) for what in ("fill", "stroke"))
        pen = None
        if stroke is not None:
            dash_scale = dash_scale_of(element, subpaths, place)
            pen = pen_of(element, place, self._lacks, dash_scale=dash_scale)
        if fill is None and pen is None:
            return
        reach = 0.0 if pen is None else pen.width
        bounded = place.clip is not None and not is_all_within(subpaths, place.clip, reach)
        item = ArtPath(
            name=element.get("id", ""),
            layer=place.layer,
            line=self._tree.line_of(element),
            subpaths=subpaths,
            fill=fill,
            fill_rule=fill_rule_of(place.style["fill-rule"]),
            stroke=stroke if pen is not None else None,
            pen=pen,
            clip=place.clip if bounded else None,
        )
        self._painted(element, place, item, declared)

    def _painted(
        self, element: Element, place: Place, item: ArtPath, declared: Mapping[str, str]
    ) -> None:
        """Add the fill, the line and the markers of a shape in the order that it asks for."""
        said = [word for word in place.style["paint-order"].split() if word in _PAINTED]
        order = [*said, *(word for word in _PAINTED if word not in said)]
        parts = {"fill": [item], "stroke": list[ArtPath]()}
        if item.pen is not None and not (keeps_shape(place.matrix) or keeps_width(place)):
            scale = scale_of(place.matrix)
            flat, _ = shape_subpaths(element, scaled(scale, scale), place.viewport, declared)
            parts["fill"] = [] if item.fill is None else [replace(item, stroke=None, pen=None)]
            parts["stroke"] = list(stretched_parts(replace(item, fill=None), flat, place.matrix))
        elif item.pen is not None and item.fill is not None and order != list(_PAINTED):
            parts["fill"] = [replace(item, stroke=None, pen=None)]
            parts["stroke"] = [replace(item, fill=None)]
        for word in order:
            for part in parts.get(word, ()):
                self._add(element, part)
            if word == "markers":
                self._markers(element, place, declared)

    def _markers(self, element: Element, place: Place, declared: Mapping[str, str]) -> None:
        """The markers at the vertices of a shape."""
        wanted = {name: place.style[name] for name in _MARKERS if place.style[name] != "none"}
        if not wanted or plain_tag(element) not in MARKED:
            return
        width = place.length(place.style["stroke-width"], 1.0, place.viewport.diagonal)
        vertices = vertices_of_steps(shape_steps(element, place.viewport, declared))
        for name, vertex in placed_markers(vertices):
            marker = reference_of(wanted.get(name), self._tree)
            if marker is None or plain_tag(marker) != "marker" or marker in self._using:
                continue
            self._count_use(element)
            fit = marker_fit(
                marker, vertex, place=place, width=width, is_start=name == "marker-start"
            )
            style = with_context(INHERITED, place.style)
            top = replace(place, style=style, depth=place.depth + 1)
            around = None if fit is None else self._place(marker, top)
            if fit is None or around is None or place.depth >= _DEEPEST_USE:
                continue
            inner = replace(around, matrix=after(place.matrix, fit.matrix))
            if around.style["overflow"] not in {"visible", "auto"}:
                inner = inner.within(rectangle_area(inner.matrix, *fit.box))
            self._using.append(marker)
            self._children(marker, inner)
            self._using.pop()

    def _count_use(self, element: Element) -> None:
        self._n_uses += 1
        if self._n_uses > _MOST_USES:
            sentence = f"shapes can be used again at most {_MOST_USES} times"
            raise bad_svg(self._tree.file, sentence, self._tree.line_of(element))


def _box_of(subpaths: tuple[Subpath, ...], matrix: Matrix) -> Matrix | None:
    """The map of the unit square to the bounds of a shape in its own units; `None` without area."""
    if abs(float(np.linalg.det(matrix[:, :2]))) < 1e-12:
        return None
    back = np.linalg.inv(matrix[:, :2])
    points = (np.concatenate([run.points for run in subpaths]) - matrix[:, 2]) @ back.T
    low, high = points.min(axis=0), points.max(axis=0)
    if np.any(high - low <= 0.0):
        return None
    return scaled(high[0] - low[0], high[1] - low[1], low[0], low[1])
