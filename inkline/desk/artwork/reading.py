"""Artwork of the user's own that the recipe names: read apart from all else, and kept as read.

Files are read by a process with limits of time and memory (see `limited`). What comes of it is
exact drawings, which are passed on to whatever draws them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path

from inkline.artwork.model import Paint
from inkline.chance import DEFAULT_NUMBER
from inkline.drawing import Drawing
from inkline.errors import InputError
from inkline.finishing.cells import CellGrid
from inkline.finishing.marks import Found, InkRun, ink_runs
from inkline.finishing.request import FinishRequest, OpenFinish, OpenSheet, open_finish
from inkline.finishing.stamps import stamps_of_runs
from inkline.finishing.telling import found_in_words, grid_in_words, lines_of_lacks
from inkline.ink.style import Style
from inkline.output.look import Ground
from inkline.styles.files import style_of


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ReadStamp:
    """A stamp of an artwork before its ink.

    Attributes:
        name: such as "plan".
        drawing: its marks.
        paint: its colour, `None` on black.
        layers: the layer that each mark lies in, by full name.
    """

    name: str
    drawing: Drawing
    paint: Paint | None
    layers: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ReadPicture:
    """One picture of an artwork: a file, or a page of one.

    Attributes:
        name: what its picture is called.
        file: where it lies.
        canvas: width and height in px.
        words: what was found in it.
        lacks: what is beyond ink, and what becomes of that.
        cells: the grid in it, `None` without one.
        stamps: its stamps, white on black; none where nothing can be drawn.
        coloured: its stamps where it keeps its colours, back to front.
        fault: why nothing stands in its cells, or "".
        colour_fault: why it can't keep its colours, or "".
    """

    name: str
    file: Path
    canvas: tuple[int, int]
    words: tuple[str, ...]
    lacks: tuple[str, ...]
    cells: CellGrid | None
    stamps: tuple[ReadStamp, ...]
    coloured: tuple[ReadStamp, ...]
    fault: str = ""
    colour_fault: str = ""

    def stamps_on(self, ground: Ground) -> tuple[ReadStamp, ...]:
        """Its stamps on a ground.

        Raises:
            InputError: it can't keep its colours there.
        """
        if ground is Ground.BLACK:
            return self.stamps
        if self.colour_fault:
            raise InputError(self.colour_fault)
        return self.coloured


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ReadArtwork:
    """All pictures of the artwork that a recipe names.

    Attributes:
        key: of the files and of all that was asked of them, their ink aside.
        request: what is asked for.
        pictures: each of them.
    """

    key: str
    request: FinishRequest
    pictures: tuple[ReadPicture, ...]


def read_pictures(request: FinishRequest) -> tuple[ReadPicture, ...]:
    """What `request` names, read. To be called in a process with limits.

    Raises:
        InputError: something in it can't be used.
    """
    opened = open_finish(request)
    return tuple(_read_picture(opened, sheet) for sheet in opened.sheets)


def _read_picture(opened: OpenFinish, sheet: OpenSheet) -> ReadPicture:
    fault = colour_fault = ""
    try:
        runs, found = ink_runs(opened, sheet)
    except InputError as problem:
        if opened.filling is None:
            raise
        fault = _without_file(problem, sheet)
        runs, found = ink_runs(replace(opened, filling=None), sheet)
    coloured: tuple[ReadStamp, ...] = ()
    try:
        coloured = _read_stamps(opened, sheet, runs, Ground.CLEAR)
    except InputError as problem:
        colour_fault = _without_file(problem, sheet)
    return ReadPicture(
        name=sheet.stem,
        file=sheet.file,
        canvas=sheet.artwork.canvas,
        words=tuple(_words(sheet, found)),
        lacks=tuple(lines_of_lacks(sheet.artwork.lacks)),
        cells=found.grid,
        stamps=_read_stamps(opened, sheet, runs, Ground.BLACK),
        coloured=coloured,
        fault=fault,
        colour_fault=colour_fault,
    )


def _read_stamps(
    opened: OpenFinish, sheet: OpenSheet, runs: tuple[InkRun, ...], ground: Ground
) -> tuple[ReadStamp, ...]:
    if not runs:
        return ()
    layers = {mark.name: run.layer for run in runs for mark in run.drawing.marks}
    return tuple(
        ReadStamp(
            name=one.name,
            drawing=one.drawing,
            paint=one.paint,
            layers=layers if opened.request.parts else {},
        )
        for one in stamps_of_runs(sheet, runs, ground=ground, split=opened.request.split)
    )


def _without_file(problem: InputError, sheet: OpenSheet) -> str:
    """The sentence, which the page shows beside the file's name."""
    return str(problem).replace(str(sheet.file), sheet.file.name)


def _words(sheet: OpenSheet, found: Found) -> Iterator[str]:
    width, height = sheet.artwork.canvas
    title = f'"{sheet.artwork.title}", ' if sheet.artwork.title else ""
    yield f"{title}{width} x {height} px"
    yield found_in_words(found)
    if found.grid is not None:
        yield grid_in_words(found.grid, sheet.artwork)
    layers = dict.fromkeys(item.layer for item in sheet.artwork.items if item.layer)
    if layers:
        yield f"layers: {', '.join(layers)}"


def artwork_key(request: FinishRequest) -> str:
    """The digest of the files of `request` and of all that is asked but for what only inks them."""
    style = request.style if isinstance(request.style, Style) else _style(request.style)
    plain = replace(
        request,
        style="",
        ground=Ground.BLACK,
        number=DEFAULT_NUMBER,
        again={},
        title="",
        edition="",
        wishes={},
        overlay=False,
    )
    states = [(file.stat().st_mtime_ns, file.stat().st_size) for file in request.files]
    return sha256(repr((plain, style.drawn_at, states)).encode()).hexdigest()


def _style(name: str) -> Style:
    return style_of(name, {}, where="style")
