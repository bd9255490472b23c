"""Two ways with a font: to ink its contours, or to write them as strokes with the pen.

Text weights gain by the second: a hand draws them stroke by stroke. Heavy and contrasted faces are
no pen's work, and keep their contours. Which way suits a font is measured on its own figures and
letters; whoever asks for a way gets it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from enum import StrEnum

import numpy as np

from inkline.drawing import Play
from inkline.geometry.arrays import Points
from inkline.geometry.polygon import total_area
from inkline.geometry.sweep import swept_outline, swept_ring
from inkline.geometry.union import union_of_contours
from inkline.lettering.face import Face, Figures, Glyph, GlyphStroke, PlacedGlyph
from inkline.lettering.font import Font
from inkline.lettering.lib.play import play_from_stem

_HEAVIEST = 0.18
"""Stem over height of the figures up to which a font is written.
Text weights have 0.12 to 0.14, medium ones 0.17, bold ones 0.2 and more."""
_MOST_CONTRAST = 1.6
"""Broad over thin strokes up to which a font is written.
9th over 1st tenth of their length: plain faces have 1.1 to 1.4, text serifs 2."""
_LEAST_COVERED = 0.94
"""Share of the ink that its traced strokes must cover, ..."""
_MOST_ADDED = 0.04
"""... and what they may add to it at most."""
_LEAST_OF_ONE = 0.89
"""Share of a single glyph's ink that its strokes must cover: plain ones have 0.91 and more.
Below it an arm or a bar is lost. By eye."""
_SAMPLE = "0123456789AEHMORSaeghnst"
"""What is measured: all figures, and letters of every build."""
_MOST_UNUSUAL = 0.15
"""Share of the sample that may have more strokes than a hand's and one more.
Serifs and ornaments make many."""
_SWEEP_TOLERANCE_EM = 2e-5


class Way(StrEnum):
    """How the glyphs of a font are drawn."""

    AUTO = "auto"
    """As measuring the font suggests."""
    STROKE = "stroke"
    """Traced as strokes, written with the pen."""
    CONTOUR = "contour"
    """Along their contours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PenFitness:
    """How well a font suits a pen: what decides how it is drawn.

    Attributes:
        stem: width of its stems over the height of its figures.
        contrast: its broad strokes over its thin ones, >= 1.
        covered: share of its ink that its traced strokes cover, 0 to 1.
        added: what they add to it, as a share of it, >= 0.
        unusual: share of its glyphs with more than one stroke more than a hand's, 0 to 1.
        lost: characters of which strokes would lose a part.
    """

    stem: float
    contrast: float
    covered: float
    added: float
    unusual: float
    lost: str = ""

    @property
    def against_strokes(self) -> tuple[str, ...]:
        """Reasons why it should not be traced, each as part of a sentence.

        Empty if nothing speaks against it.
        """
        reasons = (
            (
                self.stem > _HEAVIEST,
                (
                    f"its stems are {self.stem:.2f} of its height wide, and a pen's at most "
                    f"{_HEAVIEST}"
                ),
            ),
            (
                self.contrast > _MOST_CONTRAST,
                (
                    f"its broad strokes are {self.contrast:.1f} times its thin ones, and a pen's "
                    f"at most {_MOST_CONTRAST}"
                ),
            ),
            (
                self.covered < _LEAST_COVERED,
                (
                    f"strokes cover {self.covered:.0%} of its ink, and {_LEAST_COVERED:.0%} is "
                    f"required"
                ),
            ),
            (
                self.added > _MOST_ADDED,
                f"strokes add {self.added:.0%} to its ink, and {_MOST_ADDED:.0%} is allowed",
            ),
            (
                self.unusual > _MOST_UNUSUAL,
                (
                    f"{self.unusual:.0%} of its letters need more strokes than a hand's, and "
                    f"{_MOST_UNUSUAL:.0%} is allowed"
                ),
            ),
            (bool(self.lost), f"strokes would lose a part of {' '.join(self.lost)}"),
        )
        return tuple(reason for holds, reason in reasons if holds)


@dataclass(frozen=True, kw_only=True, eq=False)
class TracedFont:
    """A font written with a pen: its glyphs are traced when first asked for. It is a `Face`.

    Attributes:
        font: the font.
    """

    font: Font
    _traced: dict[str, Glyph] = field(default_factory=dict, repr=False)

    @property
    def name(self) -> str:
        """The font's name."""
        return self.font.name

    @property
    def cap_height_em(self) -> float:
        """As of the font."""
        return self.font.cap_height_em

    @property
    def digit_height_em(self) -> float:
        """As of the font."""
        return self.font.digit_height_em

    @property
    def nominal_stem_em(self) -> float:
        """The font's stem: a pen of this width gives it back as it is."""
        return self.font.nominal_stem_em

    @property
    def own_stem_em(self) -> float | None:
        """The font's stem: its weight is part of its design."""
        return self.font.nominal_stem_em

    @property
    def is_drawn_with_pen(self) -> bool:
        """True: its glyphs are strokes."""
        return True

    @property
    def lift_em(self) -> float:
        """0: its letters keep to their line."""
        return 0.0

    def play_of(self, character: str) -> Play | None:  # noqa: ARG002
        """What suits a pen as wide as the font's stems."""
        return play_from_stem(self.font.nominal_stem_em)

    def has(self, character: str) -> bool:
        """Whether it has a glyph for one character."""
        return self.font.has(character)

    def glyph(self, character: str) -> Glyph:
        """The strokes of one character.

        Raises:
            MissingGlyphError: the font has none.
            FontError: the glyph is broken.
        """
        return self._written_glyph(self.font.glyph(character))

    def alternates(self, character: str) -> tuple[Glyph, ...]:
        """The font's own, traced."""
        return tuple(self._written_glyph(glyph) for glyph in self.font.alternates(character))

    def placed_glyphs(
        self, text: str, *, figures: Figures
    ) -> tuple[tuple[PlacedGlyph, ...], float]:
        """The text's glyphs along a baseline from x = 0, and the whole advance in em.

        Placed as the font places them.

        Raises:
            MissingGlyphError: names every character that the font cannot draw.
            FontError: a glyph is broken.
        """
        placed, advance = self.font.placed_glyphs(text, figures=figures)
        return tuple(
            replace(item, glyph=self._written_glyph(item.glyph)) for item in placed
        ), advance

    def _written_glyph(self, glyph: Glyph) -> Glyph:
        from inkline.lettering.traced import traced_glyph  # noqa: PLC0415 - slow to import

        if glyph.name not in self._traced:
            self._traced[glyph.name] = traced_glyph(glyph)
        return self._traced[glyph.name]


