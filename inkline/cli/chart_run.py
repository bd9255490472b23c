"""What `inkline chart` does: shows which stamps fit each month, and writes that for buyers."""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from pathlib import Path

import click

from inkline.folder.new_files import refuse_existing, write_all_new
from inkline.kit.papers.chart_pdf import stamp_lines
from inkline.kit.papers.charts import chart_files
from inkline.kit.requests import chart_look_of_recipe, charts_of_recipe, recipe_from_file
from inkline.kit.stamps.year_chart import MonthChart, YearChart, comma_list
from inkline.progress import number_of_things

_HEADS = ("month", "rows", "stamp", "erase")


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
    chosen = recipe_from_file(recipe, kit=kit)
    charts = charts_of_recipe(chosen, year, n_years=years, week_start=week_start, language=language)
    if out is None:
        _show(charts)
        return
    makers = chart_files(charts, out)
    refuse_existing(makers)
    look = chart_look_of_recipe(chosen, language=language)
    write_all_new({file: make(look) for file, make in makers.items()})
    files = number_of_things(len(makers), "file")
    names = comma_list([str(file) for file in makers])
    click.echo(f"{files}: {names} ({time.monotonic() - start:.1f} s).")
    click.echo("Put them beside your stamps: they say which ones make each month.")


def _show(charts: Sequence[YearChart]) -> None:
    """Tables on a terminal, aligned text elsewhere."""
    for index, chart in enumerate(charts):
        if index:
            click.echo()
        if sys.stdout.isatty():
            _show_table(chart)
        else:
            for line in _chart_lines(chart):
                click.echo(line)


def _title(chart: YearChart) -> str:
    return f"{chart.year}, weeks begin on {chart.start.capitalize()} ({comma_list(chart.formats)})"


def _cells(month: MonthChart) -> tuple[str, ...]:
    stamps = "; ".join(text for text, _ in stamp_lines(month))
    return month.name, str(month.rows), stamps, comma_list(month.way.erase)


def _chart_lines(chart: YearChart) -> list[str]:
    """The chart as aligned lines of plain text."""
    rows = [_HEADS, *(_cells(month) for month in chart.months)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(_HEADS))]
    lines = (
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    )
    return [_title(chart), *lines, *_foot(chart)]


def _foot(chart: YearChart) -> list[str]:
    return [f"name: {chart.languages}"] if chart.languages else []


def _show_table(chart: YearChart) -> None:
    # slow to import, and of no use without a terminal
    from rich.console import Console  # noqa: PLC0415
    from rich.table import Table  # noqa: PLC0415
    from rich.text import Text  # noqa: PLC0415

    table = Table(title=_title(chart), title_justify="left", header_style="bold")
    for head in _HEADS:
        table.add_column(head)
    for month in chart.months:
        table.add_row(*(Text(cell) for cell in _cells(month)))
    Console().print(table, *map(Text, _foot(chart)), sep="\n")
