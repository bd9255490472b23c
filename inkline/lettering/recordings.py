"""The glyphs of a UFO folder as its files record them, components resolved, and their strokes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ufoLib import UFOReader

from inkline.errors import Action, Remedy
from inkline.lettering.broad_nib import BroadNib, stroke_by_nib
from inkline.lettering.errors import FamilyError
from inkline.lettering.face import FLATTENING_EM, GlyphStroke
from inkline.lettering.outline import FlatteningPen, stroke_along

_NIB_ANGLES_KEY = "inkline.nibAngles"
_OUTLINES = 6
"""So many glyphs of closed contours alone make a font of outlines, if they are most of it."""

Commands = list[tuple[str, tuple[Any, ...]]]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Recording:
    """A glyph as its file has it, in font units.

    Attributes:
        width: its advance.
        commands: how it is drawn, as fontTools' recording pens say it.
        nib_angles: for each contour the angle at which the nib is turned for it, in degrees; `None`
            where it is the family's own.
    """

    width: float
    commands: Commands
    nib_angles: tuple[float | None, ...]

    def strokes(
        self, units_per_em: float, *, nib: BroadNib | None, stem: float
    ) -> tuple[GlyphStroke, ...]:
        """Its strokes in em, as the family's nib writes them; `stem` in font units."""
        pen = FlatteningPen({}, tolerance=FLATTENING_EM * units_per_em)
        for operator, operands in self.commands:
            getattr(pen, operator)(*operands)
        strokes = [stroke_along(contour, units_per_em) for contour in pen.contours]
        if nib is None:
            return tuple(strokes)
        return tuple(
            stroke_by_nib(stroke, nib.turned_to(angle), stem_em=stem / units_per_em)
            for stroke, angle in zip(strokes, self.nib_angles, strict=True)
        )


class _OriginsPen(DecomposingRecordingPen):  # type: ignore[misc]  # fontTools carries no types
    """A recording pen that also keeps of each contour whose it is: glyph and place in it."""

    def __init__(self, glyph_set: Mapping[str, Any], name: str) -> None:
        super().__init__(glyph_set)
        self.origins: list[tuple[str, int]] = []
        self._within = [name]
        self._counts: Counter[int] = Counter()

    def moveTo(self, p0: tuple[float, float]) -> None:  # noqa: N802 (the base's name)
        self._begin()
        super().moveTo(p0)

    def qCurveTo(self, *points: tuple[float, float] | None) -> None:  # noqa: N802 (the base's name)
        if points[-1] is None:  # a closed contour without points on the curve, which has no moveTo
            self._begin()
        super().qCurveTo(*points)

    def addComponent(  # noqa: N802 (the base's name)
        self, name: str, transformation: tuple[float, ...]
    ) -> None:
        self._within.append(name)
        self._counts[len(self._within)] = 0
        super().addComponent(name, transformation)
        self._within.pop()

    def _begin(self) -> None:
        depth = len(self._within)
        self.origins.append((self._within[-1], self._counts[depth]))
        self._counts[depth] += 1


@contextmanager
def as_family_error(path: Path, fault: str) -> Iterator[None]:
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


def recordings_from_files(
    reader: UFOReader, folder: Path
) -> tuple[dict[str, Recording], dict[str, str]]:
    """Every glyph's recording by its name, and glyph names by character.

    Raises:
        FamilyError: a file that cannot be read as a glyph, or angles that are not one number for
            each contour.
    """
    with as_family_error(folder, "has a list of glyphs that cannot be read"):
        glyph_set = reader.getGlyphSet(validateRead=True)
    glyphs, pens, angles = {}, {}, {}
    names: dict[str, str] = {}
    for name in sorted(glyph_set.contents):
        path = folder / "glyphs" / glyph_set.contents[name]
        with as_family_error(path, "cannot be read as a glyph"):
            glyphs[name], pens[name] = glyph_set[name], _OriginsPen(glyph_set, name)
            glyphs[name].draw(pens[name])
            names.update({chr(code): name for code in getattr(glyphs[name], "unicodes", ())})
            own = sum(origin[0] == name for origin in pens[name].origins)
            angles[name] = _nib_angles(glyphs[name], own, path)
    recordings = {
        name: Recording(
            width=float(getattr(glyph, "width", 0)),
            commands=pens[name].value,
            nib_angles=tuple(angles[origin][place] for origin, place in pens[name].origins),
        )
        for name, glyph in glyphs.items()
    }
    return recordings, names


def _nib_angles(glyph: Any, n_contours: int, path: Path) -> list[float | None]:
    """The angles that a glyph's lib gives for its own contours, or `None` for each."""
    given = (getattr(glyph, "lib", None) or {}).get(_NIB_ANGLES_KEY)
    if given is None:
        return [None] * n_contours
    if (
        not isinstance(given, list)
        or len(given) != n_contours
        or not all(isinstance(one, int | float) and not isinstance(one, bool) for one in given)
    ):
        raise FamilyError(
            f"{path} must give {_NIB_ANGLES_KEY}, one angle in degrees for each of its "
            f"{n_contours} contours, not {given!r}",
            path=str(path),
        )
    return [float(one) for one in given]


def check_strokes(recordings: Mapping[str, Recording], folder: Path) -> None:
    """Refuses a font of outlines, whose letters would be drawn as their own contours.

    Raises:
        FamilyError: most glyphs have nothing but closed contours. A few may: a 0 can be meant so.
    """
    ends = {
        name: [op for op, _ in recording.commands if op in ("closePath", "endPath")]
        for name, recording in recordings.items()
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
