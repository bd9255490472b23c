"""One stamp's picture against the exact geometry that the manifest lists for it.

What is judged goes by the stamp's kind and by what geometry it has. What the manifest says too
little of is named as not judged.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from inkline.geometry.arrays import Grey
from inkline.geometry.boxes import Box, box_around
from inkline.proof.finding import Bounds, Check, Finding, ListedStamp, Unjudged
from inkline.proof.picture import FULL, ink_bounds
from inkline.proof.places import Item, cut_picture, grow_apart, near_px, place_findings
from inkline.proof.png_facts import METRES_PER_INCH, PngFacts
from inkline.proof.rule import RulePlace, rule_place
from inkline.proof.slices import ExactRule, gap_beside
from inkline.proof.things import rule_of_line

# The roughness of an edge moves its mean by chance, the more the farther along it is of one mind.
# 20 px is as far as that goes in any style that reads as drawn; a larger value would only make the
# proof more forgiving.
_CORRELATION_PX = 20.0
# Beyond two weights to either side no rule of a style that reads as drawn strays; within one and a
# half nearly none does.
_MOST_REACH_WEIGHTS, _LEAST_REACH_WEIGHTS = 2.0, 1.5
_COLOUR_TYPES = {
    0: "grey",
    2: "colour",
    3: "a palette",
    4: "see-through grey",
    6: "see-through colour",
}
"""What the colour types of PNG files are (PNG, ISO/IEC 15948)."""
_BENDING_CHUNKS = {"gAMA", "cHRM", "sRGB", "iCCP", "cICP", "tRNS"}
# Longer texts than numerals are words: what a hand may stray goes with the size of their letters.
_MOST_FIGURES = 2

_UNKNOWN_KIND = "where its ink lies: the proof knows no stamps of its kind"
_NO_GEOMETRY = "where its ink lies: the manifest says nothing of it"
_CUT_OUT = (
    "what is cut out of it, and so the areas of its blocks: their ink is that of two drawings"
)
_OUTLINES = (
    "the weight of its outlines: what a pen leaves where it runs over its start is no part of the "
    "exact box"
)
_NEAR_RULES = (
    "where some of its rules lie: others run so near beside them that their ink can't be told apart"
)
_NO_CLEAR_RULES = "where its ink lies exactly: no straight line of it stands clear of other ink"
_OTHER_STYLE = (
    "how much ink it has: the manifest no longer lists the values of the style that it was drawn in"
)

_LINE = "line_px"
_GEOMETRY = ("lines", "glyphs", "boxes")
_MARKS = "marks"
ARTWORK = "artwork"
"""The kind of stamps that are redrawn from a user's own artwork."""
_JUDGED_KINDS = {"grid", "blocks", "dates", "words", _MARKS, ARTWORK}
_Marks = list[Mapping[str, Any]]


def format_findings(
    name: str, facts: PngFacts, *, canvas: tuple[int, int], ppi: float
) -> Iterator[Finding]:
    """The file itself: its kind, size and resolution."""
    bending = ", ".join(sorted(_BENDING_CHUNKS.intersection(facts.chunks)))
    per_metre = round(ppi / METRES_PER_INCH)
    fault = ""
    if (facts.bits, facts.colour_type) != (8, 0):
        kind = _COLOUR_TYPES.get(facts.colour_type, "unknown")
        fault = (
            f"8-bit grey is required, not {facts.bits} bits of colour type {facts.colour_type} "
            f"({kind})"
        )
    elif bending:
        fault = f"nothing may bend the values, but there is a chunk {bending}"
    yield _yes_or_no(name, Check.FORMAT, fault)
    sizes = [f"{width} x {height} px" for width, height in (canvas, facts.size)]
    fault = "" if facts.size == canvas else f"the canvas is {sizes[0]}, the picture {sizes[1]}"
    yield _yes_or_no(name, Check.SIZE, fault)
    fault = f"it must say {ppi:g} px an inch (pHYs: {per_metre} a metre both ways), and says "
    said = facts.px_per_metre
    fault += "nothing of it" if said is None else f"{said[0]} and {said[1]} a metre"
    yield _yes_or_no(
        name, Check.RESOLUTION, "" if facts.px_per_metre == (per_metre, per_metre) else fault
    )


