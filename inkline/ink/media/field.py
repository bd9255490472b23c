"""Media that are not wet: how much ink a mark leaves at each place. Lengths in mm.

What a tool gives, `q`, meets the height `h` of the paper, a quantile from 0 to 1:

    ink = clip((q' - h) / softness + 1/2, 0, 1),    q' = q (1 + softness) - softness / 2,

so that nothing stays where q is 0 and all where it is 1. Contact (chalk, pencil) presses from the
middle of a stroke and dies away towards its rims; a film (print) is squeezed heavy at its rims and
starves between them; a wash is grey itself, and the paper only granulates it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Floats, Indices, Points, Singles
from inkline.ink.media.bristles import (
    Piece,
    bristle_heights,
    bristle_steepness,
    piece_places,
    stroke_pieces,
)
from inkline.ink.media.fills import Passes, bands_at
from inkline.ink.media.grain import grain_heights, grain_steepness
from inkline.ink.media.lattice import Lattice, lattice_depths, lattice_over
from inkline.ink.media.loads import (
    PROFILE_STEPS,
    Course,
    load_course,
    load_offsets,
    middle_reaches,
    rim_profile,
    rim_slopes,
)
from inkline.ink.media.medium import MULTIPLYING, NO_RIM_MM, Medium

# The lattice has this many steps from rim to middle, within these bounds.
_STEPS_TO_MIDDLE, _SMALLEST_STEP_MM, _LARGEST_STEP_MM = 3.0, 0.015, 0.11
# In a wash, whose rims and fronts are fine, none is longer than this.
_WASH_STEP_MM = 0.06
# The level is sought between these, in the logarithm where it multiplies, so many times halved.
_LEVELS = {
    "contact": (-5.0, 6.0),
    "bristles": (-5.0, 6.0),
    "film": (-2.0, 3.0),
    "wash": (-3.0, 3.0),
}
_HALVINGS = 15
SAMPLE_MM = 0.03
"""Media are read about so densely: larger pixels are the mean of several places, mm."""
# Heights differ by at most this within a pixel.
_MOST_BLUR = 0.6
# Share of its load that the belly of a brush gives beside its bristles.
_BELLY = 0.01


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Given:
    """What a tool gives at some places at the level 0, and what it meets there.

    Attributes:
        where: which of the places that were asked about, or `None` for all of them.
        amounts: what it gives, `(n,)`.
        heights: height of the paper, or poverty of the bristle, 0 to 1, `(n,)`.
        blur: by how much heights differ within a pixel.
        slopes: by how much the amounts differ within a pixel, `(n,)`, or `None` if by little.
    """

    where: Indices | None
    amounts: Singles
    heights: Singles
    blur: float
    slopes: Singles | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MediumField:
    """A medium over the contours of its mark, ready to be read at any place.

    Attributes:
        medium: the medium.
        lattice: where the next two are known.
        depths: share of the way from rim to middle, at most 1.
        loads: what multiplies (contact, bristles) or adds to (film, wash) the level.
        reach: how deep the middle typically lies, mm.
        pieces: of a brush stroke.
        course: of a brush stroke, the load along it.
    """

    medium: Medium
    lattice: Lattice
    depths: Singles
    loads: Singles
    reach: float
    pieces: tuple[Piece, ...] = ()
    course: Course | None = None

    def ink_at(self, places: Points, *, pixel_mm: float, covered_mm: float) -> Singles:
        """Share of ink that stays at `places`, `(n, 2)` in mm: 0 bare to 1 full, `(n,)`.

        Args:
            places: where.
            pixel_mm: side of the square that each place stands for.
            covered_mm: side of the pixel whose coverage what is found here is multiplied with: at
                a rim, what counts is the ink in its covered part, not in its middle.
        """
        given = self._given(places, pixel_mm, covered_mm)
        return _ink(self.medium, given, len(places), self.medium.level)

    def level_for(self, dryness: float, places: Points, *, pixel_mm: float) -> float:
        """The level at which `dryness` of the ink at `places` is missing, by bisection."""
        given = self._given(places, pixel_mm, 0.0)
        return level_that_leaves(
            dryness,
            lambda level: _ink(self.medium, given, len(places), level),
            between=_LEVELS[self.medium.kind],
            n_halvings=_HALVINGS,
        )

    def _given(self, places: Points, pixel_mm: float, covered_mm: float) -> list[Given]:
        """What the tool gives at `places`, by every piece of it that passes there."""
        medium = self.medium
        heights = grain_heights(medium.grain, medium.paper, places, pixel_mm=pixel_mm)
        blur = grain_steepness(medium.grain) * pixel_mm
        reading = self.lattice.reading_at(places)
        profile = rim_profile(medium.kind, medium.body, medium.falloff, medium.rim)
        step = reading.read(self.depths)
        step = np.maximum(step, 0.5 * step + np.float32(0.25 * covered_mm / self.reach))
        step *= PROFILE_STEPS
        np.clip(step, 0.0, PROFILE_STEPS, out=step)
        at = step.astype(np.int32)
        amounts = profile.take(at)
        if self.course is not None:
            return self._given_by_bristles(
                self.course, places, amounts, heights, pixel_mm, covered_mm
            )
        loads = reading.read(self.loads)
        if medium.kind in MULTIPLYING:
            amounts *= loads
        else:
            amounts += loads
        if medium.kind == "bristles" and medium.passes is not None:
            return self._given_by_passes(medium.passes, places, amounts, heights, pixel_mm)
        slopes = None
        if medium.kind == "contact":
            slopes = rim_slopes(medium.body, medium.falloff).take(at)
            slopes *= loads
            slopes *= np.float32(pixel_mm / self.reach)
        return [Given(where=None, amounts=amounts, heights=heights, blur=blur, slopes=slopes)]

    def _bristle_blur(self, width: float, pixel_mm: float) -> float:
        """By how much bristles and the paper on top of them differ within a pixel."""
        medium = self.medium
        bristles = bristle_steepness(width=width, finest=medium.grain.finest)
        paper = medium.granulation * grain_steepness(medium.grain)
        return float(np.hypot(bristles, paper)) * pixel_mm

    def _bristles_on_paper(
        self, along: Singles, across: Singles, heights: Singles, *, width: float
    ) -> Singles:
        """Bristles with a little of the paper's height on top, which breaks long streaks."""
        medium = self.medium
        bristles = bristle_heights(
            medium.own, along, across, width=width, finest=medium.grain.finest
        )
        return np.asarray(bristles + np.float32(medium.granulation) * (heights - np.float32(0.5)))

    def _given_by_bristles(
        self,
        course: Course,
        places: Points,
        amounts: Singles,
        heights: Singles,
        pixel_mm: float,
        covered_mm: float,
    ) -> list[Given]:
        """What the bristles give along a stroke."""
        given = [_wetted(amounts, heights)]
        blur = self._bristle_blur(course.width, pixel_mm)
        margin = 1.5 * covered_mm / course.width  # of pixels whose middle lies outside
        for piece in self.pieces:
            where, along, across = piece_places(piece, places, margin=margin)
            given.append(
                Given(
                    where=where,
                    amounts=amounts[where] * course.loads_at(along),
                    heights=self._bristles_on_paper(
                        along, across, heights[where], width=course.width
                    ),
                    blur=blur,
                )
            )
        return given

    def _given_by_passes(
        self,
        passes: Passes,
        places: Points,
        amounts: Singles,
        heights: Singles,
        pixel_mm: float,
    ) -> list[Given]:
        """What the bristles give in the passes that fill a shape."""
        given = [_wetted(amounts, heights)]
        blur = self._bristle_blur(passes.width, pixel_mm)
        for along, across, load in bands_at(passes, self.medium.own, places):
            strength = np.exp(np.float32(passes.strength) * load)
            strength *= np.sqrt(np.maximum(1.0 - across**4, 0.0))
            given.append(
                Given(
                    where=None,
                    amounts=amounts * strength,
                    heights=self._bristles_on_paper(along, across, heights, width=passes.width),
                    blur=blur,
                )
            )
        return given


