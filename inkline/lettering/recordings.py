"""The glyphs of a UFO folder as its files record them, components resolved, and their strokes.

A composed letter has the widths and the joints of the letters that it is made of. Where its first
part has another form by its place in a word (`a.fina`), so has it (`aacute.fina`), unless the
family draws that form itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fontTools.misc.transform import Transform
from fontTools.pens.recordingPen import RecordingPen
from fontTools.pens.transformPen import TransformPen

from inkline.errors import Action, Remedy
from inkline.lettering.broad_nib import BroadNib, stroke_by_nib
from inkline.lettering.errors import FamilyError
from inkline.lettering.face import FLATTENING_EM, GlyphStroke
from inkline.lettering.joining import FORMS_BY_PLACE
from inkline.lettering.outline import FlatteningPen, refuse_far_points, stroke_along
from inkline.lettering.pen_widths import WIDTHS_KEY, NodeWidths, checked_widths, stroke_with_widths

if TYPE_CHECKING:
    from fontTools.ufoLib import UFOReader

_NIB_ANGLES_KEY = "inkline.nibAngles"
_OUTLINES = 6
"""So many glyphs of closed contours alone make a font of outlines, if they are most of it."""

_ENTRY, _EXIT = "entry", "exit"
"""Anchors at which letters join, named as OpenType's cursive attachment (GPOS 3) names them."""
_JOINT_UNITS = 1.0
"""A stroke that ends within this of an exit ends there; anchors are often rounded."""
_COMPONENT = "addComponent"
_ENDS = ("closePath", "endPath")

