"""One reading of one recipe: TOML values in, a checked recipe or all of its faults out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from inkline.calendar.months import FIRST_YEAR, LAST_YEAR, MONTHS_PER_YEAR, month_length
from inkline.kit.recipe_faults import Fault, RecipeError, nearest
from inkline.kit.recipe_model import FormatRecipe, MarkedDay, Recipe, WordsRecipe, line_of
from inkline.kit.recipe_values import RefusedError, Scale, checked_value
from inkline.kit.schema import DEFAULT_FORMATS, TABLES, keys_of
from inkline.kit.schema_key import FORMATS, Key
from inkline.kit.schema_words import MarkedBy
from inkline.lettering.family import UFO_SUFFIX, family_names

MOST_FORMATS = 12
_DAY = re.compile(r"(?:(\d{4})-)?(\d\d)-(\d\d)")
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
        calendar = self.checked("calendar", self.table("calendar"), keys_of("calendar"))
        marks = self.marks()
        names = self.checked("names", self.table("names"), keys_of("names"))
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
            figures=lettering["figures"],
            font=font,
            style_name=self.style_place(style_name),
            style_changes=style,
            again=again,
            way=lettering["way"],
            guests=lettering["guests"],
            drawings=lettering["drawings"],
            swaps=lettering["swap"],
            numbering=lettering["numbering"],
            edition=top["edition"],
            week_starts=calendar["week_starts"],
            marks=marks,
            file_pattern=names["pattern"],
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
            shows = str(values.get("shows", format_name))
            return checked_value(key, values.get(key.name, key.default_for(format_name, shows)), self.scale)
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
        return FormatRecipe(name=name, **values)

    def words(self) -> WordsRecipe:
        """The words' values."""
        values = self.checked("words", self.table("words"), keys_of("words"))
        values["languages"] = values.pop("language")
        return WordsRecipe(**values)

    def marks(self) -> tuple[MarkedDay, ...]:
        """The days to be marked, each of one year or, without a year, of every year of the kit."""
        found = [self.marked_day(text, by) for text, by in self.table("marks").items()]
        return tuple(one for one in found if one is not None)

    def marked_day(self, text: str, by: Any) -> MarkedDay | None:
        """One marked day, or `None` where a fault was noted."""
        path, words = _joined("marks", text), [one.value for one in MarkedBy]
        parts = _DAY.fullmatch(text)
        year, month, day = (None if part is None else int(part) for part in parts.groups()) if parts else (None, 0, 0)
        # 2000 is a leap year, so that a day of every year may be a 29 February.
        known = (
            month is not None and 1 <= month <= MONTHS_PER_YEAR and (year is None or FIRST_YEAR <= year <= LAST_YEAR)
        )
        if not known or not 1 <= (day or 0) <= month_length(year or 2000, month or 1):
            self.refuse(
                path, f'marks: a day must be written as "2027-03-08", or "03-08" for every year, not "{text[:40]}"'
            )
            return None
        if by not in words:
            said = " or ".join(f'"{word}"' for word in words)
            self.refuse(path, f'marks."{text}" must be {said}, not {by!r:.40}')
            return None
        return MarkedDay(year=year, month=month or 0, day=day or 0, by=MarkedBy(by))

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
