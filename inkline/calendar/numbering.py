"""Digits of the world's decimal numbering systems, by the codes that CLDR gives them.

UTS #35, part 3.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from inkline.calendar.names import default_numbering
from inkline.errors import InputError

NUMBERING_SYSTEMS: Mapping[str, str] = MappingProxyType(
    {
        code: "".join(chr(zero + digit) for digit in range(10))
        for code, zero in (
            ("latn", 0x0030),
            ("adlm", 0x1E950),
            ("arab", 0x0660),
            ("arabext", 0x06F0),
            ("beng", 0x09E6),
            ("cakm", 0x11136),
            ("deva", 0x0966),
            ("gujr", 0x0AE6),
            ("guru", 0x0A66),
            ("hmnp", 0x1E140),
            ("khmr", 0x17E0),
            ("knda", 0x0CE6),
            ("laoo", 0x0ED0),
            ("mlym", 0x0D66),
            ("mtei", 0xABF0),
            ("mymr", 0x1040),
            ("nkoo", 0x07C0),
            ("olck", 0x1C50),
            ("orya", 0x0B66),
            ("tamldec", 0x0BE6),
            ("telu", 0x0C66),
            ("thai", 0x0E50),
            ("tibt", 0x0F20),
        )
    }
)
"""The ten digits of each system, zero first.
Unicode encodes each system's digits one after another."""


class NumberingError(InputError):
    """A numbering system whose digits are not known here.

    Attributes:
        code: its code.
    """

    def __init__(self, message: str, *, code: str) -> None:
        super().__init__(message)
        self.code = code


def digits_of(code: str, *, locale: str) -> str:
    """The ten digits of the numbering system `code`, zero first.

    Those usual for `locale` if it is "language".

    Raises:
        NumberingError: a code that `NUMBERING_SYSTEMS` doesn't have.
        LocaleError: a language that CLDR doesn't know, where `code` is "language".
    """
    found = default_numbering(locale) if code == "language" else code
    if found not in NUMBERING_SYSTEMS:
        asked = f"usual for {locale}" if code == "language" else "asked for"
        known = ", ".join(NUMBERING_SYSTEMS)
        raise NumberingError(
            f'the digits {asked}, "{found}", are not among those known here: {known}', code=found
        )
    return NUMBERING_SYSTEMS[found]


def in_digits(text: str, digits: str) -> str:
    """`text` with its figures 0 to 9 written in `digits`, zero first."""
    return text.translate({ord("0") + index: digit for index, digit in enumerate(digits)})
