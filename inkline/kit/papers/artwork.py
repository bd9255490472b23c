"""A finished month stamped into a picture: flat, and as layers over the picture."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from inkline.geometry.arrays import Grey, Singles
from inkline.kit.months.placing import BENEATH, Placing
from inkline.kit.papers.open_kit import OpenKit
from inkline.kit.papers.parts import Pictures, drawn_box
from inkline.kit.papers.sheet import Sheet, SheetJob
from inkline.kit.stamps.names import MonthLayer, last_part
from inkline.kit.stamps.plan import StampPlan
from inkline.output.layered import ValuesLayer, open_raster_bytes
from inkline.output.painting import Inking, Painting, painting_png_bytes, read_painting
from inkline.pages.contrast import LEAST_OF_LARGE_TEXT, contrast_ratio
from inkline.progress import Note

_USUAL_ACROSS, _MOST_DOWN = 0.76, 0.88
"""Shares of the picture's sides that a calendar takes at most if no width is asked for; chosen by
eye."""
_NUMERALS = frozenset(
    {MonthLayer.DATES, MonthLayer.WORKDAYS, MonthLayer.SATURDAYS, MonthLayer.SUNDAYS}
)
_ROOM = 0.04
"""How far beyond a block its colour reaches, as a share of the block's width: its edge is rough."""
_INKED = 127


def flat_artwork(
    kit: OpenKit, job: SheetJob, *, placing: Placing, colours: Mapping[str, str]
) -> Sheet:
    """The month in the picture as one picture, and how well its numerals stand out."""
    month = _Stamping(kit=kit, job=job, placing=placing, colours=colours)
    inking = Inking(month.painting, month.part)
    notes = list[Note]()
    figures = list[tuple[float, str]]()
    for plan in month.plans:
        grey, light = month.grey(plan), month.light(plan)
        if last_part(plan.name) in _NUMERALS:
            figures += month.contrasts(plan, grey, light, inking.light)
        inking.ink(grey, light)
        if plan.cut is not None:
            figures += month.cut_contrasts(plan, grey, light)
    data = painting_png_bytes(
        inking.inked_values(), ppi=month.painting.ppi, profile=month.painting.profile
    )
    notes += month.notes()
    notes += map(Note, _contrast_notes(job.name, figures))
    return Sheet(name=job.name, picture=data, notes=tuple(notes))


def layered_artwork(
    kit: OpenKit, job: SheetJob, *, placing: Placing, colours: Mapping[str, str]
) -> Sheet:
    """The month in the picture as layers, the picture as the lowest."""
    month = _Stamping(kit=kit, job=job, placing=placing, colours=colours)
    painting = month.painting
    data = open_raster_bytes(
        _layers(month), ground=None, ppi=painting.ppi, profile=painting.profile
    )
    return Sheet(name=job.name, picture=data)


def _layers(month: _Stamping) -> Iterator[ValuesLayer]:
    painting = month.painting
    opacity = painting.opacity
    whole = np.full((*painting.values.shape[:2], 4), 255, np.uint8)
    whole[:, :, :3] = painting.values
    if opacity is not None:
        whole[:, :, 3] = opacity
    yield ValuesLayer(name="painting", values=whole)
    for plan in month.plans:
        grey = month.grey(plan)
        values = np.empty((*grey.shape, 4), np.uint8)
        values[:, :, :3] = painting.values_of_light(month.light(plan))
        values[:, :, 3] = grey
        yield ValuesLayer(name=last_part(plan.name), values=values, at=month.part[:2])


