"""Exact drawings that the page needs besides a kit's own, and where things lie on these."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np

from inkline.drawing import Cap, Drawing, Layer, Role, Stroke, box_of_mark
from inkline.geometry.arrays import Grey
from inkline.geometry.boxes import Box, box_around
from inkline.raster.preview import Window

_SEEN_MM = 12.0
_STROKE_MM = 0.62
"""Width of the large stroke: about that of a rule of the usual kit on a sheet of 84 mm."""
_ROOM_MM = 1.8
"""What is left about it for ink that runs over."""
_LETTER = re.compile(r"\.\d+$")
"""What the name of a letter has after that of its word, as in `tall/dates-3/17.2`."""
_MEASURED_MM, _MEASURED_PX_PER_MM = 40.0, 40.0
"""Of the stroke that is measured; an edge of 10 um is then 0.4 px, which is read within a tenth."""
_MOST_HIGH = 0.4
"""Share of the picture's height that the stroke takes at most."""


def large_stroke(size: tuple[int, int], *, drawn_at: float) -> Drawing:
    """A rule that begins and ends freely and another across it, a few mm that fill `size`."""
    width, height = size
    px_per_mm = min(width / _SEEN_MM, height * _MOST_HIGH / _STROKE_MM)
    middle, across, room = height / 2.0, width * 0.7, _ROOM_MM * px_per_mm
    lines = {
        "along": (((room, middle), (width - room, middle)), across - room),
        "across": (((across, -room), (across, height + room)), middle + room),
    }
    rules = [
        _rule(name, ends, crossing=crossing, px_per_mm=px_per_mm)
        for name, (ends, crossing) in lines.items()
    ]
    return _drawing_of(rules, size, drawn_at * px_per_mm)


def small_stroke(size: tuple[int, int], *, drawn_at: float) -> Drawing:
    """One rule from side to side of `size`."""
    width, height = size
    px_per_mm = height * _MOST_HIGH / _STROKE_MM
    room = 0.45 * px_per_mm
    ends = ((room, height / 2.0), (width - room, height / 2.0))
    rule = _rule("sample", ends, crossing=None, px_per_mm=px_per_mm)
    return _drawing_of([rule], size, drawn_at * px_per_mm)


def long_stroke(*, drawn_at: float) -> Drawing:
    """One rule of 40 mm, as wide as the large stroke, large enough to be measured."""
    width, height = (round(side * _MEASURED_PX_PER_MM) for side in (_MEASURED_MM + 4.0, 4.0))
    room = 2.0 * _MEASURED_PX_PER_MM
    ends = ((room, height / 2.0), (width - room, height / 2.0))
    rule = _rule("measured", ends, crossing=None, px_per_mm=_MEASURED_PX_PER_MM)
    return _drawing_of([rule], (width, height), drawn_at * _MEASURED_PX_PER_MM)


def _drawing_of(rules: Sequence[Stroke], size: tuple[int, int], sheet_px: float) -> Drawing:
    return Drawing(
        name="stroke",
        canvas=size,
        sheet_px=sheet_px,
        layers=(Layer(name="rules", marks=tuple(rules)),),
    )


def _rule(
    name: str,
    ends: tuple[tuple[float, float], tuple[float, float]],
    *,
    crossing: float | None,
    px_per_mm: float,
) -> Stroke:
    room_px = ends[0][0] if crossing is None else 0.7 * _ROOM_MM * px_per_mm
    return Stroke(
        name=f"stroke/{name}",
        group=f"stroke/{name}",
        role=Role.RULE,
        points=np.array(ends),
        width_px=_STROKE_MM * px_per_mm,
        cap=Cap.ROUND,
        origin=ends[0],
        crossings=() if crossing is None else (crossing,),
        room_px=(room_px, room_px),
    )


def boxes_of(drawing: Drawing) -> dict[str, list[float]]:
    """The boxes of numerals, words, rules and blocks on `drawing`, by their names.

    Each is left, top, width and height in px; letters of one word or numeral are one.
    """
    boxes: dict[str, Box] = {}
    for mark in drawing.marks:
        name, own = _LETTER.sub("", mark.group), box_of_mark(mark)
        boxes[name] = box_around([boxes[name], own]) if name in boxes else own
    return {name: [x0, y0, x1 - x0, y1 - y0] for name, (x0, y0, x1, y1) in boxes.items()}


def part_of(grey: Grey, window: Window | None) -> Grey:
    """A part of a picture, bare where it goes beyond that; all of it if `window` is `None`."""
    if window is None:
        return grey
    left, top, width, height = window
    found = np.zeros((height, width), dtype=grey.dtype)
    x0, y0 = max(0, left), max(0, top)
    part = grey[y0 : max(0, top + height), x0 : max(0, left + width)]
    found[y0 - top :, x0 - left :][: part.shape[0], : part.shape[1]] = part
    return found
