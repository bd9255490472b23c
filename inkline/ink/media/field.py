"""Media that are not wet: how much ink a mark leaves at each place. Lengths in mm.

Contact (chalk, pencil) presses from the middle of a stroke and dies away towards its rims; a film
(print) is squeezed heavy at its rims and starves between them; a wash is grey itself, and the paper
only granulates it. What meets what, and what stays then, is in `law`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.arrays import Bools, Floats, Grey, Indices, Points, Singles
from inkline.ink.media import bristles, grain
from inkline.ink.media.bristles import Piece, piece_part, piece_places
from inkline.ink.media.fills import bands_at
from inkline.ink.media.lattice import BoxReading, Lattice, Reading
from inkline.ink.media.law import Given, falling_root, ink_met, joined, meetings_of, thinned
from inkline.ink.media.loads import (
    PROFILE_STEPS,
    Course,
    relative_slopes,
    rim_profile,
    rim_slopes,
)
from inkline.ink.media.medium import MULTIPLYING, Medium
from inkline.ink.media.places import Box, Places, shape_of

# The level is sought between these, in the logarithm where it multiplies: on one in so many of the
# places, then by so many steps of the secant on all of them.
_LEVELS = {
    "contact": (-5.0, 6.0),
    "bristles": (-5.0, 6.0),
    "film": (-2.0, 3.0),
    "wash": (-3.0, 3.0),
}
_FEW, _SECANTS, _NEAR_ENOUGH = 10, 3, 1e-4
SAMPLE_MM = 0.03
"""Media are read about so densely: larger pixels are the mean of several places, mm."""
# Share of its load that the belly of a brush gives beside its bristles.
_BELLY = 0.01


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MediumField:
    """A medium over the contours of its mark, ready to be read at any place.

    Attributes:
        medium: the medium.
        lattice: where the next two are known.
        depths: share of the way from rim to middle, at most 1.
        loads: what multiplies (contact, bristles) or adds to (film, wash) the level.
        reach: how deep the middle typically lies, mm.
        doubled: share of a second arm of the stroke over the first, or `None` if there is none.
        pieces: of a brush stroke.
        course: of a brush stroke, the load along it.
    """

    medium: Medium
    lattice: Lattice
    depths: Singles
    loads: Singles
    reach: float
    doubled: Singles | None = None
    pieces: tuple[Piece, ...] = ()
    course: Course | None = None

    def ink_at(self, places: Places, *, pixel_mm: float, covered_mm: float) -> Singles:
        """Share of ink that stays at `places`, in mm: 0 bare to 1 full.

        Args:
            places: where.
            pixel_mm: side of the square that each place stands for.
            covered_mm: side of the pixel whose coverage what is found here is multiplied with: at
                a rim, what counts is the ink in its covered part, not in its middle.
        """
        given = self._given(places, pixel_mm, covered_mm)
        return _Asked(self, given, places).ink(self.medium.level)

    def depths_at(self, places: Places) -> Singles:
        """Share of the way from rim to middle at `places`, in mm; below 0 outside the mark."""
        return self.lattice.reading_at(places).read(self.depths)

    def level_for(self, dryness: float, places: Points, *, pixel_mm: float) -> float:
        """The level at which `dryness` of the ink at `places` is missing.

        By the rule of false position on some of them, then by secants on all.
        """
        given = self._given(places, pixel_mm, pixel_mm)  # as rims are rendered
        asked = _Asked(self, given, places)
        step = _FEW if len(places) > 100 * _FEW else 1
        some = asked if step == 1 else _Asked(self, thinned(given, step), places[::step])
        level = falling_root(
            lambda level: some.missing(level) - dryness, between=_LEVELS[self.medium.kind]
        )
        return _root_near(level, lambda level: asked.missing(level) - dryness, step=0.02)

    def _given(self, places: Places, pixel_mm: float, covered_mm: float) -> list[Given]:
        """What the tool gives at `places`, by every piece of it that passes there."""
        medium = self.medium
        read = grain.grain_deviates if medium.by_deviates else grain.grain_ranks
        heights = read(medium.grain, medium.paper, places, pixel_mm=pixel_mm)
        reading = self.lattice.reading_at(places)
        if medium.kind != "bristles" or (self.course is None and medium.passes is None):
            return [self._given_by_all(reading, heights, pixel_mm, covered_mm)]
        amounts = self._profile_at(reading, covered_mm)[0]
        if self.course is not None:
            return self._given_by_bristles(
                self.course, places, amounts, heights, pixel_mm, covered_mm
            )
        amounts *= reading.read(self.loads)
        return self._given_by_passes(places, amounts, heights, pixel_mm)

    def _given_by_all(
        self,
        reading: Reading | BoxReading,
        heights: Singles | Grey,
        pixel_mm: float,
        covered_mm: float,
    ) -> Given:
        """What a tool that touches everywhere gives."""
        medium = self.medium
        blur = self._grain_blur(pixel_mm)
        loads = reading.read(self.loads)
        if medium.kind in ("contact", "wash") and reading.least(self.depths) >= 1.0:
            return Given(where=None, amounts=loads, heights=heights, blur=blur)
        amounts, at = self._profile_at(reading, covered_mm)
        slopes = None
        if medium.kind not in MULTIPLYING:
            amounts += loads
        else:
            amounts *= loads
            slopes = self._slopes_at(at, loads, pixel_mm)
        return Given(where=None, amounts=amounts, heights=heights, blur=blur, slopes=slopes)

    def _slopes_at(self, at: NDArray[np.int32], loads: Singles, pixel_mm: float) -> Singles:
        """By how much what the tool gives differs within a pixel at steps `at` of its profile."""
        medium, scale = self.medium, pixel_mm / self.reach
        if medium.by_deviates:
            slopes = relative_slopes(medium.body, medium.falloff).take(at)
            slopes *= np.float32(scale**2)
            return slopes
        slopes = rim_slopes(medium.body, medium.falloff).take(at)
        slopes *= loads
        slopes *= np.float32(scale)
        return slopes

    def _profile_at(
        self, reading: Reading | BoxReading, covered_mm: float
    ) -> tuple[Singles, NDArray[np.int32]]:
        """What the tool gives on the way from rim to middle, and at which step of it that is."""
        medium = self.medium
        profile = rim_profile(medium.kind, medium.body, medium.falloff, medium.rim)
        step = reading.read(self.depths)
        half = step * np.float32(0.5)
        half += np.float32(0.25 * covered_mm / self.reach)
        np.maximum(step, half, out=step)
        step *= PROFILE_STEPS
        np.clip(step, 0.0, PROFILE_STEPS, out=step)
        at = step.astype(np.int32)
        return profile.take(at), at

    def _bristle_blur(self, width: float, pixel_mm: float) -> float:
        """By how much bristles and the paper on top of them differ within a pixel."""
        medium = self.medium
        hairs = bristles.deviate_steepness if medium.by_deviates else bristles.rank_steepness
        across = hairs(width=width, finest=medium.grain.finest) * pixel_mm
        return float(np.hypot(across, medium.granulation * self._grain_blur(pixel_mm)))

    def _grain_blur(self, pixel_mm: float) -> float:
        """By how much the paper's heights differ within a pixel."""
        medium = self.medium
        if medium.by_deviates:
            return grain.grain_blur(medium.grain, pixel_mm=pixel_mm)
        return grain.rank_steepness(medium.grain) * pixel_mm

    def _bristles_on_paper(
        self,
        along: Singles | Floats,
        across: Singles | Floats,
        heights: Singles | Grey,
        *,
        width: float,
    ) -> Singles:
        """Bristles with a little of the paper's height on top, which breaks long streaks."""
        medium, finest = self.medium, self.medium.grain.finest
        if not medium.by_deviates:
            hairs = bristles.bristle_ranks(medium.own, along, across, width=width, finest=finest)
            return np.asarray(hairs + np.float32(medium.granulation) * (heights - np.float32(0.5)))
        read = bristles.bristle_deviates(medium.own, along, across, width=width, finest=finest)
        hairs = read * np.float32(grain.DEVIATE_STEP)
        if heights.dtype == np.uint8:
            hairs += heights * np.float32(medium.granulation * grain.DEVIATE_STEP)
            hairs -= np.float32(grain.MOST_DEVIATION * (1.0 + medium.granulation))
        else:
            hairs += heights * np.float32(medium.granulation)
            hairs -= np.float32(grain.MOST_DEVIATION)
        return np.asarray(hairs)

    def _given_by_bristles(
        self,
        course: Course,
        places: Places,
        amounts: Singles,
        heights: Singles | Grey,
        pixel_mm: float,
        covered_mm: float,
    ) -> list[Given]:
        """What the bristles give along a stroke."""
        given = []
        blur = self._bristle_blur(course.width, pixel_mm)
        margin = 1.5 * covered_mm / course.width  # of pixels whose middle lies outside
        for piece in self.pieces:
            found = _on_piece(piece, places, margin)
            if found is None:
                continue
            where, within, along, across = found
            given.append(
                Given(
                    where=where,
                    within=within,
                    amounts=amounts[where] * course.loads_at(along),
                    heights=self._bristles_on_paper(
                        along, across, heights[where], width=course.width
                    ),
                    blur=blur,
                )
            )
        return [_wetted(amounts, heights), *joined(given)]

    def _given_by_passes(
        self,
        places: Places,
        amounts: Singles,
        heights: Singles | Grey,
        pixel_mm: float,
    ) -> list[Given]:
        """What the bristles give in the passes that fill a shape."""
        passes = self.medium.passes
        if passes is None:
            return []
        given = [_wetted(amounts, heights)]
        blur = self._bristle_blur(passes.width, pixel_mm)
        bands = bands_at(passes, self.medium.own, places, strength=passes.strength)
        for along, across, load in bands:
            body = across.astype(np.float32)
            body *= body
            body *= body  # a power would take ten times as long
            np.subtract(np.float32(1.0), body, out=body)
            np.maximum(body, np.float32(0.0), out=body)
            np.sqrt(body, out=body)
            body *= load
            body *= amounts
            given.append(
                Given(
                    where=None,
                    amounts=body,
                    heights=self._bristles_on_paper(
                        along * np.float32(passes.width), across, heights, width=passes.width
                    ),
                    blur=blur,
                )
            )
        return given


