"""What was found in a file and what of it is left out, in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from inkline.artwork.model import Artwork, Lack
from inkline.finishing.cells import CellGrid
from inkline.finishing.marks import Found
from inkline.progress import names_in_words, number_of_things

_MOST_LACKS = 12
"""Lines about what is left out; more say only how many there are."""


def found_in_words(found: Found) -> str:
    """What a file holds, counted, and how it is taken."""
    counts = [
        number_of_things(found.n_rules, "straight line"),
        number_of_things(found.n_curves, "other line"),
        number_of_things(found.n_shapes, "filled shape"),
        number_of_things(found.n_words, "piece of text", "pieces of text"),
    ]
    words = ", ".join(count for count in counts if not count.startswith("0 "))
    more = [words or "nothing that can be drawn"]
    if found.n_bars:
        more.append(f"{number_of_things(found.n_bars, 'thin bar')} drawn as lines")
    if found.grounds:
        more.append("what lies behind all of it is taken for the paper")
    if found.n_clear:
        more.append(f"{number_of_things(found.n_clear, 'mark')} half clear")
    return "; ".join(more)


def grid_in_words(grid: CellGrid, artwork: Artwork) -> str:
    """How many cells a grid has, and how large they are."""
    across, down = grid.size
    if artwork.is_true_size:
        size = f"{across / artwork.px_per_mm:.4g} x {down / artwork.px_per_mm:.4g} mm"
    else:
        size = f"{across:.4g} x {down:.4g} px"
    return f"a grid of {grid.columns} x {grid.rows} cells of {size}"


def lines_of_lacks(lacks: Sequence[Lack], *, most: int = _MOST_LACKS) -> Iterator[str]:
    """What is left out, a line each, at most so many; alike ones together."""
    groups = dict[str, list[Lack]]()
    for lack in lacks:
        groups.setdefault(lack.sentence, []).append(lack)
    for sentence, alike in list(groups.items())[:most]:
        what = names_in_words(list(dict.fromkeys(lack.what for lack in alike)), most=4)
        lines = list(dict.fromkeys(str(lack.line) for lack in alike if lack.line))
        where = f", line{'s' if len(lines) > 1 else ''} {names_in_words(lines, most=5)}"
        yield f"{what}{where if lines else ''}: {sentence}"
    if len(groups) > most:
        yield f"and {len(groups) - most} more kinds of things"
