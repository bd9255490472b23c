"""Drawing a numeral set: every numeral as a picture and as outlines, one overview, and on request a font of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from inkline.errors import InputError
from inkline.folder.disk import DISK, Disk, sha256
from inkline.folder.kept import Foreign, KitFolder
from inkline.folder.manifest import SheetEntry, plain_values
from inkline.folder.state import State
from inkline.geometry.arrays import Grey
from inkline.geometry.fitting import fitted_outlines
from inkline.ink.engine import draw
from inkline.ink.inked import united_contours
from inkline.ink.master import Master, arrays_from_masters, masters_from_arrays
from inkline.lettering.families import family_path
from inkline.lettering.family import StrokeFamily, open_family
from inkline.lettering.writing import Way
from inkline.numerals.about import NO_TOOTH, SOLID, font_about, set_about
from inkline.numerals.font import drawn_letters, letter_drawings
from inkline.numerals.head import MASTERS_FILE, close_numerals_folder, open_numerals_folder
from inkline.numerals.order import (
    DEFAULT_FAMILY,
    OVERVIEW_FILE,
    PPI,
    Ground,
    NumeralOrder,
    NumeralShop,
)
from inkline.numerals.setting import NumeralPlan
from inkline.numerals.sheet import SHEET_VERSION, overview_png
from inkline.output.clear_png import clear_png_bytes, read_clear
from inkline.output.font_file import font_bytes
from inkline.output.pictures import read_grey
from inkline.output.png import png_bytes
from inkline.output.svg import ROUNDING_PX, svg_bytes
from inkline.press.inputs import ink_digest, ink_keys, sheet_digest
from inkline.press.masters import arrays_from_npz, npz_bytes
from inkline.progress import Listener, Step, unheard
from inkline.raster.compose import render

OUTLINE_TOLERANCE_PX = 0.1
"""The farthest that an SVG file's curves lie from the drawn contour."""
_FONT_FILE_VERSION = 1
"""Raised when font files are built in another way, so that they are made again."""
_PICTURES: dict[Ground, tuple[Callable[..., bytes], Callable[[Path], Grey]]] = {
    Ground.BLACK: (png_bytes, read_grey),
    Ground.CLEAR: (clear_png_bytes, read_clear),
}


