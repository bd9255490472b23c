"""A stamp's picture drawn again from its masters, as it was drawn the first time.

The manifest says where on its canvas each master lies; nothing else of the recipe is needed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from inkline.drawing import Drawing, Leaves
from inkline.errors import InputError
from inkline.folder.disk import sha256
from inkline.folder.reading import LARGEST_FILE_BYTES, bytes_of_plain_file
from inkline.geometry.polygon import signed_area
from inkline.ink.inked import InkedDrawing, InkedMark
from inkline.ink.master import Master, masters_from_arrays
from inkline.ink.style import Style
from inkline.press.masters import LARGEST_BYTES, arrays_from_npz
from inkline.proof.expected import Expected
from inkline.proof.files import file_within
from inkline.proof.finding import ListedStamp
from inkline.proof.png_facts import UNREADABLE, grey_from_png
from inkline.raster.compose import render

_MOST_PX = 20_000
"""The widest canvas that a recipe may ask for; a manifest that says more is not believed."""
_DAMAGE = (
    ArithmeticError,
    AttributeError,
    InputError,
    LookupError,
    OSError,
    TypeError,
    ValueError,
)
"""What a manifest or masters that are damaged can raise."""
_SPECK_SHARE = 0.05
"""Specks are round and at most this share of their mark's largest contour; chosen by eye from the
styles that inkline comes with, whose largest are 0.03 of the smallest numeral."""


def ink_on_canvas(drawing: Drawing, style: Style, cut_style: Style | None) -> dict[str, Any]:
    """What the manifest says of how a stamp's masters lie on its canvas, as JSON values.

    `origins` are the marks' own places in px and `names` their full names, in the order of the
    masters; of these the last `n_cut` are cut out of the ink of the others, drawn in `cut_style` if
    that isn't None.
    """
    white = drawing.marks_that_leave(Leaves.WHITE)
    marks = (*drawing.marks_that_leave(Leaves.INK), *white)
    px_per_mm = drawing.sheet_px / style.drawn_at
    return {
        "px_per_mm": px_per_mm,
        "fillet_px": style.edge.fillet * px_per_mm,
        "cut_fillet_px": (cut_style or style).edge.fillet * px_per_mm,
        "n_cut": len(white),
        "names": [mark.name for mark in marks],
        "origins": [[float(value) for value in mark.origin] for mark in marks],
    }


def redrawn_stamp(folder: Path, entry: ListedStamp) -> Expected | None:
    """The picture of the stamp that the manifest of `folder` lists as `entry`, from its masters.

    None where its masters are missing or damaged, or where the kit was drawn before manifests said
    where they lie.
    """
    ink, file = entry.get("ink"), _masters_file(folder, entry)
    if ink is None or file is None:
        return None
    try:
        return _expected(entry, _masters_in_order(file))
    except _DAMAGE:
        return None


def just_drawn_stamp(folder: Path, entry: ListedStamp) -> Expected | None:
    """As `redrawn_stamp`, of a stamp that was drawn just now and need not be drawn again for that.

    A file that is to the byte what was made of the masters holds their picture, and where no mark
    has tooth or specks that is the body as well; else it is drawn from them.
    """
    file, own = file_within(folder, entry["file"]), _masters_file(folder, entry)
    try:
        data = b"" if file is None else bytes_of_plain_file(file, most=LARGEST_FILE_BYTES)
        if own is None or sha256(data) != entry["sha256"]:
            return redrawn_stamp(folder, entry)
        if any(_body_of(master) is not master for master in _masters_in_order(own)):
            return redrawn_stamp(folder, entry)
        picture = grey_from_png(data)
    except (*_DAMAGE, *UNREADABLE):
        return redrawn_stamp(folder, entry)
    return Expected(picture=picture, body=picture)


def inked_stamp(folder: Path, entry: ListedStamp, *, scale: float = 1.0) -> InkedDrawing | None:
    """The ink of a stamp from its masters, on a canvas `scale` times as large, rounded to px.

    None where `redrawn_stamp` gives none. Of a kit that was drawn before manifests named marks,
    these are called by their numbers.
    """
    ink, file = entry.get("ink"), _masters_file(folder, entry)
    if ink is None or file is None:
        return None
    try:
        masters = _masters_in_order(file)
        canvas = _Canvas.of_entry(entry, scale=scale)
        return None if canvas is None or not canvas.fits(masters) else canvas.drawing(masters)
    except _DAMAGE:
        return None


def _masters_in_order(file: Path) -> tuple[Master, ...]:
    """The masters of a file as its marks have them, one of them as often as it is used."""
    arrays = arrays_from_npz(bytes_of_plain_file(file, most=LARGEST_BYTES), where=file.name)
    masters = masters_from_arrays(arrays)
    return tuple(masters[key.decode()] for key in arrays["keys"])


def _masters_file(folder: Path, entry: ListedStamp) -> Path | None:
    masters = entry.get("masters")
    return None if masters is None else file_within(folder, masters["file"])


def _expected(entry: ListedStamp, masters: tuple[Master, ...]) -> Expected | None:
    canvas = _Canvas.of_entry(entry)
    if canvas is None or not canvas.fits(masters):
        return None
    picture = render(canvas.drawing(masters))
    bodies = tuple(map(_body_of, masters))
    same = all(body is master for body, master in zip(bodies, masters, strict=True))
    body = picture if same else render(canvas.drawing(bodies))
    return Expected(picture=picture, body=body)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Canvas:
    """A stamp's canvas.

    Attributes:
        name: of the stamp.
        size: width and height in px.
        ink: how masters lie on it, as the manifest says.
        scale: how many times as large as there.
    """

    name: str
    size: tuple[int, int]
    ink: Mapping[str, Any]
    scale: float = 1.0

    @classmethod
    def of_entry(cls, entry: ListedStamp, *, scale: float = 1.0) -> _Canvas | None:
        """The canvas of a stamp that the manifest lists, None if none can be as large."""
        width, height = (max(1, round(int(side) * scale)) for side in entry["canvas"])
        if not 0 < min(width, height) <= max(width, height) <= _MOST_PX:
            return None
        return cls(name=str(entry["name"]), size=(width, height), ink=entry["ink"], scale=scale)

    def fits(self, masters: Sequence[Master]) -> bool:
        """Whether there is a place for each master."""
        return len(self.ink["origins"]) == len(masters)

    def drawing(self, masters: Sequence[Master]) -> InkedDrawing:
        """The drawing of `masters`, each at its own origin."""
        scale, n_ink = self.scale, len(masters) - int(self.ink["n_cut"])
        names = self.ink.get("names") or [str(index) for index in range(1, len(masters) + 1)]
        marks = [
            _placed_mark(
                master,
                (float(x) * scale, float(y) * scale),
                float(self.ink["px_per_mm"]) * scale,
                name=str(name),
            )
            for master, (x, y), name in zip(masters, self.ink["origins"], names, strict=True)
        ]
        inked = self._inked(marks[:n_ink], fillet_px=float(self.ink["fillet_px"]) * scale)
        if n_ink == len(marks):
            return inked
        fillet_px = float(self.ink["cut_fillet_px"]) * scale
        return replace(inked, cut=self._inked(marks[n_ink:], fillet_px=fillet_px))

    def _inked(self, marks: Sequence[InkedMark], *, fillet_px: float) -> InkedDrawing:
        return InkedDrawing(
            name=self.name,
            canvas=self.size,
            marks=tuple(mark for mark in marks if mark.contours),
            masters=(),
            n_drawn=0,
            fillet_px=fillet_px,
        )


def _placed_mark(
    master: Master, origin: tuple[float, float], px_per_mm: float, *, name: str
) -> InkedMark:
    return InkedMark(
        name=name,
        contours=tuple(contour * px_per_mm + np.array(origin) for contour in master.contours),
        origin=origin,
        px_per_mm=px_per_mm,
        tooth=master.tooth,
    )


def _body_of(master: Master) -> Master:
    """`master` on smooth paper and without specks; itself where that is what it is.

    Only strokes have specks: what else is apart from the largest contour belongs to a letter.
    """
    contours = master.contours
    if len(contours) > 1 and len(master.path):
        areas = [signed_area(contour) for contour in contours]
        largest = max(areas)
        contours = tuple(
            contour
            for contour, area in zip(contours, areas, strict=True)
            if not 0.0 < area < _SPECK_SHARE * largest
        )
    if master.tooth is None and len(contours) == len(master.contours):
        return master
    return replace(master, contours=contours, tooth=None)
