"""The values of a style that say what its ink and paper leave bare."""

from __future__ import annotations

from dataclasses import dataclass

from inkline.ink.values import ValueKind, choice, value

_L, _S = ValueKind.LENGTH, ValueKind.SHARE

_MEDIA = ("patches", "contact", "bristles", "film", "wash")
"""What may be dry about ink."""
_FILLS = ("even", "passes")
"""The ways in which a shape may be filled."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """What the paper's tooth leaves bare."""

    dryness: float = value(_S, 0.0, 0.0, 0.9, about="Share of the stroke that stays bare.")
    tooth: float = value(_L, 1.1, 0.05, 20.0, about="Size of the tooth's larger features.")
    fine_tooth: float = value(_L, 0.55, 0.05, 20.0, about="Size of the tooth's smaller features.")
    fine_share: float = value(_S, 0.4, 0.0, 1.0, about="Weight of the smaller features.")
    softness: float = value(_S, 0.15, 0.0, 2.0, about="How gradually ink gives way to bare paper.")
    emptying: float = value(_S, 0.0, 0.0, 3.0, about="How much drier a stroke ends than it begins.")
    pressing: float = value(
        _S, 0.5, 0.0, 3.0, about="How much more ink stays where the pen presses."
    )
    speeding: float = value(
        _S, 0.0, 0.0, 2.0, about="How much less ink stays where the pen is fast."
    )
    pooled: float = value(
        _S, 0.0, 0.0, 3.0, about="How much more ink stays where the pen rests: at ends and stops."
    )
    skips: float = value(
        _S, 0.0, 0.0, 1.0, about="Share of strokes that begin with a gap, before ink comes."
    )
    streaks: float = value(
        _S,
        0.0,
        0.0,
        1.0,
        about="How far the bare places stretch along the stroke, as bristles leave them.",
    )
    rim: float = value(
        _S,
        0.0,
        -3.0,
        3.0,
        about="How much drier a stroke is along its rims than along its middle (negative: ink "
        "gathers there).",
    )
    medium: str = choice(
        "patches",
        _MEDIA,
        about="What is dry about the ink: patches of a rough paper, contact that dies away towards "
        "the rims (chalk, pencil), bristles that run dry one by one (brush), a pressed film "
        "(print), or a wash that is grey itself.",
    )
    grain: float = value(
        _L, 0.05, 0.005, 2.0, about="Smallest size of the paper's grain; the next ones are coarser."
    )
    coarsest: float = value(_L, 0.8, 0.005, 10.0, about="Largest size of the paper's grain.")
    grain_fall: float = value(
        _S,
        0.3,
        -2.0,
        2.0,
        about="How much less the coarse grain weighs than the fine (negative: more).",
    )
    body: float = value(
        _S,
        2.6,
        1.0,
        8.0,
        about="How flat the tool lies in contact: low thins out from the middle on, high near the "
        "rims only.",
    )
    falloff: float = value(
        _S, 0.75, 0.1, 4.0, about="How softly contact dies away at the rims: low ends suddenly."
    )
    play: float = value(_S, 0.0, 0.0, 2.0, about="How much the load comes and goes within a mark.")
    play_length: float = value(
        _L, 3.0, 0.1, 100.0, about="Length over which the load comes and goes."
    )
    granulation: float = value(
        _S,
        0.1,
        0.0,
        1.0,
        about="How much of the paper's grain shows in a wash, or breaks the streaks of bristles.",
    )
    bloom: float = value(
        _S,
        0.0,
        0.0,
        1.0,
        about="How strongly water that ran back shows in a wash: pale, with a hard dark front.",
    )
    overlap: float = value(
        _S, 0.0, 0.0, 1.0, about="How much darker two marks are where they overlap."
    )
    build_up: float = value(
        _S,
        0.0,
        0.0,
        0.8,
        about="How gradually what a dry tool leaves builds up to full ink where it presses harder: "
        "0 at once, so that it covers all; high keeps the paper's grain in the darkest places.",
    )
    merging: float = value(
        _S,
        0.0,
        0.0,
        1.0,
        about="How far the wet ink of strokes that meet runs into one: 0 shows each one's rim.",
    )
    firm_ends: float = value(
        _S,
        0.0,
        0.0,
        1.0,
        about="How firmly bristles set down and lift: 0 forks the ends of strokes, as a brush "
        "does, 1 leaves them blunt, as a felt tip does.",
    )
    smear: float = value(
        _S,
        0.0,
        0.0,
        1.0,
        about="How much dust of a stick is rubbed into what contact leaves bare.",
    )
    fill: str = choice(
        "even",
        _FILLS,
        about="How blocks and outlines are filled: evenly, or in passes beside one another.",
    )
    fill_width: float = value(_L, 1.6, 0.1, 20.0, about="From one pass of a fill to the next.")
    fill_angle: float = value(
        ValueKind.ANGLE, -20.0, -90.0, 90.0, about="Direction of the passes, from the horizontal."
    )
    fill_play: float = value(_S, 0.6, 0.0, 3.0, about="How much the passes of a fill show.")
    specks: float = value(
        _S, 0.0, 0.0, 50.0, about="Specks of ink beside each centimetre of stroke."
    )
    speck_size: float = value(_L, 0.06, 0.0, 1.0, about="Radius of the largest specks.")
    speck_length: float = value(
        _S,
        1.0,
        1.0,
        50.0,
        about="How long specks are against their width: 1 falls in spots, high stands beside "
        "strokes and blocks in slivers, as a gouge leaves them.",
    )
    speck_reach: float = value(_L, 0.6, 0.0, 10.0, about="How far from the stroke specks fall.")


PLAIN_PAPER = Paper()
"""Smooth paper, of which no ink stays bare."""