def _wetted(amounts: Singles, heights: Singles) -> Given:
    """What the belly of a brush gives where no bristle passes: next to nothing, unless it is full.

    So that a stroke can be as wet as is asked.
    """
    return Given(where=None, amounts=amounts * np.float32(_BELLY), heights=heights, blur=0.0)


def _ink(medium: Medium, given: list[Given], n_places: int, level: float) -> Singles:
    """Share of ink that stays at each place at `level`; the wettest piece of the tool wins."""
    ink = np.zeros(n_places, dtype=np.float32)
    for one in given:
        if one.where is None:
            np.maximum(ink, _ink_of_one(medium, one, level), out=ink)
            continue
        ink[one.where] = np.maximum(ink[one.where], _ink_of_one(medium, one, level))
    return ink


def _ink_of_one(medium: Medium, given: Given, level: float) -> Singles:
    if medium.kind == "wash":
        tone = given.amounts + np.float32(level + 0.5 * medium.granulation)
        tone -= given.heights * np.float32(medium.granulation)
        return np.asarray(np.clip(tone, 0.0, 1.0))
    # A pixel is not a point: what heights and amounts differ by within it softens the step.
    softness = np.float32(np.hypot(medium.softness, min(given.blur, _MOST_BLUR)))
    if given.slopes is not None:
        return _ink_of_contact(medium, given, given.slopes, softness, np.float32(np.exp(level)))
    slope = np.float32((1.0 + medium.softness) / softness)
    if medium.kind in MULTIPLYING:
        ink = given.amounts * np.float32(slope * np.exp(level))
    else:
        ink = (given.amounts + np.float32(level)) * slope
    ink -= given.heights * np.float32(1.0 / softness)
    ink += np.float32(0.5 - 0.5 * medium.softness / softness)
    return np.asarray(np.clip(ink, 0.0, 1.0, out=ink))


