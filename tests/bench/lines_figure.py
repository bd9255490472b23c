"""Draws shared/pictures/lines.png, a month of each published recipe.

Each is in colours of its own, as a buyer may paint with the stamps.

Run with `python tests/bench/lines_figure.py`, or with a folder in which the months stay, to draw
only what is new.
"""

from __future__ import annotations

import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from PIL import Image
from scipy import ndimage

from inkline.kit.build import finish_months
from inkline.kit.months.recipe import months_recipe
from inkline.kit.recipe.loading import load_recipe
from inkline.pages.light import srgb_bytes_from_light
from inkline.pages.page import Page, shrink_picture

SHARED = Path(__file__).resolve().parents[2] / "shared"
COLUMN, EDGE, GAP = 960, 44, 28
"""Width of a sheet of paper, white around what is printed on it, and white between the papers, in
px."""
WHITE = "#fbf9f5"
LARGER = 2
"""How many times larger than shown the picture is composed; it is reduced as light, so that thin
lines keep their weight."""
N_COLOURS = 112
NIGHT = ("#ffe08a", "#fdcf70", "#f8bb5c", "#f0a24f", "#e48647", "#d26a45")
"""Windows from the top row down."""
N_FULL = 22
"""Days of the moons' month that are filled in already."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """One month to be printed, of which recipe and format, and each layer's ink from back to front.

    A layer that isn't named isn't printed.
    """

    line: str
    month: tuple[int, int]
    format: str
    inks: dict[str, str | tuple[str, ...]]
    kit: str = ""

    @property
    def name(self):
        return f"{self.month[0]}-{self.month[1]:02d}-{self.format}"


EVENINGS = Print(
    line="evenings",
    month=(2027, 5),
    format="standard",
    inks={
        "blocks": "#f0c5a0",
        "blocks-head": "#e9a98a",
        "grid": "#2f2a48",
        "dates": "#2f2a48",
        "weekdays": "#2f2a48",
    }
    | {"name": "#b5452c", "year": "#b5452c"},
)
LANTERNS = Print(
    line="lanterns",
    month=(2027, 10),
    format="tall",
    inks={"blocks": NIGHT, "weekdays": "#9fb0d6", "name": "#ffe08a", "year": "#9fb0d6"},
)
MOONS = Print(
    line="moons",
    month=(2027, 3),
    format="moon",
    inks={
        "blocks": "#41656a",
        "dates-workdays": "#1d3f45",
        "dates-saturdays": "#b4472f",
        "dates-sundays": "#b4472f",
    }
    | {"marks": "#b4472f", "weekdays": "#41656a", "before": "#41656a", "after": "#41656a"}
    | {"name": "#1d3f45", "year": "#b4472f"},
)
BROWN, CHALKY = "#3d2417", "#fdf3e0"
WIDE = Print(
    line="larder",
    kit="english",
    month=(2027, 9),
    format="wide",
    inks={
        "grid": BROWN,
        "dates": BROWN,
        "weekdays": BROWN,
        "weeks": "#9c3a22",
        "name": "#9c3a22",
        "year": "#9c3a22",
    },
)
STRIP = Print(
    line="larder",
    kit="english",
    month=(2027, 10),
    format="strip",
    inks={"grid": CHALKY, "dates": CHALKY, "weekdays": CHALKY, "name": CHALKY, "year": CHALKY},
)
COLUMNS = (
    (("#f6ead6", (EVENINGS,)), ("#1c2545", (LANTERNS,))),
    (("#cfdfd8", (MOONS,)), ("#c79c6d", (WIDE, STRIP))),
)
"""Papers from the top down, column by column: their colour, and what is printed on them."""


def drawn(job, folder):
    """The layers of a month, cut to their ink, by name."""
    recipe = load_recipe(SHARED / "recipes" / f"{job.line}.toml", kit=job.kit)
    place = folder / f"{job.line}-{job.name}"
    finish_months(months_recipe(recipe, [job.month], formats=[job.format]), place, workers=2)
    layers = {name: np.asarray(Image.open(place / job.name / f"{name}.png")) for name in job.inks}
    whole = np.maximum.reduce(list(layers.values()))
    rows, columns = np.flatnonzero(whole.any(axis=1)), np.flatnonzero(whole.any(axis=0))
    part = np.s_[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    return {name: grey[part] for name, grey in layers.items()}


def bands(grey):
    """The parts of a picture that lie in rows of their own, each on a picture of the whole size."""
    labels, count = ndimage.label(grey.any(axis=1))
    return [
        np.where((labels == number)[:, None], grey, np.uint8(0)) for number in range(1, count + 1)
    ]


def filled(grey, count):
    """The insides of the first `count` closed lines, row by row, softly edged under the line."""
    labels, found = ndimage.label(ndimage.binary_fill_holes(grey > 127))
    middles = ndimage.center_of_mass(labels > 0, labels, np.arange(1, found + 1))
    cell = np.sqrt((labels > 0).sum() / found)
    order = sorted(range(found), key=lambda one: (round(middles[one][0] / cell), middles[one][1]))
    return np.where(np.isin(labels, [one + 1 for one in order[:count]]), np.uint8(255), np.uint8(0))


def printed(page, layers, job, *, at, width):
    """`page` with the month's layers at `at`, as wide as `width`; its height in px."""
    height = round(
        next(iter(layers.values())).shape[0] * width / next(iter(layers.values())).shape[1]
    )
    for name, ink in job.inks.items():
        if job is MOONS and name == "blocks":
            page.ink(
                shrink_picture(filled(layers[name], N_FULL), size=(width, height)),
                at=at,
                colour="#f3e3a8",
            )
        parts = bands(layers[name]) if isinstance(ink, tuple) else [layers[name]]
        colours = ink if isinstance(ink, tuple) else (ink,)
        for part, colour in zip(parts, colours, strict=True):
            page.ink(shrink_picture(part, size=(width, height)), at=at, colour=colour)
    return height


