"""Choosing stamps by name or by pattern."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from fnmatch import fnmatchcase

from inkline.errors import InputError


def chosen_names(names: Sequence[str], patterns: Iterable[str], *, option: str) -> frozenset[str]:
    """Those of `names` that any of `patterns` fits: a name itself, or one with `*`, `?` and `[...]` for letters left open.

    Raises:
        InputError: a pattern that fits nothing; names the nearest there is.
    """
    chosen: set[str] = set()
    for pattern in patterns:
        fitting = [name for name in names if fnmatchcase(name, pattern)]
        if not fitting:
            near = difflib.get_close_matches(pattern, names, n=1, cutoff=0.4)
            hint = f"did you mean {near[0]!r}?" if near else f"names look like {names[0]!r}"
            raise InputError(f"{option}: no stamp is called {pattern!r}; {hint}")
        chosen.update(fitting)
    return frozenset(chosen)
