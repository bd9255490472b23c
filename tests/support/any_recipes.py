"""Recipes of any allowed values: at the ends of their ranges, in pairs, and over-long."""

import dataclasses
import random
from decimal import Decimal

from inkline.ink.style import EXACT
from inkline.ink.values import ValueKind
from inkline.kit.recipe import kinds
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.keys import keys_of
from inkline.kit.recipe.text import EXAMPLES, toml_text

FORMAT_NAMES = ("standard", "tall", "wide", "strip", "week", "day", "small", "own")
STYLES = ("round-pen", "chalk", "brush-pen", "dry-pencil", "wash")
TABLES = ("canvas", "calendar", FORMATS, "words", "lettering")
_MOST_CHANGES = 4
_LARGEST_SIDE_PX = 700
"""Larger canvases only take longer."""
_LONG_DIGITS = (3, 17, 40, 300)
_UNITS = {ValueKind.LENGTH: "mm", ValueKind.SPEED: "mm/s", ValueKind.ANGLE: "deg"}
_NOT_BY_CHANCE = {
    *(f"lettering.{name}" for name in ("font", "family", "axes", "swap", "numbering"))
}
"""Keys that name files, or what few families have."""
_LANGUAGES = ("en", "de", "tr", "vi", "pt_BR", "fi")


def number_within(chance: random.Random, low: float, high: float) -> str:
    """A number of the range: one of its ends, just within it, or any, perhaps over-long."""
    low_exact, high_exact = Decimal(repr(low)), Decimal(repr(high))
    span = high_exact - low_exact
    share = Decimal(chance.choice(["0", "1", "1e-9", "0.999999999", repr(chance.random())]))
    number = low_exact + share * span
    digits = chance.choice(_LONG_DIGITS)
    if digits == 3:
        return f"{number:f}"
    tail = "".join(str(chance.randrange(10)) for _ in range(digits))
    long = f"{number:f}{'' if '.' in f'{number:f}' else '.'}{tail}"
    return long if Decimal(long) <= high_exact else f"{number:f}"


def _whole(chance, key):
    return str(
        chance.choice([int(key.low), int(key.high), chance.randint(int(key.low), int(key.high))])
    )


def _number(chance, key):
    return number_within(chance, key.low, key.high)


def _percentage(chance, key):
    return f'"{_number(chance, key)} %"'


def _share_or_length(chance, key):
    length = chance.choice(['"1 %"', '"9 pt"', '"0.2 mm"', '"50 %"'])
    return chance.choice([_number(chance, key), length])


def _sample(chance, values, *, least=0, most=3):
    return toml_text(chance.sample(list(values), chance.randint(least, most)))


_VALUES = {
    kinds.WHOLE: _whole,
    kinds.WHOLES: lambda chance, key: _sample(
        chance, range(int(key.low), int(key.high) + 1), least=1
    ),
    kinds.NUMBER: _number,
    kinds.PERCENT: _number,
    kinds.CHOICE: lambda chance, key: toml_text(chance.choice(key.choices)),
    kinds.CHOICES: lambda chance, key: _sample(chance, key.choices, least=1),
    kinds.LENGTH: _percentage,
    kinds.MARGIN: _percentage,
    kinds.SHARE_OR_LENGTH: _share_or_length,
    kinds.SHARE_OR_FIT: lambda chance, key: chance.choice([_number(chance, key), '"fit"']),
    kinds.SIDE: lambda chance, key: f'"{number_within(chance, key.low, _LARGEST_SIDE_PX)} px"',
    kinds.YEARS: lambda chance, _: _sample(chance, [1, 1583, 2027, 9999], most=2),
    kinds.LANGUAGES: lambda chance, _: _sample(chance, _LANGUAGES, least=1),
    kinds.SHIFTS: lambda *_: '{ "17" = ["15 %", "-15 %"] }',
}


def value_within(chance: random.Random, key) -> str:
    """A value that `key` allows by itself, as TOML."""
    usual = EXAMPLES.get(key.path, key.default)
    make = _VALUES.get(key.kind)
    return toml_text(usual) if make is None else make(chance, key)


def style_lines(chance: random.Random) -> list[str]:
    """Values of a style, at most three, as lines of its table."""
    fields = [
        (part.name, field)
        for part in dataclasses.fields(EXACT)
        if dataclasses.is_dataclass(getattr(EXACT, part.name))
        for field in dataclasses.fields(getattr(EXACT, part.name))
        if "kind" in field.metadata
    ]
    lines = []
    for part, field in chance.sample(fields, chance.randint(0, 3)):
        said = field.metadata
        if said["kind"] is ValueKind.CHOICE:
            given = toml_text(chance.choice(said["options"]))
        else:
            given = number_within(chance, said["low"], said["high"])
            unit = _UNITS.get(said["kind"])
            given = f'"{given} {unit}"' if unit else given
        lines.append(f"{part}.{field.name} = {given}")
    return lines


def any_recipe(seed: int) -> str:
    """A recipe of one format, with some values of every table changed."""
    chance = random.Random(seed)  # noqa: S311 - not for secrets
    name = chance.choice(FORMAT_NAMES)
    lines = ["version = 1", f"number = {chance.choice([0, 7, 999_999_999])}"]
    usual = {"canvas.side": '"300 px"', "words.years": "[2027]"}
    for table in TABLES:
        keys = [key for key in keys_of(table) if key.path not in _NOT_BY_CHANCE]
        changed = chance.sample(keys, min(len(keys), chance.randint(0, _MOST_CHANGES)))
        said = {f"{table}.{key.name}": value_within(chance, key) for key in changed}
        if table == FORMATS:
            said = {f"{FORMATS}.{name}.{path.split('.')[1]}": one for path, one in said.items()}
        for path, one in {
            **said,
            **{k: v for k, v in usual.items() if k.startswith(table)},
        }.items():
            lines.append(f"{path} = {said.get(path, one)}")
    if not any(line.startswith(FORMATS) for line in lines):
        lines.append(f"[{FORMATS}.{name}]")
    lines += ["[style]", f'name = "{chance.choice(STYLES)}"', *style_lines(chance)]
    return "\n".join(lines) + "\n"
