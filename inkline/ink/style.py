"""A style: one setting of hand, nib, edge and paper.

A style knows nothing of files; `style_from_dict` checks a plain mapping, as read from TOML.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from inkline.drawing import Role
from inkline.errors import UnitError
from inkline.ink.media.paper_values import PLAIN_PAPER, Paper
from inkline.ink.nib_values import PLAIN_NIB, Nib
from inkline.ink.values import (
    StyleError,
    ValueKind,
    checked_value,
    dict_from_part,
    part_from_dict,
    unknown_key,
    value,
)

_L, _S = ValueKind.LENGTH, ValueKind.SHARE


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """Where the point goes: the drawn centreline against the exact one."""

    speed: float = value(
        ValueKind.SPEED,
        40.0,
        1.0,
        1000.0,
        about="Mean speed of a stroke; a fast hand wanders further, a slow one trembles in "
        "shorter waves.",
    )
    drift: float = value(
        _L,
        0.0,
        0.0,
        5.0,
        about="Root mean square of the slow wander off the exact line at 40 mm/s; a faster hand "
        "wanders more.",
    )
    drift_length: float = value(
        _L, 18.0, 0.5, 1000.0, about="Length over which the drift forgets where it was."
    )
    tremor: float = value(_L, 0.0, 0.0, 1.0, about="Root mean square of the 8 to 12 Hz tremble.")
    stray: float = value(
        _L, 0.0, 0.0, 20.0, about="Farthest that the centreline ever leaves the exact one."
    )
    pinned: float = value(
        _S, 0.0, 0.0, 1.0, about="How far the wander is drawn back to zero where rules cross."
    )
    shared: float = value(
        _S,
        0.0,
        0.0,
        0.9,
        about="Share of a rule's drift that it has in common with its neighbours.",
    )
    run_over: float = value(
        _L,
        0.0,
        0.0,
        5.0,
        about="Most that the ink of a rule passes the rule that it ends at: by 1.3 to 3 of its "
        "widths, or it hides there; a free end runs over by any part of it.",
    )
    run_over_share: float = value(_S, 0.6, 0.0, 1.0, about="Share of ends that run over.")
    fall_short: float = value(_L, 0.0, 0.0, 5.0, about="Most that a rule falls short of its end.")
    fall_short_share: float = value(_S, 0.15, 0.0, 1.0, about="Share of ends that fall short.")
    hook: float = value(
        _L, 0.0, 0.0, 2.0, about="Most that the pen flicks aside as it leaves the paper."
    )
    from_far_end: float = value(
        _S, 0.0, 0.0, 1.0, about="Share of rules that are drawn from their far end."
    )
    lift_every: float = value(
        _L,
        0.0,
        0.0,
        1000.0,
        about="Rules longer than this are begun again somewhere, two in three (0: never).",
    )
    lift_overlap: float = value(_L, 1.0, 0.0, 10.0, about="How far one lift runs over the next.")
    lift_jump: float = value(
        _L, 0.0, 0.0, 1.0, about="Root mean square of the step from one lift to the next."
    )
    tilt: float = value(
        ValueKind.ANGLE, 0.0, 0.0, 15.0, about="Standard deviation of a letter's slant."
    )
    size_play: float = value(
        _S, 0.0, 0.0, 0.2, about="Standard deviation of a letter's size, as a share of it."
    )
    bounce: float = value(
        _L,
        0.0,
        0.0,
        3.0,
        about="Standard deviation of a letter's height over its line; along it a letter plays "
        "two and a half times as much.",
    )
    form_play: float = value(
        _S,
        0.0,
        0.0,
        10.0,
        about="How freely letters and figures take their form, each time another; a hand without "
        "firmness uses at 1 all the play that their family gives.",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """Where ink meets paper."""

    raggedness: float = value(
        _L, 0.0, 0.0, 2.0, about="Standard deviation of the edge about its smooth course."
    )
    correlation: float = value(
        _L, 0.15, 0.02, 10.0, about="Length over which the raggedness hangs together."
    )
    exponent: float = value(
        _S, 0.75, 0.1, 1.0, about="Roughness exponent: high is rounded, low is jagged."
    )
    liveliness: float = value(
        _S,
        0.0,
        0.0,
        1.0,
        about="How much the raggedness comes and goes: 0 is even, 1 clean with a few events.",
    )
    softening: float = value(_L, 0.0, 0.0, 2.0, about="Radius to which ink rounds its corners.")
    spread: float = value(_L, 0.0, 0.0, 1.0, about="How far ink widens the stroke on either side.")
    events: float = value(
        _S, 0.0, 0.0, 20.0, about="Blobs, drags and nicks in each centimetre of edge."
    )
    event_size: float = value(_L, 0.08, 0.0, 1.0, about="Most that one of them moves the edge.")
    creep: float = value(
        _L, 0.0, 0.0, 1.0, about="How far ink creeps along the paper's fibres here and there."
    )
    facets: float = value(
        _L,
        0.0,
        0.0,
        10.0,
        about="Length of the straight facets in which the edge is cut, as a gouge cuts it; shorter "
        "in curves (0: it is round).",
    )
    fillet: float = value(
        _L, 0.0, 0.0, 1.0, about="Radius to which wet ink fills the corners where strokes cross."
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Firmness:
    """How sure the hand is of each kind of mark: 0 wanders as the style says, 1 not at all."""

    rule: float = value(_S, 0.0, 0.0, 1.0, about="Firmness of rules.")
    numeral: float = value(_S, 0.5, 0.0, 1.0, about="Firmness of numerals.")
    word: float = value(_S, 0.5, 0.0, 1.0, about="Firmness of words.")
    block: float = value(_S, 0.3, 0.0, 1.0, about="Firmness of blocks.")

    def for_role(self, role: Role) -> float:
        """The firmness of marks of `role`."""
        return float(getattr(self, role.value))


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """How heavy the tool likes to write: what it suggests to recipes that say no weights."""

    rule: float = value(
        _S, 1.0, 0.5, 2.0, about="How many times heavier than usual rules and lines of blocks are."
    )
    frame: float = value(
        _S,
        1.0,
        0.5,
        2.0,
        about="How many times as far as usual the frame stands out from the rules.",
    )
    stem: float = value(
        _S,
        1.0,
        0.5,
        2.0,
        about="How many times heavier than usual the strokes of numerals, weekdays and words are.",
    )


_ROOT = "root"
_PARTS = {
    "hand": Hand,
    "nib": Nib,
    "edge": Edge,
    "paper": Paper,
    "firmness": Firmness,
    "weights": Weights,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """One setting of the four parts, the sheet on which it was drawn, and the weights it suggests.

    Attributes:
        name: what it is called.
        imitates: what in the world it looks like, in a few words.
        drawn_at: width of the sheet in mm; all lengths of the style lie on that sheet.
        hand, nib, edge, paper: the four parts.
        firmness: how sure each kind of mark is.
        weights: what it suggests to recipes; nothing that is drawn depends on it otherwise.
        root: whose hand it is: the style at the root of those that it is based on, so that two
            styles share no lines and one that is tuned keeps those of the one that it was made
            from; "" for a style that is in no file. Nobody sets it.
    """

    name: str = "exact"
    imitates: str = "nothing: the layout itself, with no hand in it"
    drawn_at: float = value(
        _L, 84.0, 10.0, 2000.0, about="Width of the sheet on which it was drawn."
    )
    hand: Hand = Hand()
    nib: Nib = PLAIN_NIB
    edge: Edge = Edge()
    paper: Paper = PLAIN_PAPER
    firmness: Firmness = Firmness()
    weights: Weights = Weights()
    root: str = ""

    def to_dict(self) -> dict[str, Any]:
        """The style as plain values; `style_from_dict` gives it back without loss."""
        head = {
            "name": self.name,
            "imitates": self.imitates,
            "drawn_at": f"{self.drawn_at!r} mm".replace(".0 ", " "),
        }
        head |= {"root": self.root} if self.root else {}
        return head | {part: dict_from_part(getattr(self, part)) for part in _PARTS}


EXACT = Style()
"""The style whose four parts are all at zero: what it draws is the exact drawing."""


def fields_of_style() -> dict[str, dataclasses.Field[Any]]:
    """The fields of a style that a person sets, by their names."""
    return {field.name: field for field in dataclasses.fields(Style) if field.name != _ROOT}


def style_from_dict(values: Mapping[str, Any], *, where: str, base: Style = EXACT) -> Style:
    """The style that `values` says; what it leaves out is as in `base`.

    Args:
        values: `name`, `imitates`, `drawn_at` and the tables `hand`, `nib`, `edge`, `paper`,
            `firmness`, `weights`.
        where: the file or place that the values come from, named in errors.
        base: the style that lends what is left out.

    Raises:
        StyleError: unknown keys, wrong units or values out of range, all named together.
    """
    changes: dict[str, Any] = {}
    faults: list[str] = []
    fields = {field.name: field for field in dataclasses.fields(Style)}
    for key, given in values.items():
        place = f"{where}: {key}"
        if key in _PARTS:
            changes[key], found = part_from_dict(
                _PARTS[key], given, where=place, base=getattr(base, key)
            )
            faults.extend(found)
        elif key == "drawn_at":
            try:
                changes[key] = checked_value(given, fields[key])
            except UnitError as error:
                faults.append(f"{place}: {error}")
        elif key in fields and isinstance(given, str):
            changes[key] = given
        elif key in fields:
            faults.append(f"{place}: a text is required, not {given!r}")
        else:
            faults.append(unknown_key(place, key, fields))
    if faults:
        raise StyleError(faults)
    style = dataclasses.replace(base, **changes)
    clashes = _contradictions(style, where)
    if clashes:
        raise StyleError(clashes)
    return style


def _contradictions(style: Style, where: str) -> list[str]:
    """What is allowed by itself but not together."""
    faults = []
    if (style.hand.drift > 0.0 or style.hand.tremor > 0.0) and style.hand.stray <= 0.0:
        faults.append(
            f"{where}: hand.stray: a length above 0 is required where there is drift or tremor, "
            f"not {style.hand.stray:g} mm"
        )
    if style.hand.run_over_share + style.hand.fall_short_share > 1.0:
        faults.append(
            f"{where}: hand: run_over_share and fall_short_share may not exceed 1 together"
        )
    return faults
