"""What `inkline finish` does: redraws artwork, or says what it holds."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from inkline.artwork.size import USUAL_PPI, PictureSize
from inkline.cli.export_run import lines_of_files_beside
from inkline.cli.progress import FirstWords, build_progress
from inkline.cli.remedies import note_sentence
from inkline.cli.sentences import counts_in_words, lines_of_what_stays, number_lines
from inkline.errors import InputError
from inkline.finishing.found import found_picture
from inkline.finishing.marks import ink_runs
from inkline.finishing.product import FinishedProduct, finish
from inkline.finishing.recipe import request_from_recipe
from inkline.finishing.request import FinishRequest, OpenFinish, open_finish
from inkline.finishing.telling import found_in_words, grid_in_words, lines_of_lacks
from inkline.folder.kept import Foreign
from inkline.folder.new_files import refuse_existing, write_all_new
from inkline.kit.recipe.choices import ArtBeyond, ArtLetters, ArtLines, ArtSplit
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.lettering.licence import font_licence
from inkline.output.look import Ground, colour_from_text
from inkline.press.report import Report
from inkline.progress import names_in_words, number_of_things
from inkline.units import Unit, length_from_text

_MM_PER_INCH = 25.4
_RECIPE = ".toml"
_PLAIN = (
    "--plain draws what comes nearest to what is left out: mean colours, shapes without their "
    "masks and filters, the frames of pictures."
)


def run_finish(
    files: Sequence[Path],
    folder: Path | None,
    *,
    explain: bool,
    number: int | None,
    font: Path | None,
    foreign: str,
    since: Path | None,
    workers: int | None,
    only: Sequence[str],
    redraw: Sequence[str],
    **options: Any,
) -> None:
    """Redraw and report, or only say what was found.

    Raises:
        InputError, WorkError: as `finish`.
    """
    start = time.monotonic()
    if folder is None and not explain:
        raise click.UsageError("where it goes is missing; say -o DIR, or --explain to look first")
    request = _request(files, number=number, font=font, **options)
    if explain or folder is None:
        for line in _explaining_lines(open_finish(request), folder):
            click.echo(line)
        return
    words = FirstWords(lambda: (font_licence(one).words() for one in _fonts(request)))
    with build_progress() as listener:
        report, product = finish(
            request,
            folder,
            workers=workers,
            only=only,
            redraw=redraw,
            since=since,
            foreign=Foreign(foreign),
            listener=words.before(listener),
        )
        beside = lines_of_files_beside(
            report, partial=bool(only), workers=workers, listener=listener
        )
    words.say()
    for line in (*beside, *_report_lines(report, product, seconds=time.monotonic() - start)):
        click.echo(line)
    for line in number_lines(number, is_usual=files[0].suffix.lower() != _RECIPE):
        click.echo(line)


def _fonts(request: FinishRequest) -> tuple[Path, ...]:
    """The fonts that are inked, each once."""
    fonts = (request.font, *(part.font for part in request.parts))
    return tuple(dict.fromkeys(font for font in fonts if font is not None))


def _request(
    files: Sequence[Path], *, ppi: float | None, across: int | None, **options: Any
) -> FinishRequest:
    """What is asked for; what isn't said is as the recipe has it, or as `FinishRequest` does."""
    if options["family"] is not None and options["font"] is not None:
        raise click.UsageError("--glyphs and --font name two kinds of letters; say one of them")
    if ppi is not None and across is not None:
        raise click.UsageError("--ppi and --across both say how large it is; say one of them")
    recipes = [file for file in files if file.suffix.lower() == _RECIPE]
    if recipes and len(files) > 1:
        raise click.UsageError(f"{recipes[0]} is a recipe, which names its artwork itself")
    base = request_from_recipe(recipes[0]) if recipes else FinishRequest(files=tuple(files))
    if ppi is not None or across is not None:
        base = replace(base, size=PictureSize(ppi=ppi or USUAL_PPI, across=across))
    return replace(base, **_said(**options))


