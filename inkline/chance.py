"""Drawing numbers, and the random streams that they seed.

Every stream is seeded by BLAKE2 of the drawing number, the stroke's full name, how often it was
drawn again, the part that draws from it, and the hand that draws, so that no stroke's ink depends
on any other's, nor on order, and no two hands draw one line twice.
"""

from __future__ import annotations

import hashlib
import secrets
from typing import TYPE_CHECKING

from inkline.errors import InputError

if TYPE_CHECKING:
    import numpy as np

LARGEST_NUMBER = 999_999_999
"""Drawing numbers have at most nine digits, so that they can be read out and typed again."""
DEFAULT_NUMBER = 20_270
"""The drawing number of the built-in default kit."""


def number_or_default(number: int | None) -> int:
    """`number`, or that of the default kit where it is None.

    Raises:
        InputError: it lies outside 0 to `LARGEST_NUMBER`.
    """
    if number is None:
        return DEFAULT_NUMBER
    refuse_number_out_of_range(number)
    return number


def refuse_number_out_of_range(number: int) -> None:
    """Refuse what is no drawing number.

    Raises:
        InputError: it lies outside 0 to `LARGEST_NUMBER`.
    """
    if not 0 <= number <= LARGEST_NUMBER:
        raise InputError(
            f"a whole number from 0 to {LARGEST_NUMBER} is required, not {number}",
            setting="number",
        )


def fresh_number() -> int:
    """A drawing number from 1 on that nobody else is likely to have."""
    return secrets.randbelow(LARGEST_NUMBER) + 1


def number_of_kit(number: int, kit: str) -> int:
    """The drawing number of one of several kits that share `number`: another one for each name."""
    key = f"{number}\x1f{kit}".encode()
    digest = hashlib.blake2b(key, digest_size=8, person=b"kit").digest()
    return int.from_bytes(digest, "little") % LARGEST_NUMBER + 1


def stream(number: int, name: str, again: int, part: str, hand: str = "") -> np.random.Generator:
    """The random generator of one part of one stroke.

    Args:
        number: the drawing number, 0 to `LARGEST_NUMBER`.
        name: the stroke's full name, or that of the group that shares the stream.
        again: how often the stroke was drawn again.
        part: which part of the engine draws from it.
        hand: whose hand it is: the root of the style, "" where none is known.
    """
    whose = f"\x1f{hand}" if hand else ""
    key = f"{number}\x1f{name}\x1f{again}\x1f{part}{whose}".encode()
    seed = int.from_bytes(hashlib.blake2b(key, digest_size=16).digest(), "little")
    import numpy as np  # noqa: PLC0415 - slow to import, and options want numbers alone

    return np.random.Generator(np.random.PCG64(seed))
