"""One stamp's picture against the exact geometry that the manifest lists for it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np

from inkline.proof.finding import Bounds, Check, Finding
from inkline.proof.picture import FULL, Grey, ink_bounds
from inkline.proof.png_facts import METRES_PER_INCH, PngFacts
from inkline.proof.rule import RuleMeasurement, rule_measurement
from inkline.proof.slices import ExactRule

Box = tuple[float, float, float, float]
"""Left, top, right, bottom, in px."""

# The roughness of an edge moves its mean by chance, the more the farther along it is of one mind. 20 px is as far as that
# goes in any style that reads as drawn; a larger value would only make the proof more forgiving.
_CORRELATION_PX = 20.0
_BENDING_CHUNKS = {"gAMA", "cHRM", "sRGB", "iCCP", "cICP"}
_LEAST_NEAR_PX = 2.0


def format_findings(name: str, facts: PngFacts, *, canvas: tuple[int, int], ppi: float) -> Iterator[Finding]:
    """What is amiss with the file itself: its kind, size and resolution."""
    bending = ", ".join(sorted(_BENDING_CHUNKS.intersection(facts.chunks)))
    if (facts.bits, facts.colour_type) != (8, 0):
        sentence = f"8-bit grey is required, not {facts.bits} bits of colour type {facts.colour_type}"
        yield Finding(stamp=name, check=Check.FORMAT, sentence=sentence)
    if bending:
        yield Finding(
            stamp=name, check=Check.FORMAT, sentence=f"nothing may bend the values, but there is a chunk {bending}"
        )
    if facts.size != canvas:
        yield Finding(stamp=name, check=Check.SIZE, sentence=f"the canvas is {canvas} px, the picture {facts.size}")
    per_metre = round(ppi / METRES_PER_INCH)
    if facts.px_per_metre != (per_metre, per_metre):
        sentence = f"pHYs must say {per_metre} px a metre both ways, not {facts.px_per_metre}"
        yield Finding(stamp=name, check=Check.RESOLUTION, sentence=sentence)


def picture_findings(
    name: str, grey: Grey, geometry: Mapping[str, Any], *, least_edge_px: float, bounds: Bounds
) -> Iterator[Finding]:
    """What is amiss with the picture: its values, its distance from the canvas edge and where its ink lies.

    Args:
        name: the stamp's name.
        grey: the picture.
        geometry: the stamp's `lines`, `glyphs` or `boxes` as the manifest lists them.
        least_edge_px: least distance of ink from the canvas edge.
        bounds: what else is allowed.
    """
    yield from _value_findings(name, grey)
    yield from _edge_findings(name, grey, least_px=least_edge_px)
    if "lines" in geometry:
        yield from _rule_findings(name, grey, rules_from_lines(geometry["lines"]), bounds=bounds)
    if "glyphs" in geometry:
        yield from _glyph_findings(name, grey, geometry["glyphs"], bounds=bounds)
    if "boxes" in geometry:
        yield from _block_findings(name, grey, geometry["boxes"], bounds=bounds)


def rules_from_lines(lines: list[Mapping[str, Any]]) -> tuple[ExactRule, ...]:
    """The exact rules that the manifest's `lines` say."""
    return tuple(ExactRule(start=tuple(x["from"]), end=tuple(x["to"]), width_px=x["width_px"]) for x in lines)


def _value_findings(name: str, grey: Grey) -> Iterator[Finding]:
    lowest, highest = int(grey.min()), int(grey.max())
    if (lowest, highest) != (0, FULL):
        sentence = f"black must be 0 and full ink {FULL}, but values run from {lowest} to {highest}"
        yield Finding(stamp=name, check=Check.VALUES, sentence=sentence)


def _edge_findings(name: str, grey: Grey, *, least_px: float) -> Iterator[Finding]:
    inked = ink_bounds(grey, at_least=1)
    if inked is None:
        yield Finding(stamp=name, check=Check.VALUES, sentence="the picture holds no ink")
        return
    height, width = grey.shape
    distance = min(inked[0], inked[1], width - inked[2], height - inked[3])
    if distance < least_px:
        sentence = f"ink must stay {least_px:g} px from the canvas edge, but comes within {distance}"
        yield Finding(stamp=name, check=Check.EDGE, sentence=sentence)


def _rule_findings(name: str, grey: Grey, rules: tuple[ExactRule, ...], *, bounds: Bounds) -> Iterator[Finding]:
    for number, rule in enumerate(rules, start=1):
        measured = rule_measurement(grey, rule, others=rules[: number - 1] + rules[number:])
        for check, what, found, limit in _rule_figures(rule, measured, bounds=bounds):
            if not abs(found) <= limit:
                sentence = f"{what} of rule {number} is {found:+.2f} px, where {limit:.2f} px are allowed"
                yield Finding(stamp=name, check=check, sentence=sentence)


