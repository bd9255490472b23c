"""What a folder holds under one name: its files, and all that is said of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from pathlib import PurePosixPath
from typing import Any, Self

from inkline.folder.inside import refuse_path_elsewhere

_SAME_PLACE_PX = 1e-6
"""Places that differ by less are the same: platforms differ in the last bits, no layout does."""
_DRAWN_WITH = ("number", "style", "ink")
"""Keys of an entry that say what it was drawn with."""
_LAYOUT = ("lines", "glyphs", "boxes")
"""Keys of an entry that say where everything lies; they come last."""
_OWN = ("name", "file", "sha256", "inputs", "masters", "files")
"""Keys of an entry that the folder gives; all others are facts of the product's."""


class Section(StrEnum):
    """What an entry is of: something drawn, or a sheet that is made from what was drawn."""

    STAMPS = "stamps"
    SHEETS = "sheets"


@dataclass(frozen=True, slots=True, kw_only=True)
class FileSum:
    """A file of the folder, by its path from there, and its SHA-256 checksum.

    Raises:
        ValueError: the path leads out of the folder.
    """

    file: str
    sha256: str

    def __post_init__(self) -> None:
        refuse_path_elsewhere(self.file)


@dataclass(frozen=True, slots=True, kw_only=True)
class FileEntry:
    """One file of a name.

    Attributes:
        form: what kind of file it is, such as "png"; one name has one file of a form.
        file: where it lies, from the folder.
        sha256: its checksum as it was made.
        inputs: a digest of all that it depends on.

    Raises:
        ValueError: the path leads out of the folder.
    """

    form: str
    file: str
    sha256: str
    inputs: str

    def __post_init__(self) -> None:
        refuse_path_elsewhere(self.file)

    def to_dict(self) -> dict[str, str]:
        """The file as JSON values."""
        return {
            "form": self.form,
            "file": self.file,
            "sha256": self.sha256,
            "inputs": self.inputs,
        }


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What the manifest and the journal say of one name.

    Attributes:
        name: such as `standard/dates-3`.
        section: where it is listed.
        files: its files, the main one first; at least one.
        facts: what the product says of it, such as its kind and canvas.
        drawn_with: drawing number and style, of something drawn.
        masters: the file of its masters, or None.
        layout: where everything lies exactly.
    """

    name: str
    section: Section
    files: tuple[FileEntry, ...]
    facts: Mapping[str, Any] = field(default_factory=dict)
    drawn_with: Mapping[str, Any] = field(default_factory=dict)
    masters: FileSum | None = None
    layout: Mapping[str, Any] = field(default_factory=dict)

    @property
    def number(self) -> int | None:
        """The drawing number that it was drawn with, None if it doesn't say."""
        number = self.drawn_with.get("number")
        return number if isinstance(number, int) else None

    def of_form(self, form: str) -> FileEntry | None:
        """Its file of this form, None if it has none."""
        return next((one for one in self.files if one.form == form), None)

    def at(self, file: str) -> FileEntry | None:
        """Its file that lies at `file`, None if it has none there."""
        return next((one for one in self.files if one.file == file), None)

    def to_dict(self) -> dict[str, Any]:
        """The entry as JSON values, its layout last."""
        first, several = self.files[0], len(self.files) > 1
        values: dict[str, Any] = {"name": self.name, "file": first.file, "sha256": first.sha256}
        values |= {**self.facts, **self.drawn_with, "inputs": first.inputs}
        if self.section is Section.STAMPS:
            masters = self.masters
            values["masters"] = (
                None if masters is None else {"file": masters.file, "sha256": masters.sha256}
            )
        if several or first.form != _form_of(first.file):
            values["files"] = [one.to_dict() for one in self.files]
        return values | dict(self.layout)

    @classmethod
    def from_dict(cls, values: Mapping[str, Any], *, section: Section) -> Self:
        """The entry that `to_dict` gave.

        Raises:
            KeyError, TypeError, ValueError: something is missing or of another type.
        """
        name, masters = str(values["name"]), values.get("masters")
        for key in _LAYOUT:
            _refuse_other_layout(key, values.get(key, []))
        own = {*_OWN, *_DRAWN_WITH, *_LAYOUT}
        return cls(
            name=name,
            section=section,
            files=_files_from(values),
            facts={key: value for key, value in values.items() if key not in own},
            drawn_with={key: values[key] for key in _DRAWN_WITH if key in values},
            masters=None
            if masters is None
            else FileSum(file=str(masters["file"]), sha256=str(masters["sha256"])),
            layout={key: values[key] for key in _LAYOUT if key in values},
        )

    def same_layout(self, other: Entry) -> bool:
        """Whether both lay out the same things at the same places.

        Places may differ by a millionth of a px, since platforms differ in the last bits.
        """
        return _alike(self.facts, other.facts) and _alike(self.layout, other.layout)


def _refuse_other_layout(key: str, rows: Any) -> None:
    """Refuse a layout that isn't a list of objects.

    Raises:
        TypeError: it is something else.
    """
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise TypeError(f"{key!r}")


def _files_from(values: Mapping[str, Any]) -> tuple[FileEntry, ...]:
    """All files of an entry, the main one first."""
    if "files" in values:
        listed = tuple(
            FileEntry(**{key: str(one[key]) for key in ("form", "file", "sha256", "inputs")})
            for one in values["files"]
        )
        if listed:
            return listed
    file = str(values["file"])
    main = FileEntry(
        form=_form_of(file),
        file=file,
        sha256=str(values["sha256"]),
        inputs=str(values["inputs"]),
    )
    return (main,)


def _form_of(file: str) -> str:
    """The form of a file for which none is stated: its suffix."""
    return PurePosixPath(file).suffix.removeprefix(".")


def _alike(one: Any, other: Any) -> bool:
    """Whether two JSON values are equal but for differences of numbers that no layout means."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(_alike(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_alike, one, other))
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) <= _SAME_PLACE_PX
    return bool(one == other)


def moved_to(entry: Entry, files: Mapping[str, str]) -> Entry:
    """`entry` with its files where `files` wants them, by their forms."""
    return replace(
        entry,
        files=tuple(replace(one, file=files.get(one.form, one.file)) for one in entry.files),
    )
