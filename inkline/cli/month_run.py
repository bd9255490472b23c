"""What `inkline month` does: finishes months, and says at the end what there is and where."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from inkline.calendar.months import MONTHS_PER_YEAR
from inkline.cli.progress import shown_progress
from inkline.cli.telling import counted
from inkline.errors import InputError
from inkline.folder.kept import Foreign
from inkline.kit.build import build_kit
from inkline.kit.months.recipe import MonthsRecipe, month_name, months_recipe
from inkline.kit.papers.calendars import CALENDAR, poster_name
from inkline.kit.recipe.loading import default_recipe, load_recipe
from inkline.lettering.licence import font_licence
from inkline.press.report import KitReport

_WHEN = re.compile(r"(\d{1,4})(?:-(\d{1,2}))?", re.ASCII)


def run_month(
    when: str,
    recipe: Path | None,
    folder: Path,
    *,
    kit: str | None,
    formats: Sequence[str],
    week_start: str | None,
    workers: int | None,
    foreign: str,
) -> None:
    """Finish the month or the year `when` in `folder`, and report.

    Raises:
        InputError: `when`, a format or the recipe cannot be used; or as `build_kit`.
        WorkError: as `build_kit`.
    """
    start = time.monotonic()
    if kit is not None and recipe is None:
        raise InputError("--kit names a kit of a recipe; give the recipe as well")
    months = months_from_text(when)
    chosen = default_recipe() if recipe is None else load_recipe(recipe, kit=kit or "")
    wanted = months_recipe(chosen, months, formats=formats, week_start=week_start)
    if wanted.font is not None:
        click.echo(font_licence(wanted.font).words())
    with shown_progress() as listener:
        report = build_kit(
            wanted, folder, workers=workers, foreign=Foreign(foreign), listener=listener
        )
    for line in report_lines(report, wanted, seconds=time.monotonic() - start):
        click.echo(line)


def months_from_text(when: str) -> tuple[tuple[int, int], ...]:
    """The month that `2027-02` names, or the twelve of `2027`; which of them there are is for `months_recipe` to say.

    Raises:
        InputError: neither form.
    """
    found = _WHEN.fullmatch(when.strip())
    if found is None:
        raise InputError(
            f'a month is written like "2027-02" and a whole year like "2027", not {when!r}'
        )
    year, month = int(found[1]), found[2]
    return (
        tuple((year, number) for number in range(1, MONTHS_PER_YEAR + 1))
        if month is None
        else ((year, int(month)),)
    )


def report_lines(report: KitReport, recipe: MonthsRecipe, *, seconds: float) -> Iterator[str]:
    """The lines that end a run: what there is, what needs a look, and what to do next."""
    n_layers = len(report.drawn) + len(report.unchanged) + len(report.kept)
    n_calendars = len(recipe.months) * len(recipe.chosen)
    counts = counted(
        (report.unchanged, "unchanged"),
        (report.drawn, "drawn"),
        (report.kept, "kept, retouched by you"),
    )
    calendars = "1 calendar" if n_calendars == 1 else f"{n_calendars} calendars"
    layers = "1 layer" if n_layers == 1 else f"{n_layers} layers"
    yield f"{calendars} in {report.folder}, {layers}: {counts} ({seconds:.1f} s)."
    if report.moved:
        yield f"The layout under your retouch has changed: {', '.join(report.moved)}. Check that it still fits."
    if report.sheets_kept:
        yield f"Kept, changed by you: {', '.join(report.sheets_kept)}."
    yield from report.notes
    year, month = recipe.months[0]
    first = recipe.chosen[0]
    best = (
        poster_name(year, first)
        if recipe.full_years
        else f"{month_name(year, month, first)}/{CALENDAR}"
    )
    yield f"Next: look at {report.folder / best}.png; the layers beside it lie on one canvas."
