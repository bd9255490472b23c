"""The charts of a kit, for each year, day on which weeks begin and set of formats.

They name stamps as the kit's files are named.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from inkline.calendar.months import FIRST_YEAR, LAST_YEAR
from inkline.errors import InputError
from inkline.ink.style import Style
from inkline.kit.papers.chart_pdf import chart_pdf
from inkline.kit.papers.chart_png import ChartLook, chart_png
from inkline.kit.papers.guide_words import names_of_languages
from inkline.kit.recipe.choices import Blocks, Dates, Split, WeekNumbers
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.file_names import PLAIN, parts_of, safe_name, text_from_pattern
from inkline.kit.stamps.marks import marks_by_month
from inkline.kit.stamps.month import Assembly, Offer, offers_of
from inkline.kit.stamps.names import SplitPart, StampName, Subject, last_part, part_name
from inkline.kit.stamps.shared import SHARED_ROWS
from inkline.kit.stamps.weeks import week_columns, weeks_of_rows
from inkline.kit.stamps.words import month_name, year_name
from inkline.kit.stamps.year_chart import (
    MonthChart,
    YearChart,
    chart_names,
    comma_list,
    year_chart,
)
from inkline.lettering.face import Face
from inkline.lettering.families import family_names
from inkline.pages.faces import first_with, open_own_family, usual_family

_PDF, _PNG = ".pdf", ".png"
"""End the names of files that hold charts."""
_FILE_NAME = re.compile(r".+\.[A-Za-z]{2,4}")
"""What looks like a file's name; a folder that is to be made has another."""

ChartMaker = Callable[[ChartLook], bytes]
"""Makes a file of charts that look in a given way."""


def kit_charts(
    recipe: Recipe, years: Iterable[int], *, starts: Mapping[str, int], language: str
) -> tuple[YearChart, ...]:
    """The charts of the month calendars of a kit, year by year.

    Args:
        recipe: of the kit.
        years: each 1583 to 9999.
        starts: the days on which weeks begin by name, Monday 0 to Sunday 6.
        language: of the months' names, as CLDR calls it.

    Raises:
        InputError: no such language, a year outside its range, or a kit without a calendar of a
            month.
    """
    offers, names = tuple(_offers(recipe)), chart_names(language)
    if not offers:
        raise InputError(
            f"{recipe.source}: a chart needs a format that shows a month, and this kit has none"
        )
    wanted = tuple(years)
    outside = [year for year in wanted if not FIRST_YEAR <= year <= LAST_YEAR]
    if outside:
        raise InputError(
            f"a chart's years must lie between {FIRST_YEAR} and {LAST_YEAR}, not {outside[0]}"
        )
    return tuple(
        _with_file_names(
            _with_marks(
                _with_weeks(
                    year_chart(offer, year, start=start, names=names, formats=formats), recipe
                ),
                recipe,
            ),
            recipe,
        )
        for offer, formats in offers
        for year in wanted
        for start in starts
    )


def look_of(recipe: Recipe, *, face: Face, style: Style, language: str) -> ChartLook:
    """How the charts of a kit look.

    They are lettered by the kit's own face, or by a family where that lacks a month's letters.

    Raises:
        InputError: no face has the letters of the language's months.
    """
    families = [open_own_family(recipe.family)] if recipe.family in family_names() else []
    faces: tuple[Face, ...] = (*families, usual_family(), face)
    for name in chart_names(language):
        if first_with(name, faces) is None:
            raise InputError(
                f'the letters of {recipe.source} can\'t write "{name}"; a chart in the language '
                f"{language} needs a recipe with a font "
                "that has them"
            )
    return ChartLook(
        title=recipe.title,
        family=recipe.family,
        faces=faces,
        style=style,
        number=recipe.number,
        mirrored=recipe.mirrored,
        language=language,
        phrases=recipe.guide.phrases,
    )


def chart_files(charts: Sequence[YearChart], out: Path) -> dict[Path, ChartMaker]:
    """The files that hold `charts`, each with what makes it: `out`, or those in the folder `out`.

    Args:
        charts: at least one.
        out: a file ending in .pdf for all, one ending in .png for one, or a folder, there or not,
            for a PDF and a picture of each.

    Raises:
        InputError: several charts for one picture, or another kind of file.
    """
    if out.suffix.lower() == _PDF:
        return {out: partial(chart_pdf, charts)}
    if out.suffix.lower() == _PNG:
        if len(charts) != 1:
            raise InputError(
                "one picture holds one year and one week start, and there are "
                f"{len(charts)} charts; name a folder for them, or a file ending in {_PDF}",
                setting="out",
            )
        return {out: partial(chart_png, charts[0])}
    if (out.exists() or _FILE_NAME.fullmatch(out.name)) and not out.is_dir():
        raise InputError(
            f"a folder, or a file ending in {_PDF} or {_PNG}, is required, and {out} is another "
            "file",
            setting="out",
        )
    alone = len({chart.formats for chart in charts}) == 1
    pictures: dict[Path, ChartMaker] = {
        out / _picture_name(chart, alone=alone): partial(chart_png, chart) for chart in charts
    }
    return {out / f"chart{_PDF}": partial(chart_pdf, charts), **pictures}