def _said(
    *,
    drawn_at: str | None,
    week_starts: str | None,
    ground: str | None,
    split: str | None,
    keep_bars: bool,
    plain: bool,
    own_letters: bool,
    overlay: bool,
    colours: Sequence[str],
    **others: Any,
) -> dict[str, Any]:
    """The values of a request that options say."""
    said: dict[str, Any] = {name: value for name, value in others.items() if value is not None}
    if drawn_at is not None:
        said["drawn_at"] = _mm_of(drawn_at)
    if week_starts is not None:
        said["week_start"] = WEEK_STARTS[week_starts]
    if ground is not None:
        said["ground"] = Ground(ground)
    if split is not None:
        said["split"] = ArtSplit(split)
    if keep_bars:
        said["lines"] = ArtLines.STROKES
    if plain:
        said["beyond_ink"] = ArtBeyond.PLAIN
    if own_letters:
        said["letters"] = ArtLetters.OWN
    if colours:
        said["colours"] = tuple(colour_from_text(one, setting="colour") for one in colours)
    if overlay:
        said["overlay"] = True
    return said


def _mm_of(text: str) -> float:
    """A length on paper in mm.

    Raises:
        InputError: it is none.
    """
    length = length_from_text(text)
    if length.unit in {Unit.PX, Unit.PERCENT}:
        raise InputError(
            f'a length on paper such as "180 mm" is required, not {text}', setting="drawn_at"
        )
    return length.px(ppi=_MM_PER_INCH)


def _explaining_lines(opened: OpenFinish, folder: Path | None) -> Iterator[str]:
    """What was found in each file, and in a folder, if there is one, pictures of it.

    Raises:
        InputError: a picture is there already.
        WorkError: it can't be written.
    """
    several = len(opened.sheets) > 1
    names = [f"found-{one.stem}.png" if several else "found.png" for one in opened.sheets]
    if folder is not None:
        refuse_existing([folder / name for name in names])
    for sheet, name in zip(opened.sheets, names, strict=True):
        runs, found = ink_runs(opened, sheet)
        width, height = sheet.artwork.canvas
        title = f' "{sheet.artwork.title}"' if sheet.artwork.title else ""
        yield f"{sheet.file}{title}: {width} x {height} px"
        yield f"  {found_in_words(found)}"
        if found.grid is not None:
            yield f"  {grid_in_words(found.grid, sheet.artwork)}"
        layers = dict.fromkeys(item.layer for item in sheet.artwork.items if item.layer)
        if layers:
            yield f"  layers: {names_in_words(list(layers))}"
        for line in lines_of_lacks(sheet.artwork.lacks, most=len(sheet.artwork.lacks)):
            yield f"  {line}"
        if any(lack.has_plain for lack in sheet.artwork.lacks):
            yield f"  {_PLAIN}"
        if folder is not None:
            picture = found_picture(sheet, runs, found)
            write_all_new({folder / name: picture.png})
            crowded = f", and {picture.n_crowded} have no room" if picture.n_crowded else ""
            things = number_of_things(picture.n_named, "name")
            yield f"  {folder / name} shows it: {things} stand on it{crowded}"


def _report_lines(report: Report, product: FinishedProduct, *, seconds: float) -> Iterator[str]:
    """The lines that end a run."""
    counts = counts_in_words(
        (report.drawn, "drawn"),
        (report.unchanged, "unchanged"),
        (report.kept, "kept, changed by you"),
    )
    opened = product.opened
    stamps = number_of_things(len(report.drawn) + len(report.unchanged) + len(report.kept), "stamp")
    yield f"{stamps} in {report.folder}: {counts} ({seconds:.1f} s)."
    yield from lines_of_what_stays(report.kept, report.left_over)
    if report.changes is not None:
        changed = ", ".join(f"{count} {words}" for count, words in report.changes.counts())
        earlier = f"edition {report.changes.before}" if report.changes.before else "the earlier one"
        yield f"Since {earlier}: {changed}. {report.folder / product.changes_file} says it."
    yield from map(note_sentence, report.notes)
    for sheet in opened.sheets:
        yield from (f"{sheet.file}: {line}" for line in lines_of_lacks(sheet.artwork.lacks))
    if any(lack.has_plain for sheet in opened.sheets for lack in sheet.artwork.lacks):
        yield _PLAIN
    yield f"Next: look at {report.folder / _first_file(product)}."


def _first_file(product: FinishedProduct) -> str:
    """The picture that shows most of the first file."""
    stem = product.opened.sheets[0].stem
    return f"{stem}.png" if stem in product.pieces else f"{next(iter(product.pieces))}.png"
