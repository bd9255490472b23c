"""What the commands say at the end of a run, alike in all of them."""

from __future__ import annotations

from collections.abc import Sequence

_MOST_NAMES = 6
"""Names listed in a sentence before the rest are only counted."""


def listed(names: Sequence[str], *, most: int = _MOST_NAMES) -> str:
    """The first `most` of `names`, and how many more there are."""
    shown = ", ".join(names[:most])
    return shown if len(names) <= most else f"{shown} and {len(names) - most} more"


def counted(*groups: tuple[Sequence[str], str]) -> str:
    """How many names each group has and what became of them, such as `3 unchanged, 2 drawn`; empty groups are passed over."""
    return ", ".join(f"{len(names)} {words}" for names, words in groups if names)
