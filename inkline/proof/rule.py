"""How a drawn rule lies and looks, read off its picture.

Position and width come from centroids and sums of ink across the rule. Raggedness and blurriness
follow the definitions of ISO/IEC 13660 and ISO/IEC 24790; their clause texts were not seen, so the
thresholds are from memory and named parameters.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import scipy
from numpy.typing import NDArray

from inkline.geometry.arrays import Bools, Floats, Grey
from inkline.proof.picture import quarter_picture
from inkline.proof.slices import ExactRule, Slices, clear_of, slices_across, stretches

EDGE_INK = 0.60
"""Share of ink at the edge contour: reflectance 60 % of the way from paper to ink (ISO/IEC 13660;
read in a review of it)."""

_BLUR_FROM_INK, _BLUR_TO_INK = 0.10, 0.90
"""Shares of ink between whose contours blurriness is the distance (ISO/IEC 13660, from memory)."""

# A scanner spreads an edge over more than a pixel. Without that, the crossing of a bare pixel edge
# is bent by where it falls in the pixel, and a raggedness of 0.2 px reads a quarter too small.
_SCANNER_BLUR_PX = 1.0

_PROFILE_BIN_PX = 0.1
_HALF_INK = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleMeasurement:
    """What was read off one rule, in px of the picture unless said otherwise.

    All is NaN where nothing was clear to read.

    Attributes:
        offset_px: mean distance of the middle of ink from the exact line; positive below a level
            rule, right of an upright one.
        drift_px: slope of that distance, fitted by least squares, times the rule's length.
        width_px: mean width by sums of ink.
        width_deviation_px: standard deviation of that width from slice to slice, pressure and both
            edges together.
        threshold_shift_px: mean width at the edge contour less `width_px`: what the threshold alone
            makes of the width.
        raggedness_px: standard deviation of the edge contour about a line fitted to each stretch of
            each edge.
        blurriness_px: distance between the contours of `_BLUR_FROM_INK` and `_BLUR_TO_INK` on the
            mean edge profile.
        path_rms: root mean square distance of the drawn path (midway between the edges) from the
            exact line at quarter size, in px of that size.
        weight_variation: standard deviation over mean of the width at quarter size, averaged over
            one weight of length.
        solid_share: share of the pixels well inside the rule that are full ink.
        clear_share: share of the rule's length that was clear of ends and crossings and so was
            measured.
    """

    offset_px: float
    drift_px: float
    width_px: float
    width_deviation_px: float
    threshold_shift_px: float
    raggedness_px: float
    blurriness_px: float
    path_rms: float
    weight_variation: float
    solid_share: float
    clear_share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RulePlace:
    """Where one rule lies and how wide it is, in px; all NaN where nothing was clear to read.

    Attributes:
        offset_px: as of a `RuleMeasurement`, and so the others.
        drift_px: likewise.
        width_px: likewise.
        width_deviation_px: likewise.
    """

    offset_px: float
    drift_px: float
    width_px: float
    width_deviation_px: float


def rule_place(
    grey: Grey,
    rule: ExactRule,
    *,
    others: Sequence[ExactRule] = (),
    reach_weights: float = 2.0,
    cut_weights: float = 2.0,
) -> RulePlace:
    """Where `rule` lies in the picture `grey`; arguments as of `rule_measurement`."""
    slices, clear = _clear_slices(
        grey, rule, others, reach_weights=reach_weights, cut_weights=cut_weights
    )
    if clear.sum() < 2:
        nan = float("nan")
        return RulePlace(offset_px=nan, drift_px=nan, width_px=nan, width_deviation_px=nan)
    kept = slices.where(clear)
    offset, drift = _line_of(slices.along, kept.along, kept.centroids(), length_px=rule.length_px)
    widths = kept.widths()
    return RulePlace(
        offset_px=offset,
        drift_px=drift,
        width_px=float(widths.mean()),
        width_deviation_px=float(widths.std()),
    )


def rule_measurement(
    grey: Grey,
    rule: ExactRule,
    *,
    others: Sequence[ExactRule] = (),
    reach_weights: float = 2.0,
    cut_weights: float = 2.0,
) -> RuleMeasurement:
    """What `rule` measures in the picture `grey`, uint8 `(height, width)`, 255 full ink.

    Args:
        grey: the picture.
        rule: the exact rule.
        others: the other rules of the picture; what lies near where they cross is left out.
        reach_weights: how many rule weights to either side of the exact line belong to the rule;
            its drift must stay within, and no other mark may come into it.
        cut_weights: how many rule weights are left out beside ends and crossings.
    """
    slices, clear = _clear_slices(
        grey, rule, others, reach_weights=reach_weights, cut_weights=cut_weights
    )
    if clear.sum() < 2:
        return RuleMeasurement(**dict.fromkeys(RuleMeasurement.__dataclass_fields__, float("nan")))
    kept = slices.where(clear)
    number = stretches(clear)[clear]
    offset, drift = _line_of(slices.along, kept.along, kept.centroids(), length_px=rule.length_px)
    width = float(kept.widths().mean())
    near, far = _blur_as_scanner(kept).edges_by_threshold(EDGE_INK)
    path_rms, weight_variation = _at_quarter(
        grey, rule, others, reach_weights=reach_weights, cut_weights=cut_weights
    )
    return RuleMeasurement(
        offset_px=offset,
        drift_px=drift,
        width_px=width,
        width_deviation_px=float(kept.widths().std()),
        threshold_shift_px=_mean(np.subtract(*kept.edges_by_threshold(EDGE_INK)[::-1])) - width,
        raggedness_px=raggedness([near, far], kept.along, number),
        blurriness_px=_transition_width(
            _edge_profile(kept), from_ink=_BLUR_FROM_INK, to_ink=_BLUR_TO_INK
        ),
        path_rms=path_rms,
        weight_variation=weight_variation,
        solid_share=_solid_share(kept),
        clear_share=float(clear.mean()),
    )


def raggedness(edges: Sequence[Floats], along: Floats, number: NDArray[np.int64]) -> float:
    """Standard deviation of edges about the lines fitted to each of their stretches, all together.

    Args:
        edges: distances of each edge from the exact line in px, each `(n,)`; NaN is left out.
        along: where along the rule in px, `(n,)`.
        number: which stretch each place belongs to, `(n,)`.
    """
    residuals = [
        _residuals(along[chosen], edge[chosen])
        for edge in edges
        for which in np.unique(number)
        if np.count_nonzero(chosen := (number == which) & np.isfinite(edge)) > 2
    ]
    return float(np.sqrt(np.mean(np.concatenate(residuals) ** 2))) if residuals else float("nan")


def _edge_profile(slices: Slices) -> tuple[Floats, Floats]:
    """The mean profile of ink over both edges, by ascending distance.

    It is the distance outwards from the local edge in px, and the share of ink there. Slices see
    the edge at many places within a pixel, so the profile is finer than the pixels; on an edge that
    runs exactly along the pixels there is one such place only, and the profile is as coarse as they
    are.
    """
    near, far = slices.edges_by_sum()
    distances = slices.distances()
    middle = 0.5 * (near + far)[:, None]
    outwards = np.where(distances < middle, near[:, None] - distances, distances - far[:, None])
    usable = np.isfinite(outwards)
    bins = np.rint(outwards[usable] / _PROFILE_BIN_PX).astype(int)
    lowest = int(bins.min())
    counts = np.bincount(bins - lowest)
    filled = counts > 0
    totals = np.bincount(bins - lowest, slices.ink[usable])[filled]
    places = np.bincount(bins - lowest, outwards[usable])[filled]
    return places / counts[filled], totals / counts[filled]


def _transition_width(profile: tuple[Floats, Floats], *, from_ink: float, to_ink: float) -> float:
    """Distance in px between where a profile last reaches `to_ink` and last reaches `from_ink`.

    The profile is one of `_edge_profile`.
    """
    outwards, ink = profile
    high = Slices(along=np.zeros(1), ink=ink[None, ::-1], first=np.zeros(1), pitch=1.0)
    places = [float(high.edges_by_threshold(share)[0][0]) for share in (from_ink, to_ink)]
    at = [float(np.interp(len(ink) - 1 - place, np.arange(len(ink)), outwards)) for place in places]
    return at[0] - at[1]


def _clear_slices(
    grey: Grey,
    rule: ExactRule,
    others: Sequence[ExactRule],
    *,
    reach_weights: float,
    cut_weights: float,
) -> tuple[Slices, Bools]:
    """All slices of the rule, and which are clear of ends and crossings and hold ink."""
    slices = slices_across(grey, rule, reach_px=reach_weights * rule.width_px)
    clear = clear_of(slices, rule, others, cut_weights=cut_weights)
    return slices, clear & (slices.ink.sum(axis=1) > 0)


def _line_of(
    everywhere: Floats, along: Floats, offsets: Floats, *, length_px: float
) -> tuple[float, float]:
    """Mean of the offsets over the whole rule, and their fitted slope times its length.

    What was left out is bridged by straight lines: a wander that is level over the whole rule need
    not be so over the clear parts alone.
    """
    bridged = np.interp(everywhere, along, offsets)
    slope = np.polyfit(everywhere - everywhere.mean(), bridged, 1)[0]
    return float(bridged.mean()), float(slope * length_px)


def _blur_as_scanner(slices: Slices) -> Slices:
    return replace(
        slices,
        ink=scipy.ndimage.gaussian_filter1d(
            slices.ink, _SCANNER_BLUR_PX / slices.pitch, axis=1, mode="constant"
        ),
    )


def _residuals(along: Floats, edge: Floats) -> Floats:
    centred = along - along.mean()
    fitted: Floats = np.polyval(np.polyfit(centred, edge, 1), centred)
    return edge - fitted


def _at_quarter(
    grey: Grey,
    rule: ExactRule,
    others: Sequence[ExactRule],
    *,
    reach_weights: float,
    cut_weights: float,
) -> tuple[float, float]:
    """Path RMS and weight variation at quarter size."""
    small = [
        ExactRule(
            start=(r.start[0] / 4, r.start[1] / 4),
            end=(r.end[0] / 4, r.end[1] / 4),
            width_px=r.width_px / 4,
        )
        for r in (rule, *others)
    ]
    slices, clear = _clear_slices(
        quarter_picture(grey),
        small[0],
        small[1:],
        reach_weights=reach_weights,
        cut_weights=cut_weights,
    )
    if clear.sum() < 2:
        return float("nan"), float("nan")
    # Sums place each edge where its 50 % contour would lie were it finer than the pixels; between
    # pixel centres the contour is bent by up to 0.08 px, as much as a tenth of what is measured.
    near, far = slices.where(clear).edges_by_sum()
    path_rms = float(np.sqrt(np.mean((0.5 * (near + far)) ** 2)))
    return path_rms, _weight_variation(slices.widths(), stretches(clear), weight=small[0].width_px)


def _weight_variation(widths: Floats, number: NDArray[np.int64], *, weight: float) -> float:
    """Deviation over mean of the widths averaged over one weight of length in each stretch."""
    n_averaged = max(round(weight), 1)
    window = np.full(n_averaged, 1 / n_averaged)
    runs = [widths[number == which] for which in np.unique(number[number > 0])]
    averaged = [np.convolve(run, window, mode="valid") for run in runs if len(run) >= n_averaged]
    if not averaged:
        return float("nan")
    local = np.concatenate(averaged)
    return float(local.std() / local.mean())


def _solid_share(slices: Slices) -> float:
    """Share of pixels that are full among those more than two pixels inside both edge contours."""
    near, far = slices.edges_by_threshold(_HALF_INK)
    distances = slices.distances()
    inside = (distances > near[:, None] + 2) & (distances < far[:, None] - 2)
    return float((slices.ink[inside] == 1).mean()) if inside.any() else float("nan")


def _mean(values: Floats) -> float:
    finite = values[np.isfinite(values)]
    return float(finite.mean()) if len(finite) else float("nan")
