"""What the pictures' files are called: the recipe's pattern filled in for each stamp.

The names are safe on every file system.

A stamp keeps its name, which seeds its ink and by which the manifest and the recipe know it; only
the file follows the pattern.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cache
from string import Formatter

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.calendar.names import LetterCase, NameWidth, month_names, weekday_names
from inkline.kit.recipe.key import FORMATS, WEEK_STARTS
from inkline.kit.recipe.model import Recipe, language_tags
from inkline.kit.stamps.names import (
    WEEKDAY_LABELS,
    WORDS,
    StampName,
    Subject,
    folder_of,
    last_part,
    name_from_text,
)
from inkline.kit.stamps.plan import StampPlan
from inkline.source.faults import Fault, RecipeError

_MOST_CHARACTERS, _MOST_BYTES = 100, 200
"""A file's name, its ending included: common file systems hold 255 bytes or UTF-16 units, and
folders around it need some of a path's 260."""
PLAIN = "{name}"
"""The pattern by which files are called as their stamps."""
_KEY = "names.pattern"
_SUFFIX = ".png"

_FORBIDDEN = frozenset('<>:"/\\|?*')
_RESERVED = frozenset(
    ["CON", "PRN", "AUX", "NUL"]
    + [f"{port}{digit}" for port in ("COM", "LPT") for digit in "123456789\u00b9\u00b2\u00b3"]
)
"""Names of devices, which Windows gives no file, whatever follows their first point.

Source of both: Microsoft, "Naming Files, Paths, and Namespaces", from memory. Linux and macOS
forbid less.
"""
_IN_A_LANGUAGE = frozenset({Subject.MONTH, Subject.WEEKDAYS, Subject.STRIP_WEEKDAYS})
_JOINERS = frozenset("\u200c\u200d")
"""Marks without width that some scripts need within a word."""

_EMPTY = "\0"
"""Stands for a part of the pattern that says nothing of a stamp; no text of a recipe holds it."""
_SEPARATORS = r"[-\u2010-\u2015_ .,;+~&=\u00b7]"
_OPENING, _CLOSING = "([{", ")]}"
_EMPTY_BRACKETS = re.compile(rf"[(\[{{]{_SEPARATORS}*{_EMPTY}(?:{_SEPARATORS}|{_EMPTY})*[)\]}}]")
_AROUND_EMPTY = re.compile(rf"({_SEPARATORS}*){_EMPTY}(?:{_SEPARATORS}*{_EMPTY})*({_SEPARATORS}*)")


def files_of(recipe: Recipe, names: Iterable[str]) -> dict[str, str]:
    """Where the picture of each of the stamps `names` lies in the kit's folder.

    Paths have forward slashes.

    Raises:
        RecipeError: there are `file_faults`; all of them at once.
    """
    files = _files(recipe, names)
    faults = _faults(recipe, files)
    if faults:
        raise RecipeError(faults)
    return files


def file_faults(recipe: Recipe, names: Iterable[str]) -> tuple[Fault, ...]:
    """What is wrong with the files of the stamps `names`.

    Two would be called alike where capitals don't count, one would be called too long a name, or a
    format is called by a name that no folder may have.
    """
    return _faults(recipe, _files(recipe, names))


def plans_with_files(recipe: Recipe, plans: Iterable[StampPlan]) -> tuple[StampPlan, ...]:
    """`plans` with their pictures called by the recipe's pattern.

    Raises:
        RecipeError: as `files_of`.
    """
    plans = tuple(plans)
    files = files_of(recipe, [plan.name for plan in plans])
    return tuple(
        plan if plan.file == files[plan.name] else replace(plan, picture=files[plan.name])
        for plan in plans
    )


def safe_name(text: str) -> str:
    """`text` as the name of a file, without its ending.

    It is in Unicode's form NFC and without what any common system refuses.
    """
    characters = (_safe_character(one) for one in unicodedata.normalize("NFC", text))
    name = unicodedata.normalize("NFC", re.sub(r" {2,}", " ", "".join(characters))).strip(" .")
    head, point, rest = name.partition(".")
    return f"{head}_{point}{rest}" if _is_reserved(head) else name


def text_from_pattern(pattern: str, parts: dict[str, str]) -> str:
    """The pattern with its parts filled in.

    Around a part that is empty the separators are one, and brackets go with it.
    """
    text = ""
    for literal, part, _, _ in Formatter().parse(pattern):
        text += literal + ("" if part is None else parts[part] or _EMPTY)
    text = _EMPTY_BRACKETS.sub(_EMPTY, text)
    return _AROUND_EMPTY.sub(lambda found: _between(found, text), text)


def _between(found: re.Match[str], text: str) -> str:
    """What stands in place of an empty part: the separators before it, or after it.

    At either end of the name or a bracket it is nothing.
    """
    if text[: found.start()][-1:] in {"", *_OPENING} or text[found.end() :][:1] in {"", *_CLOSING}:
        return ""
    return found[1] or found[2]


