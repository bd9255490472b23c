"""The features of a font with several drawings of each letter, as OpenType feature files say them.

- calt, on by default: no letter shows the same drawing as the letter before it, also over a space;
  drawings take turns;
- rand: any of the drawings by chance, for programs that offer it (several do so by themselves);
  calt still parts equal neighbours;
- salt: the second and further drawings, and then other forms, by choice;
- tnum, pnum: figures of one width, and back to figures each of its own width;
- kern: pairs set evenly, by classes, so that every drawing of a letter is kerned like the first.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class GlyphNames:
    """The glyphs of one character.

    Attributes:
        character: the character.
        drawings: of its own form.
        forms: its other forms.
        tabular: all of these in tabular width; none for a letter.
    """

    character: str
    drawings: tuple[str, ...]
    forms: tuple[str, ...] = ()
    tabular: tuple[str, ...] = ()

    @property
    def own(self) -> tuple[str, ...]:
        """All that stand on their own width: drawings, then forms."""
        return self.drawings + self.forms


def feature_text(
    letters: Sequence[GlyphNames], *, kerning: Mapping[tuple[str, str], int], blank: str
) -> str:
    """The feature file of a font.

    Args:
        letters: all of them, each with as many drawings as the others.
        kerning: in font units for pairs of characters, and of keys by `form_key` for forms; those
            of 0 are left out.
        blank: name of the space's glyph.
    """
    n_drawings = len(letters[0].drawings)
    parts = ["languagesystem DFLT dflt;", "languagesystem latn dflt;"]
    if n_drawings > 1:
        parts += [*_classes(letters), *_steps(n_drawings)]
        parts.append(_feature("rand", [_choice(one.drawings[0], one.drawings) for one in letters]))
    others = [_choice(one.drawings[0], one.own[1:]) for one in letters if len(one.own) > 1]
    if others:
        parts.append(_feature("salt", others))
    if n_drawings > 1:
        parts.append(_feature("calt", list(_turns(n_drawings, blank))))
    figures = [letter for letter in letters if letter.tabular]
    if figures:
        own = " ".join(name for letter in figures for name in letter.own)
        tabular = " ".join(name for letter in figures for name in letter.tabular)
        parts.append(_feature("tnum", [f"sub [{own}] by [{tabular}];"]))
        parts.append(_feature("pnum", [f"sub [{tabular}] by [{own}];"]))
    groups = dict(_groups(letters))
    pairs = list(_pairs(list(groups), kerning))
    if pairs:
        parts += [
            f"@kern{index} = [{' '.join(names)}];" for index, names in enumerate(groups.values())
        ]
        parts.append(_feature("kern", pairs))
    return "\n".join(parts) + "\n"


def _feature(tag: str, lines: Sequence[str]) -> str:
    body = "\n".join(f"  {line}" for line in lines)
    return f"feature {tag} {{\n{body}\n}} {tag};"


def _classes(letters: Sequence[GlyphNames]) -> Iterator[str]:
    """All first drawings, all second drawings, and so on."""
    for index in range(len(letters[0].drawings)):
        yield f"@drawing{index} = [{' '.join(letter.drawings[index] for letter in letters)}];"


def _steps(n_drawings: int) -> Iterator[str]:
    """Lookups that change one drawing for another; calt calls them by place."""
    wanted = {(0, to) for to in range(1, n_drawings)} | {
        (one, (one + 1) % n_drawings) for one in range(n_drawings)
    }
    for one, other in sorted(wanted):
        name = f"from{one}to{other}"
        yield f"lookup {name} {{ sub @drawing{one} by @drawing{other}; }} {name};"


def _choice(name: str, among: Sequence[str]) -> str:
    return f"sub {name} from [{' '.join(among)}];"


def _turns(n_drawings: int, blank: str) -> Iterator[str]:
    """The rules by which drawings take turns.

    After drawing j a letter that still has its first drawing gets drawing j + 1, and one that has
    drawing j too gets the next. A shaper goes from left to right and sees before each letter what
    it has made of the letters before.
    """
    for between in ("", f"{blank} "):
        for before in range(n_drawings):
            after = (before + 1) % n_drawings
            if before == 0:
                yield f"sub @drawing0 {between}@drawing0' lookup from0to1;"
                continue
            if after != 0:
                yield f"sub @drawing{before} {between}@drawing0' lookup from0to{after};"
            yield f"sub @drawing{before} {between}@drawing{before}' lookup from{before}to{after};"


def form_key(character: str, index: int) -> str:
    """The name by which kerning knows a character's form number `index`, from 0.

    A character's drawings go by the character itself.
    """
    return f"{character}~{index + 1}"


def _groups(letters: Sequence[GlyphNames]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """What is kerned alike: all drawings of a letter, and each form by itself."""
    for letter in letters:
        yield letter.character, letter.drawings
        yield from (
            (form_key(letter.character, index), (name,)) for index, name in enumerate(letter.forms)
        )


def _pairs(keys: Sequence[str], kerning: Mapping[tuple[str, str], int]) -> Iterator[str]:
    places = {key: index for index, key in enumerate(keys)}
    for (first, second), value in kerning.items():
        if value and first in places and second in places:
            yield f"pos @kern{places[first]} @kern{places[second]} {value};"
