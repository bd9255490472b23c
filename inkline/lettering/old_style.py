"""Old-style figures, which stand among small letters: some rise above them, some hang below."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path

from inkline.lettering.errors import FamilyError
from inkline.lettering.face import Face
from inkline.lettering.family import StrokeFamily
from inkline.lettering.font import Font
from inkline.lettering.forms import DIGITS
from inkline.lettering.swap import swapped_face
from inkline.lettering.writing import TracedFont


class FigureStyle(StrEnum):
    """How figures stand; OpenType calls the features lnum and onum."""

    LINING = "lining"
    """All as high as capitals, on one line."""
    OLD_STYLE = "old style"
    """Among small letters: 0 1 2 as high as an x, 6 8 above it, 3 4 5 7 9 below the line."""


def in_figure_style(face: Face, style: FigureStyle) -> Face:
    """`face` with its digits 0 to 9 in that style; its measures stay those of lining figures.

    Raises:
        FamilyError: it has no old-style figures.
    """
    if style is FigureStyle.LINING:
        return face
    if isinstance(face, StrokeFamily):
        found: Face | None = face.with_old_style_figures()
    else:
        font = face.font if isinstance(face, TracedFont) else face
        names = font.old_style_names(DIGITS) if isinstance(font, Font) else {}
        found = swapped_face(face, names, folder=Path()) if names else None
    if found is None:
        raise FamilyError(f"{face.name} has no old-style figures", path=face.name)
    return found
