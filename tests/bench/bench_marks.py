"""What a mark costs alone and among others, and what a page waits for when a style is changed.

Run with `python tests/bench/bench_marks.py`, on a machine that has nothing else to do. All figures
are processor time of one process, the best of five; ratios are of figures taken in one run.

- A mark of a numeral drawn by itself, and in a drawing of 400 such marks; bound an eighth.
- The stages of that drawing, in ms for a mark and as shares.
- A mark among 400 in each dry style and on paper that leaves nothing bare, and their ratio;
  `bench_media.py` has whole stamps to the bytes of their pictures. Bound 2.5.
- A standard grid and a dates stamp at 900 px with another value of edge, nib, hand or paper,
  against filling the same contours by the exact raster. Bounds for an edge value 60 and 85 ms;
  twice that for hand or nib, and twice as much in dry styles.
"""

from __future__ import annotations

import time
from collections import defaultdict
from contextlib import ExitStack
from dataclasses import replace
from unittest.mock import patch

from inkline.drawing import Drawing, Layer
from inkline.ink import papers, stages, strokes
from inkline.ink.engine import draw
from inkline.ink.form.letters import Letters
from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import default_recipe
from inkline.raster import preview
from inkline.raster.coverage import grey_from_contours
from inkline.raster.preview import Preview
from inkline.styles.files import load_style, style_files

N_MARKS, N_ALONE, N_TIMES = 400, 12, 5
SCALE = 900 / 2500
SHARE_BOUND, DRY_BOUND = 8.0, 2.5
EDGE_BOUNDS_MS = {"standard/grid-6-head": 60.0, "standard/dates-3": 85.0}
STAGES = {
    "keys": ((stages, "master_key"), (stages, "reach_of_ends")),
    "forms": ((Letters, "form_of"),),
    "hand": ((stages, "drawn_together"), (stages, "moved_shape")),
    "nib": ((stages, "swept_strokes"),),
    "pressing": ((strokes, "pressures"),),
    "sweep": ((strokes, "swept_outlines"), (strokes, "_swept_ring")),
    "edge": ((papers, "roughened_marks"),),
    "paper": ((stages, "finished_master"),),
}
CHANGES = {
    "nothing": lambda style, _: style,
    "edge": lambda style, share: replace(
        style, edge=replace(style.edge, raggedness=0.002 + style.edge.raggedness * share)
    ),
    "nib": lambda style, share: replace(
        style, nib=replace(style.nib, pressure=0.01 + style.nib.pressure * share)
    ),
    "hand": lambda style, share: replace(
        style, hand=replace(style.hand, drift=style.hand.drift * share)
    ),
    "paper": lambda style, share: replace(
        style, paper=replace(style.paper, dryness=style.paper.dryness * share)
    ),
}


def best(work):
    """The shortest processor time of `work(0)`, `work(1)` and so on, in ms."""
    times = []
    for index in range(N_TIMES):
        start = time.process_time()
        work(index)
        times.append(time.process_time() - start)
    return 1e3 * min(times)


def drawing_of(whole, marks):
    return replace(whole, layers=(Layer(name="all", marks=tuple(marks)),))


def many_marks(whole):
    """Marks of a stamp over and over, each time under other names."""
    marks, round_ = list(whole.marks), 0
    found = []
    while len(found) < N_MARKS:
        found += [
            replace(mark, name=f"{round_}/{mark.name}", group=f"{round_}/{mark.group}")
            for mark in marks
        ]
        round_ += 1
    return found[:N_MARKS]


def mark_table(whole: Drawing, style, number):
    crowd = drawing_of(whole, many_marks(whole))
    single = [
        drawing_of(whole, [mark])
        for mark in list(whole.marks)[:: max(1, len(list(whole.marks)) // N_ALONE)]
    ]
    alone = best(lambda _: [draw(one, style, number) for one in single]) / len(single)
    among = best(lambda _: draw(crowd, style, number)) / N_MARKS
    print(f"a mark of {whole.name} in {style.name}, ms of processor time")
    print(f"    alone                     {alone:8.2f}")
    print(f"    among {N_MARKS}                 {among:8.2f}")
    print(f"    ratio                     {alone / among:8.2f}  (bound {SHARE_BOUND:g})")
    spent = stage_times(crowd, style, number)
    total = sum(spent.values())
    for stage, seconds in spent.items():
        print(f"    {stage:26s}{1e3 * seconds / N_MARKS:8.3f}{100 * seconds / total:6.0f} %")


def dry_table(whole, styles, number):
    crowd = drawing_of(whole, many_marks(whole))
    print(f"a mark of {whole.name} among {N_MARKS}, ms dry / ms wet = ratio (bound {DRY_BOUND:g})")
    for name, style in styles.items():
        wet = replace(style, paper=replace(style.paper, dryness=0.0, specks=0.0))
        dry_ms, wet_ms = (
            best(lambda _, one=one: draw(crowd, one, number)) / N_MARKS for one in (style, wet)
        )
        print(f"    {name:26s}{dry_ms:8.2f}{wet_ms:8.2f} ={dry_ms / wet_ms:6.2f}")


def stage_times(drawing, style, number):
    """Seconds of processor time in each stage; what is spent inside another counts there."""
    spent, inner = defaultdict(float), []

    def timed(stage, work):
        def run(*args, **options):
            inner.append(0.0)
            start = time.process_time()
            try:
                return work(*args, **options)
            finally:
                seconds = time.process_time() - start
                spent[stage] += seconds - inner.pop()
                if inner:
                    inner[-1] += seconds

        return run

    with ExitStack() as patches:
        for stage, places in STAGES.items():
            for module, name in places:
                work = timed(stage, getattr(module, name))
                patches.enter_context(patch.object(module, name, work))
        timed("rest", draw)(drawing, style, number)
    return {stage: spent[stage] for stage in (*STAGES, "rest")}


def live_table(plans, style, number):
    print(f"previews at 900 px in {style.name}, ms of processor time, and times filling alone")
    print("    " + " " * 22 + "".join(name.rjust(16) for name in CHANGES) + "   bound for an edge")
    for name, bound in EDGE_BOUNDS_MS.items():
        held = Preview(plans[name].drawing(), number)
        picture = held.picture(style, scale=SCALE)
        small = preview.outlines_of(held.inked(style).at_scale(SCALE))
        canvas = picture.shape[::-1]
        filling = best(
            lambda _, small=small, canvas=canvas: grey_from_contours(small.ink, canvas=canvas)
        )
        columns = []
        for change in CHANGES.values():
            spent = best(
                lambda index, change=change, held=held: held.picture(
                    change(style, 0.9 - 0.1 * index), scale=SCALE
                )
            )
            columns.append(f"{spent:8.0f} ({spent / filling:4.1f})")
        limit = bound * (2.0 if style.paper.dryness else 1.0)
        print(
            "    " + name.ljust(22) + "".join(text.rjust(16) for text in columns) + f"{limit:8.0f}"
        )


def main():
    kit = KitOrder(recipe=default_recipe()).open().kit
    plans, number = kit.plans, kit.recipe.number
    for name in ("standard/dates-3", "standard/grid-6-head"):
        mark_table(plans[name].drawing(), kit.style, number)
    styles = {name: load_style(path) for name, path in style_files().items()}
    dry = {name: style for name, style in styles.items() if style.paper.dryness > 0.0}
    dry_table(plans["standard/dates-3"].drawing(), dry, number)
    for name in ("round-pen", "felt-marker"):
        live_table(plans, styles[name], number)


if __name__ == "__main__":
    main()
