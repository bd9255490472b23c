"""Many strokes drawn together, each as if alone.

What draws a stroke is a generator: it yields the noise that it wants along its way and goes on with
what it is sent. All strokes of a drawing are so taken along side by side, and the noise that they
ask for is summed for all of them at once. What a stroke is sent depends on what it asked for alone.
"""

from __future__ import annotations

from collections.abc import Generator, Sequence
from typing import TypeVar

from inkline.geometry.arrays import Floats
from inkline.ink.noise import Waves, noises_of

_Result = TypeVar("_Result")
Asking = Generator[Waves, Floats, _Result]
"""What is being drawn: it asks for noise and comes back with a result."""


def drawn_together(drawings: Sequence[Asking[_Result]]) -> list[_Result]:
    """What each of `drawings` comes back with."""
    results: dict[int, _Result] = {}
    asked: dict[int, Waves] = {}
    for place, one in enumerate(drawings):
        try:
            asked[place] = next(one)
        except StopIteration as end:
            results[place] = end.value
    while asked:
        noises = noises_of(list(asked.values()))
        places, asked = list(asked), {}
        for place, noise in zip(places, noises, strict=True):
            try:
                asked[place] = drawings[place].send(noise)
            except StopIteration as end:
                results[place] = end.value
    return [results[place] for place in range(len(drawings))]


def drawn_alone(drawing: Asking[_Result]) -> _Result:
    """What `drawing` comes back with."""
    return drawn_together([drawing])[0]
