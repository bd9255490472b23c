"""What is on a stamp, by the names that a person would call it by, and where its ink belongs."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Any

from inkline.geometry.boxes import Box, box_around, grown_box
from inkline.proof.finding import ListedStamp
from inkline.proof.places import grow_apart
from inkline.proof.slices import ExactRule

_REACH_SHARE, _LEAST_REACH_PX = 0.15, 3.0
"""How far beside a block ink is still its own: more than any hand strays."""


class Sort(Enum):
    """What sort of thing it is; `RULE` is read by slices across it, the others whole."""

    RULE = "rule"
    LETTERS = "letters"
    BLOCK = "block"


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """One thing on a stamp.

    Attributes:
        what: what it is called, such as `'17'`, `rule 3` or `block 5`.
        sort: what sort of thing.
        exact: the box about its exact ink.
        around: the box in which ink is its own.
        rule: the exact rule, of a rule.
        name: the full name by which it can be drawn again, where the manifest gives one.
    """

    what: str
    sort: Sort
    exact: Box
    around: Box
    rule: ExactRule | None = None
    name: str = ""


def things_of(entry: ListedStamp) -> tuple[Thing, ...]:
    """All that the manifest lists on a stamp; letters in one cell are one thing."""
    return (
        *_rules(entry.get("lines", ())),
        *_blocks(entry.get("boxes", ())),
        *_letters(entry.get("glyphs", ()), alone=not (entry.get("lines") or entry.get("boxes"))),
    )


def rule_of_line(line: Mapping[str, Any]) -> ExactRule:
    """The exact rule that one of the manifest's `lines` says."""
    return ExactRule(
        start=tuple(line["from"]),
        end=tuple(line["to"]),
        width_px=line["width_px"],
        beside=tuple((first, last) for first, last in line.get("beside", ())),
    )


def _rules(lines: Sequence[Mapping[str, Any]]) -> Iterator[Thing]:
    for number, line in enumerate(lines, start=1):
        rule = rule_of_line(line)
        xs, ys = sorted((rule.start[0], rule.end[0])), sorted((rule.start[1], rule.end[1]))
        half = 0.5 * rule.width_px
        level = xs[1] - xs[0] >= ys[1] - ys[0]
        side, up = (0.0, half) if level else (half, 0.0)
        exact = (xs[0] - side, ys[0] - up, xs[1] + side, ys[1] + up)
        yield Thing(
            what=f"rule {number}",
            sort=Sort.RULE,
            exact=exact,
            around=grown_box(exact, 2.0 * rule.width_px),
            rule=rule,
            name=str(line.get("name", "")),
        )


def _blocks(boxes: Sequence[Mapping[str, Any]]) -> Iterator[Thing]:
    exact: list[Box] = [(box["x0"], box["y0"], box["x1"], box["y1"]) for box in boxes]
    reaches = [
        max(_REACH_SHARE * min(box[2] - box[0], box[3] - box[1]), _LEAST_REACH_PX) for box in exact
    ]
    grown = grow_apart(exact, reach_px=reaches)
    for number, (box, own, around) in enumerate(zip(boxes, exact, grown, strict=True), start=1):
        yield Thing(
            what=f"block {number}",
            sort=Sort.BLOCK,
            exact=own,
            around=around,
            name=str(box.get("name", "")),
        )


def _letters(glyphs: Sequence[Mapping[str, Any]], *, alone: bool) -> Iterator[Thing]:
    """One thing a cell; where letters are cut out of others, the white near them alone."""
    cells: dict[Box, list[Mapping[str, Any]]] = {}
    for glyph in glyphs:
        cells.setdefault(tuple(glyph["cell"]), []).append(glyph)
    for cell, sharing in cells.items():
        exact = box_around([tuple(glyph["ink"]) for glyph in sharing])
        reach = max(_REACH_SHARE * (exact[3] - exact[1]), _LEAST_REACH_PX)
        yield Thing(
            what=" and ".join(f"'{glyph['text']}'" for glyph in sharing),
            sort=Sort.LETTERS,
            exact=exact,
            around=cell if alone else grown_box(exact, reach),
            name=str(sharing[0].get("name", "")),
        )


def names_in_short(names: Sequence[str], *, most: int = 6) -> str:
    """`'16', '17' and 3 more`: the first of `names`, in the order given."""
    shown = [re.sub(r"\s+", " ", name) for name in names[:most]]
    rest = len(names) - len(shown)
    if rest:
        return f"{', '.join(shown)} and {rest} more"
    return " and ".join([", ".join(shown[:-1]), shown[-1]] if len(shown) > 1 else shown)
