"""Changes of the layout that the page asks for, each made to the recipe's text."""

from __future__ import annotations

import tomllib
from contextlib import suppress
from pathlib import Path, PurePath
from tempfile import TemporaryDirectory
from typing import Any

from inkline.desk.bringing import keep_beside, name_to_keep
from inkline.desk.desk import Desk
from inkline.desk.editing import Edit, Way, value_at
from inkline.desk.layout import value_from_typed, way_of_key
from inkline.desk.limited import limited
from inkline.desk.looking import kits_of
from inkline.errors import InputError
from inkline.kit.recipe.key import FORMATS
from inkline.lettering.licence import font_licence

_FONT_SUFFIXES = frozenset({".ttf", ".otf", ".woff", ".woff2"})
_LONGEST_VALUE = 200
_MOST_SHIFT_PX = 400.0


def lay_out(desk: Desk, way: Any, typed: Any) -> None:
    """Set what was typed for the key at `way`; None lets it be as usual.

    Raises:
        InputError: no such key.
    """
    names = tuple(map(str, way)) if isinstance(way, list) else ()
    value = value_from_typed(names, "" if typed is None else typed)
    desk.edit([Edit(way=names, value=None if typed is None else value)])


def mend(desk: Desk, key: Any, value: Any) -> None:
    """Set the key at the path `key` to a value as TOML writes it; None lets it be as usual.

    Raises:
        InputError: no such key, or no value.
    """
    way = way_of_key(str(key))
    if value is None:
        desk.edit([Edit(way=way, value=None)])
        return
    with suppress(tomllib.TOMLDecodeError, TypeError):
        if isinstance(value, str) and len(value) <= _LONGEST_VALUE:
            desk.edit([Edit(way=way, value=tomllib.loads(f"it = {value}")["it"])])
            return
    raise InputError(f"{value!r:.60} is no value of a recipe")


def look_at(desk: Desk, kit: Any) -> None:
    """Look at the kit of this name among several.

    Raises:
        InputError: there is none.
    """
    if kit not in kits_of(desk.sheet):
        raise InputError(f'there is no kit "{kit!s:.60}" in this recipe')
    desk.kit = str(kit)


def nudge(desk: Desk, name: Any, right: Any, lower: Any) -> None:
    """Move the numeral `name`, such as `tall/dates-3/17`, by px of the canvas, on all its stamps.

    Where it comes back to its own place, nothing is said of it any more.

    Args:
        desk: whose recipe says it.
        name: of the numeral's drawing.
        right: how far to the right.
        lower: how far down.

    Raises:
        InputError: it is no numeral, or no distance.
    """
    way = _way_of_shift(str(name))
    by = _distance(right), _distance(lower)
    moved = [was + step for was, step in zip(_shift_px(desk, way), by, strict=True)]
    if not any(moved):
        desk.edit([Edit(way=way, value=None)])
        return
    desk.edit([Edit(way=way, value=[f"{round(px, 2):g} px" for px in moved])])


def put_back(desk: Desk, name: Any) -> None:
    """Let the numeral `name` stand in its own place again.

    Raises:
        InputError: it is no numeral.
    """
    desk.edit([Edit(way=_way_of_shift(str(name)), value=None)])


def swap_form(desk: Desk, character: Any, form: Any) -> None:
    """Draw `character` by the form of that name wherever it stands; None for the usual one.

    Raises:
        InputError: it is no character.
    """
    if not isinstance(character, str) or len(character) != 1:
        raise InputError("one character is required")
    value = None if form is None else str(form)[:_LONGEST_VALUE]
    desk.edit([Edit(way=("lettering", "swap", character), value=value)])


def take_font(desk: Desk, name: str, data: bytes) -> None:
    """Draw the letters of a font file that was brought; it is kept beside the recipe.

    It is read in a process of its own first. A file of that name that is another one stays as it
    is, and this gets another name.

    Args:
        desk: whose recipe takes it.
        name: what the file was called.
        data: what it holds.

    Raises:
        InputError: it is no font that can be used.
        WorkError: it can't be written.
    """
    kept = name_to_keep(name, otherwise="font")
    if PurePath(kept).suffix not in _FONT_SUFFIXES:
        raise InputError(f"a font is a file of TTF, OTF, WOFF or WOFF2, not {name!r:.80}")
    with TemporaryDirectory() as folder:
        file = Path(folder) / kept
        file.write_bytes(data)
        limited(font_licence, file)
    place = keep_beside(desk.document.path.parent.resolve(), kept, data)
    desk.edit([Edit(way=("lettering", "font"), value=place.name)])


def _way_of_shift(name: str) -> Way:
    parts = name.split("/")
    if len(parts) != len(("format", "stamp", "numeral")) or not parts[-1].isdecimal():
        raise InputError("only a numeral can be moved in its cell")
    return FORMATS, parts[0], "shift", parts[-1]


def _shift_px(desk: Desk, way: Way) -> tuple[float, float]:
    """How far a numeral is moved already; what is said in another unit counts from nothing."""
    said = value_at(desk.document.text, way)
    if isinstance(said, list) and len(said) == len(("right", "lower")):
        with suppress(ValueError):
            right, lower = (float(str(one).removesuffix("px")) for one in said)
            return right, lower
    return 0.0, 0.0


def _distance(given: Any) -> float:
    if isinstance(given, int | float) and abs(given) <= _MOST_SHIFT_PX:
        return float(given)
    raise InputError("a distance in px is required")
