"""The medium of one mark, where ink is not wet: a frozen value, kept in its master."""

from __future__ import annotations

from dataclasses import dataclass

from inkline.geometry.arrays import Floats, Points
from inkline.ink.media.fills import Passes
from inkline.ink.media.grain import Grain, PaperPlace

MULTIPLYING = ("contact", "bristles")
"""The media whose load multiplies what the tool gives; it adds to it in the others."""
NO_RIM_MM = 1e6
"""A half width that stands for a mark without rims: a shape that is filled."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Medium:
    """What the raster needs to know of the medium of one mark, in mm about the mark's origin.

    Attributes:
        kind: "contact", "bristles", "film" or "wash".
        grain: the sizes of the paper's tooth.
        paper: the piece of paper under the mark, shared by marks that lie on one sheet.
        own: where the mark's own slow noise is read.
        level: load of the tool, found so that the asked share stays bare.
        softness: how gradually ink gives way.
        body: how flat the tool lies: the exponent of the way from middle to rim.
        falloff: how steeply it dies at the rim: the exponent of what is left.
        play: how much the load comes and goes.
        play_length: over what length.
        rim: how much drier the rims are; below 0 ink gathers there.
        granulation: how much the tooth shows in a wash, or on top of bristles.
        bloom: how strongly water that ran back shows in a wash.
        overlap: how much darker the mark and those below it are where they overlap.
        passes: the passes in which a shape is filled, or `None`.
        smear: how much dust is rubbed into what contact leaves bare.
        build_up: how gradually a tool's load builds up to full ink; 0, at once, before format 5.
        merging: how far wet strokes run into one where they meet; not at all before format 5.
        firm_ends: how firmly bristles set down and lift; not at all before format 5.
        is_crisp: whether passes of a wash have crisp edges, darker where two overlap, and blooms
            are backruns, in shapes alone; before format 5 both were soft, and blooms anywhere.
        by_deviates: whether heights and loads are compared as normal deviates, so that bare places
            have as hard rims where they are few; as shares in masters of format 2.
        in_arms: whether a stroke that crosses itself lays one arm over the other; in masters of
            formats 2 and 3 each place belongs to the arm whose middle is nearest.
        spine: points along the mark, `(k, 2)`.
        levels: level of ink at each of them, `(k,)`, 0 for a middling one.
        halves: half width at each of them, `(k,)`.
    """

    kind: str
    grain: Grain
    paper: PaperPlace
    own: PaperPlace
    level: float
    softness: float
    body: float
    falloff: float
    play: float
    play_length: float
    rim: float
    granulation: float
    bloom: float
    overlap: float
    passes: Passes | None
    smear: float
    build_up: float
    merging: float
    firm_ends: float
    is_crisp: bool
    by_deviates: bool
    in_arms: bool
    spine: Points
    levels: Floats
    halves: Floats
