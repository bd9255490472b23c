"""Draws shared/pictures/placing.png for shared/pages/letters.md.

Numerals beside a rule, placed by their boxes and by the white that the eye compares.

Run with `python tests/bench/placing_figure.py`; needs matplotlib (the extra `bench`). Prints the
mean white of every numeral both ways.
"""

from __future__ import annotations

import sys
from pathlib import Path

import matplotlib as mpl

mpl.use("Agg")
import matplotlib.pyplot as plt
import numpy as np
from matplotlib.patches import PathPatch
from matplotlib.path import Path as Outline

from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.line import ink_bounds
from inkline.lettering.optical import optical_left, set_numeral
from inkline.lettering.profiles import contour_reach
from inkline.lettering.swap import outlined_glyph

PICTURE = Path(__file__).resolve().parents[2] / "shared" / "pictures" / "placing.png"
NUMERALS = ("1", "4", "7", "8", "11", "24", "31")
HEIGHT, STEM, GAP, STEP = 100.0, 13.0, 24.0, 190.0
SEEN = HEIGHT / 3
"""How deep white is counted by the figures under the numerals: more than any of the three ways
reckons with."""
INK, WARM, PALE, COOL = "#22303c", "#c0492f", "#f3d9cd", "#7d97a8"


def contours_of(line, em):
    """A numeral's ink in px, y up, about the start of its baseline."""
    parts = []
    for item in line.glyphs:
        glyph = outlined_glyph(item.glyph, width_em=STEM / em)
        place = np.array([item.x_em, item.y_em])
        parts += [(contour + place) * em for contour in glyph.contours]
    return parts


def ink_patch(contours, shift, colour):
    points, codes = [], []
    for contour in contours:
        points += [*(contour + shift), contour[0] + shift]
        codes += [Outline.MOVETO, *[Outline.LINETO] * (len(contour) - 1), Outline.CLOSEPOLY]
    return PathPatch(Outline(points, codes), facecolor=colour, lw=0)


def white_of(contours, x):
    """Heights of a numeral, and the white at each between a guide and the ink.

    White is counted to a third of the height.
    """
    y = np.concatenate([contour[:, 1] for contour in contours])
    heights = np.linspace(y.min(), y.max(), 801)[1:-1]
    reach = contour_reach(contours, heights) - x
    return heights, np.minimum(reach, GAP + SEEN)


def row(axes, family, *, place, title):
    em = (HEIGHT - STEM) / (family.digit_height_em - family.nominal_stem_em)
    means = []
    for index, text in enumerate(NUMERALS):
        line = set_numeral(family, text, width_em=STEM / em)
        contours = contours_of(line, em)
        guide = place(line, em) - GAP
        heights, white = white_of(contours, guide)
        means.append(white.mean())
        at = np.array([index * STEP - guide, 0.0])
        axes.fill_betweenx(heights, index * STEP, index * STEP + white, color=PALE, lw=0)
        axes.plot([index * STEP] * 2, [-18, HEIGHT + 18], color=COOL, lw=3, solid_capstyle="butt")
        axes.add_patch(ink_patch(contours, at, INK))
        axes.text(index * STEP + 4, -34, f"{means[-1]:.1f}", fontsize=8, color=WARM, va="center")
    axes.set(xlim=(-12, len(NUMERALS) * STEP - 30), ylim=(-44, HEIGHT + 26), aspect="equal")
    axes.set_title(title, loc="left", fontsize=10, color=INK)
    axes.axis("off")
    return means


def boxed(line, em):
    """Where a numeral's box begins."""
    return ink_bounds(line, size_px=em, width_px=STEM)[0]


def by_white(share):
    """What tells where a numeral's left side lies to the eye.

    White is counted to this share of the numeral's height.
    """
    return lambda line, em: optical_left(line, size_px=em, width_px=STEM, depth_px=share * HEIGHT)


def main():
    family = open_family(family_path("scullery"))
    figure, rows = plt.subplots(3, 1, figsize=(10.4, 5.6), dpi=100)
    ways = (
        ("By the box: the outermost ink of each 24 from the rule", boxed),
        (
            (
                "By the white, counted to a twelfth of the height: nearly flush (evenness 0, the "
                "default)"
            ),
            by_white(1 / 12),
        ),
        (
            (
                "By the white, counted to a fifth of the height: the same mean white for all "
                "(evenness 1)"
            ),
            by_white(1 / 5),
        ),
    )
    for axes, (title, place) in zip(rows, ways, strict=True):
        means = row(axes, family, place=place, title=title)
        values = "  ".join(f"{text} {mean:.1f}" for text, mean in zip(NUMERALS, means, strict=True))
        sys.stdout.write(
            f"{title}: {values}; spread {np.ptp(means):.1f}, deviation {np.std(means):.1f}\n"
        )
    figure.tight_layout(h_pad=0.5)
    figure.savefig(PICTURE, metadata={"Software": None})


if __name__ == "__main__":
    main()
