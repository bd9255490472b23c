"""What `inkline export` does, and what is said of forms that recipes want beside pictures."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from pathlib import Path, PurePosixPath
from typing import Any

import click

from inkline.cli.progress import build_progress
from inkline.cli.remedies import note_sentence
from inkline.cli.sentences import counts_in_words, lines_of_what_stays, size_in_words
from inkline.delivery.beside import files_beside
from inkline.delivery.export import export_kit
from inkline.delivery.wishes import export_request
from inkline.folder.kept import Foreign
from inkline.press.report import Report
from inkline.progress import Listener, names_in_words, number_of_things


def run_export(
    kit: Path,
    forms: Sequence[str],
    folder: Path,
    *,
    only: Sequence[str],
    bits: str | None,
    workers: int | None,
    foreign: str,
    **wishes: Any,
) -> None:
    """Write what is asked for into `folder`, and report.

    Raises:
        InputError, WorkError: as `export_kit`.
    """
    start = time.monotonic()
    request = export_request(
        kit,
        forms=tuple(forms),
        only=tuple(only),
        bits=None if bits is None else int(bits),
        **wishes,
    )
    with build_progress() as listener:
        report = export_kit(
            request, folder, workers=workers, foreign=Foreign(foreign), listener=listener
        )
    for line in _report_lines(report, seconds=time.monotonic() - start):
        click.echo(line)


def _report_lines(report: Report, *, seconds: float) -> Iterator[str]:
    """The lines that end a run: what there is of each form and how large, and what needs a look."""
    files = (*report.files_made, *report.files_unchanged, *report.files_kept)
    counts = counts_in_words(
        (report.files_unchanged, "unchanged"),
        (report.files_made, "written"),
        (report.files_kept, "kept, changed by you"),
    )
    yield f"{number_of_things(len(files), 'file')} in {report.folder}: {counts} ({seconds:.1f} s)."
    by_form: dict[str, list[str]] = {}
    for file in files:
        by_form.setdefault(PurePosixPath(file).parts[0], []).append(file)
    for form, own in by_form.items():
        sizes = [(report.folder / file).stat().st_size for file in own]
        yield f"- {form}: {number_of_things(len(own), 'file')}, {size_in_words(sum(sizes))}"
    if report.files_kept:
        yield f"Kept, changed by you: {names_in_words(report.files_kept)}."
    yield from map(note_sentence, report.notes)


def lines_of_files_beside(
    drawn: Report, *, partial: bool, workers: int | None, listener: Listener
) -> list[str]:
    """Bring those files up to date; the lines on them, none where the recipe asks for none.

    Raises:
        InputError, WorkError: as `files_beside`.
    """
    report = files_beside(drawn, partial=partial, workers=workers, listener=listener)
    if report is None:
        return []
    files = (*report.files_made, *report.files_unchanged, *report.files_kept)
    counts = counts_in_words(
        (report.files_unchanged, "unchanged"),
        (report.files_made, "written"),
        (report.files_kept, "kept, changed by you"),
    )
    said = f": {counts}" if counts else ""
    return [
        (
            f"Forms that the recipe asks for: {number_of_things(len(files), 'file')} in "
            f"{report.folder}{said}."
        ),
        *lines_of_what_stays(report.files_kept, report.left_over),
        *map(note_sentence, report.notes),
    ]
