"""Stroke families: folders of the open standard UFO whose contours are the pen's centrelines.

In such a family every contour is one stroke, in the order and direction of drawing: an open contour
is a stroke with two ends, a closed one returns to its start, and a lone point is a press of the
pen. Heights hold with the nominal stem, in font units under the key `inkline.nominalStem` of the
family's lib: a skeleton lies half a stem inside the letter's ink.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ufoLib import UFOReader
from fontTools.ufoLib.kerning import lookupKerningValue

from inkline.errors import Action, Remedy
from inkline.lettering.errors import FamilyError, MissingGlyphError
from inkline.lettering.face import FLATTENING_EM, Figures, Glyph, GlyphStroke, PlacedGlyph
from inkline.lettering.opened import OpenedFaces, mark_of_folder
from inkline.lettering.outline import FlatteningPen, stroke_along

UFO_SUFFIX = ".ufo"
_NOMINAL_STEM_KEY = "inkline.nominalStem"
_OUTLINES = 6
"""So many glyphs of closed contours alone make a font of outlines, if they are most of it."""
_MARK_OF_FIRST = "public.kern1."
_MARK_OF_SECOND = "public.kern2."

Recording = list[tuple[str, tuple[Any, ...]]]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StrokeFamily:
    """A stroke family, read whole; glyphs are flattened when first asked for. It is a `Face`.

    Attributes:
        name: the family's name.
        units_per_em: font units in an em.
        cap_height_em: height of the flat capitals' ink above the baseline.
        digit_height_em: height of the 7's ink above the baseline, with the nominal stem.
        nominal_stem_em: width of the pen that it was designed for.
        licence: what the family's own information says about its licence, or "".
        version: its version as its information says, such as `1.2`, or "".
    """

    name: str
    units_per_em: float
    cap_height_em: float
    digit_height_em: float
    nominal_stem_em: float
    licence: str
    version: str
    _names: Mapping[str, str]
    _recordings: Mapping[str, tuple[float, Recording]]
    _kerning: Mapping[tuple[str, str], float]
    _first_groups: Mapping[str, str]
    _second_groups: Mapping[str, str]
    _glyphs: dict[str, Glyph] = field(default_factory=dict, repr=False)

    @property
    def is_drawn_with_pen(self) -> bool:
        """True: its glyphs are strokes."""
        return True

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
        behind.
        """
        if character not in self._names:
            return ()
        stem = f"{self._names[character]}."
        return tuple(
            self._glyph_by_name(name)
            for name in sorted(self._names_without_character)
            if name.startswith(stem)
        )

    def glyph_named(self, name: str) -> Glyph | None:
        """The glyph of that name, whether or not a character has it; None if there is none."""
        return self._glyph_by_name(name) if name in self._recordings else None

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

        A family has one set of figures, so `figures` makes no difference.

        Raises:
            MissingGlyphError: names every character that it has no glyph for.
        """
        missing = [character for character in text if not self.has(character)]
        if missing:
            raise MissingGlyphError(missing, face=self.name)
        placed, x, before = [], 0.0, None
        for letter, character in enumerate(text):
            glyph = self.glyph(character)
            if before is not None:
                x += self._kern(before.name, glyph.name)
            placed.append(PlacedGlyph(glyph=glyph, x_em=x, y_em=0.0, letter=letter))
            x += glyph.advance_em
            before = glyph
        return tuple(placed), x

    def _kern(self, first: str, second: str) -> float:
        value = lookupKerningValue(
            (first, second),
            self._kerning,
            {},
            glyphToFirstGroup=self._first_groups,
            glyphToSecondGroup=self._second_groups,
        )
        return float(value) / self.units_per_em

    def _glyph_by_name(self, name: str) -> Glyph:
        if name not in self._glyphs:
            width, recording = self._recordings[name]
            self._glyphs[name] = Glyph(
                name=name,
                advance_em=width / self.units_per_em,
                strokes=_strokes(recording, self.units_per_em),
            )
        return self._glyphs[name]


_OPENED: OpenedFaces[StrokeFamily] = OpenedFaces()


def open_family(path: str | Path) -> StrokeFamily:
    """The stroke family in the UFO folder `path`, with all its glyphs read.

    The same one as before, as long as none of its files has changed since.

    Cost: about 1 ms a glyph the first time, 2 ms again.

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
    with _as_family_error(folder, "is not a UFO folder that can be read"):
        reader = UFOReader(str(folder), validate=True)
    with reader:
        info, stem = _information(reader, folder)
        with _as_family_error(folder, "has kerning or groups that cannot be read"):
            kerning, groups = reader.readKerning(), reader.readGroups()
        recordings, names = _glyphs(reader, folder)
    _check_strokes(recordings, folder)
    units = float(info.unitsPerEm)
    top = _tops(recordings, names, units)
    cap_height = (
        getattr(info, "capHeight", None) or top.get("H", 0.7 * units - 0.5 * stem) + 0.5 * stem
    )
    return StrokeFamily(
        name=str(getattr(info, "familyName", None) or folder.stem),
        units_per_em=units,
        cap_height_em=float(cap_height) / units,
        digit_height_em=(top["7"] + 0.5 * stem if "7" in top else float(cap_height)) / units,
        nominal_stem_em=stem / units,
        licence=str(getattr(info, "openTypeNameLicense", None) or ""),
        version=_version(info),
        _names=names,
        _recordings=recordings,
        _kerning=kerning,
        _first_groups=_group_by_member(groups, _MARK_OF_FIRST),
        _second_groups=_group_by_member(groups, _MARK_OF_SECOND),
    )


