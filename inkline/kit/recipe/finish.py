"""What a recipe says of a user's own artwork, and how its parts are read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inkline.kit.recipe.choices import ArtBeyond, ArtInk, ArtLetters, ArtLines, ArtSplit, Overlay
from inkline.kit.recipe.fragments import number_schema, table_schema, text_schema
from inkline.kit.recipe.key import Key, Scale, Schema
from inkline.output.look import Ground
from inkline.source.faults import did_you_mean
from inkline.source.values import (
    RefusedError,
    choice_in_words,
    did_you_mean_choice,
    is_number,
    text_of_value,
)

_CHOICES = {"lines": tuple(map(str, ArtLines)), "ink": tuple(map(str, ArtInk))}
_TEXTS = ("style", "family", "font")
_FIRMNESS = "firmness"
_KEYS = ("style", _FIRMNESS, "lines", "ink", "family", "font")
_LONGEST, _MOST_PARTS = 1024, 400


@dataclass(frozen=True, slots=True, kw_only=True)
class ArtPart:
    """What a recipe wants of a part of the artwork; `None` for what is as around it.

    Attributes:
        name: of a file, of a layer, or of a layer of a file, such as "plan/walls".
        style: a style's name, or a file that ends in .toml.
        firmness: how sure the hand is of all its marks, 0 to 1.
        lines: what of it is a line.
        ink: what becomes of it.
        family: letters for its text: a family by its name, or the path of one.
        font: a font file for its text.
    """

    name: str
    style: str | None = None
    firmness: float | None = None
    lines: ArtLines | None = None
    ink: ArtInk | None = None
    family: str | None = None
    font: Path | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishRecipe:
    """What a recipe says of a user's own artwork. The fields are the keys of the table `finish`."""

    files: tuple[Path, ...] = ()
    ground: Ground = Ground.BLACK
    split: ArtSplit = ArtSplit.WHOLE
    overlay: Overlay = Overlay.WITHOUT
    ppi: float = 300.0
    drawn_at: str = ""
    lines: ArtLines = ArtLines.BARS
    beyond_ink: ArtBeyond = ArtBeyond.LEFT_OUT
    letters: ArtLetters = ArtLetters.SET
    colours: tuple[str, ...] = ()
    pages: str = ""
    into_cells: str = ""
    parts: tuple[ArtPart, ...] = ()

    def may_draw(self, name: str) -> bool:
        """Whether `name` begins as what is drawn of one of the files does, or of a page of it."""
        first = name.split("/", maxsplit=1)[0]
        return any(first == file.stem or first.startswith(f"{file.stem}-") for file in self.files)


def parts_from(_key: Key, value: Any, _scale: Scale) -> tuple[ArtPart, ...]:
    """The parts of a table of tables, in order."""
    if not isinstance(value, Mapping) or len(value) > _MOST_PARTS:
        raise RefusedError(
            f"must be a table of at most {_MOST_PARTS} tables, each begun by a line "
            f"[finish.parts.NAME], not {text_of_value(value)}"
        )
    return tuple(_part(name, said) for name, said in value.items())


def _part(name: str, said: Any) -> ArtPart:
    if not isinstance(said, Mapping):
        sentence = f'must have a table for "{name:.40}", not {text_of_value(said)}'
        raise RefusedError(sentence, inner=name)
    for key, value in said.items():
        sentence = _refusal(key, value)
        if sentence:
            inner = f"{name}.{key}"
            raise RefusedError(f'of "{name:.40}": {key:.40} {sentence}', inner=inner)
    values: dict[str, Any] = dict(said)
    if _FIRMNESS in values:
        values[_FIRMNESS] = float(values[_FIRMNESS])
    for key, kind in (("lines", ArtLines), ("ink", ArtInk), ("font", Path)):
        if key in values:
            values[key] = kind(values[key])
    return ArtPart(name=name, **values)


def _refusal(key: str, value: Any) -> str:
    """What is wrong with a key of a part, or ""."""
    if key not in _KEYS:
        return f"is no key of a part{did_you_mean(key, _KEYS)}"
    if key == _FIRMNESS:
        is_share = is_number(value) and 0.0 <= value <= 1.0
        return "" if is_share else f"must be a number from 0 to 1, not {text_of_value(value)}"
    if key in _CHOICES:
        choices = _CHOICES[key]
        hint = did_you_mean_choice(value, choices)
        required = f"must be {choice_in_words(choices)}, not {text_of_value(value)}{hint}"
        return "" if isinstance(value, str) and value in choices else required
    is_text = isinstance(value, str) and 0 < len(value) <= _LONGEST and value.isprintable()
    return "" if is_text else f"must be a text on one line, not {text_of_value(value)}"


def parts_in_words(_key: Key) -> str:
    """What the tables of parts may hold."""
    said = [f"{name}: {choice_in_words(choices)}" for name, choices in _CHOICES.items()]
    return (
        "a table of tables, each with any of style, family and font, a firmness from 0 to 1, "
        f"and {'; '.join(said)}"
    )


def parts_schema(_key: Key) -> Schema:
    """The tables of parts as JSON Schema."""
    one = table_schema(dict(_schemas()))
    return {"type": "object", "additionalProperties": one, "maxProperties": _MOST_PARTS}


def _schemas() -> Iterator[tuple[str, Schema]]:
    yield from ((name, text_schema(_LONGEST) | {"minLength": 1}) for name in _TEXTS)
    yield _FIRMNESS, number_schema(0.0, 1.0)
    yield from ((name, {"enum": list(choices)}) for name, choices in _CHOICES.items())
