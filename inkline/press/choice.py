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
            raise InputError(f"{option}: no stamp is called {pattern!r}; {_hint(pattern, names)}")
        chosen.update(fitting)
    return frozenset(chosen)


def _hint(pattern: str, names: Sequence[str]) -> str:
    """What may have been meant."""
    if any(pattern.startswith(f"{name}/") for name in names):
        return "a single numeral or line is drawn again by its name under [again] in the recipe"
    near = difflib.get_close_matches(pattern, names, n=1, cutoff=0.4)
    return f"did you mean {near[0]!r}?" if near else f"names look like {names[0]!r}"