Commands = list[tuple[str, tuple[Any, ...]]]
_Point = tuple[float, float]
_Anchors = dict[str, tuple[_Point, ...]]
_Carried = tuple[float | None, NodeWidths | None]
"""What a contour carries: the angle of the nib, and widths."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Recording:
    """A glyph as its file has it, in font units.

    Attributes:
        width: its advance.
        commands: how it is drawn, as fontTools' recording pens say it.
        nib_angles: for each contour the angle at which the nib is turned for it, in degrees; `None`
            where it is the family's own.
        widths: for each contour the widths at its nodes in stems; `None` for an even one.
        entries: where a line may come in from the letter before.
        exit: where a line leaves to the next letter.
    """

    width: float
    commands: Commands
    nib_angles: tuple[float | None, ...]
    widths: tuple[NodeWidths | None, ...]
    entries: tuple[_Point, ...]
    exit: _Point | None

    def strokes(
        self, units_per_em: float, *, nib: BroadNib | None, stem: float
    ) -> tuple[GlyphStroke, ...]:
        """Its strokes in em, as the family's nib writes them; `stem` in font units."""
        pen = FlatteningPen({}, tolerance=FLATTENING_EM * units_per_em)
        for operator, operands in self.commands:
            getattr(pen, operator)(*operands)
        strokes = [
            stroke_along(contour, units_per_em)
            if own is None
            else stroke_with_widths(contour, own, units_per_em=units_per_em, stem=stem)
            for contour, own in zip(pen.contours, self.widths, strict=True)
        ]
        if nib is None:
            return tuple(strokes)
        return tuple(
            stroke_by_nib(stroke, nib.turned_to(angle), stem_em=stem / units_per_em)
            for stroke, angle in zip(strokes, self.nib_angles, strict=True)
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Source:
    """One glyph before its components are drawn in place."""

    width: float
    commands: Commands
    nib_angles: tuple[float | None, ...]
    widths: tuple[NodeWidths | None, ...]
    anchors: _Anchors

    @property
    def base(self) -> str | None:
        """The glyph that its first component draws."""
        return next((args[0] for operator, args in self.commands if operator == _COMPONENT), None)

    def with_base(self, name: str) -> _Source:
        """The same with another glyph for its first component."""
        commands = list(self.commands)
        at = next(place for place, (operator, _) in enumerate(commands) if operator == _COMPONENT)
        commands[at] = (_COMPONENT, (name, *commands[at][1][1:]))
        return replace(self, commands=commands)


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
    """Every glyph of the UFO in `folder` by its name, and glyph names by character.

    Raises:
        FamilyError: a file is broken, or its nib's angles, its widths or its joints don't fit its
            strokes; it is named.
    """
    with as_family_error(folder, "has a list of glyphs that cannot be read"):
        glyph_set = reader.getGlyphSet(validateRead=True)
    sources: dict[str, _Source] = {}
    names: dict[str, str] = {}
    for name in sorted(glyph_set.contents):
        path = folder / "glyphs" / glyph_set.contents[name]
        with as_family_error(path, "cannot be read as a glyph"):
            glyph, pen = glyph_set[name], RecordingPen()
            glyph.draw(pen)
            refuse_far_points(pen.value, width=getattr(glyph, "width", 0))
            sources[name] = _source(glyph, pen.value, path)
            names.update({chr(code): name for code in getattr(glyph, "unicodes", ())})
    files = {name: folder / "glyphs" / file for name, file in glyph_set.contents.items()}
    recordings = {}
    for name in (*sources, *_composed_forms(sources)):
        path = files.get(name, folder)
        with as_family_error(path, "cannot be read as a glyph"):
            recordings[name] = _recording_in_place(name, sources, path)
    return recordings, names


def _source(glyph: Any, commands: Commands, path: Path) -> _Source:
    anchors: _Anchors = {}
    for anchor in getattr(glyph, "anchors", ()):
        if anchor.get("name") in (_ENTRY, _EXIT):
            place = float(anchor["x"]), float(anchor["y"])
            anchors[anchor["name"]] = (*anchors.get(anchor["name"], ()), place)
    own = [item for item in commands if item[0] != _COMPONENT]
    n_contours = sum(operator in _ENDS for operator, _ in own)
    return _Source(
        width=float(getattr(glyph, "width", 0)),
        commands=commands,
        nib_angles=tuple(_nib_angles(glyph, n_contours, path)),
        widths=checked_widths(getattr(glyph, "lib", {}).get(WIDTHS_KEY), own, path),
        anchors=anchors,
    )


def _composed_forms(sources: dict[str, _Source]) -> list[str]:
    """Adds the forms that composed letters have through their first part; their names."""
    added: list[str] = []

    def has_form(name: str, form: str, within: tuple[str, ...] = ()) -> bool:
        wanted = f"{name}.{form}"
        if wanted in sources:
            return True
        base = sources[name].base if name in sources else None
        if base is None or base in within or not has_form(base, form, (*within, base)):
            return False
        sources[wanted] = sources[name].with_base(f"{base}.{form}")
        added.append(wanted)
        return True

    for name in list(sources):
        if "." not in name[1:]:
            for form in FORMS_BY_PLACE:
                has_form(name, form)
    return added


def _recording_in_place(name: str, sources: Mapping[str, _Source], path: Path) -> Recording:
    """One glyph with its components drawn where they stand.

    Raises:
        FamilyError: a component that there is not, or no stroke ends at its exit.
    """
    pen, parts, anchors = RecordingPen(), list[_Carried](), _Anchors()
    _draw(name, sources, Transform(), pen, parts, anchors)
    refuse_far_points(pen.value, width=sources[name].width)
    ends = [pen.value[at - 1][1][-1] for at, (op, _) in enumerate(pen.value) if op == "endPath"]
    leaving = next(iter(anchors.get(_EXIT, ())), None)
    if leaving is not None and not any(_is_near(leaving, end) for end in ends):
        raise FamilyError(
            f"{path} must have its anchor {_EXIT!r} where one of its strokes ends, not at "
            f"({leaving[0]:g}, {leaving[1]:g})",
            path=str(path),
        )
    return Recording(
        width=sources[name].width,
        commands=pen.value,
        nib_angles=tuple(angle for angle, _ in parts),
        widths=tuple(widths for _, widths in parts),
        entries=anchors.get(_ENTRY, ()),
        exit=leaving,
    )


def _draw(
    name: str,
    sources: Mapping[str, _Source],
    place: Transform,
    pen: RecordingPen,
    carried: list[_Carried],
    anchors: _Anchors,
) -> None:
    """Draws a glyph and its components with `pen`.

    Collects what their contours carry, and their anchors.

    An outer anchor goes before one of a component, an earlier component's before a later one's.
    """
    source, placed = sources[name], TransformPen(pen, place)
    for anchor, points in source.anchors.items():
        anchors.setdefault(anchor, tuple(place.transformPoints(points)))
    own = iter(zip(source.nib_angles, source.widths, strict=True))
    for operator, operands in source.commands:
        if operator == _COMPONENT:
            base, offset = operands
            if base not in sources:
                raise KeyError(f"there is no glyph called {base!r} in it")
            _draw(base, sources, place.transform(offset), pen, carried, anchors)
            continue
        getattr(placed, operator)(*operands)
        if operator in _ENDS:
            carried.append(next(own))


def _is_near(point: _Point, other: _Point) -> bool:
    return max(abs(point[0] - other[0]), abs(point[1] - other[1])) <= _JOINT_UNITS


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
