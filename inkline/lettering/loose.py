"""A glyph in a file of its own (GLIF, a part of the UFO 3 standard)."""

from __future__ import annotations

import plistlib
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import Any
from xml.parsers.expat import ExpatError

from fontTools.pens.recordingPen import RecordingPen

from inkline.folder.reading import bytes_of_plain_file
from inkline.lettering.errors import FamilyError
from inkline.lettering.family import UFO_SUFFIX
from inkline.lettering.outline import FlatContour, FlatteningPen, refuse_far_points

LARGEST_BYTES = 1_000_000
"""A glyph is a page of text; anything of this size is some other file."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LooseGlyph:
    """One glyph as its file has it, in font units.

    Attributes:
        width: its advance.
        recording: how it is drawn.
    """

    width: float
    recording: list[tuple[str, tuple[Any, ...]]]

    @property
    def is_outline(self) -> bool:
        """Whether all contours are closed, as those of filled letters are."""
        ends = [operator for operator, _ in self.recording if operator in ("closePath", "endPath")]
        return "endPath" not in ends

    def flat_contours(self, tolerance: float) -> list[FlatContour]:
        """Its contours, flattened to within `tolerance` font units."""
        pen = FlatteningPen({}, tolerance=tolerance)
        for operator, operands in self.recording:
            getattr(pen, operator)(*operands)
        return pen.contours


def family_around(path: Path) -> tuple[Path, str] | None:
    """The UFO folder that a glyph file lies in and the glyph's name there.

    None for a file by itself.
    """
    folder = path.resolve().parent.parent
    contents = path.resolve().parent / "contents.plist"
    if folder.suffix != UFO_SUFFIX or not contents.is_file():
        return None
    try:
        names = plistlib.loads(bytes_of_plain_file(contents, most=LARGEST_BYTES))
    except (OSError, ValueError, ExpatError):
        return None
    found = (
        [name for name, file in names.items() if file == path.name]
        if isinstance(names, dict)
        else []
    )
    return (folder, found[0]) if found else None


def loose_glyph(path: Path) -> LooseGlyph:
    """The glyph in the file at `path`.

    Raises:
        FamilyError: there is no such file, it is no GLIF, or it has nothing to draw or only parts
            of other glyphs.
    """
    from fontTools.pens.pointPen import PointToSegmentPen  # noqa: PLC0415
    from fontTools.ufoLib.glifLib import readGlyphFromString  # noqa: PLC0415 - slow; few want it

    if not path.is_file() or path.stat().st_size > LARGEST_BYTES:
        raise FamilyError(f"a glyph must be a GLIF file, and {path} is none", path=str(path))
    glyph, pen = SimpleNamespace(), RecordingPen()
    try:
        text = path.read_text(encoding="utf-8")
        readGlyphFromString(
            text, glyph, PointToSegmentPen(pen, outputImpliedClosingLine=False), validate=True
        )
        refuse_far_points(pen.value, width=getattr(glyph, "width", 0))
    except Exception as error:  # a broken file makes the reader raise nearly anything; see `family`
        reason = " ".join(str(error).split()).rstrip(".") or "its data is damaged"
        raise FamilyError(f"{path} cannot be read as a glyph: {reason}", path=str(path)) from error
    if any(operator == "addComponent" for operator, _ in pen.value):
        raise FamilyError(
            f"{path} is put together from other glyphs, which a file by itself does not hold; "
            f"give it contours of its own",
            path=str(path),
        )
    if not pen.value:
        raise FamilyError(f"{path} has no contours, so there is nothing to draw", path=str(path))
    return LooseGlyph(width=float(getattr(glyph, "width", 0)), recording=pen.value)
