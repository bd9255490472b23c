"""What the maker of a stroke family may have missed, said in sentences.

Heights, overshoot, side-bearings, slant, counters and stray contours are looked at. Everything is
measured in ink, drawn with the family's own pen. The groups of letters and the bounds are common
practice of the trade, no source, but for the overshoot of round letters (Karow, Digital Formats for
Typefaces: about 3 %).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cached_property

import numpy as np

from inkline.geometry.polygon import signed_area
from inkline.lettering.counters import disc_within
from inkline.lettering.face import Glyph, GlyphStroke
from inkline.lettering.family import StrokeFamily
from inkline.lettering.faults.openings import least_counter
from inkline.lettering.faults.spread import ink_grid, pen_of_small_words, spread_strokes
from inkline.lettering.measures import (
    Measures,
    foot_of,
    nearest_distance,
    straight_lean,
    top_of,
    upright_runs,
    white_at_left,
    white_at_right,
)

_FLAT_TOPS = {"capitals": "BDEFHIKLPRTXZ", "figures": "57", "small letters": "vwxz"}
_FLAT_FEET = {"capitals": "BDEFHIKLPRTXZ", "figures": "1247", "small letters": "hiklmnrvwxz"}
_ROUND_TOPS = {"capitals": "CGOQS", "figures": "02389", "small letters": "ceos"}
_ROUND_FEET = {"capitals": "CGOS", "figures": "03568", "small letters": "ceos"}
_STRAIGHT_LEFT = {"capitals": "BDEFHKLNPR", "small letters": "hklmnr"}
_ROUND_LEFT = {"capitals": "CGOQ", "small letters": "ceo"}
_STRAIGHT_RIGHT = {"capitals": "HIN", "small letters": "hmn"}
_UPRIGHTS = "BDEFHIKLPRThkl1"
_WITH_COUNTERS = "0468964ABDOPQRabdegopq"

_HEIGHT_PLAY = 0.015
"""How far flat letters may differ in height, as a share of it.
Beyond it a reader sees the line jump."""
_OVERSHOOT = (0.008, 0.035)
"""How far round letters may reach beyond the flat ones, as shares of the height.
Those that reach 1 to 3 % beyond look as tall; the bounds leave room for rounding."""
_BEARING_PLAY = 0.3
"""How far like sides may differ, in stems."""
_SLANT_PLAY_DEGREES = 1.5
_LEAST_COUNTER = 1.0
"""The smallest disc that a counter must hold, in stems, or ink fills it."""
_STEMS_HIGH = (4.0, 20.0)
"""How many pens high capitals of a workable pen are."""
_FILLED_STEMS = 1.2
"""The widest disc within a closed contour that a pen along it fills but for a fifth of a stem."""
_STRAY_STEMS = 0.3
_FAR_EM = 0.6


class Review:
    """One family under review; each method gives sentences, none where all is well."""

    def __init__(self, family: StrokeFamily) -> None:
        """Review `family`."""
        self.family = family
        self.units = family.units_per_em
        self.stem = family.nominal_stem_em * self.units
        self.bounce = family.bounce_em * self.units

    def sentences(self) -> Iterator[str]:
        """All that is uneven, in the order in which one would mend it."""
        yield from self.contours()
        yield from self.advances()
        yield from self.pen()
        yield from self.heights()
        yield from self.overshoots()
        yield from self.slants()
        yield from self.bearings()
        yield from self.counters()
        yield from self.forms()

    @cached_property
    def slant(self) -> float:
        """Tangent of the family's slant, by its long upright strokes.

        Positive leans to the right.
        """
        leans = [
            lean for lean in (self._lean(character) for character in _UPRIGHTS) if lean is not None
        ]
        return float(np.median(leans)) if leans else 0.0

    def measures(self, character: str) -> Measures | None:
        """The ink of one character in font units, or None where it has none."""
        glyph = self.family.glyph(character) if self.family.has(character) else None
        if glyph is None or not glyph.strokes:
            return None
        points = np.concatenate([stroke.points for stroke in glyph.strokes]) * self.units
        points = np.column_stack((points[:, 0] - self.slant * points[:, 1], points[:, 1]))
        widths = [stroke.widths_with(self.family.nominal_stem_em) for stroke in glyph.strokes]
        halves = 0.5 * self.units * np.concatenate(widths)
        (left, foot), (right, top) = (
            (points - halves[:, None]).min(axis=0),
            (points + halves[:, None]).max(axis=0),
        )
        return Measures(
            left=left, foot=foot, right=right, top=top, advance=glyph.advance_em * self.units
        )

    def contours(self) -> Iterator[str]:
        """Closed contours that are no rings of the pen, and stray ones."""
        closed, stray = [], []
        for name in self.family.glyph_names:
            glyph = self._glyph(name)
            closed += [name] if any(self._is_filled(stroke) for stroke in glyph.strokes) else []
            stray += [name] if self._is_stray(glyph) else []
        if closed:
            yield (
                f"Closed contours in {_list_of(closed)} are so narrow that ink fills them: if "
                f"these are outlines, draw the middle of the stroke."
            )
        if stray:
            yield (
                f"Stray contours in {_list_of(stray)}: a stroke far from its letter, or a short "
                f"one that lies within another's ink."
            )

    def advances(self) -> Iterator[str]:
        """Glyphs without a width, and figures of several widths."""
        without = [
            c
            for c in self.family.characters
            if self.measures(c) and self.family.glyph(c).advance_em <= 0.0 and c.isalnum()
        ]
        if without:
            yield f"No advance width: {_list_of(without)}."
        widths = {
            c: round(self.family.glyph(c).advance_em * self.units)
            for c in "0123456789"
            if self.family.has(c)
        }
        if len(set(widths.values())) > 1:
            yield (
                f"Figures have several widths ({_pairs(widths)}); columns of figures want one for "
                f"all."
            )

    def pen(self) -> Iterator[str]:
        """A pen too wide or too narrow for the letters."""
        high = self.family.cap_height_em / self.family.nominal_stem_em
        if not _STEMS_HIGH[0] <= high <= _STEMS_HIGH[1]:
            yield (
                f"Capitals stand {high:.1f} pens high; between {_STEMS_HIGH[0]:g} and "
                f"{_STEMS_HIGH[1]:g} is workable."
            )

    def heights(self) -> Iterator[str]:
        """Flat letters whose tops or feet differ."""
        for what, groups, side in (("tops", _FLAT_TOPS, top_of), ("feet", _FLAT_FEET, foot_of)):
            for kind, letters in groups.items():
                line, values = self._line(letters, side)
                play = _HEIGHT_PLAY * self.family.cap_height_em * self.units + self.bounce
                off = {c: round(value) for c, value in values.items() if abs(value - line) > play}
                if off:
                    yield (
                        f"The {what} of flat {kind} differ: {_pairs(off)}, where the others stand "
                        f"at {line:.0f}."
                    )

    def overshoots(self) -> Iterator[str]:
        """Round letters that reach too little or too far beyond the flat ones."""
        for what, flat, rounds, side, sense in (
            ("above", _FLAT_TOPS, _ROUND_TOPS, top_of, 1.0),
            ("below", _FLAT_FEET, _ROUND_FEET, foot_of, -1.0),
        ):
            for kind, letters in rounds.items():
                line, known = self._line(flat[kind], side)
                high, _ = self._line(_FLAT_TOPS[kind], top_of)
                if not known or not high:
                    continue
                shares = {
                    c: sense * (value - line) / high
                    for c, value in self._values(letters, side).items()
                }
                least, most = _OVERSHOOT[0] - self.bounce / high, _OVERSHOOT[1] + self.bounce / high
                off = {
                    c: f"{round(100.0 * share, 1) + 0.0:.1f} %"
                    for c, share in shares.items()
                    if not least <= share <= most
                }
                if off:
                    yield (
                        f"Round {kind} should reach 1 to 3 % {what} the flat ones to look as "
                        f"large, but: {_pairs(off)}."
                    )

    def slants(self) -> Iterator[str]:
        """Upright strokes that lean otherwise than most."""
        degrees = {
            c: float(np.degrees(np.arctan(lean)))
            for c in _UPRIGHTS
            if (lean := self._lean(c)) is not None
        }
        usual = float(np.degrees(np.arctan(self.slant)))
        off = {
            c: f"{value:.1f}"
            for c, value in degrees.items()
            if abs(value - usual) > _SLANT_PLAY_DEGREES
        }
        if off:
            yield (
                f"Stems lean otherwise than the others, which lean by "
                f"{round(usual, 1) + 0.0:.1f} degrees: {_pairs(off)}."
            )

    def bearings(self) -> Iterator[str]:
        """Like sides of letters that stand at different distances from their neighbours."""
        for what, groups, side in (
            ("left of straight", _STRAIGHT_LEFT, white_at_left),
            ("left of round", _ROUND_LEFT, white_at_left),
            ("right of straight", _STRAIGHT_RIGHT, white_at_right),
        ):
            for kind, letters in groups.items():
                usual, values = self._line(self._apart(letters), side)
                off = {
                    c: round(value)
                    for c, value in values.items()
                    if abs(value - usual) > _BEARING_PLAY * self.stem
                }
                if off:
                    yield (
                        f"The white {what} {kind} differs: {_pairs(off)}, where the others have "
                        f"{usual:.0f}."
                    )

    def counters(self) -> Iterator[str]:
        """Counters that ink would fill."""
        tight = {}
        for character in dict.fromkeys(_WITH_COUNTERS):
            least = self._least_counter(character)
            if least < _LEAST_COUNTER:
                tight[character] = f"{max(least, 0.0):.2f}"
        if tight:
            yield f"Counters narrower than a stem, which ink may fill: {_pairs(tight)} stems."

    def forms(self) -> Iterator[str]:
        """Names of other forms that belong to no glyph."""
        names = set(self.family.glyph_names)
        lost = [
            name
            for name in sorted(names)
            if "." in name[1:] and name.partition(".")[0] not in names
        ]
        if lost:
            yield f"Called like other forms of glyphs that there are not: {_list_of(lost)}."

    def _glyph(self, name: str) -> Glyph:
        glyph = self.family.glyph_named(name)
        assert glyph is not None  # noqa: S101 - the name is one of the family's own
        return glyph

    def _is_filled(self, stroke: GlyphStroke) -> bool:
        """Whether a ring is too narrow for a pen to leave white in it."""
        if not stroke.closed:
            return False
        ring = stroke.points if signed_area(stroke.points) > 0.0 else stroke.points[::-1]
        return disc_within(ring) < _FILLED_STEMS * self.family.nominal_stem_em

    def _is_stray(self, glyph: Glyph) -> bool:
        """Whether a stroke lies far off, or is so short that it hides within another one's ink."""
        strokes = [stroke.points for stroke in glyph.strokes]
        far = _FAR_EM + self.family.cap_height_em
        for index, points in enumerate(strokes):
            aside = points[:, 0].max() < -_FAR_EM or points[:, 0].min() > glyph.advance_em + _FAR_EM
            if aside or points[:, 1].min() > 2.0 * far or points[:, 1].max() < -far:
                return True
            others = [other for place, other in enumerate(strokes) if place != index]
            short = (
                float(np.hypot(*np.ptp(points, axis=0)))
                < _STRAY_STEMS * self.family.nominal_stem_em
            )
            if (
                short
                and others
                and nearest_distance(points, np.concatenate(others))
                < 0.5 * self.family.nominal_stem_em
            ):
                return True
        return False

    def _lean(self, character: str) -> float | None:
        """Tangent of the slant of a letter's longest nearly straight upright run.

        None if it has none half as high as a capital.
        """
        glyph = self.family.glyph(character) if self.family.has(character) else None
        runs = [
            run
            for stroke in (glyph.strokes if glyph else ())
            for run in upright_runs(stroke.points)
        ]
        leans = [
            (float(np.ptp(run[:, 1])), straight_lean(run, self.family.nominal_stem_em))
            for run in runs
        ]
        known = [
            (high, lean)
            for high, lean in leans
            if lean is not None and high > 0.5 * self.family.cap_height_em
        ]
        return max(known)[1] if known else None

    def _least_counter(self, character: str) -> float:
        """Disc in a character's smallest counter, in stems; infinite where it has none."""
        glyph = self.family.glyph(character) if self.family.has(character) else None
        if glyph is None or not glyph.strokes:
            return np.inf
        strokes = spread_strokes(glyph, stem_em=self.family.nominal_stem_em)
        return least_counter(ink_grid(strokes), pen_of_small_words(self.family))

    def _apart(self, letters: str) -> str:
        """Those of `letters` that join no other: bearings alone space them."""
        glyphs = {c: self.family.glyph(c) for c in letters if self.family.has(c)}
        return "".join(c for c, one in glyphs.items() if not one.entries and one.exit is None)

    def _values(self, letters: str, side: Callable[[Measures], float]) -> dict[str, float]:
        found = ((character, self.measures(character)) for character in letters)
        return {character: side(measures) for character, measures in found if measures is not None}

    def _line(
        self, letters: str, side: Callable[[Measures], float]
    ) -> tuple[float, dict[str, float]]:
        """The median of one side of letters, 0 where there are none, and each letter's own."""
        values = self._values(letters, side)
        return (float(np.median(list(values.values()))) if values else 0.0), values


def _list_of(names: list[str]) -> str:
    shown = ", ".join(names[:12])
    return shown if len(names) <= 12 else f"{shown} and {len(names) - 12} more"


def _pairs(values: Mapping[str, object]) -> str:
    return ", ".join(f"{character} {value}" for character, value in values.items())
