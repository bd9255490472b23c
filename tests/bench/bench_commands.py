"""What commands cost, as processor time of all their processes, and as ratios taken in one run.

Run with `python tests/bench/bench_commands.py`; `--all` adds the example recipes, `--stages` what a
kit in one process is made of, and `--growth` what more stamps and a larger canvas cost. The figures
of one run stand in shared/pages/speed.md. Each command runs as a person runs it, in folders that
are made for it. The measures of the machine are taken in between: Pillow encoding the default kit's
pictures with the settings that we ship, and aggdraw, a C rasteriser, filling the same contours.
Bars stand beside what they are for.
"""

from __future__ import annotations

import collections
import io
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, replace
from pathlib import Path
from unittest import mock

import aggdraw
import numpy as np
from PIL import Image

from inkline.folder.kept import masters_file
from inkline.ink.engine import draw
from inkline.ink.inked import united_contours
from inkline.kit.build import build_kit, proof_of_drawn
from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import default_recipe
from inkline.kit.recipe.text import recipe_text
from inkline.press.masters import masters_at
from inkline.press.shop import Shop
from inkline.raster.compose import render

RECIPES = Path(__file__).resolve().parents[2] / "shared" / "recipes"
RUNS_OF_EQUAL_BYTES = 3
PR_SET_CHILD_SUBREAPER = 36
"""Of Linux's prctl: processes whose parents end become ours, so that theirs is counted too."""


@dataclass
class Cost:
    """What a command took: processor time and waiting in s, and its largest process in MB."""

    cpu: float
    wall: float
    peak: float


MEASURER = f"""
import ctypes, os, resource, subprocess, sys, time
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
ctypes.CDLL(None).prctl({PR_SET_CHILD_SUBREAPER}, 1, 0, 0, 0)
start = time.perf_counter()
subprocess.run(sys.argv[1:], check=True, stdout=subprocess.DEVNULL)
wall = time.perf_counter() - start
try:
    while True:
        os.waitpid(-1, 0)
except ChildProcessError:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
print(used.ru_utime + used.ru_stime, wall, used.ru_maxrss / 1024)
"""
"""A small process that runs a command and waits for all that came of it; it counts nothing else."""


def command_cost(*arguments):
    """The cost of an inkline command."""
    command = [sys.executable, "-c", MEASURER, sys.executable, "-m", "inkline", *arguments]
    done = subprocess.run([str(one) for one in command], check=True, capture_output=True, text=True)
    return Cost(*map(float, done.stdout.split()))


def machine_measures(folder):
    """Processor time of encoding the pictures in `folder`, and of filling their contours."""
    kit = KitOrder(recipe=default_recipe()).open().kit
    pictures = {name: np.asarray(Image.open(folder / one.file)) for name, one in kit.plans.items()}
    start = time.process_time()
    for picture in pictures.values():
        buffer = io.BytesIO()
        Image.fromarray(picture).save(buffer, "PNG", compress_type=RUNS_OF_EQUAL_BYTES)
    encoding = time.process_time() - start
    filling = 0.0
    for name, plan in kit.plans.items():
        kept, _ = masters_at(folder / masters_file(name))
        inked = draw(plan.drawing(), kit.style, kit.recipe.number, kept=kept)
        flat = [np.ravel(contour).tolist() for contour in united_contours(inked)]
        start = time.process_time()
        surface = aggdraw.Draw(Image.new("L", plan.canvas, 0))
        path = aggdraw.Path()
        for contour in flat:
            path.moveto(*contour[:2])
            for at in range(2, len(contour), 2):
                path.lineto(contour[at], contour[at + 1])
            path.close()
        surface.path(path, None, aggdraw.Brush(255))
        surface.flush()
        filling += time.process_time() - start
    return encoding, filling


def row(what, cost, unit, bar):
    """One line of the table."""
    print(
        f"    {what:34s}{cost.cpu:7.2f} s{cost.wall:8.1f} s waited{cost.peak:7.0f} MB"
        f"{cost.cpu / unit:8.2f}  (bar {bar})"
    )


