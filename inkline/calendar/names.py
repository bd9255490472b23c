"""Names of months and weekdays in many languages, and the day on which a week begins.

From Unicode's CLDR by way of Babel.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from copy import deepcopy
from enum import StrEnum
from functools import cache

from babel import Locale, UnknownLocaleError, localedata
from babel.core import get_global
from babel.localedata import LocaleDataDict

from inkline.errors import InputError

_SEPARATE = frozenset(
    {
        "LATIN",
        "GREEK",
        "CYRILLIC",
        "ARMENIAN",
        "GEORGIAN",
        "HEBREW",
        "CJK",
        "HIRAGANA",
        "KATAKANA",
        "HANGUL",
    }
)
"""Scripts whose letters stand apart, by the first word of their characters' names.
Their letters stand in the order in which they are spoken."""


class NameWidth(StrEnum):
    """CLDR's two usable lengths of a name (its third, one letter, cannot tell March from May)."""

    WIDE = "wide"
    ABBREVIATED = "abbreviated"


class LetterCase(StrEnum):
    """Capitals throughout, or the letters as the language writes them."""

    CAPITALS = "capitals"
    AS_WRITTEN = "as written"


class LocaleError(InputError):
    """A language that is not known by the name given.

    Attributes:
        locale: what was given.
    """

    def __init__(self, message: str, *, locale: object) -> None:
        super().__init__(message)
        self.locale = locale


def month_names(locale: str, *, width: NameWidth, case: LetterCase) -> tuple[str, ...]:
    """The twelve month names, January first, in CLDR's form for a name that stands alone.

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    table = _names(locale)["months"]["stand-alone"][width.value]
    return tuple(
        text_in_case(str(table[number]), locale=locale, case=case) for number in range(1, 13)
    )


def weekday_names(locale: str, *, width: NameWidth, case: LetterCase) -> tuple[str, ...]:
    """The seven weekday names, Monday first, in CLDR's form for a name that stands alone.

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    table = _names(locale)["days"]["stand-alone"][width.value]
    return tuple(text_in_case(str(table[number]), locale=locale, case=case) for number in range(7))


def week_start(locale: str) -> int:
    """The day on which a week begins where `locale` is spoken, Monday 0 to Sunday 6.

    A bare language is taken where most of its speakers live (CLDR's likely subtags), as `en` is
    `en_US`. The day is only a default: CLDR has changed it for some countries from one release to
    the next.

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    return int(_locale_with_country(locale).first_week_day)


def weekday_letters(locale: str, *, count: int, case: LetterCase) -> tuple[str, ...]:
    """The seven weekday names in `count` letters, Monday first.

    One letter is CLDR's narrow form as it stands, for what a language takes as one letter may be
    two characters (Hungarian *sz*). Two letters are the beginning of CLDR's short form, three or
    more that of its abbreviated one, or of the whole name where those have fewer; accents stay with
    their letters. Where two days would begin alike, the short forms stand in full. Only scripts
    whose letters stand apart are cut. In others they join or change places, and a piece of a word
    reads as another one, so that CLDR's short or abbreviated form stands as it is.

    Args:
        locale: language.
        count: letters, at least 1.
        case: capitals or as written.

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    if count == 1:
        return tuple(
            text_in_case(name, locale=locale, case=case) for name in _forms(locale, "narrow")
        )
    short, longer = (
        _forms(locale, "short"),
        _forms(locale, "short" if count == 2 else "abbreviated"),
    )
    whole = _forms(locale, "wide")
    if not all(_can_be_cut(name) for name in whole):
        return tuple(text_in_case(name, locale=locale, case=case) for name in longer)
    cut = tuple(_beginning(name, full, count) for name, full in zip(longer, whole, strict=True))
    chosen = cut if len(set(cut)) == len(cut) else short
    return tuple(text_in_case(name, locale=locale, case=case) for name in chosen)