def picture_findings(
    name: str,
    grey: Grey,
    geometry: ListedStamp,
    *,
    dryness: float | None,
    least_edge_px: float,
    bounds: Bounds,
) -> Iterator[Finding]:
    """The picture: its values, its distance from the canvas edge and where its ink lies.

    A kit drawn before manifests said where masters lie is judged by its pictures alone.

    Args:
        name: the stamp's name.
        grey: the picture.
        geometry: the stamp's `kind`, and `lines`, `glyphs` or `boxes` as the manifest lists them.
        dryness: share of the ink that the style's paper leaves bare; None if that isn't known.
        least_edge_px: least distance of ink from the canvas edge.
        bounds: what else is allowed.
    """
    yield from sheet_findings(name, grey, least_edge_px=least_edge_px)
    yield from layout_findings(name, grey, geometry, dryness=dryness, bounds=bounds)


def sheet_findings(
    name: str, grey: Grey, *, least_edge_px: float, full: int = FULL
) -> Iterator[Finding]:
    """The values of a picture, and its distance from the canvas edge.

    `full` is the value that its fullest ink must have: below 255 for what is drawn with strokes so
    thin that they cover no pixel wholly.
    """
    yield _value_finding(name, grey, full=full)
    yield from _edge_findings(name, grey, least_px=least_edge_px)


def layout_findings(
    name: str, grey: Grey, geometry: ListedStamp, *, dryness: float | None, bounds: Bounds
) -> Iterator[Finding]:
    """Where the ink of a picture lies, and how much there is, as of `picture_findings`."""
    lines, glyphs, boxes = _marks_to_judge(geometry)
    if lines:
        yield from _rule_findings(
            name, grey, rules_from_lines(lines), dryness=dryness, bounds=bounds
        )
    if glyphs:
        items = tuple(_glyph_items(glyphs, kind=geometry["kind"], bounds=bounds))
        yield from place_findings(name, grey, items, what="cells", bounds=bounds)
    if boxes:
        items = _block_items(boxes, bounds)
        yield from place_findings(name, grey, items, what="blocks", bounds=bounds)
        if "glyphs" not in geometry and dryness is not None:
            yield from _area_findings(name, grey, boxes, dryness=dryness, bounds=bounds)


def unjudged_things(
    name: str, geometry: ListedStamp, *, dryness: float | None, bounds: Bounds
) -> Iterator[Unjudged]:
    """What `picture_findings` does not judge of a stamp, with the same arguments."""
    lines, glyphs, boxes = _marks_to_judge(geometry)
    rules = rules_from_lines(lines)
    reasons = {
        _UNKNOWN_KIND: geometry["kind"] not in _JUDGED_KINDS,
        _NO_GEOMETRY: geometry["kind"] in _JUDGED_KINDS
        and not any(key in geometry for key in _GEOMETRY),
        _NO_CLEAR_RULES: geometry["kind"] == ARTWORK and not lines,
        _CUT_OUT: bool(geometry.get("glyphs")) and geometry["kind"] in _JUDGED_KINDS and not glyphs,
        _OUTLINES: any(_LINE in box for box in boxes),
        _OTHER_STYLE: dryness is None and bool(lines or boxes),
        _NEAR_RULES: any(
            not _stands_clear(rule, _others(rules, i), bounds) for i, rule in enumerate(rules)
        ),
    }
    yield from (
        Unjudged(stamp=name, sentence=sentence) for sentence, holds in reasons.items() if holds
    )


def _others(rules: tuple[ExactRule, ...], index: int) -> tuple[ExactRule, ...]:
    return rules[:index] + rules[index + 1 :]


def rules_from_lines(lines: list[Mapping[str, Any]]) -> tuple[ExactRule, ...]:
    """The exact rules that the manifest's `lines` say."""
    return tuple(map(rule_of_line, lines))


