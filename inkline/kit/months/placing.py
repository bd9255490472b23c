"""Where and how a month is stamped into a picture, and the file that remembers it for others."""

from __future__ import annotations

import json
import os
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from inkline.errors import InputError
from inkline.output.look import colour_from_text
from inkline.source.faults import did_you_mean

PLACE_FILE = "place.toml"
BENEATH = "beneath"
"""In place of a colour: that of what lies beneath."""
_INK, _KEYS = "ink", ("on", "at", "across", "ink")
_PERCENT = re.compile(r"\s*([0-9]{1,4}(?:\.[0-9]{1,4})?)\s*%\s*", re.ASCII)
_LEAST_ACROSS, _MOST_ACROSS = 2.0, 100.0
_MOST_BYTES = 100_000
_HEAD = """\
# Where inkline stamps months into a picture, and in which colours. The other months of the year
# are stamped alike into this folder as long as this file lies in it; what a command says wins.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placing:
    """Where and how a month is stamped into a picture.

    Attributes:
        on: the picture.
        at: where the middle of the calendar lies, in per cent of the picture's width and height.
        across: how wide the calendar's grid is, in per cent of the picture's width; as wide as
            fits well if None.
        inks: colours of layers by their last names or kinds, "" for all that is ink; `BENEATH` of
            blocks.
    """

    on: Path
    at: tuple[float, float] = (50.0, 50.0)
    across: float | None = None
    inks: Mapping[str, str] = field(default_factory=dict)

    def colour_of(self, name: str, kind: str) -> str | None:
        """The colour that is asked for of the layer `name` of a kind; None if none is."""
        usual = self.inks.get("") if kind != "blocks" else None
        return self.inks.get(name, self.inks.get(kind, usual))


def placing_from_wishes(
    folder: Path,
    *,
    on: Path | None,
    at: str | None,
    across: str | None,
    inks: Sequence[str],
) -> Placing | None:
    """What is asked for, over what the file in `folder` remembers; None if no picture is named.

    Args:
        folder: where the months go.
        on: the picture.
        at: such as "40%,55%".
        across: such as "60%".
        inks: such as "dates=#27343d", "blocks=beneath" or "#27343d".

    Raises:
        InputError: something of it can't be used.
    """
    said = _remembered(folder / PLACE_FILE)
    asked = {"at": at, "across": across}
    is_asked = on is not None or any(asked.values()) or bool(inks)
    picture = on or (folder / str(said["on"]) if "on" in said else None)
    if picture is None:
        if is_asked:
            raise InputError(
                "a place, a width and inks are for a month on a picture, and none is given",
                setting="on",
            )
        return None
    own = {key: value for key, value in asked.items() if value is not None}
    values = {**said, **own}
    colours = {**_checked_inks(said.get(_INK, {})), **_inks_from_texts(inks)}
    across_text = values.get("across")
    return Placing(
        on=picture,
        at=_place(str(values.get("at", "50%,50%"))),
        across=None if across_text is None else _across(str(across_text)),
        inks=colours,
    )


def remembering_text(placing: Placing, folder: Path) -> str:
    """The file that remembers `placing` for the months in `folder`."""
    try:
        on = Path(os.path.relpath(placing.on.resolve(), folder.resolve())).as_posix()
    except ValueError:  # on another drive
        on = placing.on.resolve().as_posix()
    lines = [_HEAD, f"on = {_quoted(on)}"]
    lines.append(f'at = "{placing.at[0]:g}%,{placing.at[1]:g}%"')
    if placing.across is not None:
        lines.append(f'across = "{placing.across:g}%"')
    if placing.inks:
        lines += ["", f"[{_INK}]"]
        lines += [f"{_quoted(name)} = {_quoted(one)}" for name, one in placing.inks.items()]
    return "\n".join(lines) + "\n"


def is_remembered(placing: Placing, folder: Path) -> bool:
    """Whether the file in `folder` says just what `placing` is."""
    try:
        there = placing_from_wishes(folder, on=None, at=None, across=None, inks=())
    except InputError:
        return False
    return there is not None and (there.on.resolve(), there.at, there.across, there.inks) == (
        placing.on.resolve(),
        placing.at,
        placing.across,
        placing.inks,
    )


def refuse_unknown_inks(placing: Placing, layers: Sequence[tuple[str, str]]) -> None:
    """Refuse colours of layers that there aren't, and what lies beneath for others than blocks.

    Args:
        placing: what is asked for.
        layers: last name and kind of each layer.

    Raises:
        InputError: no layer is called so, or it isn't one of blocks.
    """
    known = dict.fromkeys(name for layer in layers for name in layer)
    kinds = dict(layers)
    for name, colour in placing.inks.items():
        if name and name not in known:
            raise InputError(
                f"no layer is called {name[:40]!r}{did_you_mean(name, known)}", setting=_INK
            )
        if colour == BENEATH and kinds.get(name, name) != "blocks":
            raise InputError(
                f"only blocks take the colour of what lies beneath, not {name or 'all ink'}",
                setting=_INK,
            )


def _remembered(file: Path) -> dict[str, Any]:
    """What `file` says; nothing if there is none.

    Raises:
        InputError: it can't be read, or it has other keys.
    """
    if not file.is_file():
        return {}
    try:
        if file.stat().st_size > _MOST_BYTES:
            raise InputError(f"{file} is too large to be what inkline wrote")
        values = tomllib.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError) as problem:
        raise InputError(f"{file} cannot be read: {problem}") from problem
    for key, value in values.items():
        if key not in _KEYS:
            raise InputError(
                f"{file} has an unknown key {key[:40]!r}{did_you_mean(key, dict.fromkeys(_KEYS))}"
            )
        wanted = dict if key == _INK else str
        if not isinstance(value, wanted):
            raise InputError(
                f"{file}: {key} must be {'a table' if key == _INK else 'a text'}, not {value!r}"
            )
    return values


def _checked_inks(values: Mapping[str, Any]) -> dict[str, str]:
    return {str(name): _ink(str(colour)) for name, colour in values.items()}


def _inks_from_texts(texts: Sequence[str]) -> dict[str, str]:
    found: dict[str, str] = {}
    for text in texts:
        name, _, colour = text.rpartition("=")
        found[name.strip()] = _ink(colour)
    return found


def _ink(text: str) -> str:
    return BENEATH if text.strip() == BENEATH else colour_from_text(text)


def _place(text: str) -> tuple[float, float]:
    """Two per cents, each from 0 to 100."""
    parts = [_PERCENT.fullmatch(part) for part in text.split(",")]
    shares = [float(part[1]) for part in parts if part is not None]
    if len(parts) != 2 or len(shares) != 2 or max(shares) > 100.0:
        raise InputError(
            "a place in a picture is how far from its left and from its top, each from 0% to 100%, "
            f'such as "40%,55%", not {text[:40]!r}',
            setting="at",
        )
    return shares[0], shares[1]


def _across(text: str) -> float:
    found = _PERCENT.fullmatch(text)
    if found is None or not _LEAST_ACROSS <= float(found[1]) <= _MOST_ACROSS:
        raise InputError(
            f"a calendar is from {_LEAST_ACROSS:g}% to {_MOST_ACROSS:g}% as wide as its picture, "
            f'such as "60%", not {text[:40]!r}',
            setting="across",
        )
    return float(found[1])


def _quoted(text: str) -> str:
    """A basic string of TOML, whose escapes are those of JSON."""
    return json.dumps(text, ensure_ascii=False)
