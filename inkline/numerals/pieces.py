"""The pieces of a numeral set: numerals with their outlines, the overview, and the font."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from inkline.drawing import Drawing
from inkline.errors import InputError
from inkline.folder.view import FolderView
from inkline.geometry.arrays import Grey
from inkline.geometry.fitting import fitted_outlines
from inkline.ink.engine import draw
from inkline.ink.inked import InkedDrawing, united_contours
from inkline.lettering.family import StrokeFamily
from inkline.numerals.about import NO_TOOTH, SOLID, font_about
from inkline.numerals.font import LetterDrawings, drawn_letters, letter_drawings
from inkline.numerals.request import PPI, Ground, OpenSet
from inkline.numerals.setting import NumeralPlan
from inkline.numerals.sheet import SHEET_VERSION, overview_png
from inkline.output.clear_png import clear_png_bytes, read_clear
from inkline.output.font_file import font_bytes
from inkline.output.pictures import read_grey
from inkline.output.png import png_bytes
from inkline.output.svg import ROUNDING_PX, svg_bytes
from inkline.pages.faces import USUAL_FAMILY, open_own_family
from inkline.press.inputs import ink_digest, ink_keys, sheet_digest
from inkline.press.product import Bench, Made, Piece
from inkline.progress import Note
from inkline.raster.compose import render

_OUTLINE_TOLERANCE_PX = 0.1
"""The farthest that an SVG file's curves lie from the drawn contour."""
PNG, SVG, OTF = "png", "svg", "otf"
_FONT_FILE_VERSION = 1
"""Raised when font files are built in another way, so that they are made again."""


_PICTURES: dict[Ground, tuple[Callable[..., bytes], Callable[[Path], Grey]]] = {
    Ground.BLACK: (png_bytes, read_grey),
    Ground.CLEAR: (clear_png_bytes, read_clear),
}


@dataclass(frozen=True, eq=False, kw_only=True)
class NumeralPiece(Piece):
    """One numeral: a picture and its outlines.

    Attributes:
        opened: the set that it belongs to.
        plan: what it is.
    """

    opened: OpenSet
    plan: NumeralPlan

    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:  # noqa: ARG002 - it needs no others
        """The digest of its ink and its place, and of what else decides the file."""
        request, style = self.opened.request, self.opened.style
        what = [PPI, request.ground] if form == PNG else [_OUTLINE_TOLERANCE_PX]
        return ink_digest(self.plan.drawing(), style, number=request.number, what=what)

    def master_keys(self) -> tuple[str, ...]:
        """The keys of the masters of its strokes and outlines."""
        request, style = self.opened.request, self.opened.style
        return tuple(ink_keys(self.plan.drawing(), style, number=request.number))

    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:
        """Its picture, its outlines, or both."""
        request, style = self.opened.request, self.opened.style
        inked = draw(self.plan.drawing(), style, request.number, kept=bench.kept)
        files = {form: self._file(form, inked) for form in forms}
        return Made(files=files, masters=tuple(inked.masters))

    def _file(self, form: str, inked: InkedDrawing) -> bytes:
        if form == PNG:
            encode, _ = _PICTURES[self.opened.request.ground]
            return encode(render(inked), ppi=PPI)
        tolerance = _OUTLINE_TOLERANCE_PX - ROUNDING_PX
        fitted = fitted_outlines(united_contours(inked), tolerance=tolerance)
        note = SOLID if all(mark.tooth is None for mark in inked.marks) else NO_TOOTH
        return svg_bytes(fitted, size=self.plan.canvas, title=self.plan.text, note=note)


@dataclass(frozen=True, eq=False, kw_only=True)
class OverviewPiece(Piece):
    """All pictures of a set on one sheet.

    Attributes:
        opened: the set that it belongs to.
    """

    opened: OpenSet

    @property
    def _title(self) -> str:
        return f"{self.opened.face.name} numerals"

    @property
    def _note(self) -> str:
        return f"{self.opened.style.name}, drawing {self.opened.request.number}"

    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:  # noqa: ARG002 - it shows all
        """The digest of the pictures on it and of what stands over them."""
        opened = self.opened
        sums = [(plan.name, folder.sum_of(f"{plan.stem}.png")) for plan in opened.plans]
        style, ground = opened.style.to_dict(), opened.request.ground
        return sheet_digest(SHEET_VERSION, self._title, self._note, style, ground, sums)

    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:
        """Its picture; those that can't be read are left blank and noted."""
        opened, pictures, notes = self.opened, dict[str, Grey](), list[Note]()
        for plan in opened.plans:
            path = bench.folder / f"{plan.stem}.png"
            try:
                _, read = _PICTURES[opened.request.ground]
                pictures[plan.name] = read(path)
            except InputError as problem:
                sentence = f"{problem}; its place on the overview is left blank"
                notes.append(Note(sentence, unread=path))
                pictures[plan.name] = np.zeros((plan.canvas[1], plan.canvas[0]), np.uint8)
        own = isinstance(opened.face, StrokeFamily)
        data = overview_png(
            opened.plans,
            pictures,
            title=self._title,
            note=self._note,
            face=opened.face if own else open_own_family(USUAL_FAMILY),
            style=opened.style,
            number=opened.request.number,
        )
        return Made(files=dict.fromkeys(forms, data), notes=tuple(notes))


@dataclass(frozen=True, eq=False, kw_only=True)
class FontPiece(Piece):
    """The font of a set.

    Attributes:
        opened: the set that it belongs to.
    """

    opened: OpenSet

    def _drawings(self) -> dict[str, LetterDrawings]:
        opened = self.opened
        return letter_drawings(opened.characters, opened.face, opened.plans[0].size)

    def _keys(self, drawings: dict[str, LetterDrawings]) -> list[str]:
        def keys(drawing: Drawing) -> list[str]:
            return ink_keys(drawing, self.opened.style, number=self.opened.request.number)

        all_drawings = (drawing for one in drawings.values() for drawing in one.all)
        return [key for drawing in all_drawings for key in keys(drawing)]

    def master_keys(self) -> tuple[str, ...]:
        """The keys of the masters of all drawings of all letters."""
        return tuple(self._keys(self._drawings()))

    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:  # noqa: ARG002 - it needs no others
        """The digest of its letters' ink and of what it says of itself."""
        about, size = font_about(self.opened), self.opened.plans[0].size
        keys = list(self.master_keys())
        return sheet_digest(_FONT_FILE_VERSION, ascii(about), round(size.em_px, 6), keys)

    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:
        """The font file; only its masters if that isn't wanted."""
        opened = self.opened
        letters = drawn_letters(
            self._drawings(),
            opened.face,
            opened.plans[0].size,
            opened.style,
            number=opened.request.number,
            kept=bench.kept,
        )
        if not forms:
            return Made(files={}, masters=letters.masters)
        data = font_bytes(
            letters.letters,
            kerning=letters.kerning,
            space_em=letters.space_em,
            about=font_about(opened),
        )
        return Made(files=dict.fromkeys(forms, data), masters=letters.masters)
