"""Stroke families: folders of the open standard UFO whose contours are the pen's centrelines.

In such a family every contour is one stroke, in the order and direction of drawing: an open contour
is a stroke with two ends, a closed one returns to its start, and a lone point is a press of the
pen. Heights hold with the nominal stem, in font units under the key `inkline.nominalStem` of the
family's lib: a skeleton lies half a stem inside the letter's ink.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np

from inkline.drawing import Play
from inkline.lettering.broad_nib import BroadNib
from inkline.lettering.errors import FamilyError, MissingGlyphError
from inkline.lettering.face import Figures, Glyph, GlyphStroke, PlacedGlyph
from inkline.lettering.forms import DIGITS
from inkline.lettering.joining import FORMS_BY_PLACE, forms_by_place
from inkline.lettering.lib.play import play_from_lib
from inkline.lettering.lib.stance import Stance
from inkline.lettering.lib.values import (
    bounce_from_lib,
    nib_from_lib,
    stance_from_lib,
    stem_from_lib,
)
from inkline.lettering.opened import OpenedFaces, mark_of_folder
from inkline.lettering.recordings import Commands, Recording
from inkline.lettering.ufo.fast import read_ufo

UFO_SUFFIX = ".ufo"
_OLD_STYLE = "old"
_MARK_OF_FIRST = "public.kern1."
_MARK_OF_SECOND = "public.kern2."


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StrokeFamily:
    """A stroke family, read whole; glyphs are flattened when first asked for. It is a `Face`.

    Attributes:
        name: the family's name.
        units_per_em: font units in an em.
        cap_height_em: height of the flat capitals' ink above the baseline.
        digit_height_em: height of the 7's ink above the baseline, with the nominal stem.
        nominal_stem_em: width of the pen that it was designed for.
        bounce_em: how far its letters stand off their lines on purpose, or 0.
        licence: what the family's own information says about its licence, or "".
        version: its version as its information says, such as `1.2`, or "".
        play: how far the forms of its letters may differ, in em.
        stance: how far its letters stand out of line in words.
    """

    name: str
    units_per_em: float
    cap_height_em: float
    digit_height_em: float
    nominal_stem_em: float
    bounce_em: float
    licence: str
    version: str
    play: Play
    stance: Stance
    _names: Mapping[str, str]
    _recordings: Mapping[str, Recording]
    _nib: BroadNib | None
    _kerning: Mapping[tuple[str, str], float]
    _first_groups: Mapping[str, str]
    _second_groups: Mapping[str, str]
    _glyphs: dict[str, Glyph] = field(default_factory=dict, repr=False)

    @property
    def own_stem_em(self) -> float | None:
        """None: its skeleton takes any pen."""
        return None

    @property
    def is_drawn_with_pen(self) -> bool:
        """True: its glyphs are strokes."""
        return True

    @property
    def lift_em(self) -> float:
        """How far letters of a word may stand above or below where they stand alone."""
        return self.stance.lift_em

    def play_of(self, character: str) -> Play | None:
        """The family's play; what stands on the x-height of small letters holds there."""
        if not (character.islower() and self.has("x")):
            return self.play
        top = max(float(stroke.points[:, 1].max()) for stroke in self.glyph("x").strokes)
        return replace(self.play, lines=(*self.play.lines, top))

    def has(self, character: str) -> bool:
        """Whether it has a glyph for one character."""
        return character in self._names

    def glyph(self, character: str) -> Glyph:
        """The glyph of one character.

        Raises:
            MissingGlyphError: it has none.
        """
        if character not in self._names:
            raise MissingGlyphError(character, face=self.name)
        return self._glyph_by_name(self._names[character])

    def alternates(self, character: str) -> tuple[Glyph, ...]:
        """Other forms of one character.

        They are the glyphs without Unicode that are called like its own with a point and a word
        behind, but for forms that a place in a word or old-style figures ask for.
        """
        if character not in self._names:
            return ()
        stem = f"{self._names[character]}."
        others = (name for name in sorted(self._names_without_character) if name.startswith(stem))
        return tuple(
            self._glyph_by_name(name)
            for name in others
            if name.rpartition(".")[2] not in FORMS_BY_PLACE
            and not f"{name}.".startswith(f"{stem}{_OLD_STYLE}.")
        )

    def with_old_style_figures(self) -> StrokeFamily | None:
        """The family with its old-style figures, `three.old` for 3; None if it lacks any."""
        names = {digit: f"{self._names.get(digit)}.{_OLD_STYLE}" for digit in DIGITS}
        if not set(names.values()) <= set(self._recordings):
            return None
        return replace(self, _names={**self._names, **names})

    def glyph_named(self, name: str) -> Glyph | None:
        """The glyph of that name, whether or not a character has it; None if there is none."""
        return self._glyph_by_name(name) if name in self._recordings else None

    def commands_of(self, name: str) -> Commands:
        """How the file of the glyph of that name has it drawn, in font units."""
        return self._recordings[name].commands

    @property
    def glyph_names(self) -> tuple[str, ...]:
        """The names of all glyphs, sorted."""
        return tuple(sorted(self._recordings))

    @property
    def characters(self) -> tuple[str, ...]:
        """All characters that have a glyph, by their codes."""
        return tuple(sorted(self._names))

    @property
    def _names_without_character(self) -> set[str]:
        return set(self._recordings) - set(self._names.values())

    def placed_glyphs(
        self,
        text: str,
        *,
        figures: Figures,  # noqa: ARG002
    ) -> tuple[tuple[PlacedGlyph, ...], float]:
        """The text's glyphs along a baseline from x = 0, kerned, and the whole advance in em.

        A family has one set of figures, so `figures` makes no difference. Letters that join stand
        in the forms for their places in a word.

        Raises:
            MissingGlyphError: names every character that it has no glyph for.
        """
        missing = [character for character in text if not self.has(character)]
        if missing:
            raise MissingGlyphError(missing, face=self.name)
        placed, x = [], 0.0
        for letter, glyph in enumerate(self._glyphs_in_place(text)):
            if letter:
                x += self._kern(self._names[text[letter - 1]], self._names[text[letter]])
            placed.append(PlacedGlyph(glyph=glyph, x_em=x, y_em=0.0, letter=letter))
            x += glyph.advance_em
        return self.stance.stood(placed, text, x)

    def _glyphs_in_place(self, text: str) -> list[Glyph]:
        """The glyph of each character, in the form for its place among letters that join it."""
        plain = [self.glyph(character) for character in text]
        joins = [one.exit is not None and bool(other.entries) for one, other in pairwise(plain)]
        return [
            self._form(glyph, forms) if glyph.entries or glyph.exit else glyph
            for glyph, forms in zip(plain, forms_by_place(joins, len(plain)), strict=True)
        ]

    def _form(self, glyph: Glyph, forms: tuple[str, ...]) -> Glyph:
        names = (f"{glyph.name}.{form}" for form in forms)
        return next(
            (self._glyph_by_name(name) for name in names if name in self._recordings), glyph
        )

    def _kern(self, first: str, second: str) -> float:
        """The kerning of two glyphs in em: their own, or that of their groups, as UFO 3 has it."""
        pairs = (
            (one, other)
            for one in (first, self._first_groups.get(first, ""))
            for other in (second, self._second_groups.get(second, ""))
        )
        value = next((self._kerning[pair] for pair in pairs if pair in self._kerning), 0.0)
        return float(value) / self.units_per_em

    def _glyph_by_name(self, name: str) -> Glyph:
        if name not in self._glyphs:
            recording, units = self._recordings[name], self.units_per_em
            leaving = recording.exit
            self._glyphs[name] = Glyph(
                name=name,
                advance_em=recording.width / units,
                strokes=recording.strokes(units, nib=self._nib, stem=self.nominal_stem_em * units),
                entries=tuple((x / units, y / units) for x, y in recording.entries),
                exit=leaving and (leaving[0] / units, leaving[1] / units),
            )
        return self._glyphs[name]


