"""Choosing pieces by name or by pattern, among one product or several."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase

from inkline.errors import InputError
from inkline.folder.entry import Section
from inkline.press.product import Product

_WILD = re.compile(r"[*?\[]")
_KIND = re.compile(r"[^/]*/?[^/0-9-]*-?")
"""The letters of a name before its numbers, such as `tall/dates-`."""
_MOST_KINDS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Selection:
    """What a run sees to; sheets are always seen to.

    Attributes:
        partial: whether stamps were chosen; such a run leaves the folder's number as it is.
        stamps: names, in order.
        redraw: names of stamps and sheets to make anew.
    """

    partial: bool
    stamps: tuple[str, ...]
    redraw: frozenset[str] = frozenset()


def whole_selection(product: Product) -> Selection:
    """All of a product."""
    return Selection(partial=False, stamps=names_in(product, Section.STAMPS))


def names_in(product: Product, section: Section) -> tuple[str, ...]:
    """The names of a product's stamps, or of its sheets, in order."""
    return tuple(name for name, piece in product.pieces.items() if piece.section is section)


def selections_among(
    products: Sequence[Product], *, only: Sequence[str], redraw: Sequence[str]
) -> list[Selection | None]:
    """What is to be done for each product, None where nothing was chosen.

    Args:
        products: of which something is to be made.
        only: names or patterns of stamps; all of them if empty.
        redraw: names or patterns of stamps and sheets to make anew.

    Raises:
        InputError: a pattern that fits nothing of any product; names the nearest there is.
    """
    stamps = [names_in(product, Section.STAMPS) for product in products]
    sheets = [names_in(product, Section.SHEETS) for product in products]
    all_stamps = list(dict.fromkeys(name for names in stamps for name in names))
    all_sheets = list(dict.fromkeys(name for names in sheets for name in names))
    way = products[0].way_to_other_lines if products else _no_way
    anew = chosen_names([*all_stamps, *all_sheets], redraw, setting="redraw", way_to_part=way)
    chosen = chosen_names(all_stamps, only, setting="only", way_to_part=way)
    chosen = chosen | anew if only else frozenset(all_stamps)
    selections: list[Selection | None] = []
    for names, own in zip(stamps, sheets, strict=True):
        here = tuple(name for name in names if name in chosen)
        selection = Selection(partial=bool(only), stamps=here, redraw=anew & {*names, *own})
        selections.append(selection if here or selection.redraw else None)
    return selections


def _no_way(_name: str) -> str:
    return ""


def chosen_names(
    names: Sequence[str],
    patterns: Iterable[str],
    *,
    setting: str,
    way_to_part: Callable[[str], str] = _no_way,
) -> frozenset[str]:
    """Those of `names` that any of `patterns` fits.

    A pattern is a name itself, or one with `*`, `?` and `[...]` for letters left open. `setting` is
    what gave the patterns, for the error to name; `way_to_part` tells how a thing on a stamp is
    drawn again, whose name is longer than the stamp's.

    Raises:
        InputError: a pattern that fits nothing; names the nearest there is.
    """
    chosen: set[str] = set()
    for pattern in patterns:
        fitting = [name for name in names if fnmatchcase(name, pattern)]
        if not fitting:
            raise InputError(
                f"no stamp is called {pattern!r}; {_hint(pattern, names, way_to_part)}",
                setting=setting,
            )
        chosen.update(fitting)
    return frozenset(chosen)


def _hint(pattern: str, names: Sequence[str], way_to_part: Callable[[str], str]) -> str:
    """What may have been meant."""
    way = way_to_part(pattern)
    if way and any(pattern.startswith(f"{name}/") for name in names):
        return f"to have a single numeral or line drawn again {way}"
    if _WILD.search(pattern):
        return f"names look like {_kinds_near(pattern, names)}"
    near = difflib.get_close_matches(pattern, names, n=1, cutoff=0.4)
    return f"did you mean {near[0]!r}?" if near else f"names look like {names[0]!r}"


def _kinds_near(pattern: str, names: Sequence[str]) -> str:
    """Patterns of what there is, in the folder that `pattern` names if there is one."""
    folder = f"{pattern.partition('/')[0]}/"
    near = [name for name in names if name.startswith(folder)] or names
    kinds = list(dict.fromkeys(_KIND.match(name)[0] for name in near))  # type: ignore[index]
    more = " and others" if len(kinds) > _MOST_KINDS else ""
    return ", ".join(f"'{kind}*'" for kind in kinds[:_MOST_KINDS]) + more
