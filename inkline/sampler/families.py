"""What there is to say of a stroke family: what it holds, and what it still lacks."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from babel import Locale

from inkline.calendar.names import LetterCase, NameWidth, month_names, week_start, weekday_names
from inkline.lettering.family import StrokeFamily
from inkline.lettering.faults.sentences import fault_sentences
from inkline.lettering.review import Review

LANGUAGES = (
    "en", "de", "fr", "es", "it", "pt", "nl", "sv", "da", "nb", "fi", "pl", "cs", "hu", "ro", "tr",
    "hr", "sk", "sl", "et", "lv", "lt", "is", "ga", "eu", "ca", "vi", "id",
)  # fmt: skip
"""Languages of Latin script whose months and weekdays families are drawn for (names by CLDR)."""
FIGURES = "0123456789"
CAPITALS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
SMALL_LETTERS = CAPITALS.lower()
_SIGNS = " .,-–&'/()#+:"
_GROUPS = {
    "figures": FIGURES,
    "capitals": CAPITALS,
    "small letters": SMALL_LETTERS,
    "signs": _SIGNS,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyReport:
    """What there is to say of a family.

    Attributes:
        holds: what it holds, in one sentence.
        missing: sentences on what it lacks; none if it is complete.
        uneven: sentences on what is drawn unevenly; advice, since a family may mean it so.
    """

    holds: str
    missing: tuple[str, ...]
    uneven: tuple[str, ...]


def family_report(family: StrokeFamily, *, languages: Sequence[str] = LANGUAGES) -> FamilyReport:
    """What there is to say of a family; 2 s.

    Args:
        family: the family.
        languages: whose month and weekday names it is meant to write.

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    return FamilyReport(
        holds=contents_of_family(family),
        missing=(*_missing_groups(family), *_missing_letters(family, languages)),
        uneven=(
            *Review(family).sentences(),
            *fault_sentences(family, words=_words_of(languages)),
        ),
    )


def contents_of_family(family: StrokeFamily) -> str:
    """How many characters a family holds, and of which there are other forms."""
    forms = {c: len(family.alternates(c)) for c in family.characters if c.isalnum() or c == "&"}
    named = ", ".join(character for character, count in forms.items() if count)
    others = f", and {sum(forms.values())} other forms (of {named})" if named else ""
    return f"{len(family.characters)} characters{others}"


def _words_of(languages: Sequence[str]) -> tuple[str, ...]:
    """The names of months and weekdays in these languages, each once, in order.

    Names count wide and abbreviated, as written and in capitals.

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    for language in languages:
        week_start(language)  # refuses what is no language
    texts = [
        unicodedata.normalize("NFC", text)
        for language in languages
        for width in NameWidth
        for case in LetterCase
        for names in (month_names, weekday_names)
        for text in names(language, width=width, case=case)
    ]
    return tuple(dict.fromkeys(texts))


def letters_of(language: str) -> tuple[str, ...]:
    """The characters of a language's month and weekday names, sorted.

    Raises:
        LocaleError: a language that CLDR doesn't know.
    """
    return tuple(sorted(set("".join(_words_of([language])))))


def _missing_groups(family: StrokeFamily) -> Iterator[str]:
    for kind, characters in _GROUPS.items():
        lacking = [character for character in characters if not family.has(character)]
        if len(lacking) == len(characters):
            yield f"All {kind} are missing."
        elif lacking:
            yield f"Of the {kind} {_missing_sentence(lacking)}"


def _missing_letters(family: StrokeFamily, languages: Sequence[str]) -> Iterator[str]:
    """A sentence for each language whose letters, beyond the plain ones, are not all there."""
    plain = set("".join(_GROUPS.values()))
    for language in languages:
        lacking = [
            one
            for one in letters_of(language)
            if one not in plain and not one.isspace() and not family.has(one)
        ]
        if lacking:
            name = (
                Locale.parse(language, sep="-" if "-" in language else "_").english_name or language
            )
            yield f"For {name} ({language}) {_missing_sentence(lacking)}"


def _missing_sentence(characters: Sequence[str]) -> str:
    """The end of a sentence that says that `characters` are missing."""
    texts = " ".join("space" if one == " " else one for one in characters)
    return f"{texts} {'is' if len(characters) == 1 else 'are'} missing."