def paper(colour, jobs, folder):
    """A sheet of coloured paper with its months under one another, as light."""
    width, edge = COLUMN * LARGER, EDGE * LARGER
    months = [drawn(job, folder) for job in jobs]
    shapes = [next(iter(layers.values())).shape for layers in months]
    heights = [round(height * (width - 2 * edge) / breadth) for height, breadth in shapes]
    page = Page((width, sum(heights) + edge * (len(jobs) + 1)), colour=colour)
    top = edge
    for job, layers in zip(jobs, months, strict=True):
        top += edge + printed(page, layers, job, at=(edge, top), width=width - 2 * edge)
    return page.light()


def sheet(folder):
    """All papers in two columns of one height, as sRGB.

    The lower papers are made longer at their ends where need be.
    """
    papers = [[paper(colour, jobs, folder) for colour, jobs in column] for column in COLUMNS]
    gap, tallest = GAP * LARGER, max(sum(len(light) for light in column) for column in papers)
    size = (2 * COLUMN * LARGER + 3 * gap, tallest + 3 * gap)
    whole = (size[0] // LARGER * LARGER, size[1] // LARGER * LARGER)
    page = Page(whole, colour=WHITE).light()
    for number, column in enumerate(papers):
        left, top = gap + number * (COLUMN * LARGER + gap), gap
        spare = tallest - sum(len(light) for light in column)
        for light in column:
            more = spare // len(column)
            tall = np.concatenate(
                [light[:1]] * (more // 2) + [light] + [light[-1:]] * (more - more // 2)
            )
            page[top : top + len(tall), left : left + COLUMN * LARGER] = tall
            top += len(tall) + gap
    height, width = page.shape[:2]
    small = page.reshape(height // LARGER, LARGER, width // LARGER, LARGER, 3).mean(axis=(1, 3))
    return srgb_bytes_from_light(small)


def main(folder):
    picture = Image.fromarray(sheet(folder))
    few = picture.quantize(N_COLOURS, Image.Quantize.MEDIANCUT, kmeans=3, dither=Image.Dither.NONE)
    path = SHARED / "pictures" / "lines.png"
    few.save(path, optimize=True)
    print(
        f"{path.name}: {picture.size[0]} x {picture.size[1]} px, {path.stat().st_size / 1e3:.0f} kB"
    )


if __name__ == "__main__":
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]))
    else:
        with tempfile.TemporaryDirectory() as scratch:
            main(Path(scratch))
