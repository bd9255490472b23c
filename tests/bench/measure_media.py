"""What is dry about the ink of shipped styles, in numbers, read off pictures at 2500 px.

Run with `python tests/bench/measure_media.py [STYLE...]`. All targets were chosen by eye, there
being no published figures for stamps; the last column of each line names those that a style
misses. Hand, nib and edge are at rest.

- slope: of the power spectrum of what is bare in a block, on logarithmic axes, from wave lengths of
  2 px to 64 px, a decade and a half; between -3.5 and -0.7, as of tooth that has every size at
  once; a wash, which pools, may fall faster;
- hump: the most by which the power of a third of an octave exceeds that of the next longer one; at
  most 1.5, or the grain has one size that shows. In fills in passes the bands show, too;
- rims, middle: bare share of the outer sixths of a level rule, and of its middle third: contact
  dies away towards the rims, a film starves in the middle;
- streak: length over width of bare places in a level rule, at least 8 for bristles;
- grey: share of a block's pixels that are neither bare nor full, from 16 to 239 of 255: at most
  0.25 for what breaks hard, at least 0.35 for what is grey;
- cross: bare share where two rules cross less that beside it: at most 0.01;
- sizes: mean difference, of 255, of one master at 1250 and at 5000 px from that at 2500 px, all
  reduced to 625, over ink: under 2.
"""

from __future__ import annotations

import argparse
from dataclasses import replace
from itertools import pairwise

import numpy as np
from scipy import ndimage

from inkline.drawing import Cap, Drawing, Layer, Role, Shape, Stroke
from inkline.ink.engine import draw
from inkline.ink.style import EXACT
from inkline.raster.compose import render
from inkline.styles.files import load_style, style_files

SHEET_PX = 2500.0
NUMBERS = (1, 2, 3, 4)
HARD, GREY = ("chalk", "worn-print", "linocut", "brush-pen"), ("dry-pencil", "wash", "felt-marker")
HEADS = ("slope", "hump", "rims", "middle", "streak", "grey", "cross", "sizes")


def rule(name, start, end, scale=1.0, width_px=26.0):
    return Stroke(
        name=name,
        group=name,
        role=Role.RULE,
        points=np.array([start, end], dtype=float) * scale,
        width_px=width_px * scale,
        cap=Cap.BUTT,
        origin=(start[0] * scale, start[1] * scale),
    )


def block(name, x0, y0, x1, y1, scale=1.0):
    corners = np.array([[x0, y0], [x0, y1], [x1, y1], [x1, y0]], dtype=float) * scale
    return Shape(
        name=name, group=name, role=Role.BLOCK, contours=(corners,), origin=(x0 * scale, y0 * scale)
    )


def scene(marks, width, height, scale=1.0):
    return Drawing(
        name="m",
        canvas=(round(width * scale), round(height * scale)),
        sheet_px=SHEET_PX * scale,
        layers=(Layer(name="all", marks=tuple(marks)),),
    )


def at_rest(style):
    paper = replace(style.paper, specks=0.0, emptying=0.0, pooled=0.0, speeding=0.0, skips=0.0)
    return replace(style, hand=EXACT.hand, nib=EXACT.nib, edge=EXACT.edge, paper=paper)


def blocks(style):
    """Bare shares inside a block, of several drawings."""
    for number in NUMBERS:
        grey = render(draw(scene([block("m/b", 20, 20, 420, 420)], 440, 440), style, number))
        yield 1.0 - grey[92:348, 92:348] / 255.0


def spectrum(style):
    """Slope of the mean power spectrum of bare places, and its largest rise."""
    window = np.hanning(256)[:, None] * np.hanning(256)
    power = np.mean(
        [np.abs(np.fft.fft2((bare - bare.mean()) * window)) ** 2 for bare in blocks(style)], axis=0
    )
    frequency = np.hypot(*np.meshgrid(np.fft.fftfreq(256), np.fft.fftfreq(256)))
    borders = np.geomspace(1.0 / 64.0, 0.5, 16)
    bands = np.array(
        [power[(frequency >= a) & (frequency < b)].mean() for a, b in pairwise(borders)]
    )
    slope = np.polyfit(np.log(np.sqrt(borders[1:] * borders[:-1])), np.log(bands), 1)[0]
    return slope, float((bands[1:] / bands[:-1]).max())


