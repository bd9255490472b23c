"""What became of the rules of a grid, slice by slice: moved, broken, wider, drawn otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Grey
from inkline.proof.changes import Change
from inkline.proof.slices import ExactRule, Slices, clear_of, slices_across, stretches
from inkline.proof.things import Thing

_REACH_WEIGHTS = 2.0
_EMPTY = 0.2
"""A slice with less than this share of its ink is a gap."""
_SAME_PX = 0.05
_STEADY = 0.35
"""What a shift or a change of width leaves unexplained where that is all there is."""
_ALL_ALONG = 0.5
_LOCAL = 0.02

Found = list[Change]


def rule_differences(
    got: Grey, expected: Grey, rules: Sequence[Thing], differs: Bools
) -> Iterator[tuple[Thing, Found]]:
    """How each of `rules` differs between two pictures that differ where `differs` is true."""
    exact = [thing.rule for thing in rules if thing.rule is not None]
    for thing in rules:
        rule = thing.rule
        if rule is None or not _cut(differs, thing).any():
            continue
        others = [other for other in exact if other is not rule]
        reach = _REACH_WEIGHTS * rule.width_px
        here, should = (slices_across(grey, rule, reach_px=reach) for grey in (got, expected))
        clear = clear_of(should, rule, others, cut_weights=0.6)
        found = _changes_along(here, should, clear, length_px=rule.length_px)
        if found:
            yield thing, [_in_place(change, rule) for change in found]


def _in_place(change: Change, rule: ExactRule) -> Change:
    """`change` with its box, where it has first only its span along the rule."""
    if change.box is None:
        return change
    first, last = change.box[0], change.box[2]
    reach = _REACH_WEIGHTS * rule.width_px
    (x0, y0), (x1, y1) = rule.start, rule.end
    ways = np.array([x1 - x0, y1 - y0]) / rule.length_px
    ends = np.array([[x0, y0], [x0, y0]]) + np.outer((first, last), ways)
    low, high = ends.min(axis=0) - reach, ends.max(axis=0) + reach
    return replace(change, box=(float(low[0]), float(low[1]), float(high[0]), float(high[1])))


def _cut(differs: Bools, thing: Thing) -> Bools:
    x0, y0, x1, y1 = (max(round(value), 0) for value in thing.around)
    return differs[y0:y1, x0:x1]


def _changes_along(here: Slices, should: Slices, clear: Bools, *, length_px: float) -> Found:
    widths, exact = here.widths(), should.widths()
    inked = exact > 0
    gaps = inked & (widths < _EMPTY * exact)
    if (gaps & clear).sum() > 0.9 * max((inked & clear).sum(), 1):
        return [Change(kind="gone", sentence="gone", left=0.0)]
    found = list(_gaps(should.along, gaps, length_px=length_px))
    usable = inked & clear & ~_grown(gaps, 6)
    differing = np.abs(here.ink - should.ink).max(axis=1) > 2.5 / 255
    if usable.sum() < 3 or not (differing & usable).any():
        return found
    if (differing & usable).sum() < _ALL_ALONG * usable.sum():
        return found + ([] if found else _local_change(here, should, differing & usable))
    return [*found, _change_all_along(here, should, usable)]


def _change_all_along(here: Slices, should: Slices, usable: Bools) -> Change:
    offsets = (here.centroids() - should.centroids())[usable]
    excess = (here.widths() - should.widths())[usable]
    size = float(np.abs(here.ink - should.ink)[usable].sum(axis=1).mean()) * here.pitch
    shift, wider = float(np.nanmedian(offsets)), float(np.median(excess))
    unsteady = float(np.nanmean(np.abs(offsets - shift)) + np.mean(np.abs(excess - wider)) / 2)
    if unsteady < _STEADY * max(abs(shift), abs(wider) / 2, 1e-9) and size > _SAME_PX:
        if abs(shift) > abs(wider):
            return Change(kind="moved", sentence=f"moved {shift:+.2f} px across", left=0.0)
        share = wider / float(should.widths()[usable].mean())
        word = "wider" if wider > 0 else "thinner"
        return Change(kind=word, sentence=f"{abs(share):.1%} {word} than it was drawn", left=0.0)
    drift = _slanting(should.along[usable], offsets)
    if drift is not None:
        sentence = f"turned: it drifts {drift:+.1f} px from end to end"
        return Change(kind="moved", sentence=sentence, left=0.0)
    return Change(kind="redrawn", sentence="drawn otherwise", left=0.0)


def _slanting(along: Floats, offsets: Floats) -> float | None:
    """How far a rule drifts from end to end, if that is all that has changed."""
    fine = np.isfinite(offsets)
    if fine.sum() < 3:
        return None
    fit = np.polyfit(along[fine], offsets[fine], 1)
    left = float(np.abs(offsets[fine] - np.polyval(fit, along[fine])).mean())
    return (
        float(fit[0] * np.ptp(along[fine]))
        if left < 0.1 * float(np.abs(offsets[fine]).mean())
        else None
    )


def _gaps(along: Floats, gaps: Bools, *, length_px: float) -> Iterator[Change]:
    number = stretches(gaps)
    for which in np.unique(number[number > 0]):
        own = along[number == which]
        first, last = float(own[0]), float(own[-1])
        length, box = last - first + 1.0, (first, 0.0, last, 0.0)
        if first < 2.0 or last > length_px - 2.0:
            sentence = f"too short: {length:.0f} px are missing at its end"
            yield Change(kind="broken", sentence=sentence, left=0.0, box=box)
        else:
            sentence = f"broken over {length:.0f} px"
            yield Change(kind="broken", sentence=sentence, left=0.0, box=box)


def _local_change(here: Slices, should: Slices, differing: Bools) -> Found:
    """A few slices that differ: a hole where ink is missing inside, else ink beside or away."""
    change = (here.ink - should.ink)[differing]
    rows = np.flatnonzero(differing)
    length = int(np.ptp(rows)) + 1
    box = (float(here.along[rows[0]]), 0.0, float(here.along[rows[-1]]), 0.0)
    lost, gained = -float(change[change < 0].sum()), float(change[change > 0].sum())
    if lost > gained:
        inside = (should.ink[differing] > 0.99) & (change < -0.01)
        kind = "hole" if inside.sum() > 0.7 * (change < -0.01).sum() else "part gone"
        what = f"a hole of {length} px in" if kind == "hole" else "in part gone"
        return [Change(kind=kind, sentence=what, left=0.0, box=box)]
    return [Change(kind="speck", sentence=f"a speck of {length} px near", left=0.0, box=box)]


def _grown(flags: Bools, by: int) -> Bools:
    return np.asarray(np.convolve(flags, np.ones(2 * by + 1), mode="same") > 0)
