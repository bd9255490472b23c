"""Parts of sentences that the commands say alike: names in a row, numbers of things, times."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from inkline.chance import DEFAULT_NUMBER
from inkline.cli.options import OwnNumber
from inkline.progress import names_in_words

_LONGEST_WORD, _LONGEST_LINE = 300, 2000
"""Letters of which a message shows all; paths are rarely longer, and mistakes are."""
_LEFT_OUT = " [...] "
_KB, _MB = 1e3, 1e6


def shortened(line: str) -> str:
    """`line` with the middle of very long words left out, and of the whole if it is very long."""
    words = re.split(r"(\s+)", line)
    return _without_middle("".join(_without_middle(word, _LONGEST_WORD) for word in words))


def _without_middle(text: str, most: int = _LONGEST_LINE) -> str:
    if len(text) <= most:
        return text
    half = (most - len(_LEFT_OUT)) // 2
    return f"{text[:half]}{_LEFT_OUT}{text[-half:]}"


def counts_in_words(*groups: tuple[Sequence[str], str]) -> str:
    """How many names each group has and what became of them, such as `3 unchanged, 2 drawn`.

    Empty groups are passed over.
    """
    return ", ".join(f"{len(names)} {words}" for names, words in groups if names)


def lines_of_what_stays(kept: Sequence[str], left_over: Sequence[str]) -> Iterator[str]:
    """What is said of pictures that are somebody's own, and of those nobody asks for any more."""
    if kept:
        yield (
            f"Yours, kept: {names_in_words(kept)}. To have one drawn anew, move it away and "
            "run this again."
        )
    if left_over:
        yield f"No longer asked for, left in place: {names_in_words(left_over)}."


def time_in_words(seconds: float) -> str:
    """A time to come, as rough as it can be known: `about 20 s`, `about 3 min`."""
    if seconds < 90.0:
        return f"about {max(5, 5 * round(seconds / 5.0))} s"
    return f"about {round(seconds / 60.0)} min"


def number_lines(number: int | None, *, is_usual: bool) -> Iterator[str]:
    """What there is to say of a drawing number that nobody, or somebody just now, chose.

    Args:
        number: what was asked for, or None.
        is_usual: whether the usual number is drawn with where none was asked for.
    """
    if isinstance(number, OwnNumber):
        yield (
            f"Its drawing number is {number}, and yours: keep it, and say --number {number} or "
            f"number = {number} in a recipe from now on."
        )
    elif number is None and is_usual:
        yield (
            f"Its drawing number, {DEFAULT_NUMBER}, is everybody's who says none; --number new "
            f"takes one of your own."
        )


def size_in_words(n_bytes: float) -> str:
    """How large a file is, in kB or MB."""
    if n_bytes < _MB:
        return f"{max(1, round(n_bytes / _KB))} kB"
    return f"{n_bytes / _MB:.1f} MB"