def grey_share(style):
    return np.mean([((b >= 16 / 255) & (b <= 239 / 255)).mean() for b in blocks(style)])


def level_rule(style):
    """What is missing of a level rule, its rims cut square, of several drawings."""
    for number in NUMBERS:
        grey = render(draw(scene([rule("m/g/1", (20, 40), (1980, 40))], 2000, 80), style, number))
        yield 1.0 - grey[27:53, 60:1780] / 255.0


def rims_and_middle(style):
    rows = np.mean([missing.mean(axis=1) for missing in level_rule(style)], axis=0)
    return 0.5 * (rows[1:5].mean() + rows[-5:-1].mean()), rows[9:17].mean()


def streak(style):
    """Length over width of the run in which a bare place of a rule lies, in the mean."""
    style = replace(style, paper=replace(style.paper, granulation=0.0))
    means = []
    for line in ([[0, 0, 0], [1, 1, 1], [0, 0, 0]], [[0, 1, 0], [0, 1, 0], [0, 1, 0]]):
        runs = []
        for missing in level_rule(style):
            labels, n_runs = ndimage.label(missing[4:-4] > 0.5, structure=line)
            runs.extend(np.bincount(labels.ravel())[1 : n_runs + 1])
        means.append(np.square(runs).sum() / max(np.sum(runs), 1))
    return means[0] / means[1] if means[1] else np.nan


def crossing(style):
    """Bare share within a crossing less that beside it."""
    across, down = rule("m/g/a", (20, 150), (280, 150)), rule("m/g/d", (150, 20), (150, 280))
    found = []
    for number in range(8):
        bare = 1.0 - render(draw(scene([across, down], 300, 300), style, number)) / 255.0
        beside = (bare[140:160, 100:120], bare[140:160, 180:200])
        beside += (bare[100:120, 140:160], bare[180:200, 140:160])
        found.append(bare[140:160, 140:160].mean() - np.mean(beside))
    return np.mean(found)


def size_difference(style):
    """The larger of the mean differences of half and of double size, of 255."""
    pictures, kept = [], {}
    for scale in (1.0, 0.5, 2.0):
        marks = [rule("m/g/1", (30, 50), (670, 50), scale), block("m/b", 60, 100, 640, 360, scale)]
        inked = draw(scene(marks, 700, 400, scale), style, 5, kept=kept)
        kept = kept or {master.key: master for master in inked.masters}
        n = round(4 * scale)
        pictures.append(render(inked).reshape(100, n, 175, n).mean(axis=(1, 3)))
    whole, *others = pictures
    return max(np.abs(other - whole)[whole > 0].mean() for other in others)


def missed(name, medium, row):
    checks = {
        "slope": (medium == "wash" or row["slope"] >= -3.5) and row["slope"] <= -0.7,
        "hump": row["hump"] <= 1.5,
        "rims": medium not in ("contact", "film")
        or (row["rims"] > row["middle"]) == (medium == "contact"),
        "streak": medium != "bristles" or row["streak"] >= 8.0,
        "grey": not (name in HARD and row["grey"] > 0.25)
        and not (name in GREY and row["grey"] < 0.35),
        "cross": row["cross"] <= 0.01,
        "sizes": row["sizes"] < 2.0,
    }
    return [check for check, holds in checks.items() if not holds]


def figures(style):
    plain = at_rest(style)
    values = (*spectrum(plain), *rims_and_middle(plain), streak(plain), grey_share(plain))
    return dict(zip(HEADS, (*values, crossing(plain), size_difference(style)), strict=True))


def main():
    files = style_files()
    parser = argparse.ArgumentParser(description="Measures what is dry about shipped styles.")
    parser.add_argument("styles", nargs="*", choices=[*files, []], help="all if none is named")
    print(" " * 13 + "".join(head.rjust(8) for head in HEADS) + "  missed")
    for name in parser.parse_args().styles or list(files):
        style = load_style(files[name])
        if style.paper.dryness == 0.0:
            continue
        row = figures(style)
        line = "".join(f"{row[head]:8.2f}" for head in HEADS)
        print(f"{name:13s}{line}  {', '.join(missed(name, style.paper.medium, row)) or 'none'}")


if __name__ == "__main__":
    main()
