"""A face with single glyphs swapped for others: people keep a font but change one numeral.

A swap is a glyph of the same font or family by its name (`four.open`), one of another family
(`scullery:four`, `mine.ufo:four`), or a glyph file of the UFO standard (`my-nine.glif`), in its UFO
folder or by itself. Glyphs from another family are scaled to the face's height, and drawn with the
face's own pen; in a font of outlines that is one as wide as its stem. A file by itself is taken to
be in the units of the face.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from inkline.geometry.arrays import Points
from inkline.geometry.sweep import swept_outline
from inkline.geometry.union import union_of_contours
from inkline.lettering.errors import FamilyError
from inkline.lettering.face import FLATTENING_EM, Face, Glyph
from inkline.lettering.families import family_path
from inkline.lettering.family import UFO_SUFFIX, StrokeFamily, open_family
from inkline.lettering.font import Font
from inkline.lettering.forms import DIGITS
from inkline.lettering.loose import LooseGlyph, family_around, loose_glyph
from inkline.lettering.outline import stroke_along
from inkline.lettering.wrapped import WrappedFace
from inkline.lettering.writing import TracedFont
from inkline.source.places import path_from_folder

GLIF_SUFFIX = ".glif"
_ROUND = 1.0
_USUAL_UNITS = 1000
_SAME_EM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SwappedFace(WrappedFace):
    """A face with some of its characters drawn by other glyphs. It is a `Face`.

    Attributes:
        face: what all else comes from, its kerning included.
        swaps: the glyph of each swapped character.
    """

    swaps: Mapping[str, Glyph]

    def alternates(self, character: str) -> tuple[Glyph, ...]:
        """Other forms of one character; none of a swapped one, since a person chose it."""
        return () if character in self.swaps else self.face.alternates(character)

    def drawn_glyph(self, character: str, glyph: Glyph) -> Glyph:
        """The glyph that `character` was swapped for, or the face's own."""
        return self.swaps.get(character, glyph)


def swapped_face(face: Face, wanted: Mapping[str, str], *, folder: Path) -> Face:
    """`face` with the characters of `wanted` drawn by the glyphs that it names.

    `face` itself where it names none.

    Args:
        face: a font or a stroke family.
        wanted: for each character what to draw; see the module for the three ways to say it.
        folder: where relative places of files start.

    Raises:
        FamilyError: no such glyph, family or file, or the face has no such character.
    """
    if not wanted:
        return face
    return SwappedFace(
        face=face,
        swaps={
            character: _swap(face, character, said, folder) for character, said in wanted.items()
        },
    )


def _swap(face: Face, character: str, said: str, folder: Path) -> Glyph:
    if not face.has(character):
        raise FamilyError(
            f"{face.name} has no glyph for {character!r} that could be swapped", path=said
        )
    if said.endswith(GLIF_SUFFIX):
        path = path_from_folder(folder, said)
        home = family_around(path)
        glyph = _from_file(face, path) if home is None else _from_family(face, character, *home)
    elif ":" in said:
        name, _, glyph_name = said.rpartition(":")
        is_own = name.endswith(UFO_SUFFIX)
        place = path_from_folder(folder, name) if is_own else family_path(name)
        glyph = _from_family(face, character, place, glyph_name)
    else:
        glyph = _own_glyph(face, said)
    return _on_tabular_width(face, character, glyph)


def _own_glyph(face: Face, name: str) -> Glyph:
    """The face's own glyph of that name."""
    if isinstance(face, TracedFont):
        from inkline.lettering.traced import traced_glyph  # noqa: PLC0415 - slow to import

        return traced_glyph(_own_glyph(face.font, name))
    glyph = face.glyph_named(name) if isinstance(face, StrokeFamily | Font) else None
    if glyph is None:
        names = [
            one
            for one in (face.glyph_names if isinstance(face, StrokeFamily) else ())
            if "." in one
        ]
        known = f"; other forms that it has: {', '.join(names)}" if names else ""
        raise FamilyError(f"{face.name} has no glyph called {name!r}{known}", path=name)
    return glyph


