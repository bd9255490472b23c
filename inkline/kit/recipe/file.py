"""One recipe file as it stands: its text, its TOML, its version, and the line of each key."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inkline.kit.recipe.keys import RECIPE_VERSION
from inkline.source.faults import Fault, RecipeError
from inkline.source.lines import key_lines, repeated_key
from inkline.source.places import FileLine, fault_at
from inkline.source.values import text_of_value

VERSION = "version"
_LARGEST_BYTES = 1_000_000
"""A recipe is a page of text; anything of this size is some other file."""
_TOO_DEEP = "this is not a recipe: its lists are nested too deeply"
_ENDLESS_KEY = re.compile(
    r"""^[ \t]*\[*(?:[ \t]*(?:[\w-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.){64}""", re.MULTILINE
)
_COMMA = re.compile(r"[ \t]*([\w.-]{1,60})[ \t]*=[ \t]*([+-]?[0-9]{1,9}),([0-9]{1,9})(?![\w,])")
"""A number with a comma in place of its point, as many languages write it."""
_DEEPEST = 16
"""Tables and lists within one another; a recipe needs six."""
_MOST_LINES = 500
"""Lines that are searched for what stands twice, which takes ever longer where a text or a list is
never closed."""
_LARGEST_WHOLE = 2**63
"""Whole numbers of TOML have 64 bits."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layers:
    """What a recipe says, as read from TOML and not yet checked.

    Attributes:
        values: nested tables.
        places: where each value and table stands, by its dotted path.
        source: the name of the file that was asked for.
        folder: the folder of that file.
        faults: what was found wrong on the way.
    """

    values: Mapping[str, Any]
    places: Mapping[str, FileLine]
    source: str
    folder: Path
    faults: tuple[Fault, ...] = ()

    def fault(self, key: str, sentence: str) -> Fault:
        """A fault of the value at `key`, where it stands."""
        return fault_at(key, sentence, places=self.places, source=self.source)


def recipe_file_text(path: Path, *, source: str) -> str:
    """The text of the recipe file at `path`, which messages call `source`.

    Raises:
        RecipeError: it cannot be read, is no UTF-8 or far too large.
    """
    try:
        with path.open("rb") as file:  # which may be a pipe that never ends
            data = file.read(_LARGEST_BYTES + 1)
        text = data.decode("utf-8-sig") if len(data) <= _LARGEST_BYTES else None
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise _reading_error(source, f"the recipe cannot be read ({reason}): {path}") from error
    except UnicodeDecodeError as error:
        raise _reading_error(
            source, "a recipe must be text in UTF-8, and this file is not"
        ) from error
    except ValueError as error:
        raise _reading_error(source, f"the recipe cannot be read ({error}): {path!r}") from error
    if text is None:
        raise _reading_error(
            source,
            f"a recipe must be a text of at most {_LARGEST_BYTES} bytes, and this file is larger",
        )
    return text


def own_layer(text: str, *, source: str, folder: Path) -> Layers:
    """What the TOML `text` itself says, without what it extends.

    Args:
        text: the whole file.
        source: what to call it.
        folder: where it lies.

    Raises:
        RecipeError: it is not TOML, or of another version.
    """
    text = text.replace("\r\n", "\n")
    values = _toml_values(text, source)
    places = {
        key: FileLine(source=source, line=line, folder=folder)
        for key, line in key_lines(text).items()
    }
    own = Layers(values=values, places=places, source=source, folder=folder)
    return _require_version(own)


def _toml_values(text: str, source: str) -> dict[str, Any]:
    if _ENDLESS_KEY.search(text):  # which the reader of TOML would take forever over
        raise _reading_error(source, _TOO_DEEP)
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _toml_error(text, source, str(error)) from error
    except RecursionError as error:
        raise _reading_error(source, _TOO_DEEP) from error
    except ValueError as error:  # a whole number of thousands of digits
        raise _reading_error(
            source, "this is not a recipe: it holds a number of thousands of digits"
        ) from error
    _refuse_extremes(values, source)
    return values


def _toml_error(text: str, source: str, reason: str) -> RecipeError:
    """The error of a text that Python's reader of TOML refuses for `reason`.

    What stands twice is named.
    """
    found = re.search(r"\(at line (\d+)", reason)
    line = int(found[1]) if found else text.rstrip().count("\n") + 1
    twice = repeated_key(text, last_line=line) if line <= _MOST_LINES else None
    if twice is not None:
        key, first, second = twice
        sentence = f"{key:.60} stands twice, here and on line {first}; one of them must go"
        return RecipeError([Fault(source=source, line=second, key=key, sentence=sentence)])
    comma = _COMMA.match(text.split("\n")[line - 1])
    if comma is not None:
        key, whole, rest = comma.groups()
        sentence = f"numbers are written with a point: {key} = {whole}.{rest}, not {whole},{rest}"
        return RecipeError([Fault(source=source, line=line, key=key, sentence=sentence)])
    return _reading_error(source, f"this is not TOML: {reason}", line=line)


def _refuse_extremes(values: dict[str, Any], source: str) -> None:
    """Refuse what no later step could even show: endless tables and numbers beyond all bounds."""
    open_ones: list[tuple[Any, int]] = [(values, 0)]
    while open_ones:
        value, depth = open_ones.pop()
        if depth > _DEEPEST:
            raise _reading_error(source, _TOO_DEEP)
        if isinstance(value, int) and abs(value) > _LARGEST_WHOLE:
            raise _reading_error(
                source, "this is not a recipe: it holds a whole number of more than 64 bits"
            )
        if isinstance(value, dict | list):
            inner = value.values() if isinstance(value, dict) else value
            open_ones += ((one, depth + 1) for one in inner)


def _require_version(own: Layers) -> Layers:
    """`own` with a version that this program reads.

    A missing version is one fault among others; of another one, nothing else is worth telling.
    """
    if VERSION not in own.values:
        missing = own.fault(
            VERSION,
            f"{VERSION} is required at the top, as {VERSION} = {RECIPE_VERSION}, and is missing",
        )
        values = {VERSION: RECIPE_VERSION, **own.values}
        return Layers(
            values=values,
            places=own.places,
            source=own.source,
            folder=own.folder,
            faults=(missing,),
        )
    version = own.values[VERSION]
    if isinstance(version, bool) or version != RECIPE_VERSION or not isinstance(version, int):
        sentence = (
            f"{VERSION} must be {RECIPE_VERSION}, the one that this inkline reads, not "
            f"{text_of_value(version)}"
        )
        newer = isinstance(version, int) and version > RECIPE_VERSION
        raise RecipeError(
            [own.fault(VERSION, sentence + ("; a newer inkline may read it" if newer else ""))]
        )
    return own


def _reading_error(source: str, sentence: str, *, line: int = 0) -> RecipeError:
    return RecipeError([Fault(source=source, line=line, key="", sentence=sentence)])
