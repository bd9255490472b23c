"""Fields: a medium laid over the contours of its mark. Lengths in mm."""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Indices, Points, Singles
from inkline.ink.media.arms import Arms, arms_at
from inkline.ink.media.bristles import stroke_pieces
from inkline.ink.media.field import MediumField
from inkline.ink.media.lattice import Lattice, lattice_depths, lattice_over
from inkline.ink.media.loads import load_course, load_offsets, middle_reaches
from inkline.ink.media.medium import MULTIPLYING, NO_RIM_MM, Medium
from inkline.ink.media.nearest import nearest_indices

# The lattice has this many steps from rim to middle, within these bounds.
_STEPS_TO_MIDDLE, _SMALLEST_STEP_MM, _LARGEST_STEP_MM = 3.0, 0.015, 0.11
# In a wash, whose rims and fronts are fine, none is longer than this.
_WASH_STEP_MM = 0.06
# Loads are known up to so far beside the ink, where pixels may lie that it barely touches.
_AROUND_MM = 0.1


def field_over(medium: Medium, contours: tuple[Points, ...]) -> MediumField:
    """`medium` over the contours of its mark, in mm about its origin."""
    reaches = middle_reaches(medium, contours)
    typical = float(np.median(reaches))
    largest = _WASH_STEP_MM if medium.kind == "wash" else _LARGEST_STEP_MM
    step = float(np.clip(typical / _STEPS_TO_MIDDLE, _SMALLEST_STEP_MM, largest))
    lattice = lattice_over(contours, step=step)
    depths = lattice_depths(lattice, contours, reaches=reaches)
    if medium.kind == "bristles" and _is_stroke(medium):
        return MediumField(
            medium=medium,
            lattice=lattice,
            depths=depths,
            loads=depths,
            reach=typical,
            pieces=stroke_pieces(medium.spine, medium.halves, step=step),
            course=load_course(medium),
        )
    loads = np.zeros(len(depths))
    near = _readable(lattice, depths)
    places = lattice.points[near]
    arms = _arms_at(medium, places, step)
    loads[near] = load_offsets(medium, places, depths[near], arms.levels)
    doubled = None
    if medium.overlap > 0.0 and np.any(arms.doubled):
        doubled = np.zeros(len(depths), dtype=np.float32)
        doubled[near] = arms.doubled
    if medium.kind in MULTIPLYING:
        loads = np.exp(loads)
    return MediumField(
        medium=medium,
        lattice=lattice,
        depths=depths,
        loads=loads.astype(np.float32),
        reach=typical,
        doubled=doubled,
    )


def _readable(lattice: Lattice, depths: Singles) -> Indices:
    """The points of the lattice between which any pixel may be read that the ink touches."""
    near = (depths > 0.0).reshape(lattice.shape)
    for _ in range(int(np.ceil(_AROUND_MM / lattice.step)) + 1):
        for part in (near, near.T):
            wider = part[1:] | part[:-1]
            part[1:] |= wider
            part[:-1] |= wider
    return np.flatnonzero(near)


def _arms_at(medium: Medium, places: Points, step: float) -> Arms:
    """What the arms of a stroke brought to `places`; nothing where all is level and alike."""
    none = np.zeros(len(places))
    if len(medium.spine) == 1:
        return Arms(levels=none, doubled=none)
    if medium.in_arms and _is_stroke(medium) and (np.any(medium.levels) or medium.overlap > 0.0):
        return arms_at(medium, places, step=step)
    if not np.any(medium.levels):
        return Arms(levels=none, doubled=none)
    return Arms(levels=medium.levels[nearest_indices(medium.spine, places)], doubled=none)


def _is_stroke(medium: Medium) -> bool:
    """Whether the mark is a stroke and not a shape or a press of the pen."""
    return len(medium.spine) > 1 and float(medium.halves[0]) < NO_RIM_MM
