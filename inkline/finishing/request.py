"""What is asked of a finishing, and all that is opened for it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from inkline.artwork.model import Artwork
from inkline.artwork.size import PictureSize
from inkline.chance import DEFAULT_NUMBER, refuse_number_out_of_range
from inkline.errors import InputError
from inkline.finishing.dates import Filling, filling_from_text
from inkline.finishing.letters import with_letters_there
from inkline.finishing.treatment import (
    Treatment,
    Treatments,
    opened_face,
    refuse_unknown_parts,
)
from inkline.ink.style import Style
from inkline.kit.recipe.choices import ArtBeyond, ArtLetters, ArtLines, ArtSplit
from inkline.kit.recipe.finish import ArtPart
from inkline.lettering.face import Face
from inkline.output.look import Ground
from inkline.pages.faces import USUAL_FAMILY
from inkline.styles.files import DEFAULT_STYLE, style_of

_DRAWINGS, _PAGES = frozenset({".svg", ".svgz"}), frozenset({".pdf"})
_SUNDAY = 6
CELLS = "cells"
"""The layer of what is set into the cells of a grid."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishRequest:
    """What is asked for.

    Attributes:
        files: the artwork: SVG files, PDF files and pictures.
        style: a style, its name, or a file that ends in .toml.
        number: the drawing number.
        size: how large the pictures are.
        ground: what their ink lies on.
        family: the letters for text: a stroke family by its name, or the path of one.
        font: a font file for text instead, or `None`.
        drawn_at: width in mm of the sheet that the first file's width is drawn on; `None` for the
            size that it states, or the style's own sheet where it states none.
        pages: which pages of PDF files, such as "1,3-5"; "" for all.
        into_cells: what is set into the cells of a grid that is found, such as "dates=2027-02
            weekdays blocks=14" or "numerals=1-31"; "" for nothing.
        week_start: the first day of the week, 0 for Monday to 6 for Sunday.
        lines: what of the artwork is a line.
        beyond_ink: what becomes of what no pen draws.
        letters: how the text of PDF pages is drawn.
        parts: what is asked of single files and layers.
        split: what becomes a stamp of its own.
        overlay: whether a sheet shows the exact artwork under the drawn one.
        again: how often what is named is to be drawn afresh, by full name.
        title: what all of it is called, "" for the first file's own title.
        edition: what its owner calls this version of it, or "".
        colours: the inks of pictures as `#rrggbb`, each of which becomes a layer; fewer than two to
            take all ink of a picture for one.
        wishes: how files for others look, as a kit's recipe has them under `files`.
    """

    files: tuple[Path, ...]
    style: str | Style = DEFAULT_STYLE
    number: int = DEFAULT_NUMBER
    size: PictureSize = field(default_factory=PictureSize)
    ground: Ground = Ground.BLACK
    family: str = USUAL_FAMILY
    font: Path | None = None
    drawn_at: float | None = None
    pages: str = ""
    into_cells: str = ""
    week_start: int = _SUNDAY
    lines: ArtLines = ArtLines.BARS
    beyond_ink: ArtBeyond = ArtBeyond.LEFT_OUT
    letters: ArtLetters = ArtLetters.SET
    parts: tuple[ArtPart, ...] = ()
    split: ArtSplit = ArtSplit.WHOLE
    overlay: bool = False
    again: Mapping[str, int] = field(default_factory=dict)
    title: str = ""
    edition: str = ""
    colours: tuple[str, ...] = ()
    wishes: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True, eq=False)
class OpenSheet:
    """One file, opened.

    Attributes:
        file: where it lies.
        stem: what its picture is called.
        artwork: what it shows.
        sheet_px: how many px of its picture make the width of the style's sheet.
    """

    file: Path
    stem: str
    artwork: Artwork
    sheet_px: float


@dataclass(frozen=True, kw_only=True, eq=False)
class OpenFinish:
    """A request, opened.

    Attributes:
        request: what it was opened for.
        style: the ink, where no part has its own.
        face: the letters for text, likewise.
        treatments: how each part is drawn.
        sheets: the files, in order.
        filling: what is set into cells, `None` for nothing.
    """

    request: FinishRequest
    style: Style
    face: Face
    treatments: Treatments
    sheets: tuple[OpenSheet, ...]
    filling: Filling | None = None

    @property
    def title(self) -> str:
        """What all of it is called."""
        return self.request.title or self.sheets[0].artwork.title or self.sheets[0].stem


