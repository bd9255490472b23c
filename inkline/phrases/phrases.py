"""Phrases for those who buy a kit: those that come with inkline, and those of a file of one's own.

A file of phrases is TOML: tables of sentences, each under a key, with what is filled in between
braces. Sentences that count have a table of two, `one` and `other`. `en.toml` holds every key, and
is what others leave out.
"""

from __future__ import annotations

import string
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from inkline.errors import InputError

USUAL_LANGUAGE = "en"
_SUFFIX = ".toml"
_MOST_LETTERS = 600
"""Of a sentence."""
_ONE, _OTHER = "one", "other"


class PhrasesError(InputError):
    """A file of phrases cannot be used."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrases:
    """Sentences by their keys, such as `shop.inside`.

    Attributes:
        language: in which they are, as CLDR calls it.
        own: sentences that go before those that come with inkline, by their keys.
    """

    language: str = USUAL_LANGUAGE
    own: Mapping[str, str] = field(default_factory=dict)

    def say(self, key: str, **values: object) -> str:
        """The sentence of `key` with `values` in place of what stands between braces.

        Raises:
            LookupError: there is no such key, not even in English.
        """
        text = self.own.get(key) or _shipped(self.language).get(key) or _english()[key]
        return text.format(**values) if "{" in text else text

    def count(self, key: str, n: int, **values: object) -> str:
        """The sentence of `key` for `n` things."""
        return self.say(f"{key}.{_ONE if n == 1 else _OTHER}", n=n, **values)

    def has(self, key: str) -> bool:
        """Whether there is a sentence of `key`."""
        return key in self.own or key in _english()


def phrase_files() -> dict[str, Path]:
    """The files of phrases that come with inkline by their languages."""
    package = Path(__file__).resolve().parents[1]
    folders = (package.parent / "shared" / "phrases", package / "data" / "shared" / "phrases")
    return {
        path.stem: path
        for folder in reversed(folders)
        for path in sorted(folder.glob(f"*{_SUFFIX}"))
    }


def phrases_from_text(text: str) -> dict[str, str]:
    """The sentences of a file of one's own by their keys.

    Raises:
        PhrasesError: it is no TOML, or a sentence is none of those there are, or holds other
            braces than its English one.
    """
    try:
        said = _flat(tomllib.loads(text))
    except (tomllib.TOMLDecodeError, RecursionError) as problem:
        raise PhrasesError(f"it is no TOML: {problem}") from problem
    for key, sentence in said.items():
        _refuse_unfitting(key, sentence)
    return said


def _refuse_unfitting(key: str, sentence: str) -> None:
    """Refuse a sentence that can't stand for the English one.

    Raises:
        PhrasesError: it can't.
    """
    usual = _english().get(key)
    if usual is None:
        raise PhrasesError(f"there is no sentence {key[:60]!r}; shared/phrases/en.toml holds all")
    if len(sentence) > _MOST_LETTERS:
        raise PhrasesError(f"{key} must have at most {_MOST_LETTERS} letters, not {len(sentence)}")
    try:
        blanks = set(_blanks(sentence))
    except ValueError as problem:
        raise PhrasesError(f"{key} has braces that don't close: {sentence[:60]!r}") from problem
    allowed = set(_blanks(usual))
    if not blanks <= allowed:
        raise PhrasesError(
            f"{key} may hold {_in_words(allowed)} between braces, not {_in_words(blanks - allowed)}"
        )


def _in_words(names: set[str]) -> str:
    return ", ".join(f"{{{name}}}" for name in sorted(names)) or "nothing"


def _blanks(sentence: str) -> Iterator[str]:
    """What is filled into a sentence."""
    for _, name, spec, conversion in string.Formatter().parse(sentence):
        if name is not None:
            yield name + (f":{spec}" if spec else "") + (f"!{conversion}" if conversion else "")


def _flat(tables: Mapping[str, Any], above: str = "") -> dict[str, str]:
    found: dict[str, str] = {}
    for name, value in tables.items():
        key = f"{above}{name}"
        if isinstance(value, Mapping):
            found |= _flat(value, f"{key}.")
        elif isinstance(value, str):
            found[key] = " ".join(value.split())
        else:
            raise PhrasesError(f"{key[:60]} must be a sentence between quotes")
    return found


@cache
def _shipped(language: str) -> Mapping[str, str]:
    """The phrases of a language, or of the one that it is a form of; none if there are none."""
    files = phrase_files()
    path = files.get(language.lower()) or files.get(
        language.lower().replace("_", "-").split("-")[0]
    )
    return {} if path is None else _flat(tomllib.loads(path.read_text(encoding="utf-8")))


def _english() -> Mapping[str, str]:
    return _shipped(USUAL_LANGUAGE)
