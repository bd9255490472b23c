"""What `inkline kit` does: builds, shows how far it is, and says at the end what there is and what to do next."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import click

from inkline.errors import InputError
from inkline.kit.build import build_kit
from inkline.kit.recipe import default_recipe, load_recipe
from inkline.kit.report import KitReport, Step
from inkline.kit.store import Foreign
from inkline.lettering.licence import font_licence
from inkline.lettering.writing import Way

_MOST_NAMES = 6
"""Names listed in a sentence before the rest are only counted."""


def run_kit(
    recipe: Path | None,
    folder: Path,
    *,
    number: int | None,
    font: Path | None,
    glyphs: str | None,
    way: str | None,
    workers: int | None,
    only: Sequence[str],
    redraw: Sequence[str],
    foreign: str,
) -> None:
    """Build the kit of the recipe file, or the default kit, and report.

    Raises:
        InputError: `font` and `glyphs` both name letters; or as `build_kit`.
        WorkError: as `build_kit`.
    """
    start = time.monotonic()
    chosen = default_recipe() if recipe is None else load_recipe(recipe)
    if font is not None and glyphs is not None:
        raise InputError("--font and --glyphs both say where the letters come from; give one of them")
    if glyphs is not None:
        chosen = replace(chosen, font=None, axes=(), family=glyphs)
    if way is not None:
        chosen = replace(chosen, way=Way(way))
    file = font or chosen.font
    if file is not None:
        click.echo(font_licence(file).words())
    with _progress() as listener:
        report = build_kit(
            chosen,
            folder,
            number=number,
            font=font,
            workers=workers,
            only=only,
            redraw=redraw,
            foreign=Foreign(foreign),
            listener=listener,
        )
    for line in report_lines(report, seconds=time.monotonic() - start, recipe=recipe):
        click.echo(line)


@contextmanager
def _progress() -> Iterator[Callable[[Step], None]]:
    """A listener that shows a bar on a terminal and writes plain lines elsewhere."""
    if not sys.stdout.isatty():
        yield lambda step: click.echo(f"{step.done} of {step.total}  {step.name}")
        return
    from rich.progress import (  # noqa: PLC0415 - slow to import, and of no use without a terminal
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
        TimeRemainingColumn,
    )

    columns = (
        TextColumn("Drawing"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeRemainingColumn(),
        TextColumn("{task.description}"),
    )
    with Progress(*columns, transient=True) as progress:
        task = progress.add_task("", total=None)
        yield lambda step: progress.update(task, total=step.total, completed=step.done, description=step.name)


def report_lines(report: KitReport, *, seconds: float, recipe: Path | None) -> Iterator[str]:
    """The lines that end a build: what there is and where, what needs a look, and what to do next."""
    n_stamps = len(report.drawn) + len(report.unchanged) + len(report.kept)
    counts = [
        f"{len(names)} {words}"
        for names, words in (
            (report.unchanged, "unchanged"),
            (report.drawn, "drawn"),
            (report.kept, "kept, retouched by you"),
        )
        if names
    ]
    yield f"{n_stamps} {'stamp' if n_stamps == 1 else 'stamps'} in {report.folder}: {', '.join(counts)} ({seconds:.1f} s)."
    if report.kept:
        yield f"Retouched: {_listed(report.kept)}. To have one drawn anew: --redraw NAME."
    if report.moved:
        yield f"The layout under your retouch has changed: {_listed(report.moved)}. Check that it still fits."
    if report.sheets_kept:
        yield f"Sheets kept, changed by you: {_listed(report.sheets_kept)}."
    if report.left_over:
        yield f"No longer in the recipe, left in place: {_listed(report.left_over)}."
    yield from report.notes
    yield from _next_steps(report, recipe)


def _next_steps(report: KitReport, recipe: Path | None) -> Iterator[str]:
    if "overview" in report.sheets or not report.drawn:
        yield f"Next: look at {report.folder / 'overview.png'}, where the whole kit is on one sheet."
    if recipe is None:
        yield "To make a kit of your own: inkline recipe -o my-recipe.toml"
    elif report.drawn:
        yield f"To have one numeral drawn again, write its name under [again] in {recipe} and run this once more."


def _listed(names: Sequence[str]) -> str:
    shown = ", ".join(names[:_MOST_NAMES])
    return shown if len(names) <= _MOST_NAMES else f"{shown} and {len(names) - _MOST_NAMES} more"
