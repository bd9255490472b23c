"""What the eye trips over in a stroke family, in sentences that say what to do about it."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Mapping

from inkline.lettering.face import Glyph
from inkline.lettering.family import StrokeFamily
from inkline.lettering.faults.accents import (
    LEAST_HOOK,
    LEAST_HORN,
    LEAST_WHITE,
    hook_opening,
    horn_reach,
    touching_accents,
)
from inkline.lettering.faults.dents import MOST_RATIO, has_dent
from inkline.lettering.faults.figures import LEAST_WIDTH, figure_width
from inkline.lettering.faults.gaps import JOINED, LEAST_GAP, LEAST_SPACE, MOST_GAP, gaps_in_words
from inkline.lettering.faults.joins import KNOB, LEAST_ANGLE_DEGREES, MOST_BLOT, ends_on_ink
from inkline.lettering.faults.joints import LEAST_DEPTH, has_bare_entry
from inkline.lettering.faults.openings import LEAST_MOUTH, has_narrow_mouth
from inkline.lettering.faults.signs import (
    LEAST_APART,
    LEAST_ARMS,
    asterisk_opening,
    fused_signs,
)
from inkline.lettering.faults.spread import ink_grid, pen_of_small_words, spread_strokes

_KINDS = ("Lu", "Ll", "Nd")
_MOST_SHOWN = 12


def fault_sentences(family: StrokeFamily, *, words: Iterable[str] = ()) -> Iterator[str]:
    """What is poor in a family's joins, openings, accents and words; nothing where all is well.

    Args:
        family: the family; a second for 400 glyphs.
        words: in which gaps between letters are measured.
    """
    pen = pen_of_small_words(family)
    yield from _joins(family)
    yield from _dents(family)
    yield from _figures(family)
    yield from _joints(family)
    yield from _openings(family, pen)
    yield from _accents(family, pen)
    yield from _signs(family, pen)
    yield from _gaps(gaps_in_words(family, words))


def _glyphs(family: StrokeFamily) -> Iterator[Glyph]:
    """The glyphs of letters without accents, of figures and the ampersand, and their forms."""
    for character in family.characters:
        kind = unicodedata.category(character) in _KINDS or character == "&"
        if kind and unicodedata.normalize("NFD", character) == character:
            forms = (family.glyph(character), *family.alternates(character))
            yield from (glyph for glyph in forms if glyph.strokes)


def _joins(family: StrokeFamily) -> Iterator[str]:
    bumps, knobs, blots = list[str](), dict[str, str](), dict[str, str]()
    for glyph in _glyphs(family):
        name = glyph.name
        strokes = spread_strokes(glyph, stem_em=family.nominal_stem_em)
        ends = list(ends_on_ink(strokes))
        bumps += [name] if any(end.is_bump for end in ends) else []
        if peeping := [end.beyond for end in ends if end.is_knob]:
            knobs[name] = f"{max(peeping):.2f}"
        if (blot := ink_grid(strokes).blot(1.0)) > MOST_BLOT:
            blots[name] = f"{blot:.2f}"
    if bumps:
        yield (
            f"Ends that lie along other ink in {_listed(bumps)}: as the hand wanders, their round "
            f"shows as a bump; let them meet it at {LEAST_ANGLE_DEGREES:g} degrees or more, and "
            f"end within it, and let a ring be a closed contour."
        )
    if knobs:
        yield (
            f"Ends that make a knob beyond the stroke they lie on, in pens: {_paired(knobs)}; end "
            f"them before its far side, or {KNOB[1]:g} pens and more beyond it."
        )
    if blots:
        yield (
            f"Ink that fills to a blot, in pens: {_paired(blots)}; up to {MOST_BLOT:g} is a join. "
            f"Open the narrow notch, or let fewer strokes meet in one place."
        )


def _dents(family: StrokeFamily) -> Iterator[str]:
    stem = family.nominal_stem_em * family.units_per_em
    dented = [
        glyph.name
        for glyph in _glyphs(family)
        if has_dent(family.commands_of(glyph.name), stem=stem)
    ]
    if dented:
        yield (
            f"Bowls with a dent where two curves meet: {_listed(dented)}; one turns more than "
            f"{MOST_RATIO:g} times as sharply as the other, so lengthen its handle there."
        )


def _figures(family: StrokeFamily) -> Iterator[str]:
    if (share := figure_width(family)) < LEAST_WIDTH:
        yield (
            f"Figures are narrow beside the capitals, {share:.2f} of their width; from "
            f"{LEAST_WIDTH:g} on they look like one hand's."
        )


def _joints(family: StrokeFamily) -> Iterator[str]:
    stem = family.nominal_stem_em
    bare = [glyph.name for glyph in _glyphs(family) if has_bare_entry(glyph, stem_em=stem)]
    if bare:
        yield (
            f"Entries at which the line from the letter before would end in white: "
            f"{_listed(bare)}; put them {LEAST_DEPTH:g} pens deep within ink, or where a stroke "
            f"begins."
        )


def _openings(family: StrokeFamily, pen: float) -> Iterator[str]:
    grids = (
        (glyph.name, ink_grid(spread_strokes(glyph, stem_em=family.nominal_stem_em)))
        for glyph in _glyphs(family)
    )
    narrow = [name for name, grid in grids if has_narrow_mouth(grid, pen)]
    if narrow:
        yield (
            f"Mouths that close in small words: {_listed(narrow)}; they want {LEAST_MOUTH:g} pens "
            f"of white between the ends of strokes, with a pen of an eighth of the height."
        )


def _accents(family: StrokeFamily, pen: float) -> Iterator[str]:
    touching = list(touching_accents(family, pen))
    if touching:
        yield (
            f"Accents that touch their letter or each other in small words: {_listed(touching)}; "
            f"they want {LEAST_WHITE:g} pens of white around them, with a pen of an eighth of the "
            f"height."
        )

    if (white := hook_opening(family, pen)) < LEAST_HOOK:
        yield (
            f"The hook above closes to a ring in small words: {white:.2f} pens of white between "
            f"its ends, where {LEAST_HOOK:g} are wanted."
        )

    horns = {
        c: f"{white:.2f}" for c, white in horn_reach(family, pen).items() if white < LEAST_HORN
    }
    if horns:
        yield (
            f"Horns that are a knob on their letter, in pens of white beside the tip: "
            f"{_paired(horns)}; let them leave the stroke in its own line and reach {LEAST_HORN:g} "
            f"pens and more away from it."
        )


def _signs(family: StrokeFamily, pen: float) -> Iterator[str]:
    if fused := list(fused_signs(family, pen)):
        yield (
            f"Signs whose strokes run together in small words: {_listed(fused)}; they want "
            f"{LEAST_APART:g} pens of white between what stands apart, with a pen of an eighth of "
            f"the height."
        )
    if (white := asterisk_opening(family, pen)) < LEAST_ARMS:
        yield (
            f"The arms of the asterisk run together: {white:.2f} pens of white between their ends, "
            f"where {LEAST_ARMS:g} are wanted; lengthen or thin them."
        )


def _gaps(gaps: Mapping[str, float]) -> Iterator[str]:
    letters = {pair: gap for pair, gap in gaps.items() if len(pair) == 2}
    near = {pair: gap for pair, gap in letters.items() if JOINED < gap < LEAST_GAP}
    far = {pair: gap for pair, gap in letters.items() if gap > MOST_GAP}
    close = {pair: gap for pair, gap in gaps.items() if " " in pair and gap < LEAST_SPACE}
    if near:
        yield (
            f"Letters that neither join nor stand apart, in pens: {_measured(near)}; kern them to "
            f"{LEAST_GAP:g} pens of white or more, or let them overlap by {-JOINED:g}."
        )
    if far:
        yield (
            f"Letters that fall apart, in pens: {_measured(far)}; more than {MOST_GAP:g} reads as "
            f"a space, so kern them closer."
        )
    if close:
        yield (
            f"Words that stand too close, in pens: {_measured(close)}; widen the space, or kern it "
            f"with its neighbours, to {LEAST_SPACE:g} pens of white or more."
        )


def _measured(gaps: Mapping[str, float]) -> str:
    by_size = sorted(gaps.items(), key=lambda item: item[1])
    return _paired({pair.replace(" ", "_"): f"{gap:.2f}" for pair, gap in by_size})


def _paired(values: Mapping[str, str]) -> str:
    return _listed([f"{name} {value}" for name, value in values.items()])


def _listed(names: list[str]) -> str:
    shown = ", ".join(names[:_MOST_SHOWN])
    more = len(names) - _MOST_SHOWN
    return f"{shown} and {more} more" if more > 0 else shown
