"""PDF files of filled outlines, boxes and text that can be found and copied (ISO 32000-1, PDF 1.7).

The same pages give the same bytes: the file has no date, and its identifier is made of what it
holds. Pages are in points, 1/72 inch, with y down as everywhere here; each page's stream begins by
turning the PDF's own y over. Text is set in embedded fonts of cubic outlines, which show every
character at its own place and say which character it is. Writing that is drawn as outlines can have
words laid over it that nobody sees and that a reader finds.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import pikepdf
from numpy.typing import NDArray

from inkline.geometry.fitting import FittedOutline
from inkline.output.pdf_fonts import EmbeddedFont, UnseenFont, embedded_font
from inkline.output.pdf_paths import (
    array_of,
    colour_operator,
    name_of,
    number_text,
    numbers_text,
    path_operators,
    saved_bytes,
)

_UNSEEN = 3
"""The text rendering mode that shows nothing; it is part of the graphics state, which is restored
behind each item."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Figure:
    """Filled outlines in units of their own, y down.

    However often it is placed, the file holds it once.
    """

    outlines: tuple[FittedOutline, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedFigure:
    """A figure on a page.

    Attributes:
        figure: the figure.
        at: where its origin lies.
        scale: how many points its unit is long.
        colour: as `#rrggbb`.
    """

    figure: Figure
    at: tuple[float, float]
    scale: float
    colour: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Rectangle:
    """A filled rectangle: left, top, right, bottom."""

    box: tuple[float, float, float, float]
    colour: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """Characters on one baseline.

    Attributes:
        font: key of the font.
        characters: each with its place along the baseline in em, ascending.
        at: where the baseline starts.
        size: the em in points.
        colour: as `#rrggbb`.
    """

    font: str
    characters: tuple[tuple[str, float], ...]
    at: tuple[float, float]
    size: float
    colour: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SpokenText:
    """What writing drawn as outlines says: not seen, but found and copied.

    Attributes:
        pieces: letters, or what is written as one, from left to right, each with its width in
            points, above 0. That is the order in which readers expect scripts that run to the left
            as well.
        at: where the baseline starts.
        size: height of the box in which a reader marks the words, in points.
    """

    pieces: tuple[tuple[str, float], ...]
    at: tuple[float, float]
    size: float


PdfItem = PlacedFigure | Rectangle | Text | SpokenText
"""Anything on a page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PdfPage:
    """A page.

    Attributes:
        size: width and height in points.
        items: what is on it, from back to front.
        title: what the list of contents calls it; "" if it is not in it.
    """

    size: tuple[float, float]
    items: tuple[PdfItem, ...]
    title: str = ""


def pdf_bytes(
    pages: Sequence[PdfPage], *, fonts: Mapping[str, bytes], title: str, language: str
) -> bytes:
    """The PDF file of `pages`.

    Args:
        pages: at least one.
        fonts: OpenType files with CFF outlines by the keys that texts name.
        title: of the document.
        language: its language as BCP 47 writes it, such as `en`.

    Raises:
        ValueError: no pages, or a text in a font that isn't there.
        KeyError: a character that its font lacks.
    """
    if not pages:
        raise ValueError("a PDF file needs at least one page")
    return _Document(fonts).file_bytes(pages, title=title, language=language)


class _Document:
    """A file while it is being written.

    Objects are numbered as they come, so that the same pages give the same bytes.
    """

    def __init__(self, fonts: Mapping[str, bytes]) -> None:
        self.file = pikepdf.new()
        self.fonts: dict[str, EmbeddedFont] = {
            key: embedded_font(data) for key, data in sorted(fonts.items())
        }
        self.figures: dict[int, tuple[str, pikepdf.Object]] = {}
        self.spoken = UnseenFont()

    def file_bytes(self, pages: Sequence[PdfPage], *, title: str, language: str) -> bytes:
        file = self.file
        resources = file.make_indirect(pikepdf.Dictionary())
        for page in pages:
            self._add_page(page, resources)
        resources.Font, resources.XObject = self._fonts(), pikepdf.Dictionary()
        for name, figure in self.figures.values():
            resources.XObject[f"/{name}"] = figure
        if any(page.title for page in pages):
            with file.open_outline() as contents:
                contents.root.extend(
                    pikepdf.OutlineItem(page.title, index)
                    for index, page in enumerate(pages)
                    if page.title
                )
        file.Root.Lang = language
        file.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True)
        file.docinfo["/Title"] = title
        return saved_bytes(file)

    def _add_page(self, page: PdfPage, resources: pikepdf.Object) -> None:
        width, height = page.size
        head = f"1 0 0 -1 0 {number_text(height)} cm\n"
        stream = head + "".join(self._operators(item) for item in page.items)
        made = self.file.add_blank_page(page_size=(72, 72)).obj
        made.MediaBox = array_of((0, 0, width, height))
        made.Resources = resources
        made.Contents = pikepdf.Stream(self.file, stream.encode("ascii"))

    def _operators(self, item: PdfItem) -> str:
        match item:
            case PlacedFigure():
                return self._figure_operators(item)
            case Rectangle(box=(left, top, right, bottom), colour=colour):
                box_text = numbers_text((left, top, right - left, bottom - top))
                return f"{colour_operator(colour)} {box_text} re f\n"
            case Text():
                return self._text_operators(item)
            case SpokenText():
                return self._spoken_operators(item)

    def _figure_operators(self, item: PlacedFigure) -> str:
        key = id(item.figure)
        if key not in self.figures:
            data = path_operators(item.figure.outlines).encode("ascii")
            form = pikepdf.Stream(self.file, data)
            form.Type, form.Subtype = pikepdf.Name.XObject, pikepdf.Name.Form
            form.BBox = array_of(_bounding_box(item.figure))
            self.figures[key] = f"X{len(self.figures) + 1}", self.file.make_indirect(form)
        name, at = self.figures[key][0], numbers_text(item.at)
        scale = f"{item.scale:.8f}".rstrip("0").rstrip(".")
        return f"q {colour_operator(item.colour)} {scale} 0 0 {scale} {at} cm /{name} Do Q\n"

    def _text_operators(self, item: Text) -> str:
        if item.font not in self.fonts:
            raise ValueError(
                f"a text asks for the font {item.font!r}, and there are "
                f"{', '.join(self.fonts) or 'none'}"
            )
        operand = self.fonts[item.font].show_operand(item.characters)
        at = numbers_text(item.at)
        font = f"/{name_of(item.font)} {number_text(item.size)} Tf"
        return f"BT {colour_operator(item.colour)} {font} 1 0 0 -1 {at} Tm {operand} TJ ET\n"

    def _spoken_operators(self, item: SpokenText) -> str:
        operand = self.spoken.show_operand(
            [(text, width / item.size) for text, width in item.pieces]
        )
        at = numbers_text(item.at)
        font = f"/{self.spoken.key} {number_text(item.size)} Tf"
        return f"q BT {font} {_UNSEEN} Tr 1 0 0 -1 {at} Tm {operand} Tj ET Q\n"

    def _fonts(self) -> pikepdf.Dictionary:
        """The fonts by their names; to be called when all texts are written."""
        fonts = pikepdf.Dictionary()
        for key, font in self.fonts.items():
            fonts[f"/{name_of(key)}"] = font.put_into(self.file)
        for key, made in self.spoken.put_into(self.file).items():
            fonts[f"/{key}"] = made
        return fonts


def _bounding_box(figure: Figure) -> tuple[float, ...]:
    """The figure's box with a unit to spare, since viewers may round it."""
    points: list[NDArray[np.float64]] = [outline.nodes for outline in figure.outlines]
    points += [outline.handles[~outline.straight].reshape(-1, 2) for outline in figure.outlines]
    if not points:
        return 0.0, 0.0, 1.0, 1.0
    stacked = np.concatenate(points)
    return (*(stacked.min(axis=0) - 1.0), *(stacked.max(axis=0) + 1.0))