def parts_of(recipe: Recipe, name: str) -> dict[str, str]:
    """What a pattern may say of the stamp `name`, by the word that stands in braces.

    A part that has no meaning for the stamp is "".

    `days` and `month` are small letters in the language of the stamp: the weekday on which weeks
    begin and that of the month's first, for each day on which the kit's weeks begin or for the
    stamp's own.
    """
    read, folder = name_from_text(name), folder_of(name)
    language = _language(recipe, read) if read else ""
    return {
        "name": last_part(name),
        "days": "-".join(_days(recipe, read)) if read else "",
        "month": _month(language or recipe.words.language, read) if read else "",
        "format": "" if folder == WORDS else folder,
        "title": recipe.title,
        "edition": recipe.edition,
        "language": language,
    }


def _files(recipe: Recipe, names: Iterable[str]) -> dict[str, str]:
    return {name: f"{folder_of(name)}/{_file_stem(recipe, name)}{_SUFFIX}" for name in names}


def _faults(recipe: Recipe, files: dict[str, str]) -> tuple[Fault, ...]:
    return (*_folder_faults(recipe), *_length_faults(recipe, files), *_alike_faults(recipe, files))


def _file_stem(recipe: Recipe, name: str) -> str:
    if recipe.file_pattern == PLAIN:
        return last_part(name)
    return safe_name(text_from_pattern(recipe.file_pattern, parts_of(recipe, name)))


def _language(recipe: Recipe, name: StampName) -> str:
    """The language of a stamp with words, or "" if it has none."""
    if name.subject not in _IN_A_LANGUAGE:
        return ""
    tags = {tag: language for language, tag in language_tags(recipe).items()}
    return tags.get(name.language, recipe.words.language)


def _days(recipe: Recipe, name: StampName) -> Iterator[str]:
    if name.first:
        yield _weekdays(recipe.words.language)[WEEKDAY_LABELS.index(name.first)]
    if name.subject is Subject.WEEKDAYS:
        yield _weekdays(recipe.words.language)[WEEK_STARTS[name.start]]
    if name.column is None:
        return
    for start in [WEEK_STARTS[name.start]] if name.start else recipe.starts.values():
        for day in (start, (start + name.column - 1) % DAYS_PER_WEEK):
            yield _weekdays(recipe.words.language)[day]


def _month(language: str, name: StampName) -> str:
    if name.month is None:
        return ""
    width = NameWidth.ABBREVIATED if name.short else NameWidth.WIDE
    text = month_names(language, width=width, case=LetterCase.AS_WRITTEN)[name.month - 1]
    return _small(text, language)


@cache
def _weekdays(language: str) -> tuple[str, ...]:
    """The weekdays' abbreviated names in small letters, Monday first."""
    names = weekday_names(language, width=NameWidth.ABBREVIATED, case=LetterCase.AS_WRITTEN)
    return tuple(_small(name, language) for name in names)


def _small(text: str, language: str) -> str:
    """`text` in small letters and without an abbreviation's points.

    Turkish and Azeri keep their two i apart.
    """
    if language.replace("-", "_").split("_")[0].lower() in {"tr", "az"}:
        text = text.replace("\u0130", "i").replace("I", "\u0131")
    return text.lower().replace(".", "")


def _safe_character(one: str) -> str:
    category = unicodedata.category(one)
    if category == "Zs":
        return " "
    if category in {"Cc", "Cs", "Zl", "Zp"} or (category == "Cf" and one not in _JOINERS):
        return ""
    return "-" if one in _FORBIDDEN else one


def _is_reserved(name: str) -> bool:
    return name.strip(" ").upper() in _RESERVED


def _folder_faults(recipe: Recipe) -> Iterator[Fault]:
    for shape in recipe.formats:
        if _is_reserved(shape.name):
            key = f"{FORMATS}.{shape.name}"
            yield recipe.fault(
                key,
                f"{key} must be called by another name, since Windows can make no folder called "
                f'"{shape.name}"',
            )


def _length_faults(recipe: Recipe, files: dict[str, str]) -> Iterator[Fault]:
    """The longest name, if it is too long; a shorter pattern mends them all."""
    sizes = {
        name: (len(last := last_part(file)), len(last.encode())) for name, file in files.items()
    }
    too_long = {
        name: size
        for name, size in sizes.items()
        if size[0] > _MOST_CHARACTERS or size[1] > _MOST_BYTES
    }
    if too_long:
        name = max(too_long, key=lambda one: too_long[one][::-1])
        characters, n_bytes = too_long[name]
        yield recipe.fault(
            _KEY,
            f"{_KEY} must make names of at most {_MOST_CHARACTERS} characters and {_MOST_BYTES} "
            f"bytes with their {_SUFFIX}, and that of "
            f"{name} has {characters} characters and {n_bytes} bytes",
        )


def _alike_faults(recipe: Recipe, files: dict[str, str]) -> Iterator[Fault]:
    """Files that some system would take for one.

    It may not tell capitals from small letters, or composed letters from others.
    """
    first: dict[str, str] = {}
    for name, file in files.items():
        other = first.setdefault(_caseless(file), name)
        if other != name:
            yield recipe.fault(
                _KEY,
                f"{_KEY} must give each stamp a file of its own, and {other} and {name} would "
                f"both be called {file}",
            )


def _caseless(text: str) -> str:
    """The form in which two texts are equal if they differ in case at most.

    Source: Unicode 15, section 3.13, D145.
    """
    return unicodedata.normalize("NFD", unicodedata.normalize("NFD", text).casefold())
