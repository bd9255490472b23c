"""Digits of the world's decimal numbering systems, by the codes that CLDR gives them (UTS #35, part 3)."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from inkline.calendar.names import default_numbering

NUMBERING_SYSTEMS: Mapping[str, str] = MappingProxyType(
    {
        code: "".join(chr(zero + digit) for digit in range(10))
        for code, zero in (
            ("latn", 0x0030),
            ("arab", 0x0660),
            ("arabext", 0x06F0),
            ("beng", 0x09E6),
            ("deva", 0x0966),
            ("gujr", 0x0AE6),
            ("guru", 0x0A66),
            ("khmr", 0x17E0),
            ("knda", 0x0CE6),
            ("laoo", 0x0ED0),
            ("mlym", 0x0D66),
            ("mymr", 0x1040),
            ("orya", 0x0B66),
            ("tamldec", 0x0BE6),
            ("telu", 0x0C66),
            ("thai", 0x0E50),
            ("tibt", 0x0F20),
        )
    }
)
"""The ten digits of each system, zero first; Unicode encodes each system's digits one after another."""


def digits_of(code: str, *, locale: str) -> str:
    """The ten digits of the numbering system `code`, zero first; those usual for `locale` if it is "language".

    Raises:
        KeyError: a code that `NUMBERING_SYSTEMS` doesn't have.
    """
    return NUMBERING_SYSTEMS[default_numbering(locale) if code == "language" else code]


def in_digits(text: str, digits: str) -> str:
    """`text` with its figures 0 to 9 written in `digits`, zero first."""
    return text.translate({ord("0") + index: digit for index, digit in enumerate(digits)})