def _ink_of_contact(
    medium: Medium, given: Given, slopes: Singles, softness: np.float32, load: np.float32
) -> Singles:
    """As `_ink_of_one`, where the amounts differ within a pixel."""
    blurs = np.minimum(slopes * load, np.float32(_MOST_BLUR))
    blurs *= blurs
    blurs += softness * softness
    np.sqrt(blurs, out=blurs)
    ink = given.amounts * np.float32((1.0 + medium.softness) * load)
    ink -= given.heights
    ink -= np.float32(0.5 * medium.softness)
    ink /= blurs
    ink += np.float32(0.5)
    return np.asarray(np.clip(ink, 0.0, 1.0, out=ink))


def level_that_leaves(
    dryness: float,
    ink_at: Callable[[float], Floats | Singles],
    *,
    between: tuple[float, float],
    n_halvings: int,
) -> float:
    """The level at which `dryness` of the ink is missing, by bisection.

    Args:
        dryness: the share of ink that is to be missing on the mean.
        ink_at: gives the ink that stays at a level, more at a higher one.
        between: the lowest and the highest level.
        n_halvings: how many times the way between them is halved.
    """
    low, high = between
    for _ in range(n_halvings):
        middle = 0.5 * (low + high)
        if 1.0 - float(ink_at(middle).mean(dtype=np.float64)) > dryness:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


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
    near = np.flatnonzero(depths > -1.0)
    places = lattice.points[near]
    loads[near] = load_offsets(medium, places, depths[near])
    if medium.kind in MULTIPLYING:
        loads = np.exp(loads)
    return MediumField(
        medium=medium,
        lattice=lattice,
        depths=depths,
        loads=loads.astype(np.float32),
        reach=typical,
    )


def _is_stroke(medium: Medium) -> bool:
    """Whether the mark is a stroke and not a shape or a press of the pen."""
    return len(medium.spine) > 1 and float(medium.halves[0]) < NO_RIM_MM
