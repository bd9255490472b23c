"""One reading of one recipe: TOML values in, a checked recipe or all of its faults out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from inkline.calendar.names import LetterCase, LocaleError, NameWidth, week_start
from inkline.kit.recipe_faults import Fault, RecipeError, nearest
from inkline.kit.recipe_model import FormatRecipe, Recipe, WordsRecipe, line_of
from inkline.kit.recipe_values import RefusedError, Scale, checked_value
from inkline.kit.schema import DEFAULT_FORMATS, TABLES, keys_of
from inkline.kit.schema_key import FORMATS, Drawings, GapFrom, Guests, Key, Level, Side
from inkline.lettering.face import Figures
from inkline.lettering.family import UFO_SUFFIX, family_names
from inkline.lettering.writing import Way

MOST_FORMATS = 12
_FORMAT_NAME = re.compile(r"[a-z][a-z0-9-]{0,31}")
_TAKEN_NAMES = frozenset({"words", "masters"})
"""Names of the kit's other folders, which a format's folder would run into."""
_DEFAULT_SCALE = Scale(side_px=2500.0, ppi=300.0)


@dataclass(kw_only=True)
class Reading:
    """One reading of one recipe, which collects faults while it goes; use it once, by `recipe()`."""

    values: Mapping[str, Any]
    lines: Mapping[str, int]
    source: str
    folder: Path
    faults: list[Fault] = field(default_factory=list)
    scale: Scale = _DEFAULT_SCALE

    def recipe(self) -> Recipe:
        """The recipe, or all its faults as one error."""
        top = self.checked("", {name: value for name, value in self.values.items() if name not in TABLES}, keys_of(""))
        canvas = self.canvas()
        formats = self.formats()
        words = self.words()
        lettering = self.checked("lettering", self.table("lettering"), keys_of("lettering"))
        style = dict(self.table("style"))
        style_name = self.checked("style", {k: v for k, v in style.items() if k == "name"}, keys_of("style"))["name"]
        again = self.again()
        font = self.font(lettering["font"])
        family = self.family(lettering["family"])
        if self.faults:
            raise RecipeError(self.faults)
        style.pop("name", None)
        return Recipe(
            title=top["title"],
            number=top["number"],
            side_px=round(self.scale.side_px),
            ppi=canvas["ppi"],
            margin=canvas["margin"],
            safe=canvas["safe"],
            formats=formats,
            words=words,
            family=family,
            figures=Figures(lettering["figures"]),
            font=font,
            style_name=self.style_place(style_name),
            style_changes=style,
            again=again,
            way=Way(lettering["way"]),
            guests=Guests(lettering["guests"]),
            drawings=Drawings(lettering["drawings"]),
            swaps=lettering["swap"],
            axes=lettering["axes"],
            folder=self.folder,
            source=self.source,
            lines=self.lines,
        )

    def refuse(self, key: str, sentence: str) -> None:
        """Note a fault of the value at `key`."""
        self.faults.append(Fault(source=self.source, line=line_of(key, self.lines), key=key, sentence=sentence))

    def table(self, name: str) -> Mapping[str, Any]:
        """The table `name`, empty where the recipe has none."""
        found = self.values.get(name, {})
        if isinstance(found, dict):
            return found
        self.refuse(name, f"{name} must be a table, begun by a line [{name}]")
        return {}

    def checked(
        self, table: str, values: Mapping[str, Any], keys: tuple[Key, ...], *, format_name: str = ""
    ) -> dict[str, Any]:
        """Checked values of one table, defaults filled in; `None` where a fault was noted."""
        known = [key.name for key in keys]
        for name in values:
            if name not in known:
                place = f"in [{table}]" if table else "at the top of a recipe"
                others = known if table else [*known, *TABLES]
                self.refuse(_joined(table, name), f'there is no key "{name}" {place}{nearest(name, others)}')
        return {key.name: self.value(table, values, key, format_name) for key in keys}

    def value(self, table: str, values: Mapping[str, Any], key: Key, format_name: str) -> Any:
        """One checked value, or `None` where a fault was noted."""
        path = _joined(table, key.name)
        if key.name not in values and key.default is None:
            self.refuse(path, f"{path} is required, a whole number from {key.low:g} to {int(key.high)}, and is missing")
            return None
        try:
            return checked_value(key, values.get(key.name, key.default_for(format_name)), self.scale)
        except RefusedError as refused:
            self.refuse(path, f"{path} {refused}")
            return None

    def canvas(self) -> dict[str, Any]:
        """The canvas's own values; sets the scale by which all other lengths are read."""
        values = self.table("canvas")
        side, ppi, *_ = keys_of("canvas")
        resolution = self.quiet(ppi, values)
        self.scale = Scale(side_px=self.scale.side_px, ppi=resolution)
        length = self.quiet(side, values)
        self.scale = Scale(side_px=float(round(length.px(ppi=resolution))), ppi=resolution)
        return self.checked("canvas", values, keys_of("canvas"))

    def quiet(self, key: Key, values: Mapping[str, Any]) -> Any:
        """A value to measure by: the default's where the recipe's own is faulty, which `checked` reports."""
        try:
            return checked_value(key, values.get(key.name, key.default), self.scale)
        except RefusedError:
            return checked_value(key, key.default, self.scale)

    def formats(self) -> tuple[FormatRecipe, ...]:
        """The recipe's formats, or the default ones where it names none."""
        tables = self.table(FORMATS) or {name: {} for name in DEFAULT_FORMATS}
        if len(tables) > MOST_FORMATS:
            self.refuse(FORMATS, f"formats must hold at most {MOST_FORMATS} tables, not {len(tables)}")
            return ()
        found = [self.format(name, table) for name, table in tables.items()]
        return tuple(one for one in found if one is not None)

    def format(self, name: str, table: Any) -> FormatRecipe | None:
        """One format, or `None` where a fault was noted."""
        path = _joined(FORMATS, name)
        if not isinstance(table, dict):
            self.refuse(path, f"{path} must be a table, begun by a line [{path}]")
            return None
        if not _FORMAT_NAME.fullmatch(name) or name in _TAKEN_NAMES:
            self.refuse(
                path,
                "a format's name must be up to 32 small letters a to z, digits and hyphens, must begin with a letter "
                f'and be none of {", ".join(sorted(_TAKEN_NAMES))}, not "{name[:40]}"',
            )
            return None
        values = self.checked(path, table, keys_of(FORMATS), format_name=name)
        if None in values.values():
            return None
        for key, kind in (("gap_from", GapFrom), ("side", Side), ("level", Level)):
            values[key] = kind(values[key])
        return FormatRecipe(name=name, **values)

    def words(self) -> WordsRecipe:
        """The words' values."""
        values = self.checked("words", self.table("words"), keys_of("words"))
        if values["language"] is not None:
            try:
                week_start(values["language"])
            except LocaleError as error:
                self.refuse("words.language", f"words.language: {error}")
        for name, kind in (("letters", LetterCase), ("months", NameWidth), ("weekdays", NameWidth)):
            values[name] = None if values[name] is None else kind(values[name])
        return WordsRecipe(**values)

    def again(self) -> dict[str, int]:
        """How often what is named has been drawn."""
        counts = self.table("again")
        for name, count in counts.items():
            if not isinstance(count, int) or isinstance(count, bool) or not 1 <= count <= 1_000_000:
                path = _joined("again", name)
                self.refuse(path, f'again."{name}" must be a whole number from 1 to 1000000, not {count!r:.40}')
        return dict(counts)

    def font(self, text: str | None) -> Path | None:
        """The font file's place, or `None` for the stroke family."""
        if not text:
            return None
        path = self.folder / Path(text).expanduser()
        if not path.is_file():
            self.refuse("lettering.font", f"lettering.font must be a font file, and there is none at {path}")
        return path

    def style_place(self, text: str) -> str:
        """A style's name as it is; a style file's place, which is taken from the recipe's folder."""
        return str(self.folder / Path(text).expanduser()) if text.endswith(".toml") else text

    def family(self, name: str | None) -> str:
        """A family's name as it is, a UFO folder's place; a fault is noted if there is none."""
        if name is not None and name.endswith(UFO_SUFFIX):
            path = self.folder / Path(name).expanduser()
            if not path.is_dir():
                self.refuse("lettering.family", f"lettering.family must be a UFO folder, and there is none at {path}")
            return str(path)
        names = family_names()
        if name is not None and name not in names:
            known = ", ".join(f'"{one}"' for one in names)
            self.refuse(
                "lettering.family",
                f'lettering.family must be one of {known}, or a UFO folder ending in {UFO_SUFFIX}, not "{name}"',
            )
        return name or ""


def _joined(table: str, name: str) -> str:
    return f"{table}.{name}" if table else name