def stage_table():
    """Where the processor time of the default kit goes, in one process."""
    spent = collections.Counter()
    begun = time.process_time()  # this process has imported all, and done nothing else
    made = Shop.make

    def timed(shop, job):
        start = time.process_time()
        done = made(shop, job)
        kind = "layouts" if job.name.endswith("/layout") else job.name
        kind = kind if kind in {"layouts", "overview", "guide"} else "stamps"
        spent[kind] += time.process_time() - start
        return done

    with tempfile.TemporaryDirectory() as folder, mock.patch.object(Shop, "make", timed):
        start = time.process_time()
        report = build_kit(default_recipe(), Path(folder) / "kit", workers=1)
        spent["opening, looking over, saving"] = time.process_time() - start - sum(spent.values())
        start = time.process_time()
        proof_of_drawn(report)
        spent["proof"] = time.process_time() - start
    spent["imports"] = begun
    for what, seconds in spent.most_common():
        print(f"    {what:34s}{seconds:7.2f} s{100.0 * seconds / sum(spent.values()):6.0f} %")


def drawn_cost(recipe):
    """Processor time of drawing the stamps of all formats of a recipe, without encoding."""
    kit = KitOrder(recipe=recipe).open().kit
    start = time.process_time()
    for plan in (plan for plan in kit.plans.values() if plan.format is not None):
        render(draw(plan.drawing(), kit.style, kit.recipe.number))
    return time.process_time() - start


def growth_table():
    """What four times as many stamps and a canvas four times as wide cost."""
    recipe = default_recipe()
    one = replace(recipe, formats=recipe.formats[:1])
    four = replace(
        recipe,
        formats=tuple(replace(one.formats[0], name=f"standard-{index}") for index in range(1, 5)),
    )
    drawn_cost(one)
    base = drawn_cost(one)
    print(f"    four times the stamps: {drawn_cost(four) / base:.2f} times (bar 4.2)")
    large = drawn_cost(replace(one, side_px=4 * recipe.side_px))
    print(f"    a canvas of 10 000 px for 2500: {large / base:.2f} times (bar 3)")


def main():
    recipe_file = "mine.toml"
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        recipe = folder / recipe_file
        recipe.write_text(recipe_text(default_recipe().number))
        again = folder / "again.toml"
        again.write_text(f'{recipe.read_text()}\n[again]\n"standard/dates-3/17" = 1\n')
        command_cost("kit", recipe, "-o", folder / "kit", "--only", "words/digit-1")
        two = command_cost("kit", recipe, "-o", folder / "kit", "--workers", 2)
        encoding, filling = machine_measures(folder / "kit")
        both = encoding + filling
        print(f"    Pillow encodes {encoding:.2f} s, aggdraw fills {filling:.2f} s")
        row("kit, two processes / both", two, both, "4.0, aim 2.0")
        one = command_cost("kit", recipe, "-o", folder / "one", "--workers", 1)
        row("kit, one process / both", one, both, "-")
        print(f"    one process to two: {one.wall / two.wall:.2f} times as fast (bar 1.7)")
        kit = ("kit", recipe, "-o", folder / "kit")
        row("nothing changed / encoding", command_cost(*kit), encoding, 0.8)
        row(
            "one numeral again / encoding",
            command_cost("kit", again, "-o", folder / "kit"),
            encoding,
            1.8,
        )
        row("recipe check / encoding", command_cost("recipe", "check", recipe), encoding, 0.5)
        sheet = folder / "styles.png"
        row("twelve styles / encoding", command_cost("sampler", "-o", sheet), encoding, 6)
        month = ("month", "2027-02", recipe, "-o", folder / "month", "--format", "standard")
        row("one month / encoding", command_cost(*month), encoding, 2)
        row("prove / encoding", command_cost("prove", folder / "kit"), encoding, "-")
        row("--help / encoding", command_cost("--help"), encoding, "0.1 s")
        if "--stages" in sys.argv:
            subprocess.run([sys.executable, __file__, "--only-stages"], check=True)
        if "--growth" in sys.argv:
            growth_table()
        if "--all" in sys.argv:
            costs = [
                command_cost("kit", file, "-o", folder / file.stem)
                for file in sorted(RECIPES.glob("*.toml"))
            ]
            whole = Cost(
                cpu=sum(cost.cpu for cost in costs),
                wall=sum(cost.wall for cost in costs),
                peak=max(cost.peak for cost in costs),
            )
            row("four example recipes / the kit", whole, two.cpu, 5)


if __name__ == "__main__":
    if "--only-stages" in sys.argv:
        stage_table()
    else:
        main()
