"""Styles kept in files: which there are, one based on another, and one with changes made to it."""

from __future__ import annotations

import dataclasses
import difflib
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inkline.errors import InputError
from inkline.folder.reading import bytes_of_plain_file
from inkline.ink.style import EXACT, Style, fields_of_style, style_from_dict
from inkline.ink.values import StyleError, ValueKind
from inkline.source.lines import key_lines, line_of
from inkline.source.places import path_from_folder

SUFFIX = ".toml"
"""Ends the name of a style file; what ends otherwise is the name of a style that comes with
inkline."""
DEFAULT_STYLE = "round-pen"
"""The style of a recipe that names none."""
_BASED_ON, _ROOT = "based_on", "root"


@dataclass(frozen=True, slots=True, kw_only=True)
class StyleFile:
    """A style as it was read.

    Attributes:
        path: its file.
        style: all its values, those of the style that it is based on included.
        based_on: the style that lends what the file leaves out, or `None`.
    """

    path: Path
    style: Style
    based_on: StyleFile | None

    @property
    def base(self) -> Style:
        """What its values are changes to: the style that it is based on, or the exact drawing."""
        return self.based_on.style if self.based_on else EXACT


def style_files() -> dict[str, Path]:
    """The styles that come with inkline, by name, in a checkout as in an installed package."""
    package = Path(__file__).resolve().parents[1]
    folders = (package.parent / "shared" / "styles", package / "data" / "shared" / "styles")
    return {
        path.stem: path
        for folder in reversed(folders)
        for path in sorted(folder.glob(f"*{SUFFIX}"))
    }


def style_path(text: str, *, folder: Path = Path(), where: str) -> Path:
    """The file of the style that a user calls `text`: a name, or a path that ends in .toml.

    Args:
        text: what the user wrote.
        folder: where a relative path starts.
        where: what to call the place it was written in.

    Raises:
        InputError: there is no style of that name. Whether a file is there is found when it is
            read.
    """
    if text.endswith(SUFFIX):
        return path_from_folder(folder, text)
    files = style_files()
    if text in files:
        return files[text]
    near = difflib.get_close_matches(text, files, n=1)
    hint = (
        f"did you mean {near[0]!r}?" if near else f"there are {', '.join(sorted(files)) or 'none'}"
    )
    if "/" in text or "\\" in text:
        hint = f"a style file's name ends in {SUFFIX}"
    raise InputError(f"{where}: there is no style {text!r}; {hint}")


def read_style(path: Path) -> StyleFile:
    """The style in the file at `path`, and those that it is based on.

    Raises:
        InputError: one of them cannot be read, is not TOML or holds what a style can't, or they are
            based on one another in a circle.
    """
    return _read(path, above=())


def load_style(path: Path) -> Style:
    """The style in the file at `path`, as `read_style`."""
    return read_style(path).style


def style_of(name: str, changes: Mapping[str, Any], *, where: str, folder: Path = Path()) -> Style:
    """The style called `name`, or in the file so called, with `changes` made to it.

    Args:
        name: of a style, or the place of a file seen from `folder`.
        changes: nested plain values, as in a style file.
        where: what errors call the place where both were written.
        folder: where a relative place starts.

    Raises:
        InputError: there is no such style, or a change that it can't take.
    """
    style = load_style(style_path(name, folder=folder, where=f"{where}: style.name"))
    return style_from_dict(changes, where=where, base=style) if changes else style


def style_fields() -> dict[str, dataclasses.Field[Any]]:
    """The fields of all values by keys such as `edge.raggedness`, in the order of a style file."""
    top = fields_of_style()
    found = {name: field for name, field in top.items() if "kind" in field.metadata}
    for part in top:
        holder = getattr(EXACT, part)
        if dataclasses.is_dataclass(holder):
            found |= {f"{part}.{field.name}": field for field in dataclasses.fields(holder)}
    return found


def value_of(style: Style, key: str) -> Any:
    """The value of `style` called `key`, one of `style_fields`: a number or a word.

    Lengths are in mm, speeds in mm/s, angles in degrees.
    """
    part, _, name = key.rpartition(".")
    return getattr(getattr(style, part) if part else style, name)


def style_with_settings(
    base: Style, settings: Sequence[str], *, where: str
) -> tuple[Style, dict[str, Any]]:
    """The style `base` with `settings` made to it, and these as nested plain values.

    Args:
        base: the style to change.
        settings: `KEY=VALUE` each; lengths, speeds and angles with their unit.
        where: the option that they come from, named in errors.

    Raises:
        StyleError: all that is wrong with any of them, together.
    """
    changes, faults = _changes_from_settings(settings, where)
    try:
        style = style_from_dict(changes, where=where, base=base)
    except StyleError as error:
        raise StyleError([*faults, *error.faults]) from error
    if faults:
        raise StyleError(faults)
    return style, changes


