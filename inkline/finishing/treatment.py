"""How a part of an artwork is treated: its style, its letters, and what of it is a line."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path

from inkline.errors import InputError
from inkline.ink.style import EXACT, Firmness, Style
from inkline.lettering.face import Face
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.font import open_font
from inkline.lettering.writing import Way, face_in_way
from inkline.pages.faces import USUAL_FAMILY
from inkline.source.faults import did_you_mean
from inkline.styles.files import style_of

_FAMILY_SUFFIX = ".ufo"


class Lines(StrEnum):
    """What of an artwork a pen draws along its middle; all else is inked as a shape."""

    BARS = "bars"
    """What is stroked, and thin bars that are really lines."""
    STROKES = "strokes"
    """Only what is stroked."""
    NONE = "none"
    """Nothing: what a line covers is inked as a shape, too."""


class Ink(StrEnum):
    """What becomes of a part of an artwork."""

    DRAWN = "drawn"
    """It is drawn by hand."""
    EXACT = "exact"
    """It is left exact, without a hand in it."""
    LEFT_OUT = "left out"
    """It is no part of the picture."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRequest:
    """What is asked for a part of the artwork; `None` for what is as around it.

    Attributes:
        file: of which file, by its name or by that without its ending; "" for all.
        layer: of which of its layers; "" for all.
        style: a style's name, or a file that ends in .toml.
        firmness: how sure the hand is of all its marks, 0 to 1.
        lines: what of it is a line.
        ink: what becomes of it.
        family: letters for its text: a family by its name, or the path of one.
        font: a font file for its text.
    """

    file: str = ""
    layer: str = ""
    style: str | None = None
    firmness: float | None = None
    lines: Lines | None = None
    ink: Ink | None = None
    family: str | None = None
    font: Path | None = None

    def concerns(self, file: Path, layer: str) -> bool:
        """Whether it is about this layer of this file."""
        is_file = self.file in {"", file.name, file.stem}
        return is_file and (not self.layer or self.layer == layer)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Treatment:
    """How a part of an artwork is drawn.

    Attributes:
        style: the ink.
        face: the letters for text.
        lines: what is a line.
        is_left_out: whether it isn't drawn at all.
    """

    style: Style
    face: Face
    lines: Lines = Lines.BARS
    is_left_out: bool = False


class Treatments:
    """The treatments of all parts of all files, each made once."""

    def __init__(self, usual: Treatment, parts: tuple[PartRequest, ...]) -> None:
        self.usual, self._parts = usual, parts
        self._found: dict[tuple[Path, str], Treatment] = {}

    def of(self, file: Path, layer: str) -> Treatment:
        """How a layer of a file is treated: as its file is, unless it has a wish of its own.

        Raises:
            InputError: there is no such style, or no such letters.
        """
        if (file, layer) not in self._found:
            own = [part for part in self._parts if part.concerns(file, layer)]
            treatment = self.usual
            for part in sorted(own, key=lambda one: (bool(one.layer), bool(one.file))):
                treatment = _changed(treatment, part)
            self._found[file, layer] = treatment
        return self._found[file, layer]


def _changed(treatment: Treatment, part: PartRequest) -> Treatment:
    """A treatment with the wishes of a part."""
    style, face = treatment.style, treatment.face
    if part.style is not None:
        style = style_of(part.style, {}, where="style")
    if part.firmness is not None:
        firm = part.firmness
        style = replace(style, firmness=Firmness(rule=firm, numeral=firm, word=firm, block=firm))
    if part.ink is Ink.EXACT:
        style = replace(EXACT, drawn_at=style.drawn_at)
    if part.family is not None or part.font is not None:
        face = opened_face(part.family or USUAL_FAMILY, part.font)
    return Treatment(
        style=style,
        face=face,
        lines=part.lines or treatment.lines,
        is_left_out=part.ink is Ink.LEFT_OUT or (treatment.is_left_out and part.ink is None),
    )


def opened_face(family: str, font: Path | None) -> Face:
    """The letters of a font file, or else of a family by its name or path.

    Raises:
        InputError: there are none.
    """
    if font is not None:
        return face_in_way(open_font(font), way=Way.AUTO)
    return open_family(Path(family) if family.endswith(_FAMILY_SUFFIX) else family_path(family))


def refuse_unknown_parts(
    parts: tuple[PartRequest, ...], layers: dict[Path, tuple[str, ...]]
) -> None:
    """Refuse wishes for files and layers that there aren't.

    Args:
        parts: the wishes.
        layers: the layers of each file.

    Raises:
        InputError: one concerns nothing; the nearest name is told.
    """
    for part in parts:
        files = [file for file in layers if part.file in {"", file.name, file.stem}]
        if not files:
            hint = did_you_mean(part.file, [file.stem for file in layers])
            raise InputError(f'no file is called "{part.file[:60]}"{hint}')
        known = dict.fromkeys(layer for file in files for layer in layers[file])
        if part.layer and part.layer not in known:
            where = f" in {part.file}" if part.file else ""
            hint = did_you_mean(part.layer, known) or (
                f"; there are {', '.join(known)}" if known else "; there are no layers"
            )
            raise InputError(f'no layer is called "{part.layer[:60]}"{where}{hint}')
