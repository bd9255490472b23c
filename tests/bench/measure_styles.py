"""How every shipped style looks, in numbers, read off pictures of a real grid and real numerals.

Run with `python tests/bench/measure_styles.py [STYLE...]`. Targets were chosen by eye for ink that
is taken for a hand's; the last column of each line names those that a style misses. Measured at a
quarter of the size unless said otherwise:

- path: deviation of rules' mid-line about the exact line, 0.6 to 1.2 px (under 0.3 reads as
  printed, over 1.6 as shaky);
- weight: variation of rules' local width, 6 to 12 % (under 4 printed, over 16 sausages);
- over, short: shares of rules' ends whose tip lies more than 0.6 rule weights beyond the centre of
  the rule that they end at, or more than 0.3 within it: some over, one or two of a frame's eight
  short, never all over; run: how far the former run over, 1.3 to 3 weights;
- equal: pairs of ends whose outlines differ by less than half a pixel at full size when laid tip on
  tip, mirrored or not; none;
- slant, height, foot: 95 % of figures stand within this of the mean of their like, all 1s, all 2s:
  1.5 degrees, 1.5 % and 1 % of the height;
- apart: distance of two drawings of one numeral, 95th percentile of the outlines, in nibs, 0.15 to
  0.5;
- solid: full ink inside rules, at least 97 % for styles without dryness (path, weight, ends and
  outlines are always read without it).

What is dry about ink is measured by `measure_media.py`.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass, fields, replace
from itertools import combinations

import numpy as np

from inkline.drawing import Layer, Stroke
from inkline.ink.engine import draw
from inkline.ink.style import EXACT
from inkline.kit.letters import face_of
from inkline.kit.recipe.loading import default_recipe
from inkline.kit.stamps.catalogue import plan_by_name
from inkline.proof.numeral import Outline, half_ink_outline, outline_distance, stance_change
from inkline.proof.rule import rule_measurement
from inkline.proof.slices import ExactRule
from inkline.raster.compose import render
from inkline.styles.files import load_style, style_files

GRID, DATES = "standard/grid-6-head", "standard/dates-3"
NUMBERS = (1, 2, 3)
SAME_END_PX = 0.5
OVER_WEIGHTS, SHORT_WEIGHTS = 0.6, 0.3
MARGIN_PX = 60


@dataclass(frozen=True)
class Figures:
    """What a style measures, in the units of the table's heads."""

    path: float
    weight: float
    over: float
    short: float
    run: float
    equal: float
    slant: float
    height: float
    foot: float
    apart: float
    solid: float


HEADS = {
    "path": "path px",
    "weight": "weight %",
    "over": "over %",
    "short": "short %",
    "run": "run",
    "equal": "equal",
    "slant": "slant",
    "height": "height %",
    "foot": "foot %",
    "apart": "apart",
    "solid": "solid %",
}
TARGETS = {
    "path": (0.6, 1.2),
    "weight": (6.0, 12.0),
    "over": (25.0, 90.0),
    "short": (1.0, 25.0),
    "run": (1.3, 3.0),
    "equal": (0.0, 0.0),
    "slant": (0.0, 1.5),
    "height": (0.0, 1.5),
    "foot": (0.0, 1.0),
    "apart": (0.15, 0.5),
    "solid": (97.0, 100.0),
}


def rules_of(drawing):
    return [
        ExactRule(start=tuple(mark.points[0]), end=tuple(mark.points[-1]), width_px=mark.width_px)
        for mark in drawing.marks
    ]


def picture_alone(drawing, marks, style, number):
    """The picture of `marks` alone on a canvas just large enough, and the moved marks."""
    points = np.concatenate([mark.points for mark in marks])
    corner = np.floor(points.min(axis=0)) - MARGIN_PX
    width, height = np.ceil(points.max(axis=0)) + MARGIN_PX - corner
    moved = tuple(
        replace(mark, points=mark.points - corner, origin=tuple(np.array(mark.origin) - corner))
        for mark in marks
    )
    scene = replace(
        drawing, canvas=(int(width), int(height)), layers=(Layer(name="alone", marks=moved),)
    )
    return render(draw(scene, style, number)), moved


def solid(style):
    """The style on paper without tooth or specks.

    Bare spots inside a stroke are no part of its path, weight or outline.
    """
    return replace(style, paper=replace(style.paper, dryness=0.0, specks=0.0))


def grid_figures(drawing, style):
    """Path, weight and solid share of all rules of all drawings, by their means."""
    rules = rules_of(drawing)
    found = []
    for number in NUMBERS:
        greys = [render(draw(drawing, style, number))]
        greys += (
            [render(draw(drawing, solid(style), number))] if style.paper.dryness > 0.0 else greys
        )
        for index, rule in enumerate(rules):
            others = rules[:index] + rules[index + 1 :]
            inked, outlined = (rule_measurement(grey, rule, others=others) for grey in greys)
            found.append((outlined.path_rms, outlined.weight_variation, inked.solid_share))
    path, weight, full = np.nanmean(np.array(found), axis=0)
    return path, 100.0 * weight, 100.0 * full