def _marks_to_judge(geometry: ListedStamp) -> tuple[_Marks, _Marks, _Marks]:
    """The lines, glyphs and boxes whose ink can be judged; glyphs beside others are cut out."""
    if geometry["kind"] not in _JUDGED_KINDS:
        return [], [], []
    lines, glyphs, boxes = (list(geometry.get(key, ())) for key in _GEOMETRY)
    return ([], [], boxes) if glyphs and (lines or boxes) else (lines, glyphs, boxes)


def _yes_or_no(name: str, check: Check, fault: str) -> Finding:
    return Finding.fault(name, check, fault) if fault else Finding.clean(name, check)


def _value_finding(name: str, grey: Grey, *, full: int) -> Finding:
    lowest, highest = int(grey.min()), int(grey.max())
    fault = f"black must be 0 and full ink {full}, but values run from {lowest} to {highest}"
    border = np.concatenate((grey[0], grey[-1], grey[:, 0], grey[:, -1]))
    if np.median(border) > FULL // 2:
        white = "its ground is white and its ink black, and it must be the other way round"
        return Finding.fault(name, Check.VALUES, white)
    return _yes_or_no(name, Check.VALUES, "" if lowest == 0 and highest >= full else fault)


def _edge_findings(name: str, grey: Grey, *, least_px: float) -> Iterator[Finding]:
    inked = ink_bounds(grey, at_least=1)
    if inked is None:
        yield Finding.fault(name, Check.VALUES, "the picture holds no ink")
        return
    height, width = grey.shape
    distance = min(inked[0], inked[1], width - inked[2], height - inked[3])
    sentence = (
        f"ink comes within {distance} px of the canvas edge, where {least_px:g} px are required"
    )
    share = least_px / distance if distance else math.inf
    yield Finding(
        stamp=name, check=Check.EDGE, sentence=sentence, share=share if least_px > 0 else 0.0
    )


def _rule_findings(
    name: str, grey: Grey, rules: tuple[ExactRule, ...], *, dryness: float | None, bounds: Bounds
) -> Iterator[Finding]:
    for number, rule in enumerate(rules, start=1):
        others = _others(rules, number - 1)
        if not _stands_clear(rule, others, bounds):
            continue
        reach = _reach_weights(rule, others, bounds)
        measured = rule_place(grey, rule, others=others, reach_weights=reach)
        for check, what, found, limit in _rule_figures(
            rule, measured, dryness=dryness, bounds=bounds
        ):
            sentence = (
                f"rule {number} has no ink clear of others"
                if math.isnan(found)
                else f"{what} of rule {number} is {found:+.2f} px, where {limit:.2f} px are allowed"
            )
            yield Finding(stamp=name, check=check, sentence=sentence, share=abs(found) / limit)


def _reach_weights(rule: ExactRule, others: Sequence[ExactRule], bounds: Bounds) -> float:
    """How far beside a rule its ink is looked for, in its weights.

    It is no more than half way to any rule that runs beside it.
    """
    half_gap = 0.5 * min((gap_beside(rule, other) for other in others), default=math.inf)
    return min(max(_MOST_REACH_WEIGHTS, _strayed_weights(rule, bounds)), half_gap / rule.width_px)


def _stands_clear(rule: ExactRule, others: Sequence[ExactRule], bounds: Bounds) -> bool:
    """Whether no hand of its style strays so far that ink of a rule may be another's."""
    least = max(_LEAST_REACH_WEIGHTS, _strayed_weights(rule, bounds))
    return _reach_weights(rule, others, bounds) >= least


def _strayed_weights(rule: ExactRule, bounds: Bounds) -> float:
    """How far from its middle line a rule that has strayed has ink, in its weights."""
    return bounds.stray_px / rule.width_px + 0.5


