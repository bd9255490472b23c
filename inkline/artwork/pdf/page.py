"""A PDF page drawn into items of artwork (ISO 32000-1, 8 and annex A)."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pikepdf

from inkline.artwork.areas import enclosed_area
from inkline.artwork.maps import after, keeps_shape, scale_of, scaled, unmoved
from inkline.artwork.model import ArtItem, ArtPath, FillRule, Lack, Paint, Pen, Subpath
from inkline.artwork.pdf.colours import PATTERN, ColourSpace, paint_of
from inkline.artwork.pdf.fonts import FontCodes
from inkline.artwork.pdf.layers import PdfLayers
from inkline.artwork.pdf.letters import PageLetters
from inkline.artwork.pdf.limits import StreamTooLargeError, checked_stream
from inkline.artwork.pdf.path import PdfPath
from inkline.artwork.pdf.state import State
from inkline.artwork.stretched import stretched_parts

_BLACK = Paint(red=0.0, green=0.0, blue=0.0)
_FRAME_PX = 3.0
"""Width of the line about a picture."""
_MOST_OPERATORS, _MOST_ITEMS, _DEEPEST = 1_000_000, 100_000, 12


Operator = Callable[["PageRun", list[Any]], None]
"""What an operator does with its operands."""


class PdfError(ValueError):
    """What of a page can't be drawn, as part of a sentence."""


class PageDrawer:
    """Draws one page.

    Attributes:
        items: what it shows, the hindmost first.
        lacks: what is left out.
        plainly: whether what no pen draws is drawn as its nearest plain thing.
        letters: what its text is, `None` to leave that out.
        has_own_letters: whether letters are drawn as their outlines, or are text.
        n_shows: how many steps have shown text so far.
    """

    def __init__(
        self,
        layers: PdfLayers,
        operators: Mapping[str, Operator],
        *,
        plainly: bool,
        letters: PageLetters | None,
        has_own_letters: bool,
    ) -> None:
        self.items: list[ArtItem] = []
        self.lacks: dict[Lack, None] = {}
        self.plainly, self.letters, self.has_own_letters = plainly, letters, has_own_letters
        self.n_shows = 0
        self._fonts = dict[tuple[int, int], FontCodes]()
        self._layers = layers
        self._n_operators = 0
        self._operators = operators

    def draw(
        self,
        stream: Any,
        resources: Any,
        state: State,
        depth: int = 0,
        marks: Sequence[tuple[str, bool]] = (),
    ) -> None:
        """Draw a content stream, which lies in layers that are named, and hidden or not.

        Raises:
            PdfError: it passes a limit.
        """
        run = PageRun(self, resources, state, depth, marks)
        for instruction in pikepdf.parse_content_stream(checked_stream(stream)):
            self._n_operators += 1
            if self._n_operators > _MOST_OPERATORS:
                raise PdfError(f"a page of at most {_MOST_OPERATORS} steps can be drawn")
            if isinstance(instruction, pikepdf.ContentStreamInlineImage):
                run.frame()
                continue
            known = self._operators.get(str(instruction.operator))
            if known is not None:
                try:
                    known(run, list(instruction.operands))
                except (PdfError, StreamTooLargeError):
                    raise
                except (TypeError, IndexError, AttributeError, KeyError, ValueError) as error:
                    self.lack(str(instruction.operator), f"a step can't be read ({error})")

    def lack(self, what: str, sentence: str, *, has_plain: bool = False) -> None:
        """Note what is left out; `has_plain` if its nearest plain thing could be drawn instead."""
        self.lacks.setdefault(Lack(line=0, what=what, sentence=sentence, has_plain=has_plain))

    def codes_of(self, font: Any) -> FontCodes:
        """The codes of a font, read once if the file has it as a thing of its own."""
        place = (0, 0) if font is None else font.objgen
        if place == (0, 0):
            return FontCodes(font)
        if place not in self._fonts:
            self._fonts[place] = FontCodes(font)
        return self._fonts[place]

    def next_show(self) -> int:
        """The number of the next step that shows text."""
        self.n_shows += 1
        return self.n_shows - 1

    def add(self, item: ArtItem) -> None:
        """Add an item.

        Raises:
            PdfError: there are too many.
        """
        if len(self.items) >= _MOST_ITEMS:
            raise PdfError(f"at most {_MOST_ITEMS} shapes can be drawn")
        self.items.append(item)

    def form(
        self,
        form: Any,
        state: State,
        resources: Any,
        depth: int,
        marks: Sequence[tuple[str, bool]],
    ) -> None:
        """Draw a form, within its box; one that is hidden is gone through, for its text counts."""
        if depth >= _DEEPEST:
            self.lack("form", "forms lie too deep in one another")
            return
        layer = form.get("/OC")
        numbers = [float(value) for value in form.get("/Matrix", [1, 0, 0, 1, 0, 0])]
        inner = replace(state, matrix=after(state.matrix, np.array(numbers).reshape(3, 2).T))
        box = form.get("/BBox")
        if box is not None:
            x0, y0, x1, y1 = (float(value) for value in box)
            path = PdfPath()
            path.rectangle(x0, y0, x1 - x0, y1 - y0)
            area = enclosed_area(path.subpaths(inner.matrix), FillRule.NONZERO)
            inner = replace(inner, clip=inner.clipped_by(area))
        within = (*marks, (self.layer_name(layer), self.hides(layer)))
        self.draw(form, form.get("/Resources", resources), inner, depth + 1, within)

    def hides(self, group: Any) -> bool:
        """Whether a layer is hidden."""
        return self._layers.is_hidden(group)

    def layer_name(self, group: Any) -> str:
        """What a layer is called."""
        return self._layers.name_of(group)


