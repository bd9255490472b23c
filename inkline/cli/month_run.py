"""What `inkline month` does: finishes months, and says at the end what there is and where."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from pathlib import Path, PurePath

import click

from inkline.cli.export_run import lines_of_files_beside
from inkline.cli.progress import FirstWords, build_progress
from inkline.cli.remedies import note_sentence
from inkline.cli.sentences import counts_in_words
from inkline.folder.kept import Foreign
from inkline.kit.build import finish_months
from inkline.kit.months.placing import placing_from_wishes
from inkline.kit.months.recipe import MonthsRecipe, months_recipe
from inkline.kit.papers.calendars import poster_name
from inkline.kit.papers.sheet import CALENDAR, ON_ARTWORK
from inkline.kit.requests import fonts_of_recipes, months_from_text, recipe_from_file
from inkline.kit.stamps.names import last_part, month_folder
from inkline.lettering.licence import font_licence
from inkline.press.report import Report
from inkline.progress import number_of_things


def run_month(
    when: str,
    recipe: Path | None,
    folder: Path,
    *,
    kit: str | None,
    formats: Sequence[str],
    week_start: str | None,
    language: str | None,
    also: Sequence[str],
    on: Path | None,
    at: str | None,
    across: str | None,
    inks: Sequence[str],
    kit_folder: Path | None,
    workers: int | None,
    foreign: str,
) -> int:
    """Finish the month or the year `when` in `folder`, and report.

    Returns:
        0, or 1 if something could not be done.

    Raises:
        InputError: `when`, a format or the recipe cannot be used; or as `finish_months`.
        WorkError: as `finish_months`.
    """
    start = time.monotonic()
    months = months_from_text(when)
    chosen = recipe_from_file(recipe, kit=kit)
    wanted = months_recipe(
        chosen, months, formats=formats, week_start=week_start, language=language
    )
    placing = placing_from_wishes(folder, on=on, at=at, across=across, inks=inks)
    fonts = fonts_of_recipes([wanted], font=None)
    words = FirstWords(lambda: (font_licence(file).words() for file in fonts))
    with build_progress() as listener:
        report = finish_months(
            wanted,
            folder,
            also=also,
            placing=placing,
            kit_folder=kit_folder,
            workers=workers,
            foreign=Foreign(foreign),
            listener=words.before(listener),
        )
        words.say()
        beside = lines_of_files_beside(report, partial=False, workers=workers, listener=listener)
    best = CALENDAR if placing is None else ON_ARTWORK
    lines = report_lines(report, wanted, best=best, seconds=time.monotonic() - start)
    for line in (*beside, *lines):
        click.echo(line)
    return int(report.has_failed)


def report_lines(
    report: Report, recipe: MonthsRecipe, *, best: str, seconds: float
) -> Iterator[str]:
    """The lines that end a run: what there is, what needs a look, and what to do next.

    `best` is the sheet of a month that is worth a look.
    """
    n_layers = len(report.drawn) + len(report.unchanged) + len(report.kept)
    n_calendars = len(recipe.months) * len(recipe.chosen)
    counts = counts_in_words(
        (report.unchanged, "unchanged"),
        (report.drawn, "drawn"),
        (report.kept, "kept, retouched by you"),
    )
    calendars = number_of_things(n_calendars, "calendar")
    layers = number_of_things(n_layers, "layer")
    yield f"{calendars} in {report.folder}, {layers}: {counts} ({seconds:.1f} s)."
    if report.moved:
        moved = ", ".join(report.moved)
        yield f"The layout under your retouch has changed: {moved}. Check that it still fits."
    on_artwork = [file for file in report.files_kept if PurePath(file).stem == ON_ARTWORK]
    others = [name for name in report.sheets_kept if last_part(name) != ON_ARTWORK]
    if others or on_artwork:
        yield f"Kept, changed by you: {', '.join((*others, *on_artwork))}."
    yield from map(note_sentence, report.notes)
    year, month = recipe.months[0]
    first = recipe.chosen[0]
    is_poster = recipe.full_years and best == CALENDAR
    sheet = poster_name(year, first) if is_poster else f"{month_folder(year, month, first)}/{best}"
    yield f"Next: look at {report.folder / sheet}.png; the layers beside it lie on one canvas."
