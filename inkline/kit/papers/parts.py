"""What all sheets of a kit share: what is asked for, what comes back, how pictures are read."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from inkline.errors import InputError
from inkline.kit.papers.overview_items import PixelBox
from inkline.kit.stamps.plan import StampPlan
from inkline.output.pictures import has_dark_ground, is_in_grey, read_colours, read_grey
from inkline.pages.page import shrink_picture
from inkline.progress import Note

_RUN_OVER = 0.012
"""Share of the canvas that is shown beyond the outermost rules."""


class Pictures:
    """Reads pictures; what can't be read is left blank and noted."""

    def __init__(self) -> None:
        """Begin without notes."""
        self.notes: list[Note] = []

    def picture(self, path: Path, *, canvas: tuple[int, int]) -> NDArray[np.uint8]:
        """The picture at `path`, or a blank one of the size `canvas` and a note."""
        try:
            return read_grey(path, canvas=canvas)
        except InputError as problem:
            sentence = f"{problem}; its place on the sheets is left blank"
            self.notes.append(Note(sentence, unread=path))
            return np.zeros((canvas[1], canvas[0]), np.uint8)

    def colours(
        self, path: Path, grey: NDArray[np.uint8], *, canvas: tuple[int, int]
    ) -> NDArray[np.uint8] | None:
        """The picture at `path`, which is `grey`, in its colours, None if it is white on black."""
        try:
            if has_dark_ground(grey) and is_in_grey(path):
                return None
            return read_colours(path, canvas=canvas)
        except InputError:  # which was noted
            return None


def picture_part(
    picture: NDArray[np.uint8], part: PixelBox, *, canvas: tuple[int, int], size: tuple[int, int]
) -> NDArray[np.uint8]:
    """The `part` of a picture of `canvas`, grey or in colour, at `size`.

    A retouch that was saved at another size is taken as the same canvas.
    """
    height, width = picture.shape[:2]
    x0, x1 = (round(x * width / canvas[0]) for x in (part[0], part[2]))
    y0, y1 = (round(y * height / canvas[1]) for y in (part[1], part[3]))
    return shrink_picture(picture[y0 : max(y1, y0 + 1), x0 : max(x1, x0 + 1)], size=size)


def drawn_box(plans: Sequence[StampPlan]) -> PixelBox:
    """Where what `plans` draw lies on their canvas, in px, with room for rules that run over.

    The whole canvas if they draw nothing.
    """
    canvas = plans[0].canvas if plans else (1, 1)
    ends: list[Sequence[float]] = []
    for geometry in (plan.geometry() for plan in plans):
        ends += [end for line in geometry.get("lines", ()) for end in (line["from"], line["to"])]
        ends += [
            corner
            for box in geometry.get("boxes", ())
            for corner in ((box["x0"], box["y0"]), (box["x1"], box["y1"]))
        ]
        ends += [
            corner
            for glyph in geometry.get("glyphs", ())
            for corner in (glyph["ink"][:2], glyph["ink"][2:])
        ]
    if not ends:
        return 0, 0, *canvas
    room = _RUN_OVER * canvas[0]
    (left, top), (right, bottom) = np.min(ends, axis=0) - room, np.max(ends, axis=0) + room
    return (
        max(0, round(left)),
        max(0, round(top)),
        min(canvas[0], round(right)),
        min(canvas[1], round(bottom)),
    )