def _rule_figures(
    rule: ExactRule, measured: RulePlace, *, dryness: float | None, bounds: Bounds
) -> Iterator[tuple[Check, str, float, float]]:
    """What is checked of a rule: check, its name, what was found and the limit, both in px.

    Chance: the mean of an edge of deviation s and correlation length xi over a length L has the
    deviation s sqrt(2 xi / L); the middle of two such edges 1 / sqrt 2 of it, their distance sqrt 2
    of it, a fitted slope times the length sqrt 12 of the mean's. Three deviations are allowed. s is
    read off the width, which unlike the edges themselves knows nothing of the path's wander.
    """
    edge = measured.width_deviation_px / math.sqrt(2)
    chance = 3 * edge * math.sqrt(2 * _CORRELATION_PX / rule.length_px)
    middle = chance / math.sqrt(2)
    yield Check.POSITION, "the mean offset", measured.offset_px, bounds.offset_px + middle
    drift_px = bounds.offset_px + math.sqrt(12) * middle
    yield Check.POSITION, "the drift from end to end", measured.drift_px, drift_px
    if dryness is not None:
        excess = measured.width_px - (1.0 - dryness) * rule.width_px
        share = bounds.width_share + (bounds.dryness_share if dryness else 0.0)
        yield Check.WIDTH, "the excess width", excess, share * rule.width_px + math.sqrt(2) * chance


def _glyph_items(glyphs: _Marks, *, kind: str, bounds: Bounds) -> Iterator[Item]:
    """One item a cell, as a cell may have the numerals of two dates."""
    cells: dict[Box, _Marks] = {}
    for glyph in glyphs:
        cells.setdefault(tuple(glyph["cell"]), []).append(glyph)
    for cell, sharing in cells.items():
        inks: list[Box] = [tuple(glyph["ink"]) for glyph in sharing]
        size = max(
            _size(glyph["text"], ink, kind) for glyph, ink in zip(sharing, inks, strict=True)
        )
        texts = " and ".join(repr(glyph["text"]) for glyph in sharing)
        yield Item(
            what=texts, exact=box_around(inks), around=cell, near_px=near_px(size, bounds=bounds)
        )


def _size(text: str, ink: Box, kind: str) -> float:
    height, width = ink[3] - ink[1], ink[2] - ink[0]
    return height if len(text) > _MOST_FIGURES and kind != _MARKS else max(height, width)


def _block_items(boxes: _Marks, bounds: Bounds) -> tuple[Item, ...]:
    exact = [_box_of(box) for box in boxes]
    nears = [near_px(max(x1 - x0, y1 - y0), bounds=bounds) for x0, y0, x1, y1 in exact]
    named = enumerate(zip(exact, grow_apart(exact, reach_px=nears), nears, strict=True), start=1)
    return tuple(
        Item(what=f"block {number}", exact=box, around=around, near_px=near, is_bounded=False)
        for number, (box, around, near) in named
    )


def _area_findings(
    name: str, grey: Grey, boxes: _Marks, *, dryness: float, bounds: Bounds
) -> Iterator[Finding]:
    """Whether filled blocks have their exact area of ink, or what dry paper leaves of it.

    Blocks with crisp edges are never dry.
    """
    for item, box in zip(_block_items(boxes, bounds), boxes, strict=True):
        if _LINE in box:
            continue
        x0, y0, x1, y1 = item.exact
        area = (x1 - x0) * (y1 - y0) - (4 - math.pi) * box["radius"] ** 2
        found = float(cut_picture(grey, item.around).sum(dtype=np.int64)) / FULL
        left = min((1.0, 1.0 - dryness), key=lambda share: abs(found / area - share))
        around = 2.0 * (x1 - x0 + y1 - y0) * bounds.area_edge_px / area
        limit = max(bounds.area_share, around) + (bounds.dryness_share if left < 1.0 else 0.0)
        sentence = f"{item.what} has {found:.0f} px2 of ink, where {left * area:.0f} are exact"
        yield Finding(
            stamp=name, check=Check.AREA, sentence=sentence, share=abs(found / area - left) / limit
        )


def _box_of(box: Mapping[str, Any]) -> Box:
    return box["x0"], box["y0"], box["x1"], box["y1"]
