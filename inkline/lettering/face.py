"""Glyphs and faces: what lettering works with, whether from a font or from a stroke family.

Font space throughout: x to the right, y up, baseline at y = 0, in units of the em.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

import numpy as np

from inkline.drawing import Cut, Play
from inkline.geometry.arrays import Floats, Points

FLATTENING_EM = 4e-6
"""Largest distance between a curve and its flattening, in em.
0.02 px for a letter whose em is 5000 px, 0.001 px for one of 312.5 px. One value for all sizes, so
that a letter has the same points, and so the same ink, however large it is made."""


class Figures(StrEnum):
    """Which figures a font should use, where it has a choice.

    OpenType calls the features lnum, tnum and pnum.
    """

    LINING = "lining"
    """All of one height, on the widths that the font uses by itself."""
    TABULAR = "tabular"
    """All of one height and one width."""
    PROPORTIONAL = "proportional"
    """All of one height, each on its own width."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GlyphStroke:
    """One movement of the pen.

    Attributes:
        points: centreline in em, y up, `(n, 2)`, n >= 2, in the direction of drawing, curves
            flattened to `FLATTENING_EM`; a press of the pen that goes nowhere is two equal points.
        closed: the pen returns to its start (the first point is not repeated).
        widths_em: the stroke's own width at each point in em, `(n,)`, > 0, where it was traced from
            an outline, a broad nib wrote it or its glyph carries it; `None` where the pen's width
            is all.
        cuts: how the edge of a nib cuts its start and its end; `None` where the pen shapes them.
    """

    points: Points
    closed: bool = False
    widths_em: Floats | None = None
    cuts: tuple[Cut, Cut] | None = None

    def widths_with(self, pen_em: float) -> Floats:
        """Its width at each point in em, `(n,)`: its own, or that of the pen."""
        return np.full(len(self.points), pen_em) if self.widths_em is None else self.widths_em


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Glyph:
    """One glyph: strokes for a pen, or filled contours, never both; neither for a space.

    Attributes:
        name: its name in the font or family.
        advance_em: how far the next glyph starts to the right.
        strokes: in the order of drawing.
        contours: closed, simple, apart from each other, y up in em; outer ones of positive area,
            holes negative.
        entries: where the line of a letter before may come in, in em, in letters that join.
        exit: where its own line leaves to the next, in em, in letters that join.
    """

    name: str
    advance_em: float
    strokes: tuple[GlyphStroke, ...] = ()
    contours: tuple[Points, ...] = ()
    entries: tuple[tuple[float, float], ...] = ()
    exit: tuple[float, float] | None = None

    @property
    def has_ink(self) -> bool:
        """Whether there is anything to draw."""
        return bool(self.strokes or self.contours)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlacedGlyph:
    """A glyph at its place on a line.

    Attributes:
        glyph: what is placed.
        x_em: where its own origin lies along the baseline.
        y_em: how far its origin lies above the baseline; not 0 only for marks that a font sets
            above or below a letter.
        letter: index in the text of the character that it belongs to; glyphs of one letter share
            it.
    """

    glyph: Glyph
    x_em: float
    y_em: float
    letter: int


class Face(Protocol):
    """A font or a stroke family, open and ready to set text; each is equal only to itself."""

    def __hash__(self) -> int: ...

    @property
    def name(self) -> str:
        """Its name as a person would say it."""

    @property
    def cap_height_em(self) -> float:
        """Height of the flat capitals' ink above the baseline."""

    @property
    def digit_height_em(self) -> float:
        """Height of the flat-topped 7's ink above the baseline.

        Drawn with the nominal stem, for a stroke family.
        """

    @property
    def nominal_stem_em(self) -> float:
        """Width of an upright stem: as designed for a stroke family, as measured for a font."""

    @property
    def own_stem_em(self) -> float | None:
        """Width of the pen that it keeps unless somebody asks for another.

        None where it has no such pen: a stroke family takes any, contours none.
        """

    @property
    def is_drawn_with_pen(self) -> bool:
        """Whether its glyphs are strokes, whose width is free.

        Else they are contours, whose width is the font's.
        """

    @property
    def lift_em(self) -> float:
        """How far letters of a word may stand above or below where they stand alone."""

    def play_of(self, character: str) -> Play | None:
        """How far the form of one character may differ each time, in em, y up.

        None where its form stays as it is: contours.
        """

    def has(self, character: str) -> bool:
        """Whether it has a glyph for one character."""

    def glyph(self, character: str) -> Glyph:
        """The glyph of one character.

        Raises:
            MissingGlyphError: it has none.
        """

    def alternates(self, character: str) -> tuple[Glyph, ...]:
        """Other forms of one character that the face offers, in a fixed order.

        None where it offers none or lacks the character.
        """

    def placed_glyphs(
        self, text: str, *, figures: Figures
    ) -> tuple[tuple[PlacedGlyph, ...], float]:
        """The text's glyphs along a baseline from x = 0, kerned, and the whole advance in em.

        Raises:
            MissingGlyphError: names every character that it cannot draw.
        """
