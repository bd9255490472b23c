"""The pieces of finished artwork: stamps, pictures in the artwork's colours, and overlays."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inkline.artwork.model import Paint
from inkline.errors import InputError
from inkline.finishing.inking import exact_stamp, fillet_of_stamp, inked_stamp, stamp_digest
from inkline.finishing.picture import coloured_png, overlay_png
from inkline.finishing.places import places_on_stamp
from inkline.finishing.request import OpenFinish, OpenSheet
from inkline.finishing.stamps import FinishedStamp
from inkline.folder.manifest import plain_values
from inkline.folder.view import FolderView
from inkline.geometry.arrays import Grey
from inkline.output.pictures import read_grey
from inkline.output.png import png_bytes
from inkline.press.inputs import again_in, sheet_digest, style_digest
from inkline.press.product import Bench, Made, Piece
from inkline.press.redrawn import ink_on_canvas
from inkline.progress import Note
from inkline.raster.compose import render

PNG = "png"
_KIND = "artwork"
"""What the manifest says of the kind of all of its stamps."""
_MM_PER_INCH = 25.4
_SHEETS_VERSION = 1
"""Raised when sheets are composed in another way, so that they are made again."""


def ppi_of(sheet: OpenSheet) -> float:
    """Pixels per inch of the pictures of a file."""
    return sheet.artwork.px_per_mm * _MM_PER_INCH


@dataclass(frozen=True, eq=False, kw_only=True)
class FinishedPiece(Piece):
    """One stamp, white on black.

    Attributes:
        opened: the request that it belongs to.
        sheet: the file that it is of.
        stamp: what it is.
    """

    opened: OpenFinish
    sheet: OpenSheet
    stamp: FinishedStamp

    @property
    def is_asked_again(self) -> bool:
        """Whether another drawing of it or of something on it is asked for."""
        again = self.opened.request.again
        return bool(again) and bool(again_in(self.stamp.drawing, again))

    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:  # noqa: ARG002 - one form, and it needs no others
        """The digest of all that is drawn, and of how."""
        request = self.opened.request
        return stamp_digest(
            self.stamp,
            self.opened.style,
            number=request.number,
            again=request.again,
            ppi=ppi_of(self.sheet),
        )

    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:
        """Its picture."""
        request = self.opened.request
        inked = inked_stamp(
            self.stamp,
            self.opened.style,
            request.number,
            again=request.again,
            kept=bench.kept,
        )
        files = {form: png_bytes(render(inked), ppi=ppi_of(self.sheet)) for form in forms}
        return Made(files=files, masters=tuple(inked.masters))

    def facts(self) -> dict[str, Any]:
        """Its kind, the file that it is of, its canvas and its resolution."""
        return {
            "kind": _KIND,
            "format": self.sheet.stem,
            "canvas": list(self.sheet.artwork.canvas),
            "ppi": ppi_of(self.sheet),
        }

    def drawn_with(self) -> dict[str, Any]:
        """Drawing number and style, and where its masters lie on its canvas, in which colour."""
        style, paint = self.opened.style, self.stamp.paint
        fillet = fillet_of_stamp(self.stamp, style)
        ink = ink_on_canvas(self.stamp.drawing, style, None)
        ink |= {"fillet_px": fillet, "cut_fillet_px": fillet}
        if paint is not None:
            ink |= {"colour": paint.hex, "opacity": paint.opacity}
        return {
            "number": self.opened.request.number,
            "style": {"name": style.name, "digest": style_digest(style.to_dict())},
            "ink": ink,
        }

    def layout(self) -> dict[str, Any]:
        """Where its rules and numerals lie exactly."""
        places: dict[str, Any] = plain_values(places_on_stamp(self.stamp))
        return places


@dataclass(frozen=True, eq=False, kw_only=True)
class ColouredPiece(Piece):
    """All stamps of a file over each other in the artwork's own colours.

    Attributes:
        opened: the request that it belongs to.
        sheet: the file that it is of.
        stamps: its stamps, back to front.
    """

    opened: OpenFinish
    sheet: OpenSheet
    stamps: tuple[FinishedStamp, ...]

    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:  # noqa: ARG002 - it shows all
        """The digest of the pictures on it, their colours and the ground."""
        shown = [
            (one.name, _paint(one).hex, _paint(one).opacity, folder.sum_of(f"{one.name}.png"))
            for one in self.stamps
        ]
        ground, canvas = self.opened.request.ground, self.sheet.artwork.canvas
        return sheet_digest(_SHEETS_VERSION, ground, canvas, ppi_of(self.sheet), shown)

    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:
        """Its picture; what can't be read is left out, and a note says so."""
        pictures, notes = _pictures(self.stamps, bench.folder, self.sheet)
        layers = [(_paint(one), pictures[one.name]) for one in self.stamps if one.name in pictures]
        data = coloured_png(
            layers,
            canvas=self.sheet.artwork.canvas,
            ground=self.opened.request.ground,
            ppi=ppi_of(self.sheet),
        )
        return Made(files=dict.fromkeys(forms, data), notes=notes)


@dataclass(frozen=True, eq=False, kw_only=True)
class OverlayPiece(Piece):
    """The exact artwork under the drawn one.

    Attributes:
        opened: the request that it belongs to.
        sheet: the file that it is of.
        stamps: its stamps.
    """

    opened: OpenFinish
    sheet: OpenSheet
    stamps: tuple[FinishedStamp, ...]

    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:  # noqa: ARG002 - it shows all
        """The digest of the pictures on it and of what they are drawn from."""
        exact = [
            stamp_digest(one, self.opened.style, number=0, again={}, ppi=0.0) for one in self.stamps
        ]
        drawn = [folder.sum_of(f"{one.name}.png") for one in self.stamps]
        return sheet_digest(_SHEETS_VERSION, "overlay", ppi_of(self.sheet), exact, drawn)

    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:
        """Its picture."""
        pictures, notes = _pictures(self.stamps, bench.folder, self.sheet)
        exact = [render(exact_stamp(one, self.opened.style)) for one in self.stamps]
        data = overlay_png(
            exact,
            list(pictures.values()),
            canvas=self.sheet.artwork.canvas,
            ppi=ppi_of(self.sheet),
        )
        return Made(files=dict.fromkeys(forms, data), notes=notes)


def _paint(stamp: FinishedStamp) -> Paint:
    """The colour of a stamp, black where it has none."""
    return stamp.paint or Paint(red=0.0, green=0.0, blue=0.0)


def _pictures(
    stamps: tuple[FinishedStamp, ...], folder: Path, sheet: OpenSheet
) -> tuple[Mapping[str, Grey], tuple[Note, ...]]:
    """The pictures of stamps as they lie in the folder, and notes of those that can't be used."""
    found, notes = dict[str, Grey](), list[Note]()
    width, height = sheet.artwork.canvas
    for stamp in stamps:
        path = folder / f"{stamp.name}.png"
        try:
            grey = read_grey(path)
        except InputError as problem:
            notes.append(Note(f"{problem}; it is left out where all are shown", unread=path))
            continue
        if grey.shape != (height, width):
            sentence = f"{path} is not {width} x {height} px; it is left out where all are shown"
            notes.append(Note(sentence, unread=path))
            continue
        found[stamp.name] = grey
    return found, tuple(notes)
