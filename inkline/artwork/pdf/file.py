"""Pages of PDF files as artwork (ISO 32000-1)."""

from __future__ import annotations

import logging
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf

from inkline.artwork.maps import Matrix, after, scaled
from inkline.artwork.model import Artwork
from inkline.artwork.pdf.layers import PdfLayers
from inkline.artwork.pdf.letters import PageLetters, opened_letters
from inkline.artwork.pdf.limits import StreamTooLargeError
from inkline.artwork.pdf.operators import OPERATORS
from inkline.artwork.pdf.page import PageDrawer, PdfError
from inkline.artwork.pdf.state import State
from inkline.artwork.pdf.text import text_runs
from inkline.artwork.size import PictureSize
from inkline.errors import InputError

_CSS_PX_PER_POINT = 96.0 / 72.0
_CSS_PX_PER_MM = 96.0 / 25.4
_USUAL_BOX = (0.0, 0.0, 612.0, 792.0)
_UNKNOWN = "which layers text lies in and what bounds it can't be read; it lies over all else"
_DEEPEST = 50
_MOST_PAGES = 500


def page_count(file: Path) -> int:
    """How many pages a PDF file has.

    Raises:
        InputError: it can't be read.
    """
    with _opened(file) as document:
        return len(document.pages)


def artwork_from_pdf(
    file: Path,
    page: int,
    size: PictureSize,
    *,
    plainly: bool = False,
    has_own_letters: bool = False,
) -> Artwork:
    """What a page of a PDF file shows, in px of a picture of the size that is asked for.

    Args:
        file: the file.
        page: which, from 1.
        size: how large the picture is to be.
        plainly: whether blends, patterns, masks and pictures are drawn as their nearest plain
            things; else they are left out. Either is told.
        has_own_letters: whether its letters are drawn as the outlines that its fonts have; else
            they are text, to be set.

    Raises:
        InputError: it can't be read, has no such page, passes a limit, or the picture would be too
            large.
    """
    with _opened(file) as document:
        n_pages = len(document.pages)
        if not 1 <= page <= n_pages:
            raise InputError(f"{file} has {n_pages} pages, and no page {page}", setting="pages")
        sheet = document.pages[page - 1]
        unit = float(sheet.get("/UserUnit", 1.0))
        box, turn = _box(sheet), int(_inherited(sheet.obj, "/Rotate") or 0) // 90 % 4
        width, height = (unit * _CSS_PX_PER_POINT * side for side in _sides(box, turn))
        scale = size.scale_of(width, height, file=file)
        matrix = after(scaled(*2 * (scale * unit * _CSS_PX_PER_POINT,)), _upright(box, turn))

        def drawer_with(letters: PageLetters | None) -> PageDrawer:
            layers = PdfLayers(document.Root)
            drawer = PageDrawer(
                layers, OPERATORS, plainly=plainly, letters=letters, has_own_letters=has_own_letters
            )
            _draw(drawer, sheet, matrix)
            return drawer

        with opened_letters(file, page - 1) as letters:
            drawer = drawer_with(letters)
            if letters is None or drawer.n_shows != letters.n_shows:
                drawer = drawer_with(None)
                drawer.items += () if letters is None else text_runs(letters, matrix)
                drawer.lack("text", _UNKNOWN)
    return Artwork(
        title="",
        canvas=size.canvas(width, height, scale),
        px_per_mm=scale * _CSS_PX_PER_MM,
        is_true_size=True,
        items=tuple(drawer.items),
        lacks=tuple(sorted(drawer.lacks)),
    )


def _draw(drawer: PageDrawer, sheet: pikepdf.Page, matrix: Matrix) -> None:
    """Draw a page by a map to the picture."""
    contents = sheet.obj.get("/Contents")
    if contents is not None:
        drawer.draw(contents, _inherited(sheet.obj, "/Resources"), State(matrix=matrix))
    if sheet.obj.get("/Annots"):
        drawer.lack("note", "notes, links and fields on the page are left out")


def _inherited(node: Any, key: str) -> Any:
    """A value of a page, or of what it lies in (ISO 32000-1, 7.7.3.4); `None` if none has it."""
    for _ in range(_DEEPEST):
        if node is None or key in node:
            break
        node = node.get("/Parent")
    return None if node is None else node.get(key)


@contextmanager
def _opened(file: Path) -> Iterator[pikepdf.Pdf]:
    """The document in a file.

    Raises:
        InputError: it can't be read, or what is done with it meets what can't be.
    """
    if not file.is_file():
        raise InputError(f"{file}: there is no such file")
    logging.getLogger("pikepdf").addHandler(logging.NullHandler())  # it is said here, or nowhere
    try:
        with warnings.catch_warnings(), pikepdf.open(file) as document:
            warnings.simplefilter("ignore")
            if len(document.pages) > _MOST_PAGES:
                raise InputError(f"{file}: a file of at most {_MOST_PAGES} pages can be read")
            yield document
    except pikepdf.PasswordError as error:
        raise InputError(f"{file} is locked with a password") from error
    except StreamTooLargeError as error:
        raise InputError(f"{file} unpacks to more than a page can hold") from error
    except PdfError as error:
        raise InputError(f"{file}: {error}") from error
    except (pikepdf.PdfError, OSError, ValueError, TypeError, RuntimeError, OverflowError) as error:
        reason = str(error).partition("\n")[0][:120].replace(f"{file}: ", "")
        raise InputError(f"{file} cannot be read as a PDF file: {reason}") from error


def _box(sheet: Any) -> tuple[float, float, float, float]:
    """The part of a page that is shown, in its own units: x and y of two corners."""
    boxes = (_inherited(sheet.obj, key) for key in ("/CropBox", "/MediaBox"))
    found = next((box for box in boxes if box), _USUAL_BOX)
    x0, y0, x1, y1 = (float(value) for value in found)
    low, high = (min(x0, x1), min(y0, y1)), (max(x0, x1), max(y0, y1))
    if high[0] - low[0] <= 0.0 or high[1] - low[1] <= 0.0:
        return _USUAL_BOX
    return (*low, *high)


def _sides(box: tuple[float, float, float, float], turn: int) -> tuple[float, float]:
    """Width and height of a page as it is looked at."""
    width, height = box[2] - box[0], box[3] - box[1]
    return (height, width) if turn % 2 else (width, height)


def _upright(box: tuple[float, float, float, float], turn: int) -> Matrix:
    """The map from a page's units, y up, to one with y down that is turned as it is looked at."""
    x0, y0, x1, y1 = box
    return np.array(
        [
            [[1.0, 0.0, -x0], [0.0, -1.0, y1]],
            [[0.0, 1.0, -y0], [1.0, 0.0, -x0]],
            [[-1.0, 0.0, x1], [0.0, 1.0, -y0]],
            [[0.0, -1.0, y1], [-1.0, 0.0, x1]],
        ][turn]
    )