def _picture_name(chart: YearChart, *, alone: bool) -> str:
    """The file name of a chart's picture.

    Args:
        chart: what it shows.
        alone: whether no other has its year and its week start; else its formats' names stand in
            the name as well.
    """
    formats = "" if alone else "-".join(chart.formats) + "-"
    return f"chart-{formats}{chart.year}-{chart.start}{_PNG}"


def _offers(recipe: Recipe) -> Iterator[tuple[Offer, tuple[str, ...]]]:
    """What the formats offer; each by itself where files are called by their format."""
    for offer, formats in offers_of(recipe).items():
        if "{format}" in recipe.file_pattern:
            yield from ((offer, (name,)) for name in formats)
        else:
            yield offer, formats


def _with_weeks(chart: YearChart, recipe: Recipe) -> YearChart:
    """The chart with those stamps of week numbers that the kit has.

    It has them for its own years, and they serve others where they fit. None has more rows than the
    month's grid, or a number would hang below it; where two weeks share a row, the first one's
    number stands.
    """
    shape = next(shape for shape in recipe.formats if shape.name in chart.formats)
    if shape.week_numbers is WeekNumbers.NONE:
        return chart
    columns = week_columns(recipe, shape)
    day = WEEK_STARTS[chart.start]
    months = []
    for month in chart.months:
        rows = (
            SHARED_ROWS
            if month.way.shares
            else min((n for n in shape.weeks if n >= month.rows), default=month.rows)
        )
        weeks = weeks_of_rows(shape.week_numbers, month.year, month.month, week_start=day)[:rows]
        fitting = [
            (len(held), name.stem)
            for name, (_, held) in columns.items()
            if held[: len(weeks)] == weeks and len(held) <= rows
        ]
        months.append(replace(month, weeks=min(fitting)[1] if fitting else ""))
    return replace(chart, months=tuple(months))


def _with_marks(chart: YearChart, recipe: Recipe) -> YearChart:
    """The chart with the stamps of marked days that the kit has."""
    marked = marks_by_month(recipe)

    def name(month: MonthChart) -> str:
        if (month.year, month.month) not in marked:
            return ""
        shared = {day for pair in month.way.shares for day in pair}
        is_shared = bool(shared.intersection(day for day, _ in marked[month.year, month.month]))
        return StampName(
            subject=Subject.MARKS,
            year=month.year,
            month=month.month,
            start=chart.start,
            shared=is_shared,
        ).stem

    return replace(chart, months=tuple(replace(one, marks=name(one)) for one in chart.months))


def _further(chart: YearChart, recipe: Recipe) -> Iterator[str]:
    """Sentences on other stamps of the kit that serve the months of a chart, by their files."""
    phrases, folder, month = recipe.guide.phrases, chart.formats[0], chart.months[0]
    shape = next(shape for shape in recipe.formats if shape.name == folder)

    def file(**parts: Any) -> str:
        return _file_name(recipe, part_name(folder, StampName(**parts).stem))

    dates = {"column": month.column, "days": month.days if shape.dates is Dates.EXACT else None}
    if shape.split is Split.WEEKEND:
        own = [
            file(subject=Subject.DATES, split=days, start=chart.start, **dates)
            for days in SplitPart
        ]
        whole = file(subject=Subject.DATES, **dates)
        yield phrases.say("chart.split_about", stamps=comma_list(own), dates=whole)
    also = []
    if shape.blocks in {Blocks.CUT, Blocks.BOTH}:
        rows = min(shape.weeks, default=None)
        cut = file(subject=Subject.CUT_BLOCKS, rows=rows, **dates)
        also.append(phrases.say("chart.cut_about", stamps=cut))
    if chart.year in recipe.words.years:
        year = _file_name(recipe, year_name(chart.year))
        also.append(phrases.say("chart.year_about", stamp=year))
    if also:
        yield " ".join(also)


def _stamps_by_language(recipe: Recipe) -> str:
    """Which stamps of months' names are in which language; "" in a kit of one."""
    say = recipe.guide.phrases.say
    names = (
        say(
            "chart.in_language",
            stamp=_file_name(recipe, month_name(1, language=tag)),
            language=language,
        )
        for tag, language in names_of_languages(recipe).items()
    )
    return comma_list(names)


def _file_name(recipe: Recipe, name: str) -> str:
    """What the file of the stamp `name` is called, without its ending."""
    if recipe.file_pattern == PLAIN:
        return last_part(name)
    return safe_name(text_from_pattern(recipe.file_pattern, parts_of(recipe, name)))


def _with_file_names(chart: YearChart, recipe: Recipe) -> YearChart:
    """The chart with the names of files in place of the names of stamps, and what else there is."""
    chart = replace(
        chart,
        languages=_stamps_by_language(recipe),
        further=tuple(_further(chart, recipe)),
    )
    if recipe.file_pattern == PLAIN:
        return chart

    def file(stem: str) -> str:
        return _file_name(recipe, part_name(chart.formats[0], stem)) if stem else ""

    return replace(
        chart, months=tuple(_month_with_file_names(month, file) for month in chart.months)
    )


def _month_with_file_names(month: MonthChart, file: Callable[[str], str]) -> MonthChart:
    def way(one: Assembly) -> Assembly:
        return replace(one, grid=file(one.grid), dates=file(one.dates))

    return replace(
        month,
        way=way(month.way),
        instead=way(month.instead) if month.instead else None,
        weeks=file(month.weeks),
        marks=file(month.marks),
    )