def _rule_figures(
    rule: ExactRule, measured: RuleMeasurement, *, bounds: Bounds
) -> tuple[tuple[Check, str, float, float], ...]:
    """What is checked of a rule: check, what it is called, what was found and the limit, both in px.

    Chance: the mean of an edge of deviation s and correlation length xi over a length L has the deviation s sqrt(2 xi / L); the middle
    of two such edges 1 / sqrt 2 of it, their distance sqrt 2 of it, a fitted slope times the length sqrt 12 of the mean's. Three
    deviations are allowed. s is read off the width, which unlike the edges themselves knows nothing of the path's wander.
    """
    edge = measured.width_deviation_px / math.sqrt(2)
    chance = 3 * edge * math.sqrt(2 * _CORRELATION_PX / rule.length_px)
    middle = chance / math.sqrt(2)
    excess = measured.width_px - rule.width_px
    return (
        (Check.POSITION, "the mean offset", measured.offset_px, bounds.offset_px + middle),
        (Check.POSITION, "the drift from end to end", measured.drift_px, bounds.offset_px + math.sqrt(12) * middle),
        (Check.WIDTH, "the excess width", excess, bounds.width_share * rule.width_px + math.sqrt(2) * chance),
    )


def _glyph_findings(name: str, grey: Grey, glyphs: list[Mapping[str, Any]], *, bounds: Bounds) -> Iterator[Finding]:
    for glyph in glyphs:
        exact: Box = tuple(glyph["ink"])
        cell: Box = tuple(glyph["cell"])
        height, width = exact[3] - exact[1], exact[2] - exact[0]
        # Words are long; what a hand may stray goes with the size of its letters.
        size = height if len(glyph["text"]) > 2 else max(height, width)
        yield from _place_findings(name, grey, repr(glyph["text"]), exact, cell, near_px=_near(size, bounds=bounds))
    yield from _outside_findings(name, grey, [tuple(glyph["cell"]) for glyph in glyphs], what="cells")


def _block_findings(name: str, grey: Grey, boxes: list[Mapping[str, Any]], *, bounds: Bounds) -> Iterator[Finding]:
    grown: list[Box] = []
    for number, box in enumerate(boxes, start=1):
        exact: Box = (box["x0"], box["y0"], box["x1"], box["y1"])
        width, height = exact[2] - exact[0], exact[3] - exact[1]
        near = _near(max(width, height), bounds=bounds)
        grown.append((exact[0] - near, exact[1] - near, exact[2] + near, exact[3] + near))
        yield from _place_findings(name, grey, f"block {number}", exact, grown[-1], near_px=near)
        area = width * height - (4 - math.pi) * box["radius"] ** 2
        found = float(_cut(grey, grown[-1]).sum(dtype=np.int64)) / FULL
        if abs(found / area - 1) > bounds.area_share:
            sentence = f"block {number} has {found:.0f} px2 of ink, where {area:.0f} are exact"
            yield Finding(stamp=name, check=Check.AREA, sentence=sentence)
    yield from _outside_findings(name, grey, grown, what="blocks")


def _place_findings(name: str, grey: Grey, what: str, exact: Box, around: Box, *, near_px: float) -> Iterator[Finding]:
    """Whether what lies in the box `around` has its ink's four sides near those of `exact`."""
    cut = _cut(grey, around)
    inked = ink_bounds(cut) if cut.size else None
    if inked is None:
        yield Finding(stamp=name, check=Check.PLACE, sentence=f"{what} has no ink in its place")
        return
    left, top = _whole(around)[:2]
    found = (inked[0] + left, inked[1] + top, inked[2] + left, inked[3] + top)
    farthest = max(abs(a - b) for a, b in zip(found, exact, strict=True))
    if farthest > near_px:
        sentence = (
            f"the ink of {what} lies up to {farthest:.1f} px off its exact box, where {near_px:.1f} px are allowed"
        )
        yield Finding(stamp=name, check=Check.PLACE, sentence=sentence)


def _outside_findings(name: str, grey: Grey, boxes: list[Box], *, what: str) -> Iterator[Finding]:
    """Whether any ink lies outside all of `boxes`."""
    rest = grey.copy()
    for box in boxes:
        left, top, right, bottom = _whole(box)
        rest[top:bottom, left:right] = 0
    stray = ink_bounds(rest, at_least=1)
    if stray is not None:
        yield Finding(stamp=name, check=Check.OUTSIDE, sentence=f"there is ink outside all {what}, within {stray}")


def _near(size_px: float, *, bounds: Bounds) -> float:
    return max(_LEAST_NEAR_PX, bounds.near_share * size_px)


def _whole(box: Box) -> tuple[int, int, int, int]:
    """The box in whole px, each side rounded outwards and none beyond the upper or left canvas edge."""
    return max(math.floor(box[0]), 0), max(math.floor(box[1]), 0), max(math.ceil(box[2]), 0), max(math.ceil(box[3]), 0)


def _cut(grey: Grey, box: Box) -> Grey:
    left, top, right, bottom = _whole(box)
    return grey[top:bottom, left:right]
