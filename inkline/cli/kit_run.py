"""What `inkline kit` does: builds kits, shows how far it is, and says at the end what there is."""

from __future__ import annotations

import time
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import click

from inkline.cli.progress import FirstWords, build_progress
from inkline.cli.remedies import note_sentence
from inkline.cli.sentences import counts_in_words, number_lines
from inkline.errors import InputError
from inkline.folder.kept import Foreign
from inkline.folder.strangers import FILES_FOLDER
from inkline.kit.build import build_all, proof_of_drawn
from inkline.kit.requests import (
    NamedRecipe,
    fonts_of_recipes,
    kit_requests,
    named_recipes,
    recipe_in_letters,
)
from inkline.lettering.licence import font_licence
from inkline.press.report import Report
from inkline.progress import Listener, names_in_words, number_of_things

_Built = tuple[Report, Sequence[str], float]
"""What became of a kit, the lines on forms of files beside it, and seconds that it took."""


def run_kit(
    files: Sequence[Path],
    folder: Path,
    *,
    kit: str | None,
    since: Path | None,
    number: int | None,
    font: Path | None,
    glyphs: str | None,
    way: str | None,
    workers: int | None,
    only: Sequence[str],
    redraw: Sequence[str],
    spread: Sequence[str],
    foreign: str,
) -> int:
    """Build the kits of the recipe files, or the default kit, and report.

    Returns:
        0, or 1 if something could not be done.

    Raises:
        InputError: `font` and `glyphs` both name letters; two kits have one name, or none the one
            that is asked for; or as `build_all`.
        WorkError: as `build_all`.
    """
    named = _recipes(files, kit=kit, font=font, glyphs=glyphs, way=way)
    requests = kit_requests(named, folder, since=since, chosen=kit)
    words = _licences(named, font)
    reports: list[_Built] = []
    start = time.monotonic()
    try:
        with build_progress() as listener:
            for report in build_all(
                requests,
                number=number,
                font=font,
                workers=workers,
                only=only,
                redraw=redraw,
                spread=spread,
                foreign=Foreign(foreign),
                listener=words.before(listener),
            ):
                words.say()
                beside = _lines_beside(
                    report, named, partial=bool(only), workers=workers, listener=listener
                )
                reports.append((report, beside, time.monotonic() - start))
                start = time.monotonic()
    finally:
        usual = number_lines(number, is_usual=not files) if reports else ()
        for line in (*_last_lines(reports, recipes=[one.file for one in named]), *usual):
            click.echo(line)
    return int(any(report.has_failed for report, _, _ in reports))


def _licences(named: Sequence[NamedRecipe], font: Path | None) -> FirstWords:
    """What the fonts that are inked say of their licences."""
    fonts = fonts_of_recipes([one.recipe for one in named], font=font)
    return FirstWords(lambda: (font_licence(file).words() for file in fonts))


def _recipes(
    files: Sequence[Path],
    *,
    kit: str | None,
    font: Path | None,
    glyphs: str | None,
    way: str | None,
) -> list[NamedRecipe]:
    """The recipes, in the letters that are asked for."""
    _refuse_two_letterings(font, glyphs)
    return [
        replace(one, recipe=recipe_in_letters(one.recipe, family=glyphs, way=way))
        for one in named_recipes(files, kit=kit)
    ]


def _lines_beside(
    report: Report,
    named: Sequence[NamedRecipe],
    *,
    partial: bool,
    workers: int | None,
    listener: Listener,
) -> list[str]:
    """Bring the forms of files up to date that the recipes ask for, if any; the lines on them."""
    is_asked = any(one.recipe.files.forms for one in named)
    if not is_asked and not (report.folder / FILES_FOLDER).exists():
        return []
    from inkline.cli.export_run import lines_of_files_beside  # noqa: PLC0415 - slow; few want it

    return lines_of_files_beside(report, partial=partial, workers=workers, listener=listener)


def _refuse_two_letterings(font: Path | None, glyphs: str | None) -> None:
    if font is not None and glyphs is not None:
        raise InputError(
            "--font and --glyphs both say where the letters come from; give one of them"
        )


def _last_lines(reports: Sequence[_Built], *, recipes: Sequence[Path | None]) -> Iterator[str]:
    """The lines that end a run: those of the one kit, or those of each of several."""
    if len(recipes) == 1:
        for report, beside, seconds in reports:
            more = (*beside, *_line_on_proof(report))
            yield from report_lines(report, seconds=seconds, recipe=recipes[0], more=more)
        return
    for report, beside, seconds in reports:
        yield from _lines_on_kit(report, seconds)
        yield from beside
        yield from _line_on_proof(report)
    if reports:
        kits = number_of_things(len(reports), "kit")
        total = sum(seconds for _, _, seconds in reports)
        yield f"{kits} in {total:.1f} s. Next: look at the overview.png in each of their folders."


def report_lines(
    report: Report, *, seconds: float, recipe: Path | None, more: Iterable[str] = ()
) -> Iterator[str]:
    """The lines that end a build: what there is, what `more` is to say, and what to do next."""
    yield from _lines_on_kit(report, seconds)
    yield from more
    yield from _next_steps(report, recipe)


def _lines_on_kit(report: Report, seconds: float) -> Iterator[str]:
    """What there is and where, and what needs a look."""
    n_stamps = len(report.drawn) + len(report.unchanged) + len(report.kept)
    counts = counts_in_words(
        (report.unchanged, "unchanged"),
        (report.drawn, "drawn"),
        (report.kept, "kept, retouched by you"),
    )
    stamps = number_of_things(n_stamps, "stamp")
    yield f"{stamps} in {report.folder}: {counts} ({seconds:.1f} s)."
    if report.moved:
        moved = names_in_words(report.moved)
        yield f"The layout under your retouch has changed: {moved}. Check that it still fits."
    if report.sheets_kept:
        yield f"Sheets kept, changed by you: {names_in_words(report.sheets_kept)}."
    if report.left_over:
        yield f"No longer in the recipe, left in place: {names_in_words(report.left_over)}."
    if report.changes is not None:
        changed = ", ".join(f"{count} {words}" for count, words in report.changes.counts())
        earlier = f"edition {report.changes.before}" if report.changes.before else "the earlier kit"
        text = report.folder / "changes.txt"
        yield f"Since {earlier}: {changed}. {text} says it for your buyers."
    yield from map(note_sentence, report.notes)
    if report.hers:
        hers = number_of_things(len(report.hers), "picture")
        yield (
            f"Retouched by you, and kept: {hers}: {names_in_words(report.hers)}. To have one drawn "
            "anew: --redraw NAME."
        )


def _line_on_proof(report: Report) -> Iterator[str]:
    """Whether what was drawn lies where it should; nothing where nothing was drawn."""
    if report.drawn:
        from inkline.cli.prove_run import proof_sentence  # noqa: PLC0415 - slow to import

        yield proof_sentence(proof_of_drawn(report), report.folder)


def _next_steps(report: Report, recipe: Path | None) -> Iterator[str]:
    if "overview" in report.sheets or not report.drawn:
        overview = report.folder / "overview.png"
        yield f"Next: look at {overview}, where the whole kit is on one sheet."
    if "guide" in report.sheets:
        guide = report.folder / "guide.pdf"
        yield f"{guide} tells those who use the stamps how they go together."
    if recipe is None:
        yield "To make a kit of your own: inkline recipe -o my-recipe.toml"
    elif report.drawn:
        yield (
            f"To have one numeral drawn again, write its name under [again] in {recipe} and run "
            "this once more."
        )
