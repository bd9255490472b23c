"""How a part of an artwork is treated: its style, its letters, and what of it is a line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from inkline.errors import InputError
from inkline.ink.style import EXACT, Firmness, Style
from inkline.kit.recipe.choices import ArtInk, ArtLines
from inkline.kit.recipe.finish import ArtPart
from inkline.lettering.face import Face
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.font import open_font
from inkline.lettering.writing import Way, face_in_way
from inkline.pages.faces import USUAL_FAMILY
from inkline.source.faults import did_you_mean
from inkline.styles.files import style_of

_FAMILY_SUFFIX = ".ufo"


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
    lines: ArtLines = ArtLines.BARS
    is_left_out: bool = False


class Treatments:
    """The treatments of all parts of all files, each made once."""

    def __init__(self, usual: Treatment, parts: tuple[ArtPart, ...]) -> None:
        self.usual, self._parts = usual, parts
        self._found: dict[tuple[Path, str], Treatment] = {}

    def of(self, file: Path, layer: str) -> Treatment:
        """How a layer of a file is treated: as its file is, unless it has a wish of its own.

        Raises:
            InputError: there is no such style, or no such letters.
        """
        if (file, layer) not in self._found:
            treatment = self.usual
            for name in _names_of(file, layer):  # the more exact ones last
                for part in self._parts:
                    if part.name == name:
                        treatment = _changed(treatment, part)
            self._found[file, layer] = treatment
        return self._found[file, layer]


def _changed(treatment: Treatment, part: ArtPart) -> Treatment:
    """A treatment with the wishes of a part."""
    style, face = treatment.style, treatment.face
    if part.style is not None:
        style = style_of(part.style, {}, where="style")
    if part.firmness is not None:
        firm = part.firmness
        style = replace(style, firmness=Firmness(rule=firm, numeral=firm, word=firm, block=firm))
    if part.ink is ArtInk.EXACT:
        style = replace(EXACT, drawn_at=style.drawn_at)
    if part.family is not None or part.font is not None:
        face = opened_face(part.family or USUAL_FAMILY, part.font)
    return Treatment(
        style=style,
        face=face,
        lines=part.lines or treatment.lines,
        is_left_out=part.ink is ArtInk.LEFT_OUT or (treatment.is_left_out and part.ink is None),
    )


def opened_face(family: str, font: Path | None) -> Face:
    """The letters of a font file, or else of a family by its name or path.

    Raises:
        InputError: there are none.
    """
    if font is not None:
        return face_in_way(open_font(font), way=Way.AUTO)
    return open_family(Path(family) if family.endswith(_FAMILY_SUFFIX) else family_path(family))


def _names_of(file: Path, layer: str) -> tuple[str, ...]:
    """By what a layer of a file can be called, the most general first."""
    whole = (file.stem, file.name)
    return (*whole, layer, *(f"{one}/{layer}" for one in whole)) if layer else whole


def refuse_unknown_parts(
    parts: tuple[ArtPart, ...], layers: Mapping[Path, tuple[str, ...]]
) -> None:
    """Refuse wishes for files and layers that there aren't.

    Args:
        parts: the wishes.
        layers: the layers of each file.

    Raises:
        InputError: one concerns nothing; the nearest name is told.
    """
    known = dict.fromkeys(
        name
        for file, own in layers.items()
        for layer in ("", *own)
        for name in _names_of(file, layer)
    )
    for part in parts:
        if part.name not in known:
            listed = dict.fromkeys(layer for own in layers.values() for layer in own)
            there = f"; there are the layers {', '.join(listed)}" if listed else ""
            hint = did_you_mean(part.name, known) or there
            raise InputError(f'no file and no layer is called "{part.name[:60]}"{hint}')