def open_finish(request: FinishRequest, *, style: Style | None = None) -> OpenFinish:
    """What `request` names, opened; in `style` in place of the one that it names, if not `None`.

    Raises:
        InputError: something in it can't be used.
    """
    refuse_number_out_of_range(request.number)
    if style is None:
        style = _style_of_request(request)
    face = opened_face(request.family, request.font)
    treatments = Treatments(Treatment(style=style, face=face, lines=request.lines), request.parts)
    filling = (
        filling_from_text(request.into_cells, week_start=request.week_start)
        if request.into_cells
        else None
    )
    sheets, stems = list[OpenSheet](), dict[str, Path]()
    for file, page in _sources(request):
        stem = file.stem if page is None else f"{file.stem}-{page}"
        if stem.casefold() in stems:
            raise InputError(
                f"{stems[stem.casefold()]} and {file} would both make {stem}.png; give one of "
                f"them another name"
            )
        stems[stem.casefold()] = file
        artwork = with_letters_there(_artwork(file, page, request), treatments, file)
        sheets.append(
            OpenSheet(
                file=file,
                stem=stem,
                artwork=artwork,
                sheet_px=_sheet_px(artwork, style, request.drawn_at),
            )
        )
    refuse_unknown_parts(request.parts, {one.file: _layers_of(one, filling) for one in sheets})
    return OpenFinish(
        request=request,
        style=style,
        face=face,
        treatments=treatments,
        sheets=tuple(sheets),
        filling=filling,
    )


def _style_of_request(request: FinishRequest) -> Style:
    """The style that a request names.

    Raises:
        InputError: there is none of that name.
    """
    named = request.style
    return named if isinstance(named, Style) else style_of(named, {}, where="style")


def _layers_of(sheet: OpenSheet, filling: Filling | None) -> tuple[str, ...]:
    """The layers of a file, that of what is set into its cells included."""
    own = dict.fromkeys(item.layer for item in sheet.artwork.items if item.layer)
    return (*own, *([CELLS] if filling is not None else []))


def _sources(request: FinishRequest) -> Iterator[tuple[Path, int | None]]:
    """The files, those of several pages page by page; the page is `None` where there is but one.

    Raises:
        InputError: a file can't be read, or has no such page.
    """
    for file in request.files:
        if file.suffix.lower() not in _PAGES:
            yield file, None
            continue
        from inkline.artwork.pdf.file import page_count  # noqa: PLC0415 - as in `_artwork`

        n_pages = page_count(file)
        chosen = (
            _pages_from_text(request.pages, n_pages) if request.pages else range(1, n_pages + 1)
        )
        for page in chosen:
            yield file, page if n_pages > 1 else None


def _pages_from_text(text: str, n_pages: int) -> tuple[int, ...]:
    """The pages that a list such as "1,3-5" names, in its order, each once.

    Raises:
        InputError: it is no such list, or names a page that isn't there.
    """
    found = dict[int, None]()
    for part in text.split(","):
        match = re.fullmatch(r"\s*(\d{1,4})\s*(?:-\s*(\d{1,4})\s*)?", part)
        if match is None:
            raise InputError(
                f'a list of pages such as "1,3-5" is required, not {text!r}', setting="pages"
            )
        first, last = int(match[1]), int(match[2] or match[1])
        if not 1 <= first <= last <= n_pages:
            raise InputError(f"there are pages 1 to {n_pages}, not {part.strip()}", setting="pages")
        found |= dict.fromkeys(range(first, last + 1))
    return tuple(found)


def _artwork(file: Path, page: int | None, request: FinishRequest) -> Artwork:
    """What a file shows, read as its ending says; each reader is slow to import."""
    size, plainly = request.size, request.beyond_ink is ArtBeyond.PLAIN
    suffix = file.suffix.lower()
    if suffix in _DRAWINGS:
        from inkline.artwork.svg.file import artwork_from_svg  # noqa: PLC0415

        return artwork_from_svg(file, size, plainly=plainly)
    if suffix in _PAGES:
        from inkline.artwork.pdf.file import artwork_from_pdf  # noqa: PLC0415

        has_own_letters = request.letters is ArtLetters.OWN
        return artwork_from_pdf(
            file, page or 1, size, plainly=plainly, has_own_letters=has_own_letters
        )
    from inkline.artwork.picture.file import PICTURES, artwork_from_picture  # noqa: PLC0415

    if suffix not in PICTURES:
        endings = ", ".join(sorted(_DRAWINGS | _PAGES | PICTURES))
        raise InputError(f"{file}: a drawing or a picture is required, one of {endings}")
    if size.across is not None:
        raise InputError(f"{file}: a picture keeps its own pixels", setting="across")
    return artwork_from_picture(file, colours=request.colours)


def _sheet_px(artwork: Artwork, style: Style, drawn_at: float | None) -> float:
    """How many px make the width of the sheet that the style was drawn on."""
    if drawn_at is not None:
        return artwork.canvas[0] * style.drawn_at / drawn_at
    if artwork.is_true_size:
        return artwork.px_per_mm * style.drawn_at
    return float(max(artwork.canvas))