_WAYS = {
    True: "{}: its letters are written stroke by stroke; --way contour inks their contours "
    "instead.",
    False: "{}: its letters are inked along their contours, as suits its build; --way stroke "
    "writes them stroke by stroke.",
}
"""What is said of the way that was chosen for a font, by whether it is written with the pen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NumeralsReport:
    """What was done.

    Attributes:
        folder: where the set lies.
        n_texts: how many pictures it has, each with its outlines.
        drawn: files that were written.
        unchanged: files left as they were, since nothing that they depend on has changed.
        kept: files left as they were because somebody changed them by hand.
        font_file: the font file's name, or None.
        notes: sentences that the user should read.
    """

    folder: Path
    n_texts: int
    drawn: tuple[str, ...]
    unchanged: tuple[str, ...]
    kept: tuple[str, ...]
    font_file: str | None
    notes: tuple[str, ...]


def draw_numerals(
    order: NumeralOrder,
    folder: Path,
    *,
    foreign: Foreign = Foreign.REFUSE,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> NumeralsReport:
    """Draw the set that `order` asks for into `folder` and say what was done.

    Files that are as they would be drawn are left alone, and so are those that were changed by
    hand. The same order gives the same bytes on the same machine. A run that is stopped leaves
    every file whole, and the same call again finishes it.

    Args:
        order: what is asked for.
        folder: where the set goes; made if need be.
        foreign: whether files that are no part of the set are a reason to refuse the folder.
        listener: told of every picture that was drawn.
        disk: through which files are changed.

    Raises:
        InputError: something in the order or the folder can't be used, or the font forbids a font
            file; nothing has been changed.
        WorkError: the folder can't be written; what was finished is kept.
    """
    shop = NumeralShop(order)
    with open_numerals_folder(folder, files=shop.files, foreign=foreign, disk=disk) as kept:
        return _Drawing(shop=shop, folder=kept, listener=listener).done()


@dataclass(kw_only=True)
class _Drawing:
    """One run: draws what is missing or outdated and keeps count."""

    shop: NumeralShop
    folder: KitFolder
    listener: Listener
    drawn: list[str] = field(default_factory=list)
    unchanged: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    pictures: dict[str, Grey] = field(default_factory=dict)
    masters: dict[str, Master] = field(default_factory=dict)

    def done(self) -> NumeralsReport:
        """Do all of it and report."""
        shop, folder = self.shop, self.folder
        earlier = self._kept_masters()
        if shop.source is not None and shop.order.way is Way.AUTO:
            self.notes.append(_WAYS[shop.face.is_drawn_with_pen].format(shop.source.licence.font))
        for index, plan in enumerate(shop.plans):
            self._numeral(plan, earlier)
            self.listener(Step(name=plan.name, done=index + 1, total=len(shop.plans)))
        self._overview()
        if shop.font_file is not None:
            self._font(shop.font_file, earlier)
            if shop.source is not None and shop.source.is_open:
                self.notes.append(
                    f"{shop.source.licence.font} says that it is under the SIL Open Font "
                    f"License, and so {shop.font_file} is as well: "
                    "whoever gets it gets that licence's text and the copyright notice with it."
                )
        masters = [self.masters[key] for key in sorted(self.masters)]
        folder.save_masters(MASTERS_FILE, npz_bytes(arrays_from_masters(masters)))
        close_numerals_folder(folder, plain_values(set_about(shop)), files=shop.files)
        return NumeralsReport(
            folder=folder.path,
            n_texts=len(shop.plans),
            drawn=tuple(self.drawn),
            unchanged=tuple(self.unchanged),
            kept=tuple(self.kept),
            font_file=shop.font_file,
            notes=tuple(self.notes),
        )

    def _kept_masters(self) -> dict[str, Master]:
        path = self.folder.path / MASTERS_FILE
        try:
            arrays: dict[str, NDArray[np.generic]] = arrays_from_npz(
                path.read_bytes(), where=path.name
            )
            return dict(masters_from_arrays(arrays))
        except FileNotFoundError:
            return {}
        except (InputError, OSError) as problem:
            self.notes.append(
                f"the masters {path} could not be used, so all of it was drawn anew ({problem})"
            )
            return {}

    def _wanted(self, file: str, inputs: str) -> bool:
        """Whether `file` is to be written; if not, it is counted as unchanged or kept."""
        state = self.folder.state_of(file, file, inputs)
        if state in {State.MISSING, State.OUTDATED}:
            return True
        (self.unchanged if state is State.UNCHANGED else self.kept).append(file)
        return False

    def _save(self, file: str, inputs: str, data: bytes) -> None:
        self.folder.save(SheetEntry(name=file, file=file, sha256=sha256(data), inputs=inputs), data)
        self.drawn.append(file)

    def _numeral(self, plan: NumeralPlan, earlier: Mapping[str, Master]) -> None:
        """One picture and its outlines, drawn unless both are as they would be; what was drawn before is drawn no more."""
        order, style = self.shop.order, self.shop.style
        drawing = plan.drawing()
        inputs = ink_digest(drawing, style, number=order.number, what=[PPI, order.ground])
        outlines = ink_digest(drawing, style, number=order.number, what=[OUTLINE_TOLERANCE_PX])
        files = ((f"{plan.stem}.png", inputs), (f"{plan.stem}.svg", outlines))
        wanted = [self._wanted(file, digest) for file, digest in files]
        keys = ink_keys(drawing, style, number=order.number)
        if not any(wanted) and all(key in earlier for key in keys):
            self.masters |= {key: earlier[key] for key in keys}
            return
        inked = draw(drawing, style, order.number, kept=earlier)
        self.masters |= {master.key: master for master in inked.masters}
        if wanted[0]:
            grey = render(inked)
            self.pictures[plan.name] = grey
            self._save(*files[0], _PICTURES[order.ground][0](grey, ppi=PPI))
        if wanted[1]:
            fitted = fitted_outlines(
                united_contours(inked), tolerance=OUTLINE_TOLERANCE_PX - ROUNDING_PX
            )
            note = SOLID if all(mark.tooth is None for mark in inked.marks) else NO_TOOTH
            self._save(*files[1], svg_bytes(fitted, size=plan.canvas, title=plan.text, note=note))

    def _overview(self) -> None:
        shop, order = self.shop, self.shop.order
        sums = [(plan.name, self.folder.sum_of(f"{plan.stem}.png")) for plan in shop.plans]
        title = f"{shop.face.name} numerals"
        note = f"{shop.style.name}, drawing {order.number}"
        inputs = sheet_digest(SHEET_VERSION, title, note, shop.style.to_dict(), order.ground, sums)
        if not self._wanted(OVERVIEW_FILE, inputs):
            return
        pictures = {plan.name: self._picture(plan) for plan in shop.plans}
        face = (
            shop.face
            if isinstance(shop.face, StrokeFamily)
            else open_family(family_path(DEFAULT_FAMILY))
        )
        data = overview_png(
            shop.plans,
            pictures,
            title=title,
            note=note,
            face=face,
            style=shop.style,
            number=order.number,
        )
        self._save(OVERVIEW_FILE, inputs, data)

    def _picture(self, plan: NumeralPlan) -> Grey:
        """The coverage of a picture as it lies in the folder; blank if it can't be read, and noted."""
        if plan.name in self.pictures:
            return self.pictures[plan.name]
        try:
            return _PICTURES[self.shop.order.ground][1](self.folder.path / f"{plan.stem}.png")
        except InputError as problem:
            self.notes.append(f"{problem}; its place on the overview is left blank")
            return np.zeros((plan.canvas[1], plan.canvas[0]), np.uint8)

    def _font(self, file: str, earlier: Mapping[str, Master]) -> None:
        """The font file, drawn unless it is as it would be."""
        shop, number = self.shop, self.shop.order.number
        size = shop.plans[0].size
        drawings = letter_drawings(shop.characters, shop.face, size)
        keys = [
            key
            for one in drawings.values()
            for drawing in one.all
            for key in ink_keys(drawing, shop.style, number=number)
        ]
        about = font_about(shop)
        inputs = sheet_digest(_FONT_FILE_VERSION, ascii(about), round(size.em_px, 6), keys)
        wanted = self._wanted(file, inputs)
        if not wanted and all(key in earlier for key in keys):
            self.masters |= {key: earlier[key] for key in keys}
            return
        kept = {**earlier, **self.masters}
        letters = drawn_letters(drawings, shop.face, size, shop.style, number=number, kept=kept)
        self.masters |= {master.key: master for master in letters.masters}
        if wanted:
            data = font_bytes(
                letters.letters, kerning=letters.kerning, space_em=letters.space_em, about=about
            )
            self._save(file, inputs, data)
