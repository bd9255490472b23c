"""The spacing of a font of drawn letters, from how lettering sets each pair of them.

Figures get a space of their own that follows from how all pairs of them are set evenly; what a pair
differs from the sum of its two sides is its kerning. Letters keep their face's width and kerning.
Other forms of a figure are spaced like figures, each by its own ink.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Floats
from inkline.lettering.face import Face, Glyph
from inkline.lettering.forms import DIGITS
from inkline.lettering.line import SetLine, set_line
from inkline.lettering.optical import set_numeral
from inkline.lettering.setting import TypeSize, line_ink
from inkline.output.font_file_features import form_key

Sides = tuple[float, float]
"""Where a letter's space begins and ends, in em about its own origin."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacing:
    """How letters stand beside each other.

    A letter's key is its character, a form's that of `form_key`.

    Attributes:
        sides: of each.
        kerning: what a pair stands farther apart than its sides say, in em.
        tabular: sides of figures that are all of one width.
    """

    sides: Mapping[str, Sides]
    kerning: Mapping[tuple[str, str], float]
    tabular: Mapping[str, Sides]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Item:
    """A letter, or another form of it."""

    key: str
    character: str
    form: Glyph | None
    line: SetLine

    @property
    def is_figure(self) -> bool:
        return self.character in DIGITS


def spacing_of(characters: Sequence[str], face: Face, size: TypeSize) -> Spacing:
    """The spacing of `characters` and of all their other forms, drawn with the pen of `size`."""
    items = list(_items(characters, face))
    steps = _steps(items, face, size)
    sides = _sides(items, steps, size)
    kerning = {
        (a.key, b.key): float(steps[i, j] - sides[a.key][1] + sides[b.key][0])
        for i, a in enumerate(items)
        for j, b in enumerate(items)
        if np.isfinite(steps[i, j])
    }
    return Spacing(sides=sides, kerning=kerning, tabular=_tabular(items))


def _items(characters: Sequence[str], face: Face) -> Iterator[_Item]:
    for character in characters:
        yield _Item(key=character, character=character, form=None, line=set_line(face, character))
        for index, form in enumerate(face.alternates(character)):
            line = set_line(face, character, forms={0: form})
            yield _Item(key=form_key(character, index), character=character, form=form, line=line)


def _steps(items: Sequence[_Item], face: Face, size: TypeSize) -> Floats:
    """How far the second letter's origin stands from the first's in each pair, in em, `(n, n)`.

    It is nan where two letters become one.
    """
    steps = np.full((len(items), len(items)), np.nan)
    for i, first in enumerate(items):
        for j, second in enumerate(items):
            forms = {
                place: item.form
                for place, item in enumerate((first, second))
                if item.form is not None
            }
            text = first.character + second.character
            line = set_numeral(face, text, width_em=size.pen_px / size.em_px, forms=forms)
            starts = {item.letter: item.x_em for item in reversed(line.glyphs)}
            if len(starts) == 2:
                steps[i, j] = starts[1] - starts[0]
    return steps


def _sides(items: Sequence[_Item], steps: Floats, size: TypeSize) -> dict[str, Sides]:
    """Where each letter's space begins and ends, in em about its own origin.

    For figures a step from a to b is nearly end(a) - start(b): ends are the means of rows, starts
    those of columns, and the one number left free puts as much white on their left as on their
    right in the mean. Means are over plain figures; forms go by them.
    """
    sides = {item.key: (0.0, item.line.advance_em) for item in items}
    plain = [index for index, item in enumerate(items) if item.is_figure and item.form is None]
    if not plain:
        return sides
    figures = [index for index, item in enumerate(items) if item.is_figure]
    whole = float(np.nanmean(steps[np.ix_(plain, plain)]))
    ends = np.nanmean(steps[np.ix_(figures, plain)], axis=1)
    starts = whole - np.nanmean(steps[np.ix_(plain, figures)], axis=0)
    inks = np.array([line_ink(items[index].line, size) for index in figures]) / size.em_px
    own = np.isin(figures, plain)
    shift = 0.5 * float((inks[own, 0] - starts[own]).mean() - (ends[own] - inks[own, 2]).mean())
    for index, start, end in zip(figures, starts.tolist(), ends.tolist(), strict=True):
        sides[items[index].key] = (start + shift, end + shift)
    return sides


def _tabular(items: Sequence[_Item]) -> dict[str, Sides]:
    """Start and end of each figure at one width, that of the face's widest.

    Its own place is kept, or it is centred.
    """
    figures = {item.key: item.line.advance_em for item in items if item.is_figure}
    width = max(figures.values(), default=0.0)
    return {key: (-0.5 * (width - own), 0.5 * (width + own)) for key, own in figures.items()}