_OPENED: OpenedFaces[StrokeFamily] = OpenedFaces()


def open_family(path: str | Path) -> StrokeFamily:
    """The stroke family in the UFO folder `path`, with all its glyphs read.

    The same one as before, as long as none of its files has changed since.

    Cost: about 1 ms a glyph the first time, 0.05 s in all in another process, 4 ms in this one.

    Raises:
        FamilyError: the folder is no UFO, a file in it is broken (it is named), or information is
            missing.
    """
    folder = Path(path)
    if not folder.is_dir():
        raise FamilyError(
            f"a stroke family must be a UFO folder, but there is no folder {folder}",
            path=str(folder),
        )
    return _OPENED.face_at(
        folder.absolute(), mark_of_folder(folder), partial(_family_from_files, folder)
    )


def _family_from_files(folder: Path) -> StrokeFamily:
    source = read_ufo(folder)
    info, lib, recordings, names = source.info, source.lib, source.recordings, source.names
    units, path = float(info["unitsPerEm"]), folder / "lib.plist"
    stem, nib = stem_from_lib(lib, units=units, path=path), nib_from_lib(lib, path=path)
    play = play_from_lib(lib, stem=stem, units=units, folder=folder)
    top = {
        character: _top(
            recordings[names[character]].strokes(units, nib=nib, stem=stem), stem, units
        )
        for character in ("H", "7")
        if character in names and recordings[names[character]].commands
    }
    cap_height = float(info.get("capHeight") or top.get("H", 0.7 * units))
    return StrokeFamily(
        name=str(info.get("familyName") or folder.stem),
        units_per_em=units,
        cap_height_em=cap_height / units,
        digit_height_em=top.get("7", cap_height) / units,
        nominal_stem_em=stem / units,
        bounce_em=bounce_from_lib(lib, units=units, path=path) / units,
        licence=str(info.get("openTypeNameLicense") or ""),
        version=_version(info),
        play=play,
        stance=stance_from_lib(lib, units=units, cap_height_em=cap_height / units, path=path),
        _names=names,
        _recordings=recordings,
        _nib=nib,
        _kerning=source.kerning,
        _first_groups=_group_by_member(source.groups, _MARK_OF_FIRST),
        _second_groups=_group_by_member(source.groups, _MARK_OF_SECOND),
    )


def _version(info: Mapping[str, Any]) -> str:
    major, minor = info.get("versionMajor"), info.get("versionMinor")
    return "" if major is None else f"{major}.{minor or 0}"


def _top(strokes: tuple[GlyphStroke, ...], stem: float, units_per_em: float) -> float:
    """Height of the ink of a glyph, drawn with the nominal stem, in font units."""
    pen_em = stem / units_per_em
    return units_per_em * max(
        float(np.max(stroke.points[:, 1] + 0.5 * stroke.widths_with(pen_em))) for stroke in strokes
    )


def _group_by_member(groups: Mapping[str, Sequence[str]], mark: str) -> dict[str, str]:
    return {
        member: group
        for group, members in groups.items()
        if group.startswith(mark)
        for member in members
    }
