"""A medium's numbers in one row, as masters keep them."""

from __future__ import annotations

from inkline.geometry.arrays import Floats, Points
from inkline.ink.media.fills import Passes
from inkline.ink.media.grain import Grain, PaperPlace
from inkline.ink.media.medium import Medium
from inkline.ink.media.paper import Tooth

# A medium's number in the row; 0 says that there is none. They never change their meaning.
_KINDS = ("", "contact", "bristles", "film", "wash")
MEDIUM_COLUMNS = 31
"""How many numbers a row has.

The last four are missing in masters of format 4, one more in format 3, two more in format 2.
"""


def row_from_medium(medium: Medium | Tooth | None) -> list[float]:
    """The row of `medium`; all 0 where there is none."""
    if not isinstance(medium, Medium):
        return [0.0] * MEDIUM_COLUMNS
    grain, passes = medium.grain, medium.passes
    places = (medium.paper, medium.own)
    return [
        float(_KINDS.index(medium.kind)),
        *(grain.finest, grain.coarsest, grain.fall),
        *(value for place in places for value in (place.x, place.y, place.angle)),
        medium.level,
        medium.softness,
        medium.body,
        medium.falloff,
        medium.play,
        medium.play_length,
        medium.rim,
        medium.granulation,
        medium.bloom,
        medium.overlap,
        *((1.0, passes.width, passes.angle, passes.strength) if passes else (0.0,) * 4),
        medium.smear,
        float(medium.by_deviates),
        float(medium.in_arms),
        medium.build_up,
        medium.merging,
        medium.firm_ends,
        float(medium.is_crisp),
    ]


def medium_from_row(row: Floats, *, spine: Points, levels: Floats, halves: Floats) -> Medium | None:
    """The medium that a row holds, along its spine, or `None`; the reverse of `row_from_medium`."""
    numbers = [float(number) for number in row] + [0.0] * (MEDIUM_COLUMNS - len(row))
    if numbers[0] == 0.0:
        return None
    return Medium(
        kind=_KINDS[int(numbers[0])],
        grain=Grain(finest=numbers[1], coarsest=numbers[2], fall=numbers[3]),
        paper=PaperPlace(x=numbers[4], y=numbers[5], angle=numbers[6]),
        own=PaperPlace(x=numbers[7], y=numbers[8], angle=numbers[9]),
        level=numbers[10],
        softness=numbers[11],
        body=numbers[12],
        falloff=numbers[13],
        play=numbers[14],
        play_length=numbers[15],
        rim=numbers[16],
        granulation=numbers[17],
        bloom=numbers[18],
        overlap=numbers[19],
        passes=Passes(width=numbers[21], angle=numbers[22], strength=numbers[23])
        if numbers[20]
        else None,
        smear=numbers[24],
        by_deviates=bool(numbers[25]),
        in_arms=bool(numbers[26]),
        build_up=numbers[27],
        merging=numbers[28],
        firm_ends=numbers[29],
        is_crisp=bool(numbers[30]),
        spine=spine,
        levels=levels,
        halves=halves,
    )