@dataclass(frozen=True, kw_only=True, eq=False)
class _Stamping:
    """One month on its way into a picture.

    Attributes:
        kit: what it belongs to.
        job: the sheet that is made.
        placing: where it lies and in which colours.
        colours: of its layers where none are asked for.
    """

    kit: OpenKit
    job: SheetJob
    placing: Placing
    colours: Mapping[str, str]

    @cached_property
    def painting(self) -> Painting:
        return read_painting(self.placing.on)

    @cached_property
    def plans(self) -> Sequence[StampPlan]:
        """Its layers, back to front."""
        return [self.kit.plans[name] for name in self.job.names]

    @cached_property
    def _pictures(self) -> Pictures:
        return Pictures()

    @cached_property
    def scale(self) -> float:
        """Px of the picture for a px of the month's canvas."""
        width, height = self.painting.size
        x0, x1 = _sides_of_grid(self.plans)
        if self.placing.across is not None:
            return self.placing.across / 100.0 * width / (x1 - x0)
        canvas = self.plans[0].canvas
        return min(_USUAL_ACROSS * width / (x1 - x0), _MOST_DOWN * height / canvas[1])

    @cached_property
    def _corner(self) -> tuple[int, int]:
        """Where the upper left corner of the month's canvas lies in the picture.

        The middle is that of the grid across and of the canvas, which has room for as many weeks
        as any month, down: so names and grids of all months of a year lie at one place.
        """
        (x0, x1), height = _sides_of_grid(self.plans), self.plans[0].canvas[1]
        (width, tall), (across, down) = self.painting.size, self.placing.at
        return (
            round(across / 100.0 * width - self.scale * (x0 + x1) / 2.0),
            round(down / 100.0 * tall - self.scale * height / 2.0),
        )

    @cached_property
    def _size(self) -> tuple[int, int]:
        width, height = self.plans[0].canvas
        return max(1, round(width * self.scale)), max(1, round(height * self.scale))

    @cached_property
    def part(self) -> tuple[int, int, int, int]:
        """The part of the picture that the canvas covers: x0, y0, x1 and y1."""
        (x, y), (width, height), (most_x, most_y) = self._corner, self._size, self.painting.size
        x0, y0 = max(0, x), max(0, y)
        return x0, y0, max(x0, min(most_x, x + width)), max(y0, min(most_y, y + height))

    @cached_property
    def _greys(self) -> dict[str, Grey]:
        return {}

    def grey(self, plan: StampPlan) -> Grey:
        """The coverage of a layer in that part of the picture."""
        if plan.name not in self._greys:
            own = self._pictures.picture(self.job.folder / plan.file, canvas=plan.canvas)
            shrinks = self._size[0] <= own.shape[1] and self._size[1] <= own.shape[0]
            how = Image.Resampling.BOX if shrinks else Image.Resampling.BICUBIC
            whole = np.asarray(Image.fromarray(np.ascontiguousarray(own)).resize(self._size, how))
            (x, y), (x0, y0, x1, y1) = self._corner, self.part
            self._greys[plan.name] = whole[y0 - y : y1 - y, x0 - x : x1 - x]
        return self._greys[plan.name]

    def light(self, plan: StampPlan) -> Singles:
        """Light of a layer's ink, `(3,)`, or of each pixel's where it is of what lies beneath."""
        colour = self.placing.colour_of(last_part(plan.name), str(plan.kind))
        colour = colour or self.colours[plan.name]
        painting = self.painting
        if colour != BENEATH:
            return painting.light_of_colour(colour)
        x0, y0, x1, y1 = self.part
        grey, below = self.grey(plan), painting.values[y0:y1, x0:x1]
        light = painting.light_of_values(below)
        for box in self._boxes(plan):
            rows, columns = box
            inked = grey[rows, columns] > _INKED
            if inked.any():
                middle = median_colour(below[rows, columns][inked])
                light[rows, columns] = painting.light_of_values(middle)
        return light

    def _boxes(self, plan: StampPlan) -> Iterator[tuple[slice, slice]]:
        """Where the blocks of a layer lie in that part, with room for rough edges."""
        geometry = plan.geometry()
        for box in geometry.get("boxes", ()):
            room = _ROOM * (box["x1"] - box["x0"])
            ends = (box["x0"] - room, box["y0"] - room, box["x1"] + room, box["y1"] + room)
            yield self._slices(ends)
        for line in geometry.get("lines", ()):
            room = line["width_px"]
            (left, top), (right, bottom) = line["from"], line["to"]
            yield self._slices((left - room, top - room, right + room, bottom + room))

    def _slices(self, box: Sequence[float]) -> tuple[slice, slice]:
        """Rows and columns of that part that a box of the month's canvas takes."""
        (x, y), (x0, y0, x1, y1) = self._corner, self.part
        left, right = (round(x + self.scale * side) - x0 for side in (box[0], box[2]))
        top, bottom = (round(y + self.scale * side) - y0 for side in (box[1], box[3]))
        return (
            slice(min(max(top, 0), y1 - y0), min(max(bottom, 0), y1 - y0)),
            slice(min(max(left, 0), x1 - x0), min(max(right, 0), x1 - x0)),
        )

    def contrasts(
        self, plan: StampPlan, grey: Grey, ink: Singles, ground: Singles
    ) -> Iterator[tuple[float, str]]:
        """Contrast of each numeral with what it stands on, and what it says."""
        found = list(self._numerals(plan, grey, ground, inked=True))
        if found:
            ratios = self._ratios(np.array([ink] * len(found)), np.array([one for one, _ in found]))
            yield from zip(ratios, (text for _, text in found), strict=True)

    def cut_contrasts(
        self, plan: StampPlan, grey: Grey, ink: Singles
    ) -> Iterator[tuple[float, str]]:
        """Contrast of each numeral that is cut out of a block with the block around it."""
        x0, y0, x1, y1 = self.part
        ground = self.painting.light_of_values(self.painting.values[y0:y1, x0:x1])
        bare = list(self._numerals(plan, grey, ground, inked=False))
        spread = np.broadcast_to(ink, ground.shape)
        around = list(self._numerals(plan, grey, spread, inked=True))
        pairs = dict[str, list[Any]]()
        for light, text in (*bare, *around):
            pairs.setdefault(text, []).append(light)
        whole = {text: pair for text, pair in pairs.items() if len(pair) == 2}
        if whole:
            both = np.array(list(whole.values()))
            yield from zip(self._ratios(both[:, 0], both[:, 1]), whole, strict=True)

    def _ratios(self, one: NDArray[Any], other: NDArray[Any]) -> list[float]:
        painting = self.painting
        pair = [painting.srgb_of_light(light.astype(np.float32)) for light in (one, other)]
        return [float(ratio) for ratio in contrast_ratio(*pair)]

    def _numerals(
        self, plan: StampPlan, grey: Grey, light: Singles, *, inked: bool
    ) -> Iterator[tuple[Singles, str]]:
        """The mean of `light` where each numeral of a layer has ink, or has none, and its text."""
        for glyph in plan.geometry().get("glyphs", ()):
            rows, columns = self._slices(glyph["ink"])
            where = (grey[rows, columns] > _INKED) == inked
            if where.any():
                yield light[rows, columns][where].mean(axis=0), str(glyph["text"])

    def notes(self) -> Iterator[Note]:
        """What should be known of the pictures, and of how the month lies in the artwork."""
        yield from self._pictures.notes
        yield from map(Note, self._sentences())

    def _sentences(self) -> Iterator[str]:
        name, (width, height) = self.job.name, self.painting.size
        yield from self.painting.notes
        if self.scale > 1.0:
            yield (
                f"{name} is enlarged {self.scale:.2g} times, which makes its ink soft; draw it "
                f"with a larger side in the recipe, such as {_larger(self.kit, self.scale)}"
            )
        x0, y0, x1, y1 = drawn_box(self.plans)
        (x, y), scale = self._corner, self.scale
        if (
            min(x + scale * x0, y + scale * y0) < 0
            or x + scale * x1 > width
            or y + scale * y1 > height
        ):
            yield f"{name}: part of the month lies beyond the edge of {self.placing.on.name}"


