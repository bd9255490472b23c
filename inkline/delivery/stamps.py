"""The stamps of a kit as they lie in its folder: pictures, and curves from their masters."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from inkline.errors import InputError
from inkline.folder.entry import Entry, Section
from inkline.folder.journal import JOURNAL_FILE
from inkline.folder.strangers import HOLDS, holds_product
from inkline.folder.view import FolderView, folder_view
from inkline.geometry.arrays import Grey
from inkline.ink.inked import InkedDrawing
from inkline.output.outlines import StampOutlines, outlines_of
from inkline.output.pictures import read_grey
from inkline.output.svg import ROUNDING_PX
from inkline.press.redrawn import inked_stamp
from inkline.press.stamp_form import ARTWORK, MONTHS, STAMP_FORM
from inkline.raster.compose import render

_TOLERANCE_PX = 0.1
"""The farthest that curves lie from the drawn contour."""
_BACK_TO_FRONT = ("blocks", "grid", "dates", "words", "marks")
"""The kinds of stamps as they lie over each other on a calendar."""


@dataclass(frozen=True, eq=False, kw_only=True)
class FolderStamp:
    """One stamp in the folder of a kit.

    Attributes:
        folder: of the kit.
        entry: what the manifest says of it.
        ppi: pixels per inch.
        scale: how many times as large as in the kit it is wanted.
        checksum: of its picture as it lies there.
        colour: of its ink, None for the file's own.
        is_visible: whether a layer of it is seen at first.
        fitted: its curves by their scale, once they were asked for; what differs from another in
            colour or in whether it is seen shares them with that.
    """

    folder: Path
    entry: Entry
    ppi: float
    scale: float = 1.0
    checksum: str = ""
    colour: str | None = None
    is_visible: bool = True
    fitted: dict[float, StampOutlines | None] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """Its name in the kit."""
        return self.entry.name

    @property
    def is_retouched(self) -> bool:
        """Whether its owner has changed its picture."""
        return self.checksum != self.entry.files[0].sha256

    @property
    def file(self) -> str:
        """Where its picture lies, from the folder."""
        return self.entry.files[0].file

    @property
    def canvas(self) -> tuple[int, int]:
        """Width and height in px, as it is wanted."""
        width, height = (
            max(1, round(int(side) * self.scale)) for side in self.entry.facts["canvas"]
        )
        return width, height

    @property
    def own_size(self) -> tuple[int, int]:
        """Width and height in px of its picture as it lies in the folder.

        Raises:
            InputError: it can't be read.
        """
        height, width = read_grey(self.folder / self.file).shape
        return width, height

    @property
    def ink(self) -> InkedDrawing | None:
        """Its ink from its masters; None where it was retouched or they can't be used."""
        if self.is_retouched:
            return None
        return inked_stamp(self.folder, self.entry.to_dict(), scale=self.scale)

    @property
    def picture(self) -> Grey:
        """Its coverage: at the kit's own size the picture itself, at others drawn from its masters.

        One that was retouched, or whose masters are missing, is taken to the size that is wanted.

        Raises:
            InputError: its picture can't be read.
        """
        ink = self.ink if self.scale != 1.0 else None
        if ink is not None:
            return render(ink)
        grey = read_grey(self.folder / self.file)
        width, height = self.canvas
        return grey if grey.shape == (height, width) else _resized(grey, (width, height))

    @property
    def outlines(self) -> StampOutlines | None:
        """Its curves, no farther than a tenth of a px from its ink; None where it has no ink."""
        if self.scale not in self.fitted:
            ink = self.ink
            self.fitted[self.scale] = (
                None if ink is None else outlines_of(ink, tolerance=_TOLERANCE_PX - ROUNDING_PX)
            )
        return self.fitted[self.scale]


