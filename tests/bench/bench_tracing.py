"""How long tracing takes.

100 glyphs on one core are to take under 2 s, and measuring a font for the choice of its way under
one second.

Run by hand: `python tests/bench/bench_tracing.py`.
"""

from __future__ import annotations

import string
from time import perf_counter

import font_lato
import font_roboto
import font_source_sans_pro

from inkline.lettering.font import open_font
from inkline.lettering.traced import traced_glyph
from inkline.lettering.writing import TracedFont, pen_fitness_of
from inkline.tracing.axis import axis_from_contours
from inkline.tracing.joins import paths_from_axis

CHARACTERS = string.digits + string.ascii_letters + ".,-–&'/()#+:;!?ÄÖÜÀÉÑÅäöüßéèêñçåøæàâîóúô"
FONTS = {
    "Source Sans": font_source_sans_pro.font_files_ttf["SourceSansPro"],
    "Roboto": font_roboto.font_files["Roboto"],
    "Lato": font_lato.font_files["Lato"],
    "Lato Hairline": font_lato.font_files["LatoThin"],
}


def best_of(n_times, work):
    """Shortest of several runs, in s."""
    times = []
    for _ in range(n_times):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return min(times)


def main():
    print(f"{len(CHARACTERS)} glyphs, best of 3, s")
    print(f"{'font':14} {'middle line':>12} {'joined':>8} {'traced':>8} {'choice':>8}")
    for name, path in FONTS.items():
        font = open_font(path)
        glyphs = [font.glyph(character) for character in CHARACTERS]
        axes = [axis_from_contours(glyph.contours) for glyph in glyphs]
        rows = (
            best_of(
                3, lambda glyphs=glyphs: [axis_from_contours(glyph.contours) for glyph in glyphs]
            ),
            best_of(3, lambda axes=axes: [paths_from_axis(axis) for axis in axes]),
            best_of(3, lambda glyphs=glyphs: [traced_glyph(glyph) for glyph in glyphs]),
            best_of(1, lambda font=font: pen_fitness_of(TracedFont(font=font))),
        )
        print(f"{name:14} {rows[0]:12.2f} {rows[1]:8.2f} {rows[2]:8.2f} {rows[3]:8.2f}")


if __name__ == "__main__":
    main()
