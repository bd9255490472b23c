"""The marks of an artwork: what is drawn of it, each mark under a name that its place gives it.

A name comes from the id, or from the geometry where there is none, never from the order: a line
that is added draws nothing else anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from inkline.artwork.areas import enclosed_area, lines_within, stroked_area
from inkline.artwork.dashes import dashed_line
from inkline.artwork.model import ArtPath, Paint, Pen, Subpath, TextRun
from inkline.drawing import Cap, Drawing, Layer, Mark, Role, Shape, Stroke
from inkline.finishing.cells import CellGrid, found_grid
from inkline.finishing.crossings import (
    Crossed,
    crossings_of_lines,
    joined_lines,
    room_at_corners,
)
from inkline.finishing.dates import CellMarks, Filling, filled_cells
from inkline.finishing.islands import islands
from inkline.finishing.lines import PenLine, line_of_bar, pen_lines
from inkline.finishing.mark_areas import marks_within
from inkline.finishing.names import name_of_outlines, slug
from inkline.finishing.request import CELLS, OpenFinish, OpenSheet
from inkline.finishing.seen_lines import seen_lines
from inkline.finishing.treatment import Treatment
from inkline.finishing.words import TextSetter
from inkline.geometry.arrays import Points
from inkline.geometry.clipping import common_area
from inkline.geometry.polygon import signed_area
from inkline.kit.recipe.choices import ArtLines
from inkline.lettering.face import Face

_MOST_BAR_MM = 2.5
"""The widest bar that is taken for a line, in mm of the sheet; no pen is wider."""
_LEAST_AREA_PX = 0.05
"""Shapes of less area leave nothing that is seen."""
_WHITE = Paint(red=1.0, green=1.0, blue=1.0)
_MOST_TEXT_SIDES = 2.0
"""Text that is so many times as large as the canvas is no text to be read there."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class InkRun:
    """Marks of one colour and layer that lie between others.

    Attributes:
        paint: the colour.
        drawing: the marks.
        treatment: how they are drawn.
        layer: the layer, "" if they lie in none.
    """

    paint: Paint
    drawing: Drawing
    treatment: Treatment
    layer: str = ""


@dataclass(slots=True, kw_only=True)
class Found:
    """What was found in a file, counted.

    Attributes:
        n_rules, n_curves, n_shapes: straight strokes, other strokes, filled shapes.
        n_bars: of the straight strokes, those that were thin bars.
        n_words: runs of text.
        n_clear: marks of a colour that is not opaque.
        n_crossings: places at which straight strokes cross or meet.
        grid: the grid of equal cells that the straight strokes make, or `None`.
        grounds: colours that cover the whole canvas before anything else.
    """

    n_rules: int = 0
    n_curves: int = 0
    n_shapes: int = 0
    n_bars: int = 0
    n_words: int = 0
    n_clear: int = 0
    n_crossings: int = 0
    grid: CellGrid | None = None
    grounds: list[Paint] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Part:
    """A line, an area or a text before it has a place in the drawing."""

    name: str
    layer: str
    treatment: Treatment
    paint: Paint
    line: PenLine | None = None
    area: tuple[Points, ...] = ()
    text: TextRun | None = None


def ink_runs(opened: OpenFinish, sheet: OpenSheet) -> tuple[tuple[InkRun, ...], Found]:
    """The marks of a file, colour by colour from the hindmost, and what was found in it."""
    maker = _Maker(opened, sheet)
    parts = maker.parts()
    lines = joined_lines([part.line for part in parts if part.line is not None])
    parts = _with_lines(parts, lines)
    crossings = iter(crossings_of_lines(lines))
    runs = list[tuple[Paint, str, Treatment, list[Mark]]]()
    for part, rest in zip(parts, maker.rests(parts), strict=True):
        crossed = next(crossings) if part.line is not None else Crossed()
        marks = list(maker.marks(part, crossed, rest))
        if not marks:
            continue
        key = (part.paint, part.layer, part.treatment)
        if not runs or runs[-1][:3] != key:
            runs.append((*key, []))
        runs[-1][3].extend(marks)
    maker.found.grid = found_grid(lines)
    if opened.filling is not None:
        treatment = opened.treatments.of(sheet.file, CELLS)
        paint = _darkest(run[0] for run in runs)
        cells = maker.cells(opened.filling, treatment)
        runs.append((paint, CELLS, treatment, list(cells.ink)))
        if cells.white:
            runs.append((_WHITE, CELLS, treatment, list(cells.white)))
    drawings = tuple(
        InkRun(
            paint=paint,
            layer=layer,
            treatment=treatment,
            drawing=Drawing(
                name=sheet.stem,
                canvas=sheet.artwork.canvas,
                sheet_px=sheet.sheet_px,
                layers=(Layer(name="ink", marks=tuple(marks)),),
            ),
        )
        for paint, layer, treatment, marks in runs
    )
    return drawings, maker.found


