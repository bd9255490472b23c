"""The weights that a style suggests, in place of a recipe's usual ones."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from inkline.ink.style import Weights
from inkline.kit.recipe.key import Key
from inkline.units import length_from_text

_LINES, _STEMS = ("rule", "block_line"), ("stem", "weekday_stem")
SUGGESTED = frozenset({*_LINES, *_STEMS, "frame"})
"""Keys whose defaults a style may change."""


def stems_asked(said: Iterable[str]) -> frozenset[str]:
    """Those of the keys `said` in a table that ask for a weight of letters."""
    return frozenset(_STEMS).intersection(said)


def suggested_default(key: Key, default: Any, weights: Weights) -> Any:
    """The default of `key` with a style that suggests `weights`, as written in TOML.

    Lines become so many times heavier; a stem, counted in pens of the letters' height, becomes so
    many times smaller. None leaves what the key allows.
    """
    if key.name in _LINES and weights.rule != 1.0:
        length = length_from_text(default)
        number = min(max(length.value * weights.rule, key.low), key.high)
        return f"{round(number, 4):g} {length.unit.value}"
    if key.name == "frame" and weights.frame != 1.0:
        number = 1.0 + (default - 1.0) * weights.frame
    elif key.name in _STEMS and weights.stem != 1.0:
        number = default / weights.stem
    else:
        return default
    return round(min(max(number, key.low), key.high), 3)