def face_in_way(font: Font, *, way: Way = Way.AUTO, texts: Iterable[str] = ()) -> Face:
    """The font as a face that is drawn in this way.

    With `Way.AUTO` in strokes unless `pen_fitness_of` speaks against it, with all characters of the
    `texts` that are to be drawn.

    Raises:
        FontError: a glyph is broken.
    """
    if way is Way.CONTOUR:
        return font
    traced = TracedFont(font=font)
    if way is Way.STROKE:
        return traced
    build = pen_fitness_of(traced, texts)
    return font if build is None or build.against_strokes else traced


def pen_fitness_of(traced: TracedFont, texts: Iterable[str] = ()) -> PenFitness | None:
    """What the font's figures and letters measure, and what of `texts` strokes would lose.

    `None` for a font that has none of those that are looked at.

    Cost: 0.4 s, once a font, and 10 ms a character.

    Raises:
        FontError: a glyph is broken.
    """
    from inkline.lettering.traced import USUAL_STROKES  # noqa: PLC0415 - slow to import

    font = traced.font
    known = [
        character for character in _SAMPLE if font.has(character) and font.glyph(character).contours
    ]
    if not known:
        return None
    others = sorted(set().union(*texts).difference(known))
    looked_at = [*known, *(one for one in others if font.has(one) and font.glyph(one).contours)]
    pairs = [(font.glyph(character), traced.glyph(character)) for character in looked_at]
    areas = np.array([_areas(outline, written) for outline, written in pairs])
    covered = (areas[:, 0] + areas[:, 1] - areas[:, 2]) / areas[:, 0]
    inks, strokes, both = areas[: len(known)].sum(axis=0)
    pairs = pairs[: len(known)]
    counts = [len(written.strokes) for _, written in pairs]
    extra = [
        count > USUAL_STROKES[character] + 1 for character, count in zip(known, counts, strict=True)
    ]
    return PenFitness(
        stem=font.nominal_stem_em / font.digit_height_em,
        contrast=_contrast([stroke for _, written in pairs for stroke in written.strokes]),
        covered=float((inks + strokes - both) / inks),
        added=float((both - inks) / inks),
        unusual=float(np.mean(extra)),
        lost="".join(
            one for one, share in zip(looked_at, covered, strict=True) if share < _LEAST_OF_ONE
        ),
    )


def written_contours(glyph: Glyph) -> tuple[Points, ...]:
    """What a pen leaves that writes a traced glyph exactly: united contours in em."""
    return union_of_contours(
        [contour for stroke in glyph.strokes for contour in _swept_contours(stroke)]
    )


def _swept_contours(stroke: GlyphStroke) -> Iterator[Points]:
    """Contours of one traced stroke.

    Raises:
        ValueError: the stroke has no widths of its own.
    """
    if stroke.widths_em is None:
        raise ValueError("a stroke needs widths of its own to be swept without a pen")
    halves = 0.5 * stroke.widths_em
    if stroke.closed:
        yield from swept_ring(stroke.points, halves, tolerance=_SWEEP_TOLERANCE_EM)
    else:
        yield from swept_outline(
            stroke.points, halves, round_start=1.0, round_end=1.0, tolerance=_SWEEP_TOLERANCE_EM
        )


def _areas(outline: Glyph, written: Glyph) -> tuple[float, float, float]:
    """Areas of an outline's ink, of its strokes' ink, and of both together."""
    swept = written_contours(written)
    return (
        total_area(outline.contours),
        total_area(swept),
        total_area(union_of_contours([*outline.contours, *swept])),
    )


def _contrast(strokes: list[GlyphStroke]) -> float:
    """Broad over thin, by length; presses of the pen don't count."""
    widths, lengths = [np.ones(0)], [np.zeros(0)]
    for stroke in strokes:
        if stroke.widths_em is not None:
            steps = np.hypot(*np.diff(stroke.points, axis=0).T)
            widths.append(0.5 * (stroke.widths_em[1:] + stroke.widths_em[:-1]))
            lengths.append(steps)
    along, weight = np.concatenate(widths), np.concatenate(lengths)
    order = np.argsort(along)
    shares = np.cumsum(weight[order]) / max(float(weight.sum()), 1e-300)
    thin, broad = (
        along[order][np.minimum(np.searchsorted(shares, [0.1, 0.9]), len(along) - 1)]
        if len(along)
        else (1, 1)
    )
    return float(broad / thin)
