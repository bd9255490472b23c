"""The two edges of a straight line, read from its picture, and how rough they are.

Line-edge and line-width roughness follow SEMI P47 (definitions read in summaries): the deviation of
an edge from its line of best fit, and the variation of the local width. Raggedness in the sense of
ISO/IEC 13660 and 24790 is the former, at a named threshold; the clause texts were not seen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import scipy
from numpy.typing import NDArray

from inkline.geometry.arrays import Floats, Grey
from inkline.proof.rule import EDGE_INK
from inkline.proof.slices import ExactRule, clear_of, slices_across

_CUT_WEIGHTS = 3.0
"""How many rule weights are left out at each end of a line whose edges are read (chosen so that no
pool or tip is read)."""

EdgeReading = Literal["sums", "threshold"]
"""How an edge is found in a column of pixels: by its sum of ink, or where ink crosses a threshold
after a scanner-like blur."""

_SCANNER_BLUR_PX = 1.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LineEdges:
    """Both edges of one straight line, a sample a pixel.

    Attributes:
        along: arc length in px from the line's start, `(n,)`, in equal steps.
        near: distance in px of the edge above (or left) from the exact line, `(n,)`; negative
            above.
        far: distance of the other edge, `(n,)`.
    """

    along: Floats
    near: Floats
    far: Floats

    @property
    def length_px(self) -> float:
        """The length over which lines are fitted."""
        return float(len(self.along) * (self.along[1] - self.along[0]))

    @property
    def widths(self) -> Floats:
        """Local width in px, `(n,)`."""
        return self.far - self.near

    @property
    def middles(self) -> Floats:
        """Distance of the middle from the exact line in px, `(n,)`."""
        return 0.5 * (self.near + self.far)


@dataclass(frozen=True, slots=True, kw_only=True)
class Roughness:
    """How rough the edges of one line or of many are, in px, about lines of best fit.

    Attributes:
        near_px: standard deviation of the near edges.
        far_px: of the far edges.
        width_px: of the widths.
        middle_px: of the middles.
        correlation: of the two edges with one another, -1 to 1.
    """

    near_px: float
    far_px: float
    width_px: float
    middle_px: float
    correlation: float

    @property
    def edge_px(self) -> float:
        """Root mean square of the two edges' deviations: the raggedness of an edge."""
        return float(np.hypot(self.near_px, self.far_px) / np.sqrt(2.0))


def line_edges(
    grey: Grey,
    rule: ExactRule,
    *,
    reach_px: float,
    cut_weights: float = _CUT_WEIGHTS,
    reading: EdgeReading = "sums",
    ink_share: float = EDGE_INK,
) -> LineEdges:
    """The edges of the line `rule` in the picture `grey`, uint8 `(height, width)`, 255 full ink.

    Args:
        grey: the picture; the line is solid and lies alone within `reach_px`.
        rule: the exact line.
        reach_px: how far to either side of the exact line to look.
        cut_weights: how many of the line's weights are left out at each end.
        reading: how an edge is found.
        ink_share: the threshold, where one is used: the share of ink at the edge.

    Raises:
        ValueError: fewer than three columns with ink are left.
    """
    slices = slices_across(grey, rule, reach_px=reach_px)
    slices = slices.where(
        clear_of(slices, rule, (), cut_weights=cut_weights) & (slices.ink.sum(axis=1) > 0.0)
    )
    if len(slices.along) < 3:
        raise ValueError(
            f"edges need at least three inked columns between the cut ends, not {len(slices.along)}"
        )
    if reading == "sums":
        near, far = slices.edges_by_sum()
    else:
        scanned = scipy.ndimage.gaussian_filter1d(
            slices.ink, _SCANNER_BLUR_PX / slices.pitch, axis=1, mode="constant"
        )
        near, far = replace(slices, ink=scanned).edges_by_threshold(ink_share)
    return LineEdges(along=slices.along, near=near, far=far)


def roughness(lines: Sequence[LineEdges]) -> Roughness:
    """The roughness of all `lines` together.

    Variances about each line's own fits are averaged over the lines. Averaging variances estimates
    the variance of the process; averaging deviations would come out low.
    """
    squares = np.zeros((2, 2))
    for line in lines:
        residuals = np.stack([_residuals_of(line.along, edge) for edge in (line.near, line.far)])
        squares += residuals @ residuals.T / residuals.shape[1] / len(lines)
    near, far, both = squares[0, 0], squares[1, 1], squares[0, 1]
    return Roughness(
        near_px=float(np.sqrt(near)),
        far_px=float(np.sqrt(far)),
        width_px=float(np.sqrt(max(near + far - 2.0 * both, 0.0))),
        middle_px=float(np.sqrt(max(near + far + 2.0 * both, 0.0)) / 2.0),
        correlation=float(both / np.sqrt(near * far)) if near * far > 0.0 else float("nan"),
    )


def _residuals_of(along: Floats, edge: Floats) -> NDArray[np.float64]:
    """What is left of `edge` when its line of best fit is taken off, `(n,)`."""
    centred = along - along.mean()
    slope = float(centred @ edge) / float(centred @ centred)
    return np.asarray(edge - edge.mean() - slope * centred)