def _from_family(face: Face, character: str, place: Path, name: str) -> Glyph:
    """A glyph of another family, as high as the face's own figures or capitals."""
    family = open_family(place)
    glyph = _own_glyph(family, name)
    figure = character in DIGITS
    mine = face.digit_height_em if figure else face.cap_height_em
    theirs = family.digit_height_em if figure else family.cap_height_em
    scale = (mine - face.nominal_stem_em) / (theirs - family.nominal_stem_em)
    return _for_face(
        face,
        _scaled_strokes(
            glyph, scale, face.nominal_stem_em, family.nominal_stem_em, f"{family.name}:{name}"
        ),
    )


def _from_file(face: Face, path: Path) -> Glyph:
    """The glyph in a file of its own, in the face's own units.

    Strokes for a pen, and in a font also a filled outline.
    """
    drawn = face.font if isinstance(face, TracedFont) else face
    units = drawn.units_per_em if isinstance(drawn, StrokeFamily | Font) else _USUAL_UNITS
    loose = loose_glyph(path)
    if not face.is_drawn_with_pen and loose.is_outline:
        contours = union_of_contours(
            [contour.points / units for contour in loose.flat_contours(FLATTENING_EM * units)]
        )
        return Glyph(name=path.name, advance_em=loose.width / units, contours=contours)
    return _for_face(face, _glyph_of_strokes(loose, units, path.name))


def _glyph_of_strokes(loose: LooseGlyph, units: float, name: str) -> Glyph:
    contours = loose.flat_contours(FLATTENING_EM * units)
    strokes = tuple(stroke_along(contour, units) for contour in contours)
    return Glyph(name=name, advance_em=loose.width / units, strokes=strokes)


def _scaled_strokes(glyph: Glyph, scale: float, stem: float, their_stem: float, name: str) -> Glyph:
    """Strokes scaled about the middle of a flat foot's pen.

    So ink stands on the baseline with either pen.
    """

    def moved_points(points: Points) -> Points:
        return np.column_stack(
            (points[:, 0] * scale, 0.5 * stem + scale * (points[:, 1] - 0.5 * their_stem))
        )

    strokes = tuple(
        replace(
            stroke,
            points=moved_points(stroke.points),
            widths_em=None if stroke.widths_em is None else stroke.widths_em * (stem / their_stem),
        )
        for stroke in glyph.strokes
    )
    return Glyph(name=name, advance_em=glyph.advance_em * scale, strokes=strokes)


def _for_face(face: Face, glyph: Glyph) -> Glyph:
    """Strokes as they are for a face drawn with a pen; else their contours.

    For a font of outlines, they are what a pen of its stem's width leaves of the strokes.
    """
    return glyph if face.is_drawn_with_pen else outlined_glyph(glyph, width_em=face.nominal_stem_em)


def outlined_glyph(glyph: Glyph, *, width_em: float, stem_em: float | None = None) -> Glyph:
    """A glyph of strokes as the contours that a pen of `width_em` leaves; its ends are round.

    One of contours as it is.

    Args:
        glyph: the glyph.
        width_em: width of the pen, > 0.
        stem_em: the stem by which strokes with widths of their own swell; `None` draws them all
            with an even pen.
    """
    swept: list[Points] = []
    for stroke in glyph.strokes:
        points = (
            np.concatenate((stroke.points, stroke.points[:1])) if stroke.closed else stroke.points
        )
        halves = np.full(len(points), 0.5 * width_em)
        if stem_em is not None:
            own = stroke.widths_with(stem_em) / stem_em
            halves *= np.append(own, own[: len(points) - len(own)])
        swept += swept_outline(
            points, halves, round_start=_ROUND, round_end=_ROUND, tolerance=FLATTENING_EM
        )
    return replace(glyph, strokes=(), contours=union_of_contours(swept)) if glyph.strokes else glyph


def _on_tabular_width(face: Face, character: str, glyph: Glyph) -> Glyph:
    """A digit in the middle of the one width that the face's digits share.

    Anything else as it is, and all if they share none.
    """
    advances = [face.glyph(digit).advance_em for digit in DIGITS if face.has(digit)]
    if character not in DIGITS or np.ptp(advances) > _SAME_EM:
        return glyph
    advance = advances[0]
    aside = np.array([0.5 * (advance - glyph.advance_em), 0.0])
    strokes = tuple(replace(stroke, points=stroke.points + aside) for stroke in glyph.strokes)
    contours = tuple(contour + aside for contour in glyph.contours)
    return replace(glyph, advance_em=advance, strokes=strokes, contours=contours)