class _Asked:
    """What stays of the ink at some places, at one level after the other.

    Args:
        field: of the medium.
        given: what its tool gives at the places.
        places: in mm.
    """

    def __init__(self, field: MediumField, given: list[Given], places: Places) -> None:
        self._meetings = meetings_of(field.medium, given)
        self._shape = shape_of(places)
        self._doubled: Singles | None = None
        if field.doubled is not None:
            self._doubled = field.lattice.reading_at(places).read(field.doubled)
            self._doubled *= np.float32(field.medium.overlap)

    def ink(self, level: float) -> Singles:
        """Share of ink that stays at each place; more where the stroke crosses itself."""
        ink = ink_met(self._meetings, self._shape, level)
        if self._doubled is None:
            return ink
        through = self._doubled * ink
        through *= np.float32(1.0) - ink
        ink += through
        return ink

    def missing(self, level: float) -> float:
        """Share of the ink that is missing at all of them together."""
        ink = self.ink(level)
        return 1.0 - float(np.add.reduce(ink, dtype=np.float64)) / len(ink)


def _on_piece(
    piece: Piece, places: Places, margin: float
) -> tuple[Indices | tuple[slice, slice], Bools | None, Singles, Singles] | None:
    """Where `piece` reaches, and how far along and across it that is."""
    if isinstance(places, Box):
        return piece_part(piece, places, margin=margin)
    where, along, across = piece_places(piece, places, margin=margin)
    return where, None, along, across


def _wetted(amounts: Singles, heights: Singles | Grey) -> Given:
    """What the belly of a brush gives where no bristle passes: next to nothing, unless it is full.

    So that a stroke can be as wet as is asked.
    """
    return Given(where=None, amounts=amounts * np.float32(_BELLY), heights=heights, blur=0.0)


def _root_near(start: float, excess: Callable[[float], float], *, step: float) -> float:
    """Where the falling `excess` is 0, near `start`, by the secant."""
    levels = [start, start + step]
    values = [excess(level) for level in levels]
    for _ in range(_SECANTS):
        slope = (values[-1] - values[-2]) / (levels[-1] - levels[-2])
        if slope >= -1e-6 or abs(values[-1]) < _NEAR_ENOUGH:
            break
        levels.append(levels[-1] - min(max(values[-1] / slope, -0.5), 0.5))
        values.append(excess(levels[-1]))
    return levels[int(np.argmin(np.abs(values)))]
