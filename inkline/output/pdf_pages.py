"""Pages of a PDF made smaller, two of them beside each other on one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from inkline.output.pdf import PdfItem, PdfPage, PlacedFigure, Rectangle, SpokenText, Text


def two_on_a_page(pages: Sequence[PdfPage]) -> PdfPage:
    """One or two upright pages of one size side by side on that size turned over."""
    width, height = pages[0].size
    scale = height / (2.0 * width)
    top = 0.5 * (width - scale * height)
    return PdfPage(
        size=(height, width),
        items=tuple(
            _moved_item(item, scale, (index * 0.5 * height, top))
            for index, page in enumerate(pages)
            for item in page.items
        ),
        title=" / ".join(page.title for page in pages),
    )


def _moved_item(item: PdfItem, scale: float, by: tuple[float, float]) -> PdfItem:
    """An item `scale` times as large and then moved."""
    if isinstance(item, Rectangle):
        x0, y0, x1, y1 = (side * scale for side in item.box)
        return replace(item, box=(x0 + by[0], y0 + by[1], x1 + by[0], y1 + by[1]))
    at = (item.at[0] * scale + by[0], item.at[1] * scale + by[1])
    if isinstance(item, PlacedFigure):
        return replace(item, at=at, scale=item.scale * scale)
    if isinstance(item, Text):
        return replace(item, at=at, size=item.size * scale)
    return _moved_spoken(item, scale, at)


def _moved_spoken(item: SpokenText, scale: float, at: tuple[float, float]) -> SpokenText:
    pieces = tuple((text, width * scale) for text, width in item.pieces)
    return replace(item, pieces=pieces, at=at, size=item.size * scale)
