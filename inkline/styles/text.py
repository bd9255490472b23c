"""Styles in words: every value of one with what it does, and a file for a product line's own."""

from __future__ import annotations

import dataclasses
import json
import math
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inkline.errors import InputError
from inkline.folder.new_files import write_new
from inkline.ink.style import Style
from inkline.ink.values import ValueKind, text_from_number
from inkline.source.values import choice_in_words
from inkline.styles.files import SUFFIX, StyleFile, style_fields, style_files, value_of

PARTS = {
    "hand": "where the point goes",
    "nib": "how wide the ink is along the stroke",
    "edge": "where ink meets paper",
    "paper": "what the paper leaves bare",
    "firmness": "how sure the hand is of each kind of mark",
    "weights": "how heavy lines are where a recipe doesn't say",
}
"""The tables of a style, each in a few words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StyleValue:
    """One value of a style in words.

    Attributes:
        key: such as `edge.raggedness`.
        text: the value with its unit.
        base_text: what the style that it is based on has there.
        about: one sentence on what it does.
    """

    key: str
    text: str
    base_text: str
    about: str

    @property
    def differs(self) -> bool:
        """Whether the style sets it otherwise than what it is based on."""
        return self.text != self.base_text


@dataclass(frozen=True, slots=True, kw_only=True)
class StyleView:
    """All values of a style beside those that it was made from.

    Attributes:
        name: of the style.
        imitates: what it looks like, in a few words.
        lender: the name of the style that it was made from, or "" if that is the exact drawing.
        values: in the order of a style file.
    """

    name: str
    imitates: str
    lender: str
    values: tuple[StyleValue, ...]


def view_of_style(held: StyleFile, style: Style) -> StyleView:
    """`style` beside the one it was made from: its file's base, or the file where it has changes.

    Args:
        held: the style as it lies in its file.
        style: the same, perhaps with changes.
    """
    from_file = style == held.style
    lender = held.base if from_file else held.style
    return StyleView(
        name=style.name,
        imitates=style.imitates,
        lender="" if from_file and held.based_on is None else lender.name,
        values=tuple(style_values(style, base=lender)),
    )


def style_values(style: Style, *, base: Style) -> Iterator[StyleValue]:
    """All values of `style` against those of `base`, in the order of a style file."""
    for key, field in style_fields().items():
        text, base_text = value_text(style, key), value_text(base, key)
        yield StyleValue(key=key, text=text, base_text=base_text, about=field.metadata["about"])


def value_text(style: Style, key: str) -> str:
    """The value `key` of `style` as a person would write it, with its unit."""
    kind, held = style_fields()[key].metadata["kind"], value_of(style, key)
    if kind is ValueKind.CHOICE:
        return str(held)
    written = text_from_number(held, kind)
    return f"{written:g}" if isinstance(written, float) else written


def write_style(base: StyleFile, changes: Mapping[str, Any], file: Path) -> None:
    """Write a style file that takes `base` and makes `changes`, which have been checked.

    Raises:
        InputError: the file's name is no style file's, or it exists.
        WorkError: it cannot be written.
    """
    if file.suffix != SUFFIX:
        raise InputError(
            f"a style file's name must end in {SUFFIX}, not {str(file)!r}", setting="style file"
        )
    write_new(file, style_file_text(base, changes, target=file).encode())


def style_file_text(base: StyleFile, changes: Mapping[str, Any], *, target: Path) -> str:
    """The text of a style file that takes `base` and makes `changes`.

    Beside each change stands what the value does, and what it is in the base.

    Args:
        base: the style to build on.
        changes: nested plain values that have been checked.
        target: where the file will lie; a base that is a file is found from there.
    """
    lines = [
        f"# {target.stem}: the style {base.style.name}, with values of its own.",
        (
            "# Lengths lie on the sheet on which the style was drawn; what is left out is as in "
            "the style below."
        ),
        f"based_on = {_toml_string(_base_name(base, target))}",
    ]
    plain = {key: value for key, value in changes.items() if not isinstance(value, Mapping)}
    for key, value in plain.items():
        lines += _value_lines(key, key, value, base)
    for part, values in changes.items():
        if isinstance(values, Mapping):
            lines += ["", f"[{part}]"]
            for name, value in values.items():
                lines += _value_lines(f"{part}.{name}", name, value, base)
    return "\n".join(lines) + "\n"


def _value_lines(key: str, name: str, value: str | float, base: StyleFile) -> Iterator[str]:
    written = f"{name} = {_toml_string(value) if isinstance(value, str) else repr(value)}"
    field = style_fields().get(key)
    if field is None:
        yield written
        return
    yield f"# {field.metadata['about']}"
    yield f"{written}    # {value_text(base.style, key)} in {base.style.name}"


def _base_name(base: StyleFile, target: Path) -> str:
    """The name of a style that comes with inkline, else the way from `target` to its file."""
    if style_files().get(base.path.stem) == base.path:
        return base.path.stem
    try:
        way = os.path.relpath(base.path.resolve(), target.resolve().parent)
    except ValueError:  # on another drive, to which no relative path leads
        way = str(base.path.resolve())
    return Path(way).as_posix()


def _toml_string(text: str) -> str:
    """`text` as a basic string of TOML, whose escapes are those of JSON (TOML 1.0).

    What JSON leaves as it is, TOML forbids only for DEL.
    """
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def allowed_in_words(field: dataclasses.Field[Any]) -> str:
    """What is allowed at a value of a style, in words, without a full stop."""
    kind: ValueKind = field.metadata["kind"]
    if kind is ValueKind.CHOICE:
        return choice_in_words(field.metadata["options"])
    low, high = (text_from_number(field.metadata[end], kind) for end in ("low", "high"))
    span = (
        f"of at least {_text_of_bound(low)}"
        if math.isinf(field.metadata["high"])
        else f"from {_text_of_bound(low)} to {_text_of_bound(high)}"
    )
    return f"{kind.value}, {span}"


def _text_of_bound(value: str | float) -> str:
    return value if isinstance(value, str) else f"{value:g}"