class PageRun:
    """One content stream while it is drawn: its state, its path and the layers it is in."""

    def __init__(
        self,
        drawer: PageDrawer,
        resources: Any,
        state: State,
        depth: int,
        marks: Sequence[tuple[str, bool]] = (),
    ) -> None:
        self.drawer, self.resources, self.state, self.depth = drawer, resources, state, depth
        self.stack: list[State] = []
        self.path = PdfPath()
        self.clip_rule: FillRule | None = None
        self.marks = list(marks)
        self.n_outer_marks = len(self.marks)
        self.line_matrix = self.letter_matrix = unmoved()

    @property
    def layer(self) -> str:
        """The outermost layer that it is in."""
        return next((name for name, _ in self.marks if name), "")

    @property
    def is_hidden(self) -> bool:
        """Whether it is in a hidden layer."""
        return any(hidden for _, hidden in self.marks)

    def resource(self, kind: str, name: Any) -> Any:
        """A resource of the stream by kind and name, `None` if there is none."""
        found = None if self.resources is None else self.resources.get(kind)
        return None if found is None else found.get(str(name))

    def set_state(self, **values: Any) -> None:
        """Change the graphics state."""
        self.state = replace(self.state, **values)

    def paint(self, *, fill: FillRule | None, strokes: bool) -> None:
        """Paint the path, and bound what follows by it if that was asked for."""
        subpaths = self.path.subpaths(self.state.matrix) if self.path else ()
        if subpaths and not self.is_hidden and (fill is not None or strokes) and self.is_seen():
            self._add(subpaths, fill, strokes=strokes)
        if self.clip_rule is not None:
            area = enclosed_area(subpaths, self.clip_rule)
            self.set_state(clip=self.state.clipped_by(area))
        self.path, self.clip_rule = PdfPath(), None

    def is_seen(self) -> bool:
        """Whether what is drawn now is drawn at all: not under a soft mask, or without it."""
        if self.state.is_masked:
            what = "is drawn without it" if self.drawer.plainly else "is left out"
            has_plain = not self.drawer.plainly
            self.drawer.lack("mask", f"what has a soft mask {what}", has_plain=has_plain)
        return self.drawer.plainly or not self.state.is_masked

    def frame(self) -> None:
        """Draw the frame of a picture, or nothing."""
        if self.is_hidden or not self.is_seen():
            return
        if not self.drawer.plainly:
            self.drawer.lack("picture", "pictures within the page are left out", has_plain=True)
            return
        self.drawer.lack("picture", "the frame of a picture is drawn in its place")
        path = PdfPath()
        path.rectangle(0.0, 0.0, 1.0, 1.0)
        self.drawer.add(
            ArtPath(
                name="",
                layer=self.layer,
                line=0,
                subpaths=path.subpaths(self.state.matrix),
                stroke=_BLACK,
                pen=Pen(width=_FRAME_PX),
                clip=self.state.clip,
            )
        )

    def blend(self, colour: tuple[float, ...]) -> None:
        """Fill all that is in bounds with the mean colour of a blend, or nothing."""
        clip = self.state.clip
        if self.is_hidden or not self.is_seen():
            return
        if not self.drawer.plainly or not clip:
            self.drawer.lack("blend", "a blend of colours is left out", has_plain=bool(clip))
            return
        self.drawer.lack("blend", "a blend of colours is drawn as its mean")
        self.drawer.add(
            ArtPath(
                name="",
                layer=self.layer,
                line=0,
                subpaths=tuple(Subpath(points=points, closed=True) for points in clip),
                fill=paint_of(PATTERN, colour, self.state.fill_opacity),
            )
        )

    def has_colour(self, space: ColourSpace) -> bool:
        """Whether anything is drawn with colours of a space; what is lost is told."""
        if space.lack:
            self.drawer.lack("colour", space.lack)
        if space.kind == PATTERN.kind:
            what = "is drawn in its mean colour" if self.drawer.plainly else "is left out"
            told = f"what has a pattern or a blend {what}"
            self.drawer.lack("pattern", told, has_plain=not self.drawer.plainly)
            return self.drawer.plainly
        return True

    def _add(self, subpaths: tuple[Subpath, ...], fill: FillRule | None, *, strokes: bool) -> None:
        state = self.state
        if fill is not None and not self.has_colour(state.fill_space):
            fill = None
        strokes = strokes and self.has_colour(state.stroke_space)
        if fill is None and not strokes:
            return
        item = ArtPath(
            name="",
            layer=self.layer,
            line=0,
            subpaths=subpaths,
            fill=state.paint(strokes=False) if fill is not None else None,
            fill_rule=fill or FillRule.NONZERO,
            stroke=state.paint(strokes=True) if strokes else None,
            pen=state.pen() if strokes else None,
            clip=state.clip,
        )
        if strokes and not keeps_shape(state.matrix):
            scale = scale_of(state.matrix)
            flat = self.path.subpaths(scaled(scale, scale))
            for part in stretched_parts(item, flat, state.matrix):
                self.drawer.add(part)
        else:
            self.drawer.add(item)