def _can_be_cut(name: str) -> bool:
    letters = (character for character in name if character.isalpha())
    return all(unicodedata.name(letter, "").split(" ")[0] in _SEPARATE for letter in letters)


def _forms(locale: str, width: str) -> tuple[str, ...]:
    """The weekdays' names in one of CLDR's widths, Monday first, without closing points."""
    table = _names(locale)["days"]["stand-alone"][width]
    return tuple(str(table[number]).removesuffix(".") for number in range(7))


def _beginning(name: str, full: str, count: int) -> str:
    """The first `count` letters of `name`, or of `full` if it has fewer."""
    letters = _clusters(name)
    return "".join((letters if len(letters) >= count else _clusters(full))[:count]).strip()


def _clusters(text: str) -> list[str]:
    """The letters of `text`, each with the marks that are combined with it."""
    clusters: list[str] = []
    for character in text:
        if clusters and unicodedata.category(character) in {"Mn", "Mc", "Me"}:
            clusters[-1] += character
        else:
            clusters.append(character)
    return clusters


def language_tag(locale: str) -> str:
    """The language's BCP 47 tag in small letters, such as "de" or "pt-br".

    It can be a piece of a name in every file system.

    However it is spelled (`pt_BR`, `pt-BR`), one language has one tag.

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    return re.sub("[^a-z0-9]+", "-", str(_locale(locale)).lower())


def language_name(locale: str, *, told_in: str = "en") -> str:
    """What a language is called, in English or another one, such as `German` for "de".

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    return _locale(locale).get_display_name(_locale(told_in)) or locale


def runs_right_to_left(locale: str) -> bool:
    """Whether `locale` is written from right to left.

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    return str(_locale(locale).character_order) == "right-to-left"


def default_numbering(locale: str) -> str:
    """The code of the numbering system that is usual for `locale`, such as "latn" or "arab".

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    return str(_locale_with_country(locale).default_numbering_system)


def text_in_case(text: str, *, locale: str, case: LetterCase) -> str:
    """`text` in the asked case, by the rules of its language (Unicode's SpecialCasing).

    Turkish and Azeri keep the dot of their dotted i; Greek capitals drop the accent of the small
    letters. An abbreviation's closing point is left out of capitals, where it is not needed and
    looks like dirt when stamped.
    """
    if case is LetterCase.AS_WRITTEN:
        return text
    language = locale.replace("-", "_").split("_")[0].lower()
    if language in {"tr", "az"}:
        text = text.replace("i", "İ").replace("ı", "I")
    capitals = text.upper()
    if language == "el":
        plain = unicodedata.normalize("NFD", capitals).replace("\N{COMBINING ACUTE ACCENT}", "")
        capitals = unicodedata.normalize("NFC", plain)
    return capitals.removesuffix(".")


@cache
def _names(locale: str) -> LocaleDataDict:
    """CLDR's names of months and days in a language, in a copy of its own.

    Where a language takes its names over from another width or context, Babel's own tables write
    what they found into data that languages share: in Babel 2.18, Hindi months are Hebrew once
    Hebrew ones have been read.
    """
    data = localedata.load(str(_locale(locale)))
    return LocaleDataDict(deepcopy({key: data[key] for key in ("months", "days")}))


@cache
def _locale(locale: str) -> Locale:
    try:
        return Locale.parse(locale, sep="-" if "-" in locale else "_")
    except (UnknownLocaleError, ValueError, TypeError) as error:
        raise LocaleError(
            'a language is required as CLDR names it, such as "en", "de" or "pt_BR", not '
            f"{locale!r}",
            locale=locale,
        ) from error


def _locale_with_country(locale: str) -> Locale:
    """The locale with the country where most of its speakers live, if it names none itself."""
    found = _locale(locale)
    if found.territory is not None:
        return found
    likely: Mapping[str, str] = get_global("likely_subtags")
    return _locale(likely.get(str(found), str(found)))
