"""The five colours of a shop's pictures, and what each of its grounds is printed with."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from inkline.pages.contrast import contrast_ratio
from inkline.pages.light import mixed_colour

_EASY = 4.5
"""Contrast of small text by success criterion 1.4.3 of WCAG 2, at level AA."""
_LARGE = 3.0
"""Of large text, likewise."""
_CLEAR = 1.9
"""Contrast of pale blocks with a dark ground; chosen by eye."""
_SHARES = (0.16, 0.12, 0.08, 0.05)
"""How much ink a block of no palette colour has in its ground, the strongest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Palette:
    """Five colours, each `#rrggbb`.

    Attributes:
        paper: the lightest ground.
        ink: what is written on that.
        accent: what stands out, and a ground.
        tint: of blocks on paper, and a pale ground.
        deep: a dark ground.
    """

    paper: str
    ink: str
    accent: str
    tint: str
    deep: str

    @classmethod
    def of(cls, colours: Sequence[str]) -> Palette:
        """The palette of five colours in this order."""
        paper, ink, accent, tint, deep = colours
        return cls(paper=paper, ink=ink, accent=accent, tint=tint, deep=deep)

    @property
    def colours(self) -> tuple[str, ...]:
        """All five."""
        return self.paper, self.ink, self.accent, self.tint, self.deep


@dataclass(frozen=True, slots=True, kw_only=True)
class Colourway:
    """What a month is printed with.

    Attributes:
        ground: what it lies on.
        rule: of rules, and of what is lettered on the ground.
        block: of blocks.
        date: of dates and weekdays, which can be read on blocks.
        word: of the month's name.
        rest: of days of rest and of marks, on blocks.
    """

    ground: str
    rule: str
    block: str
    date: str
    word: str
    rest: str


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours by WCAG 2."""
    pair = [np.frombuffer(bytes.fromhex(colour[1:]), np.uint8) for colour in (one, other)]
    return float(contrast_ratio(*pair))


def colourway_on(palette: Palette, ground: str, *, dates_on_blocks: bool) -> Colourway:
    """What is printed on `ground`.

    Args:
        palette: of the kit.
        ground: one of its colours.
        dates_on_blocks: whether dates lie within blocks that are filled, so that blocks may be pale
            on a dark ground; else dates are read on the ground as well.
    """
    rule = max((palette.ink, palette.paper), key=lambda colour: contrast(colour, ground))
    word = _first_that(palette.accent, palette.tint, on=ground, least=_LARGE) or rule
    date, block = rule, _mixed_block(ground, rule)
    if rule == palette.ink:
        pale = palette.tint if ground != palette.tint else palette.paper
        block = pale if contrast(rule, pale) >= _EASY else block
    elif dates_on_blocks:
        pale = palette.tint if contrast(palette.tint, ground) >= _CLEAR else palette.paper
        dark = max((palette.ink, ground), key=lambda colour: contrast(colour, pale))
        date, block = (dark, pale) if contrast(dark, pale) >= _EASY else (date, block)
    rest = _first_that(palette.accent, palette.deep, on=block, least=_LARGE) or date
    if not dates_on_blocks and contrast(rest, ground) < _LARGE:
        rest = date
    return Colourway(ground=ground, rule=rule, block=block, date=date, word=word, rest=rest)


def _first_that(*colours: str, on: str, least: float) -> str | None:
    """The first of `colours` that stands out from `on` so much."""
    return next((one for one in colours if contrast(one, on) >= least), None)


def _mixed_block(ground: str, ink: str) -> str:
    """A little ink in the ground, as much as leaves dates easy to read."""
    mixed = [mixed_colour(ink, ground, share=share) for share in _SHARES]
    easy = [one for one in mixed if contrast(ink, one) >= _EASY]
    return easy[0] if easy else mixed[-1]


def grounds_of(palette: Palette) -> tuple[str, str, str]:
    """The grounds on which a month is shown in three colourways."""
    return palette.paper, palette.deep, palette.accent
