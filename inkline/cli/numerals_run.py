"""What `inkline numerals` does: draws a set, and says before what a font states of its licence."""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import click

from inkline.cli.progress import FirstWords, build_progress
from inkline.cli.remedies import note_sentence
from inkline.cli.sentences import counts_in_words, lines_of_what_stays, number_lines
from inkline.folder.kept import Foreign
from inkline.lettering.licence import font_licence
from inkline.lettering.writing import Way
from inkline.numerals.permission import Permission
from inkline.numerals.product import SetReport, draw_numerals
from inkline.numerals.request import OVERVIEW_FILE, Ground, NumeralRequest
from inkline.progress import number_of_things
from inkline.units import length_from_text


def run_numerals(
    folder: Path,
    *,
    family: str | None,
    font: Path | None,
    way: str,
    style: str | None,
    height: str | None,
    number: int | None,
    wanted: str | None,
    ground: str,
    font_name: str | None,
    permission: str,
    foreign: str,
) -> None:
    """Draw the set and report; what isn't said is as `NumeralRequest` has it.

    Raises:
        InputError, WorkError: as `draw_numerals`.
    """
    start = time.monotonic()
    if family is not None and font is not None:
        raise click.UsageError("--glyphs and --font name two kinds of letters; say one of them")
    given = {"family": family, "style": style, "number": number, "wanted": wanted}
    request = NumeralRequest(
        font=font,
        way=Way(way),
        ground=Ground(ground),
        font_name=font_name,
        permission=Permission(permission),
        **{key: value for key, value in given.items() if value is not None},  # type: ignore[arg-type]
    )
    if height is not None:
        request = replace(request, height=length_from_text(height))
    words = FirstWords(lambda: () if font is None else (font_licence(font).words(),))
    with build_progress() as listener:
        report = draw_numerals(
            request, folder, foreign=Foreign(foreign), listener=words.before(listener)
        )
    words.say()
    for line in report_lines(report, seconds=time.monotonic() - start):
        click.echo(line)
    for line in number_lines(number, is_usual=True):
        click.echo(line)


def report_lines(report: SetReport, *, seconds: float) -> Iterator[str]:
    """The lines that end a run: what there is and where, what needs a look, and what to do next."""
    counts = counts_in_words(
        (report.drawn, "drawn"),
        (report.unchanged, "unchanged"),
        (report.kept, "kept, changed by you"),
    )
    pictures = number_of_things(report.n_texts, "picture")
    yield f"{pictures} and as many outlines in {report.folder}: {counts} ({seconds:.1f} s)."
    yield from lines_of_what_stays(report.kept, report.left_over)
    yield from map(note_sentence, report.notes)
    yield f"Next: look at {report.folder / OVERVIEW_FILE}."
    if report.font_file is not None:
        yield (
            f"To use the font, open {report.folder / report.font_file} and install it; figures of "
            "one width are its feature tnum."
        )