def setting_from_text(text: str, key: str) -> str | float:
    """The value as a style file would hold it: a plain number as a number, all else as text."""
    field = style_fields().get(key)
    if field is None or field.metadata["kind"] is not ValueKind.SHARE:
        return text
    try:
        return float(text)
    except ValueError:
        return text


def _changes_from_settings(settings: Sequence[str], where: str) -> tuple[dict[str, Any], list[str]]:
    """Settings as nested values, and a sentence for each that is none."""
    parts = {
        field.name
        for field in dataclasses.fields(Style)
        if dataclasses.is_dataclass(getattr(EXACT, field.name))
    }
    known = {*style_fields(), *fields_of_style()}
    changes: dict[str, Any] = {}
    faults: list[str] = []
    for setting in settings:
        key, equals, text = (piece.strip() for piece in setting.partition("="))
        part, _, name = key.partition(".")
        held = changes.setdefault(part, {}) if name else changes
        if not (key and equals and text):
            faults.append(f'{where}: a value is set like "edge.raggedness=25um", not {setting!r}')
        elif key in parts:
            faults.append(
                f"{where}: {key} has several values; name one, such as {key}.{_first_of(key)}"
            )
        elif key not in known:
            faults.append(f"{where}: {no_such_value(key)}")
        elif (name or part) in held:
            faults.append(f"{where}: {key} is set twice; once is required")
        else:
            held[name or part] = setting_from_text(text, key)
    return {key: value for key, value in changes.items() if value != {}}, faults


def no_such_value(key: str) -> str:
    """The sentence for a key that no style has, with the nearest that one has."""
    known = list(style_fields())
    by_name = {one.rpartition(".")[2]: one for one in reversed(known)}
    name = key.rpartition(".")[2]
    near = (
        difflib.get_close_matches(key, known, n=1)
        or [by_name[one] for one in difflib.get_close_matches(name, by_name, n=1)]
        or [one for one in known if one.endswith(f".{key}")][:1]
    )
    hint = f'did you mean "{near[0]}"?' if near else "inkline style round-pen lists them"
    return f"{key}: there is no such value; {hint}"


def _first_of(part: str) -> str:
    return dataclasses.fields(getattr(EXACT, part))[0].name


def _read(path: Path, *, above: tuple[Path, ...]) -> StyleFile:
    """The style at `path`, which the styles `above` are based on, the nearest last."""
    _refuse_circle(path, above)
    text, values = _values(path)
    based_on = None
    if _ROOT in values:
        raise StyleError([f"{path.name}: {_ROOT}: there is no such value"])
    if _BASED_ON in values:
        based_on = _read(_base_path(values.pop(_BASED_ON), path), above=(*above, path))
    base = (
        dataclasses.replace(based_on.style, name=path.stem)
        if based_on
        else dataclasses.replace(EXACT, root=path.stem)
    )
    try:
        style = style_from_dict({"name": path.stem, **values}, where=path.name, base=base)
    except StyleError as error:
        lines = key_lines(text)
        raise StyleError([_with_line(fault, path.name, lines) for fault in error.faults]) from error
    return StyleFile(path=path, style=style, based_on=based_on)


_MOST_BYTES = 1_000_000
"""A style is a page of text."""


def _refuse_circle(path: Path, above: tuple[Path, ...]) -> None:
    places = [one.resolve() for one in above]
    if path.resolve() in places:
        names = [one.name for one in (*above[places.index(path.resolve()) :], path)]
        raise InputError(
            f"{names[0]}: a style may not be based on itself, as here: {' on '.join(names)}"
        )


def _values(path: Path) -> tuple[str, dict[str, Any]]:
    try:
        data = bytes_of_plain_file(path, most=_MOST_BYTES)
        text = data.decode("utf-8-sig").replace("\r\n", "\n")
        return text, tomllib.loads(text)
    except (OSError, ValueError, RecursionError) as problem:  # not to be read, not UTF-8, not TOML
        reason = (problem.strerror if isinstance(problem, OSError) else None) or problem
        raise InputError(f"the style {path} cannot be read: {reason}") from problem


def _base_path(given: object, path: Path) -> Path:
    if not isinstance(given, str) or not given:
        raise InputError(
            f"{path.name}: {_BASED_ON}: a style's name or a file ending in {SUFFIX} is required, "
            f"not {given!r}"
        )
    return style_path(given, folder=path.parent, where=f"{path.name}: {_BASED_ON}")


def _with_line(fault: str, file: str, lines: Mapping[str, int]) -> str:
    """The sentence with the line on which its key stands."""
    line = line_of(fault.removeprefix(f"{file}: ").partition(":")[0], lines)
    return fault.replace(f"{file}: ", f"{file}, line {line}: ", 1) if line else fault