def median_colour(values: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """The one of some colours, uint8 `(n, 3)`, that is nearest to the median of each value.

    Where two colours meet, the medians by themselves make a third one that nobody painted.
    """
    away = np.abs(values - np.median(values, axis=0)).sum(axis=1)
    return np.asarray(values[int(away.argmin())])


def _larger(kit: OpenKit, scale: float) -> str:
    return f'"{math.ceil(kit.recipe.side_px * scale / 100.0) * 100} px"'


def _sides_of_grid(plans: Sequence[StampPlan]) -> tuple[float, float]:
    """Left and right of the grid on the month's canvas, or of all that is drawn without one."""
    for plan in plans:
        lines = plan.geometry().get("lines", ())
        if last_part(plan.name) == MonthLayer.GRID and lines:
            ends = [line[end][0] for line in lines for end in ("from", "to")]
            if max(ends) > min(ends):
                return min(ends), max(ends)
    box = drawn_box(plans)
    return float(box[0]), float(box[2])


def _contrast_notes(name: str, figures: Sequence[tuple[float, str]]) -> Iterator[str]:
    """How well the numerals stand out, by the one that does so least."""
    if not figures:
        return
    least, text = min(figures)
    said = f"{name}: numerals stand out {math.floor(10.0 * least) / 10.0:.1f}:1 or more (WCAG 2)"
    if least >= LEAST_OF_LARGE_TEXT:
        yield f"{said}, the {text} least"
        return
    weak = [other for ratio, other in figures if ratio < LEAST_OF_LARGE_TEXT]
    yield (
        f"{name}: {len(weak)} of {len(figures)} numerals stand out less than "
        f"{LEAST_OF_LARGE_TEXT:g}:1 (WCAG 2) from what they stand on, the {text} least with "
        f"{math.floor(100.0 * least) / 100.0:.2f}:1; give them another ink, or blocks beneath them"
    )
