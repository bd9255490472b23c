"""What `inkline chart` does: shows which stamps fit each month, and writes that for buyers."""

from __future__ import annotations

import re
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path

import click

from inkline.errors import InputError
from inkline.folder.disk import make_folders, write_whole
from inkline.kit.letters import face_of
from inkline.kit.papers.chart_pdf import chart_pdf, stamp_lines
from inkline.kit.papers.chart_png import ChartLook, chart_png
from inkline.kit.papers.charts import kit_charts, look_of
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.recipe.loading import default_recipe, load_recipe
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.month import MonthChart, YearChart, listed

MOST_YEARS = 100
"""A picture a year and week start; beyond this a number was given by mistake."""
_HEADS = ("month", "rows", "stamp", "erase")
_FILE_NAME = re.compile(r".+\.[A-Za-z]{2,4}")
"""What looks like a file's name; a folder that is to be made has another."""
_PDF, _PNG = ".pdf", ".png"

Maker = Callable[[ChartLook], bytes]


def run_chart(
    year: int,
    recipe: Path | None,
    *,
    kit: str | None,
    years: int,
    week_start: str | None,
    language: str | None,
    out: Path | None,
) -> None:
    """Show the charts, or write them to `out`: a PDF, one picture, or a folder of both.

    Raises:
        InputError: the recipe, a year, a language or `out` cannot be used; what exists is never
            overwritten.
        WorkError: a file cannot be written.
    """
    start = time.monotonic()
    if not 1 <= years <= MOST_YEARS:
        raise InputError(f"--years: a whole number from 1 to {MOST_YEARS} is required, not {years}")
    if kit is not None and recipe is None:
        raise InputError("--kit names a kit of a recipe; give the recipe as well")
    chosen = default_recipe() if recipe is None else load_recipe(recipe, kit=kit or "")
    spoken = language or chosen.words.language
    starts = chosen.starts if week_start is None else {week_start: WEEK_STARTS[week_start]}
    charts = kit_charts(chosen, range(year, year + years), starts=starts, language=spoken)
    if out is None:
        _show(charts)
        return
    files = _files(charts, out)
    _write(files, _look(chosen, spoken))
    what = "file" if len(files) == 1 else "files"
    click.echo(f"{len(files)} {what}: {listed(files)} ({time.monotonic() - start:.1f} s).")
    click.echo("Put them beside your stamps: they say which ones make each month.")


def _look(recipe: Recipe, language: str) -> ChartLook:
    return look_of(recipe, face=face_of(recipe), style=recipe.style, language=language)


def _show(charts: Sequence[YearChart]) -> None:
    """Tables on a terminal, aligned text elsewhere."""
    for index, chart in enumerate(charts):
        if index:
            click.echo()
        if sys.stdout.isatty():
            _show_table(chart)
        else:
            for line in text_lines(chart):
                click.echo(line)


def _title(chart: YearChart) -> str:
    return f"{chart.year}, weeks begin on {chart.start.capitalize()} ({listed(chart.formats)})"


def _cells(month: MonthChart) -> tuple[str, ...]:
    stamps = "; ".join(text for text, _ in stamp_lines(month))
    return month.name, str(month.rows), stamps, listed(month.way.erase)


def text_lines(chart: YearChart) -> list[str]:
    """The chart as aligned lines of plain text."""
    rows = [_HEADS, *(_cells(month) for month in chart.months)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(_HEADS))]
    lines = (
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    )
    return [_title(chart), *lines]


def _show_table(chart: YearChart) -> None:
    from rich.console import Console  # noqa: PLC0415 - slow to import, and of no use without a terminal
    from rich.table import Table  # noqa: PLC0415
    from rich.text import Text  # noqa: PLC0415

    table = Table(title=_title(chart), title_justify="left", header_style="bold")
    for head in _HEADS:
        table.add_column(head)
    for month in chart.months:
        table.add_row(*(Text(cell) for cell in _cells(month)))
    Console().print(table)


def _files(charts: Sequence[YearChart], out: Path) -> dict[str, Maker]:
    """What to write, by place, each with what makes it; all places are free."""
    if out.suffix.lower() == _PDF:
        makers: dict[str, Maker] = {str(out): partial(chart_pdf, charts)}
    elif out.suffix.lower() == _PNG:
        if len(charts) != 1:
            raise InputError(
                f"--out: one picture holds one year and one week start, and there are "
                f"{len(charts)} charts; name a folder for them, or a "
                f"file ending in {_PDF}"
            )
        makers = {str(out): partial(chart_png, charts[0])}
    elif (out.exists() or _FILE_NAME.fullmatch(out.name)) and not out.is_dir():
        raise InputError(
            f"--out: a folder, or a file ending in {_PDF} or {_PNG}, is required, and {out} is "
            f"another file"
        )
    else:
        alone = len({chart.formats for chart in charts}) == 1
        makers = {str(out / f"chart{_PDF}"): partial(chart_pdf, charts)}
        makers |= {
            str(out / picture_name(chart, alone=alone)): partial(chart_png, chart)
            for chart in charts
        }
    _refuse_existing(makers)
    return makers


def picture_name(chart: YearChart, *, alone: bool) -> str:
    """The file name of a chart's picture; with the formats' names unless it is `alone` for its year and week start."""
    formats = "" if alone else "-".join(chart.formats) + "-"
    return f"chart-{formats}{chart.year}-{chart.start}{_PNG}"


def _refuse_existing(files: Mapping[str, Maker]) -> None:
    for file in files:
        if Path(file).exists():
            raise InputError(f"{file} exists already and is left as it is; choose another name")


def _write(files: Mapping[str, Maker], look: ChartLook) -> None:
    """Make all files, then write each whole or not at all."""
    made = {file: make(look) for file, make in files.items()}
    _refuse_existing(files)
    for file, data in made.items():
        make_folders(Path(file).parent)
        write_whole(Path(file), data)
