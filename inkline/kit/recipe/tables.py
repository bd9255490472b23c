"""Tables of a recipe, read key by key; faults are collected while the reading goes on."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from inkline.kit.recipe.key import FORMATS, Key, Scale
from inkline.kit.recipe.keys import KEYS, TABLES, keys_of
from inkline.source.faults import Fault, Fix, did_you_mean
from inkline.source.places import FileLine, fault_at, place_of
from inkline.source.values import RefusedError
from inkline.units import length_from_text

_MOST_UNKNOWN = 40
"""Unknown keys of a table that are told; with more it is no recipe, and looking for what is meant
takes time."""
_NEARLY = 0.85
"""How much alike two names are, of 1, of which one is surely meant by the other."""
_SHOWN = {FORMATS: f"{FORMATS}.NAME"}
"""How a table is called where its name says of which one it is."""


def _where_it_belongs(name: str, others: Sequence[str]) -> str:
    """What to say of a key that stands in the wrong table.

    "" of one that there is nowhere, or that is nearly one of `others`, those of its own table.
    """
    tables = [key.table for key in KEYS if key.name == name]
    if not tables or difflib.get_close_matches(name, others, n=1, cutoff=_NEARLY):
        return ""
    places = [f"in [{_SHOWN.get(table, table)}]" if table else "at the top" for table in tables]
    return f"; it belongs {' or '.join(dict.fromkeys(places))}"


def _usual_scale() -> Scale:
    """The scale of the canvas of a recipe that says nothing of it."""
    side, ppi, *_ = keys_of("canvas")
    return Scale(side_px=length_from_text(side.default).px(ppi=ppi.default), ppi=ppi.default)


@dataclass(kw_only=True)
class Tables:
    """The tables of one recipe while it is read.

    Attributes:
        values: what the recipe says, as read from TOML.
        places: where each value stands, by its dotted path.
        source: what the recipe is called in messages.
        folder: where its file lies.
        faults: what was found wrong so far.
        scale: what lengths are measured by; that of the default canvas until `read_canvas` has
            been called.
    """

    values: Mapping[str, Any]
    places: Mapping[str, FileLine]
    source: str
    folder: Path
    faults: list[Fault] = field(default_factory=list)
    scale: Scale = field(default_factory=_usual_scale)

    def refuse(self, key: str, sentence: str, *, fits: str = "") -> None:
        """Note a fault of the value at `key`; `fits` would mend it, as TOML writes it."""
        fixes = [Fix(key=key, value=fits)] if fits else ()
        self.faults.append(
            fault_at(key, sentence, places=self.places, source=self.source, fixes=fixes)
        )

    def folder_of(self, key: str) -> Path:
        """The folder of the file that says the value at `key`."""
        place = place_of(key, self.places)
        return place.folder if place else self.folder

    def table(self, name: str) -> Mapping[str, Any]:
        """The table `name`, empty where the recipe has none."""
        found = self.values.get(name, {})
        if isinstance(found, dict):
            return found
        self.refuse(name, f"{name} must be a table, begun by a line [{name}]")
        return {}

    def read_table(
        self,
        table: str,
        values: Mapping[str, Any],
        keys: tuple[Key, ...],
        *,
        defaults: Mapping[str, Any] | None = None,
    ) -> dict[str, Any]:
        """Values of one table by their names, `None` where a fault was noted.

        What the table leaves out is as `defaults` have it, or else as its keys do.
        """
        self.refuse_unknown(table, values, keys)
        return {
            key.name: self.read_value(
                table, values, key, (defaults or {}).get(key.name, key.default)
            )
            for key in keys
        }

    def refuse_unknown(self, table: str, values: Mapping[str, Any], keys: tuple[Key, ...]) -> None:
        """Note every key of `values` that the table doesn't have."""
        known = [key.name for key in keys]
        others = known if table else [*known, *TABLES]
        place = f"in [{table}]" if table else "at the top of a recipe"
        unknown = [name for name in values if name not in known]
        for name in unknown[:_MOST_UNKNOWN]:
            self.refuse(
                key_path(table, name),
                f'there is no key "{name:.60}" {place}'
                f"{_where_it_belongs(name, others) or did_you_mean(name, others)}",
            )
        if len(unknown) > _MOST_UNKNOWN:
            self.refuse(
                table,
                f"there are {len(unknown) - _MOST_UNKNOWN} more keys {place} that a recipe "
                f"doesn't have",
            )

    def read_value(self, table: str, values: Mapping[str, Any], key: Key, default: Any) -> Any:
        """One value as the program uses it, or `None` where a fault was noted."""
        path = key_path(table, key.name)
        given = values.get(key.name, default)
        if given is None:
            self.refuse(
                path,
                f"{path} is required, a whole number from {key.low:g} to {int(key.high)}, and is "
                f"missing",
            )
            return None
        try:
            return key.kind.read(key, given, self.scale)
        except RefusedError as refused:
            for one in self._refusals(key, given) or [refused]:
                where = key_path(path, one.inner) if one.inner else path
                self.refuse(where, f"{path} {one}", fits="" if one.inner else one.fits)
            return None

    def _refusals(self, key: Key, given: Any) -> list[RefusedError]:
        """What is wrong with each entry of a table of entries; nothing of another value."""
        found = []
        if key.kind.has_entries and isinstance(given, dict):
            for name, entry in given.items():
                try:
                    key.kind.read(key, {name: entry}, self.scale)
                except RefusedError as refused:
                    found.append(refused)
        return found

    def read_canvas(self) -> dict[str, Any]:
        """The canvas's own values; sets the scale by which all other lengths are read."""
        values = self.table("canvas")
        side, ppi, *_ = keys_of("canvas")
        resolution = self.value_or_default(ppi, values)
        self.scale = Scale(side_px=self.scale.side_px, ppi=resolution)
        length = self.value_or_default(side, values)
        self.scale = Scale(side_px=float(round(length.px(ppi=resolution))), ppi=resolution)
        return self.read_table("canvas", values, keys_of("canvas"))

    def value_or_default(self, key: Key, values: Mapping[str, Any]) -> Any:
        """A value to measure by, the default if the recipe's own is faulty; notes no fault."""
        try:
            return key.kind.read(key, values.get(key.name, key.default), self.scale)
        except RefusedError:
            return key.kind.read(key, key.default, self.scale)


def key_path(table: str, name: str) -> str:
    """The path of the key `name` of `table`, or of one at the top."""
    return f"{table}.{name}" if table else name