@contextmanager
def _as_family_error(path: Path, fault: str) -> Iterator[None]:
    """Turns whatever the UFO reader stumbles over into one sentence about `path`.

    A broken file can make it raise nearly anything: its own errors, those of XML and property
    lists, and plain key, type and value errors from deep inside; what they have in common is only
    that this file was being read.
    """
    try:
        yield
    except FamilyError:
        raise
    except Exception as error:
        reason = " ".join(str(error).split()).rstrip(".") or "its data is damaged"
        raise FamilyError(f"{path} {fault}: {reason}", path=str(path)) from error


def _information(reader: UFOReader, folder: Path) -> tuple[SimpleNamespace, float]:
    """The family's information and its nominal stem in font units."""
    info = SimpleNamespace()
    with _as_family_error(folder / "fontinfo.plist", "cannot be read"):
        reader.readInfo(info)
    if not getattr(info, "unitsPerEm", 0):
        path = folder / "fontinfo.plist"
        raise FamilyError(f"{path} must give unitsPerEm, a number above 0", path=str(path))
    with _as_family_error(folder / "lib.plist", "cannot be read"):
        stem = reader.readLib().get(_NOMINAL_STEM_KEY)
    if (
        isinstance(stem, bool)
        or not isinstance(stem, int | float)
        or not 0 < stem < info.unitsPerEm
    ):
        path = folder / "lib.plist"
        raise FamilyError(
            f"{path} must give {_NOMINAL_STEM_KEY}, the designed stem in font units, between 0 "
            f"and the em, not {stem!r}",
            path=str(path),
        )
    return info, float(stem)


def _version(info: SimpleNamespace) -> str:
    major, minor = getattr(info, "versionMajor", None), getattr(info, "versionMinor", None)
    return "" if major is None else f"{major}.{minor or 0}"


def _glyphs(
    reader: UFOReader, folder: Path
) -> tuple[dict[str, tuple[float, Recording]], dict[str, str]]:
    """Every glyph's advance and recording by name, and glyph names by character."""
    with _as_family_error(folder, "has a list of glyphs that cannot be read"):
        glyph_set = reader.getGlyphSet(validateRead=True)
    recordings: dict[str, tuple[float, Recording]] = {}
    names: dict[str, str] = {}
    for name in sorted(glyph_set.contents):
        with _as_family_error(
            folder / "glyphs" / glyph_set.contents[name], "cannot be read as a glyph"
        ):
            glyph, pen = glyph_set[name], DecomposingRecordingPen(glyph_set)
            glyph.draw(pen)
            recordings[name] = (float(getattr(glyph, "width", 0)), pen.value)
            names.update({chr(code): name for code in getattr(glyph, "unicodes", ())})
    return recordings, names


def _check_strokes(recordings: Mapping[str, tuple[float, Recording]], folder: Path) -> None:
    """Refuses a font of outlines, whose letters would be drawn as their own contours.

    Raises:
        FamilyError: most glyphs have nothing but closed contours. A few may: a 0 can be meant so.
    """
    ends = {
        name: [op for op, _ in recording if op in ("closePath", "endPath")]
        for name, (_, recording) in recordings.items()
    }
    drawn = [name for name, ops in ends.items() if ops]
    closed = [name for name in drawn if "endPath" not in ends[name]]
    if len(closed) >= _OUTLINES and 2 * len(closed) > len(drawn):
        raise FamilyError(
            f"{folder} must hold strokes, open contours along the middle of the pen, but "
            f"{len(closed)} of {len(drawn)} glyphs have only closed contours, as outlines have "
            f"({', '.join(closed[:5])}, ...); a font file exported from it can be inked",
            path=str(folder),
            remedies=[Remedy(action=Action.GIVE_AS_FONT)],
        )


def _strokes(recording: Recording, units_per_em: float) -> tuple[GlyphStroke, ...]:
    pen = FlatteningPen({}, tolerance=FLATTENING_EM * units_per_em)
    for operator, operands in recording:
        getattr(pen, operator)(*operands)
    return tuple(stroke_along(contour, units_per_em) for contour in pen.contours)


def _tops(
    recordings: Mapping[str, tuple[float, Recording]], names: Mapping[str, str], units_per_em: float
) -> dict[str, float]:
    """Height of the skeleton of H and 7, in font units, where the family has them.

    A family is measured by these.
    """
    tops = {}
    for character in ("H", "7"):
        strokes = (
            _strokes(recordings[names[character]][1], units_per_em) if character in names else ()
        )
        if strokes:
            tops[character] = units_per_em * max(
                float(stroke.points[:, 1].max()) for stroke in strokes
            )
    return tops


def _group_by_member(groups: Mapping[str, list[str]], mark: str) -> dict[str, str]:
    return {
        member: group
        for group, members in groups.items()
        if group.startswith(mark)
        for member in members
    }
