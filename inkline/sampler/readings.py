"""What a style measures, read by `inkline.proof` off pictures drawn in it.

Each value is read where nothing else hides it: a path and a weight off the rules of a calendar's
grid, on paper without tooth; edges off the same rules with hand and nib at rest, since a wander of
100 um would drown a raggedness of 10; the bare share by taking the tooth away.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial

import numpy as np
from numpy.typing import NDArray

from inkline.drawing import Role
from inkline.ink.engine import draw
from inkline.ink.style import EXACT, Style
from inkline.lettering.face import Face
from inkline.proof.edges import line_edges, roughness
from inkline.proof.numeral import half_ink_outline, outline_distance
from inkline.proof.rule import RuleMeasurement, rule_measurement
from inkline.proof.slices import ExactRule
from inkline.raster.compose import render
from inkline.sampler.scenes import (
    SHEET_PX,
    band_rules,
    exact_rules,
    lone_rules,
    only_role,
    specimen,
)

_EDGE_REACH_PX = 60.0
"""How far from the exact rule edges are looked for; the ragged edge of a resting hand stays well
within."""
_ROOM_PX = 100.0
"""How much of the picture about a rule is looked at when its path is read, more than the two rule
weights that belong to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredValue:
    """One measured value in words.

    Attributes:
        name: what was measured.
        value: the value and its unit, in signs that our letters have.
        number: the value as a number, in the first unit of `value`.
        about: a sentence on what is measured.
    """

    name: str
    value: str
    number: float
    about: str


Measure = Callable[[Style, int, str, Face], MeasuredValue]
"""From a style, a drawing number, the hand that draws and the letters to a reading."""


def edge_reading(style: Style, number: int, hand: str, _: Face) -> MeasuredValue:
    """Standard deviation of rules' edges about their lines of best fit, hand and nib at rest."""
    resting = _without_name(replace(_on_solid_paper(style), hand=EXACT.hand, nib=EXACT.nib))
    rough = _edge_px(resting, number, hand)
    um = rough * style.drawn_at * 1000.0 / SHEET_PX
    about = "Edge: how ragged edges are, with the hand at rest."
    return MeasuredValue(name="edge", value=f"{um:.1f} um, {rough:.2f} px", number=um, about=about)


@lru_cache(maxsize=256)
def _edge_px(style: Style, number: int, hand: str) -> float:
    """Root mean square of all edges of the lone rules, in px.

    Kept, since a matrix asks for one edge in row after row.
    """
    drawing = lone_rules(hand)
    grey = render(draw(drawing, style, number))
    return roughness(
        [line_edges(grey, rule, reach_px=_EDGE_REACH_PX) for rule in exact_rules(drawing)]
    ).edge_px


def path_reading(style: Style, number: int, hand: str, _: Face) -> MeasuredValue:
    """Root mean square distance of rules' paths from their exact lines, in px at a quarter."""
    path, _weight = _over_rules(_without_name(_on_solid_paper(style)), number, hand)
    about = "Path: how far rules wander, in pixels of the quarter."
    return MeasuredValue(name="path", value=f"{path:.2f} px", number=path, about=about)


def weight_reading(style: Style, number: int, hand: str, _: Face) -> MeasuredValue:
    """Variation of rules' width at a quarter of the size, in per cent of it."""
    _path, weight = _over_rules(_without_name(_on_solid_paper(style)), number, hand)
    about = "Weight: how much rules vary in width, at a quarter."
    return MeasuredValue(
        name="weight", value=f"{100.0 * weight:.1f} per cent", number=100.0 * weight, about=about
    )


@lru_cache(maxsize=256)
def _over_rules(style: Style, number: int, hand: str) -> tuple[float, float]:
    """Path and weight variation of the band's rules, by their means."""
    drawing = band_rules(hand)
    grey, rules = render(draw(drawing, style, number)), exact_rules(drawing)
    found = [_measure_rule_alone(grey, rule, rules) for rule in rules]
    return float(np.mean([one.path_rms for one in found])), float(
        np.mean([one.weight_variation for one in found])
    )


def _measure_rule_alone(
    grey: NDArray[np.uint8], rule: ExactRule, rules: Sequence[ExactRule]
) -> RuleMeasurement:
    """What `rule` measures in the part of the picture about it.

    The whole picture would take five times as long for every rule.
    """
    ends = np.array([rule.start, rule.end])
    # A corner on whole fours keeps the quarter's pixels those of the whole picture's.
    left, top = (max(4 * int((end - _ROOM_PX) // 4), 0) for end in ends.min(axis=0))
    right, bottom = (int(end + _ROOM_PX) for end in ends.max(axis=0))
    part, *others = (
        _shift_rule(one, left, top)
        for one in (rule, *(other for other in rules if other is not rule))
    )
    return rule_measurement(grey[top:bottom, left:right], part, others=others)


def _shift_rule(rule: ExactRule, left: float, top: float) -> ExactRule:
    start, end = ((x - left, y - top) for x, y in (rule.start, rule.end))
    return ExactRule(start=start, end=end, width_px=rule.width_px)


def bare_reading(style: Style, number: int, hand: str, _: Face) -> MeasuredValue:
    """Share of rules' ink that the paper leaves bare, in per cent; specks are left out."""
    drawing = band_rules(hand)
    full, kept = (
        float(render(draw(drawing, one, number)).sum(dtype=np.int64))
        for one in (_on_solid_paper(style), _without_specks(style))
    )
    bare = max(100.0 * (1.0 - kept / full), 0.0)
    about = "Bare: how much of a rule's ink the paper keeps off."
    return MeasuredValue(name="bare", value=f"{bare:.1f} per cent", number=bare, about=about)


def stray_reading(style: Style, number: int, hand: str, face: Face, *, role: Role) -> MeasuredValue:
    """How far marks of `role` lie from their exact outlines at full size, in px.

    It is the 95th percentile over the outlines.
    """
    drawing = only_role(specimen(face, hand), role)
    drawn, exact = (
        half_ink_outline(render(draw(drawing, one, number)))
        for one in (_on_solid_paper(style), EXACT)
    )
    stray = outline_distance(drawn, exact)
    about = f"Strays: how far most of a {role} lies from its exact outline."
    return MeasuredValue(name="strays", value=f"{stray:.1f} px", number=stray, about=about)


SPECIMEN_MEASURES: tuple[Measure, ...] = (path_reading, weight_reading, edge_reading, bare_reading)
"""What is measured of a style that is shown as it is."""

_OF_PART = {
    "hand": path_reading,
    "nib": weight_reading,
    "edge": edge_reading,
    "paper": bare_reading,
}
_OF_LETTERS = ("hand.tilt", "hand.size_play", "hand.bounce")
"""Values that no rule shows."""


def measure_for(key: str) -> Measure:
    """The measure that tells most of the value `key`, such as `edge.raggedness`."""
    part, _, name = key.partition(".")
    if key in _OF_LETTERS:
        return partial(stray_reading, role=Role.NUMERAL)
    if part == "firmness":
        return partial(stray_reading, role=Role(name))
    return _OF_PART.get(part, path_reading)


def _on_solid_paper(style: Style) -> Style:
    """`style` on paper without tooth or specks."""
    return replace(style, paper=EXACT.paper)


def _without_name(style: Style) -> Style:
    """`style` by its values alone, so that two that draw alike are equal."""
    return replace(style, name="", imitates="")


def _without_specks(style: Style) -> Style:
    return replace(style, paper=replace(style.paper, specks=0.0))
