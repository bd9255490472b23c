"""Draws the figures of shared/pages/ink.md into shared/pictures.

They show one stroke's speed, width and edge, and an edge's spectrum asked and measured.

Run with `python tests/bench/figures.py`; needs matplotlib (the extra `bench`). Same numbers, same
curves, each time.
"""

from __future__ import annotations

import sys
from pathlib import Path

import matplotlib as mpl

mpl.use("Agg")
import matplotlib.pyplot as plt
import numpy as np

from inkline.drawing import Cap, Drawing, Layer, Role, Stroke
from inkline.ink.engine import draw
from inkline.ink.style import style_from_dict
from inkline.proof.edges import line_edges
from inkline.proof.slices import ExactRule
from inkline.proof.spectrum import EdgeSpectrum, fit_spectrum, hann_periodogram
from inkline.raster.compose import render
from inkline.styles.files import load_style, style_files

PICTURES = Path(__file__).resolve().parents[2] / "shared" / "pictures"
SHEET_PX, SHEET_MM = 2500.0, 84.0
PX_PER_MM = SHEET_PX / SHEET_MM
WIDTH_PX = 20.83
INK, WARM, PALE = "#22303c", "#c0492f", "#b9b2a5"


def rule(name, length_px, y):
    return Stroke(
        name=name,
        group=name,
        role=Role.RULE,
        points=np.array([[30.25, y], [30.25 + length_px, y]]),
        width_px=WIDTH_PX,
        cap=Cap.BUTT,
        origin=(30.25, y),
    )


def drawing(marks, canvas):
    return Drawing(
        name="figure",
        canvas=canvas,
        sheet_px=SHEET_PX,
        layers=(Layer(name="all", marks=tuple(marks)),),
    )


def plain_axes(axes, *, title, below="", beside=""):
    axes.set_title(title, loc="left", fontsize=10, color=INK)
    axes.set_xlabel(below, fontsize=9)
    axes.set_ylabel(beside, fontsize=9)
    axes.spines[["top", "right"]].set_visible(False)
    axes.tick_params(labelsize=8)


def stroke_figure(path):
    """Speed, width, mid-line and picture of one rule in the round pen, under one another."""
    style = load_style(style_files()["round-pen"])
    scene = drawing([rule("figure/rule/1", 1800.0, 60.4)], (1870, 120))
    inked = draw(scene, style, 3)
    master, picture = inked.masters[0], render(inked)
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(master.path, axis=0).T))))
    speeds = np.gradient(along, master.times)
    mean = along[-1] / master.times[-1]
    figure, parts = plt.subplots(
        4, 1, figsize=(8, 7), sharex=False, height_ratios=(2, 2, 2, 1.5), layout="constrained"
    )
    parts[0].plot(along, speeds, color=INK)
    parts[0].axhline(mean, color=PALE, lw=1)
    parts[0].axhline(1.875 * mean, color=WARM, lw=1, ls=":")
    plain_axes(parts[0], title="speed: minimum jerk, its peak 1.875 times its mean", beside="mm/s")
    parts[1].plot(along, master.pressures * WIDTH_PX / PX_PER_MM, color=INK)
    parts[1].axhline(WIDTH_PX / PX_PER_MM, color=PALE, lw=1)
    plain_axes(
        parts[1],
        title="width: pressure in three wave lengths, its mean the nominal width",
        beside="mm",
    )
    exact_y = 0.0
    parts[2].plot(along, 1000.0 * (master.path[:, 1] - exact_y), color=INK)
    parts[2].axhline(0.0, color=PALE, lw=1)
    plain_axes(
        parts[2],
        title="centreline: no mean, no slope, never beyond its stray",
        beside="µm",
        below="mm along the stroke",
    )
    parts[3].imshow(
        255 - picture[30:92, 10:620], cmap="gray", aspect="equal", interpolation="antialiased"
    )
    parts[3].set_title(
        "edge: mostly clean, with a few events; its first third, larger",
        loc="left",
        fontsize=10,
        color=INK,
    )
    parts[3].axis("off")
    figure.savefig(path, dpi=110)
    plt.close(figure)


def spectrum_figure(path):
    """An edge's spectrum over 200 drawings.

    It stands beside the model that was asked for and the one fitted to what was read.
    """
    asked = EdgeSpectrum(sigma=1.0, xi=8.0, exponent=0.75)
    um = 1000.0 / PX_PER_MM
    edge = {
        "raggedness": f"{asked.sigma * um} um",
        "correlation": f"{asked.xi * um} um",
        "exponent": asked.exponent,
    }
    style = style_from_dict({"drawn_at": f"{SHEET_MM} mm", "edge": edge}, where="figure")
    length = 1800.0
    exact = ExactRule(start=(30.25, 60.4), end=(30.25 + length, 60.4), width_px=WIDTH_PX)
    scene = drawing([rule("figure/edge/1", length, 60.4)], (1870, 120))
    rows = []
    for number in range(200):
        edges = line_edges(render(draw(scene, style, number)), exact, reach_px=26.0)
        rows += [edges.near, edges.far]
    frequencies, power = hann_periodogram(np.array(rows))
    span = (frequencies > 4.0 / length) & (frequencies < 0.35)
    fitted = fit_spectrum(frequencies[span], power[span])
    figure, axes = plt.subplots(figsize=(7, 4.4), layout="constrained")
    axes.loglog(frequencies[1:], power[1:], color=PALE, lw=1.2, label="read off 200 pictures")
    box = np.sinc(frequencies[span]) ** 2
    label = "asked: sigma {0.sigma:.2f} px, xi {0.xi:.1f} px, H {0.exponent:.2f}"
    axes.loglog(
        frequencies[span],
        asked.power(frequencies[span]) * box,
        color=INK,
        label=label.format(asked),
    )
    axes.loglog(
        frequencies[span],
        fitted.power(frequencies[span]) * box,
        color=WARM,
        ls="--",
        label=label.format(fitted).replace("asked", "fitted"),
    )
    plain_axes(
        axes,
        title="spectrum of an edge, asked and measured",
        below="cycles per px",
        beside="px² per cycle/px",
    )
    axes.legend(fontsize=8, frameon=False)
    figure.savefig(path, dpi=110)
    plt.close(figure)


def main():
    PICTURES.mkdir(exist_ok=True)
    stroke_figure(PICTURES / "stroke.png")
    spectrum_figure(PICTURES / "spectrum.png")
    print(f"drawn into {PICTURES}")


if __name__ == "__main__":
    sys.exit(main())