@dataclass(frozen=True, eq=False, kw_only=True)
class FolderKit:
    """A kit, finished months or finished artwork, as it lies in a folder.

    Attributes:
        folder: where.
        about: what stands at the top of its manifest.
        stamps: by name, in order.
        view: the folder as it is.
    """

    folder: Path
    about: Mapping[str, Any]
    stamps: Mapping[str, FolderStamp]
    view: FolderView

    @property
    def title(self) -> str:
        """What the kit is called."""
        return str(self.about.get("title", ""))

    @property
    def is_finished(self) -> bool:
        """Whether its stamps are layers of finished pictures, each in its own colour."""
        in_colour = any(stamp.colour is not None for stamp in self.stamps.values())
        return self.about.get(HOLDS) == MONTHS or (self.is_artwork and in_colour)

    @property
    def is_artwork(self) -> bool:
        """Whether it holds a user's own artwork, redrawn."""
        return self.about.get(HOLDS) == ARTWORK

    @property
    def side_px(self) -> int:
        """How wide its formats are in px; of words without any, the widest."""
        formats = [s for s in self.stamps.values() if s.entry.facts.get("format") is not None]
        return max(int(s.entry.facts["canvas"][0]) for s in formats or self.stamps.values())


def folder_kit(folder: Path, *, scale: float = 1.0, ppi: float | None = None) -> FolderKit:
    """The kit in `folder`, its stamps `scale` times as large.

    Args:
        folder: of a kit or of finished months.
        scale: of all canvases.
        ppi: pixels per inch; the kit's own if None.

    Raises:
        InputError: there is no kit, it isn't finished, or its manifest can't be used.
        WorkError: it can't be read.
    """
    if not holds_product(folder):
        raise InputError(f"{folder} holds no kit: it has no manifest.json")
    _refuse_unfinished(folder)
    view = folder_view(folder, form=STAMP_FORM)
    entries = [one for one in view.listed_entries() if one.section is Section.STAMPS]
    if not entries:
        raise InputError(f"{folder} holds no kit: its manifest.json lists no stamps that are there")
    try:
        own_ppi = float(view.about["ppi"])  # type: ignore[arg-type]
        stamps = {
            entry.name: FolderStamp(
                folder=folder,
                entry=entry,
                ppi=ppi or float(entry.facts.get("ppi", own_ppi)),
                scale=scale,
                colour=_own_colour(entry, view),
                checksum=view.sum_of(entry.files[0].file) or "",
            )
            for entry in entries
        }
        for stamp in stamps.values():
            _ = stamp.canvas
    except (LookupError, TypeError, ValueError, OverflowError) as problem:
        raise InputError(
            f"{folder / 'manifest.json'} cannot be read as the manifest of a kit ({problem})"
        ) from problem
    return FolderKit(folder=folder, about=view.about, stamps=stamps, view=view)


def _own_colour(entry: Entry, view: FolderView) -> str | None:
    """The colour of a layer of a finished month or artwork, as its manifest has it."""
    ink = entry.drawn_with.get("ink")
    if view.about.get(HOLDS) not in {MONTHS, ARTWORK} or not isinstance(ink, Mapping):
        return None
    colour = ink.get("colour")
    return colour if isinstance(colour, str) and re.fullmatch(r"#[0-9a-f]{6}", colour) else None


def _refuse_unfinished(folder: Path) -> None:
    """Refuse a kit that isn't finished, since what it holds is not yet what it will be.

    Raises:
        InputError: the kit in `folder` is being built, or was stopped while it was.
    """
    if (folder / JOURNAL_FILE).exists():
        raise InputError(
            f"{folder} is being built, or was stopped while it was; build it again to finish"
        )


def back_to_front(stamps: Mapping[str, FolderStamp]) -> list[FolderStamp]:
    """Stamps as they lie over each other; those of one kind in their own order."""

    def depth(stamp: FolderStamp) -> int:
        kind = str(stamp.entry.facts["kind"])
        return _BACK_TO_FRONT.index(kind) if kind in _BACK_TO_FRONT else len(_BACK_TO_FRONT)

    return sorted(stamps.values(), key=depth)


def _resized(grey: Grey, size: tuple[int, int]) -> Grey:
    """A picture at another size: means of what is shrunk, smooth where it is enlarged."""
    shrinks = size[0] <= grey.shape[1] and size[1] <= grey.shape[0]
    how = Image.Resampling.BOX if shrinks else Image.Resampling.BICUBIC
    return np.asarray(Image.fromarray(grey).resize(size, how))


def refuse_within_kit(kit: Path, folder: Path) -> None:
    """Refuse to write what is made of a kit into its own folder.

    Raises:
        InputError: `folder` is that of the `kit`, or lies within it.
    """
    own, out = kit.resolve(), folder.resolve()
    if out == own or out.is_relative_to(own):
        raise InputError(
            f"{folder} lies in the kit's own folder, where only what inkline draws belongs; choose "
            "a folder beside it",
            setting="out",
        )