def tips(drawing, style):
    """How far each rule's tips lie beyond the exact ends, in weights, and the tips' outlines.

    Each rule is drawn by itself; the values are of each of its ends.
    """
    beyond, outlines = [], []
    for mark in drawing.marks:
        grey, (moved,) = picture_alone(drawing, [mark], solid(style), NUMBERS[0])
        places = half_ink_outline(grey).places
        along = (moved.points[-1] - moved.points[0]) / np.hypot(
            *(moved.points[-1] - moved.points[0])
        )
        for end, outwards in ((moved.points[0], -along), (moved.points[-1], along)):
            away, aside = (
                (places - end) @ outwards,
                (places - end) @ np.array([-outwards[1], outwards[0]]),
            )
            near = away > away.max() - mark.width_px
            beyond.append(away.max() / mark.width_px)
            tip = np.column_stack((away[near] - away.max(), aside[near] - aside[near].mean()))
            outlines.append(Outline(places=tip, normals=np.zeros_like(tip)))
    return np.array(beyond), outlines


def both_ways(tip):
    """A tip and its mirror image: an end that is another's reflection is as equal to the eye."""
    return tip, Outline(places=tip.places * [1.0, -1.0], normals=tip.normals)


def end_figures(drawing, style):
    beyond, outlines = tips(drawing, style)
    over, short = beyond > OVER_WEIGHTS, beyond < -SHORT_WEIGHTS
    pairs = combinations(outlines, 2)
    equal = sum(
        min(outline_distance(one, way) for way in both_ways(other)) < SAME_END_PX
        for one, other in pairs
    )
    return (
        100.0 * over.mean(),
        100.0 * short.mean(),
        beyond[over].mean() if over.any() else np.nan,
        equal,
    )


def figures_of(drawing):
    """The strokes of each single figure of a stamp, by its name.

    The two of a 17 stand each for itself.
    """
    single: dict[str, list[Stroke]] = {}
    for mark in drawing.marks:
        single.setdefault(mark.group, []).append(mark)
    return single


def numeral_outlines(drawing, style, number):
    """The outline of each figure about its baseline point, by name; each drawn alone."""
    outlines = {}
    for name, marks in figures_of(drawing).items():
        grey, moved = picture_alone(drawing, marks, style, number)
        outlines[name] = half_ink_outline(grey, origin=moved[0].origin)
    return outlines


def numeral_figures(drawing, style):
    """Spread of slant, height and foot of like figures over all drawings.

    The distance of two drawings of each is there, too.
    """
    exact = numeral_outlines(drawing, EXACT, 1)
    drawn = [numeral_outlines(drawing, solid(style), number) for number in NUMBERS]
    changes = {}
    for name in exact:
        for outlines in drawn:
            change = stance_change(outlines[name], exact[name])
            values = (change.slant_deg, 100.0 * change.height_share, 100.0 * change.baseline_share)
            changes.setdefault(character(name), []).append(values)
    off = np.concatenate(
        [np.array(values) - np.mean(values, axis=0) for values in changes.values()]
    )
    apart = [
        outline_distance(one[name], other[name])
        for one, other in combinations(drawn, 2)
        for name in exact
    ]
    return (
        *np.percentile(np.abs(off), 95.0, axis=0),
        float(np.mean(apart)) / next(drawing.marks).width_px,
    )


def character(name):
    """The figure that a letter's full name stands for: `7` for `standard/dates-3/17.2`."""
    text, _, index = name.rsplit("/", 1)[-1].partition(".")
    return text[int(index or 1) - 1]


def figures(grid, dates, style):
    path, weight, solid = grid_figures(grid, style)
    over, short, run, equal = end_figures(grid, style)
    slant, height, foot, apart = numeral_figures(dates, style)
    return Figures(
        path=path, weight=weight, over=over, short=short, run=run, equal=equal,
        slant=slant, height=height, foot=foot, apart=apart, solid=solid,
    )  # fmt: skip


def missed(found, style):
    """Names of the targets that `found` misses; dry styles are not asked to be solid."""
    names = []
    for field in fields(found):
        low, high = TARGETS[field.name]
        value = getattr(found, field.name)
        is_asked = not np.isnan(value) and not (field.name == "solid" and style.paper.dryness > 0.0)
        if is_asked and not low <= value <= high:
            names.append(f"{field.name} {'low' if value < low else 'high'}")
    return names


def main():
    files = style_files()
    parser = argparse.ArgumentParser(description="Measures how shipped styles look.")
    parser.add_argument(
        "styles", nargs="*", choices=[*files, []], help="styles to measure; all if none is named"
    )
    names = parser.parse_args().styles or list(files)
    recipe = default_recipe()
    grid, dates = (plan_by_name(recipe, face_of(recipe), name).drawing() for name in (GRID, DATES))
    print(" " * 12 + "".join(head.rjust(9) for head in HEADS.values()) + "  missed")
    for name in names:
        style = load_style(files[name])
        found = figures(grid, dates, style)
        row = "".join(f"{getattr(found, key):9.2f}" for key in HEADS)
        print(f"{name:12s}{row}  {', '.join(missed(found, style)) or 'none'}", flush=True)


if __name__ == "__main__":
    main()