def _with_lines(parts: Sequence[_Part], lines: Iterable[PenLine]) -> list[_Part]:
    """The parts with other lines in the place of their own, in order."""
    left = iter(lines)
    return [part if part.line is None else replace(part, line=next(left)) for part in parts]


class _Maker:
    """Makes the marks of one file."""

    def __init__(self, opened: OpenFinish, sheet: OpenSheet) -> None:
        self._opened, self._sheet = opened, sheet
        self._names: dict[str, int] = {}
        self._setters: dict[Face, TextSetter] = {}
        self._most_bar_px = _MOST_BAR_MM * sheet.sheet_px / opened.style.drawn_at
        self.found = Found()

    def parts(self) -> list[_Part]:
        """All that is to be drawn, the hindmost first."""
        found = list[_Part]()
        for item in self._sheet.artwork.items:
            treatment = self._opened.treatments.of(self._sheet.file, item.layer)
            if treatment.is_left_out:
                continue
            if isinstance(item, TextRun):
                if item.size > _MOST_TEXT_SIDES * max(self._sheet.artwork.canvas):
                    continue
                self.found.n_words += 1
                name = self._named(item.layer, item.name or slug(item.text))
                found.append(
                    _Part(
                        name=name,
                        layer=item.layer,
                        treatment=treatment,
                        paint=item.fill,
                        text=item,
                    )
                )
                continue
            for part in self._path_parts(self._near_canvas(item), treatment):
                if not found and part.area and self._covers_canvas(part.area):
                    self.found.grounds.append(part.paint)
                else:
                    found.append(part)
        return found

    def _near_canvas(self, item: ArtPath) -> ArtPath:
        """The path, bounded where it goes far beyond the canvas."""
        width, height = self._sheet.artwork.canvas
        low, high = np.array([-width, -height]), np.array([2.0 * width, 2.0 * height])
        points = np.concatenate([run.points for run in item.subpaths])
        if np.all(points.min(axis=0) >= low) and np.all(points.max(axis=0) <= high):
            return item
        (x0, y0), (x1, y1) = low, high
        window = (np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]]),)
        clip = window if item.clip is None else common_area(item.clip, window)
        return replace(item, clip=clip)

    def _path_parts(self, item: ArtPath, treatment: Treatment) -> Iterator[_Part]:
        if item.fill is not None:
            area = enclosed_area(item.subpaths, item.fill_rule)
            if item.clip is not None:
                area = common_area(area, item.clip)
            yield from self._area_parts(item, area, item.fill, treatment)
        if item.stroke is None or item.pen is None:
            return
        for run in self._runs(item, item.pen):
            if treatment.lines is ArtLines.NONE:
                area = stroked_area([run], item.pen)
                yield from self._area_parts(item, area, item.stroke, treatment)
                continue
            for line in pen_lines(run, item.pen):
                yield self._line_part(item, line, item.stroke, treatment)

    def _area_parts(
        self, item: ArtPath, area: Sequence[Points], paint: Paint, treatment: Treatment
    ) -> Iterator[_Part]:
        for island in islands(area):
            if abs(sum(signed_area(contour) for contour in island)) < _LEAST_AREA_PX:
                continue
            if item.is_seen and treatment.lines is ArtLines.BARS:
                lines = seen_lines(island, most_px=self._most_bar_px)
                yield from (self._line_part(item, line, paint, treatment) for line in lines)
                if lines:
                    continue
            bar = None
            if len(island) == 1 and treatment.lines is ArtLines.BARS and not item.is_letter:
                bar = line_of_bar(island[0], most_px=self._most_bar_px)
            if bar is not None:
                self.found.n_bars += 1
                yield self._line_part(item, bar, paint, treatment)
            else:
                name = self._named(item.layer, item.name or name_of_outlines(island), "area")
                yield _Part(
                    name=name, layer=item.layer, treatment=treatment, paint=paint, area=island
                )

    def _line_part(self, item: ArtPath, line: PenLine, paint: Paint, treatment: Treatment) -> _Part:
        name = self._named(item.layer, item.name or name_of_outlines([line.points]))
        return _Part(name=name, layer=item.layer, treatment=treatment, paint=paint, line=line)

    def _runs(self, item: ArtPath, pen: Pen) -> Iterator[Subpath]:
        """The lines of a path within its bounds, cut at its gaps."""
        for subpath in item.subpaths:
            dashed = dashed_line(subpath, pen.dashes, pen.dash_offset) if pen.dashes else (subpath,)
            for run in dashed if dashed is not None else (subpath,):
                yield from (run,) if item.clip is None else lines_within(run, item.clip)

    def _named(self, layer: str, *words: str) -> str:
        """A full name that no other mark has."""
        parts = [self._sheet.stem, *([slug(layer)] if layer else []), *map(slug, words)]
        name = "/".join(part for part in parts if part)
        count = self._names[name] = self._names.get(name, 0) + 1
        return name if count == 1 else f"{name}~{count}"

    def _covers_canvas(self, area: Sequence[Points]) -> bool:
        width, height = self._sheet.artwork.canvas
        inside = [np.array([[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]])]
        whole = sum(abs(signed_area(contour)) for contour in common_area(area, inside))
        return len(area) == 1 and whole >= 0.999 * width * height

    def cells(self, filling: Filling, treatment: Treatment) -> CellMarks:
        """The marks of what is set into the cells of the grid that was found.

        Raises:
            InputError: there is none, or it doesn't fit.
        """
        return filled_cells(
            self.found.grid,
            filling,
            treatment.face,
            name=self._sheet.stem,
            file=str(self._sheet.file),
        )

    def rests(self, parts: Sequence[_Part]) -> list[float]:
        """For each part how long the text is that follows it without a place of its own, px."""
        rests, rest = list[float](), 0.0
        for part in reversed(parts):
            rests.append(rest)
            run = part.text
            follows = run is not None and run.follows
            rest += run.shift[0] + self._setter(part).advance(run) if run and follows else -rest
        return rests[::-1]

    def _setter(self, part: _Part) -> TextSetter:
        face = part.treatment.face
        return self._setters.setdefault(face, TextSetter(face))

    def marks(self, part: _Part, crossed: Crossed, rest: float) -> Iterator[Mark]:
        """The marks of one part, text as if so much followed it."""
        if part.paint.opacity < 1.0:
            self.found.n_clear += 1
        if part.line is not None:
            self.found.n_crossings += len(crossed.places)
            yield self._stroke(part, part.line, crossed)
        elif part.text is not None:
            marks = self._setter(part).marks(part.text, part.name, rest=rest)
            yield from marks if part.text.clip is None else marks_within(marks, part.text.clip)
        else:
            self.found.n_shapes += 1
            low = np.min([contour.min(axis=0) for contour in part.area], axis=0)
            yield Shape(
                name=part.name,
                group=part.name,
                role=Role.BLOCK,
                contours=part.area,
                origin=(float(low[0]), float(low[1])),
            )

    def _stroke(self, part: _Part, line: PenLine, crossed: Crossed) -> Stroke:
        if line.is_straight:
            self.found.n_rules += 1
        else:
            self.found.n_curves += 1
        style = part.treatment.style
        is_thick = line.width * style.drawn_at / self._sheet.sheet_px > style.hand.run_over
        corners = crossed.corners if is_thick else ()
        start = (float(line.points[0, 0]), float(line.points[0, 1]))
        return Stroke(
            name=part.name,
            group=part.name,
            role=Role.RULE if line.is_straight else Role.WORD,
            points=line.points,
            width_px=line.width,
            cap=Cap.ROUND if line.is_round else Cap.BUTT,
            origin=start,
            crossings=tuple(place for place in crossed.places if place not in corners),
            room_px=room_at_corners(line, corners),
            closed=line.closed,
            profile=None if line.widths is None else line.widths / line.width,
        )


def _darkest(paints: Iterable[Paint]) -> Paint:
    """The darkest of some colours, black if there are none."""
    black = Paint(red=0.0, green=0.0, blue=0.0)
    return min(paints, key=lambda one: one.red + one.green + one.blue, default=black)
