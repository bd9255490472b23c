"""News of a run: its steps, notes for its end, and parts of sentences that tell of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from inkline.errors import Remedy


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One picture is done.

    Attributes:
        name: of the stamp or sheet.
        done: how many are done by now.
        total: of how many that this run has to make.
        work: which share of the run's work is done with them, 0 to 1, as far as that can be guessed
            beforehand; by their number if None.
    """

    name: str
    done: int
    total: int
    work: float | None = None

    @property
    def share(self) -> float:
        """Which share of the work is done, 0 to 1."""
        return self.done / self.total if self.work is None else self.work


@dataclass(frozen=True, slots=True)
class Note:
    """Something that the user should read at the end of a run.

    Attributes:
        sentence: what there is to say, with its full stop.
        remedies: what may be done about it, the likeliest first; no part of the sentence, since
            the command line says it as an option, and a page would show it as a button.
        is_failure: whether something could not be done, so that the run as a whole has failed.
        unread: the file that can't be read, if that is what it says; of several notes about one
            file the first is enough.
    """

    sentence: str
    remedies: tuple[Remedy, ...] = ()
    is_failure: bool = False
    unread: Path | None = None


Listener = Callable[[Step], None]
"""Takes each step as soon as it is done."""


def unheard(_: Step) -> None:
    """A listener for callers that want no news."""


_MOST_NAMES = 6
"""Names listed in a sentence before the rest are only counted."""


def names_in_words(names: Sequence[str], *, most: int = _MOST_NAMES) -> str:
    """The first `most` of `names`, and how many more there are."""
    first = ", ".join(names[:most])
    return first if len(names) <= most else f"{first} and {len(names) - most} more"


def number_of_things(n: int, thing: str, things: str = "") -> str:
    """Such as `1 kit` or `2 kits`; `things` where several are not called `thing` and an s."""
    return f"{n} {thing if n == 1 else things or f'{thing}s'}"
