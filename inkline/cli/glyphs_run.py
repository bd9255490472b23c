"""What `inkline glyphs` does: lists families of letters, draws a specimen of them, and looks over one of your own."""

from __future__ import annotations

import textwrap
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from inkline.chance import DEFAULT_NUMBER, LARGEST_NUMBER
from inkline.errors import InputError
from inkline.folder.disk import write_whole
from inkline.kit.recipe.loading import default_recipe
from inkline.lettering.families import family_names, family_path
from inkline.lettering.family import StrokeFamily, open_family
from inkline.sampler.families import LANGUAGES, family_report, holding
from inkline.sampler.families_sheet import specimen_png
from inkline.styles.files import DEFAULT_STYLE, load_style, style_path

_WIDTH = 100
_SUFFIX = ".png"
_INCOMPLETE = 1


def run_glyphs(
    names: Sequence[str], file: Path | None, *, style: str | None, number: int | None
) -> None:
    """List families, or draw a specimen of them into `file`.

    Args:
        names: families that come with inkline, or UFO folders; all that come with it if there are
            none.
        file: the sheet, which must not be there yet; None to list.
        style: the ink, by its name or file; the usual one if None.
        number: the drawing number; the default kit's if None.

    Raises:
        InputError: a family, style, number or file that can't be used.
        WorkError: the sheet cannot be written.
    """
    families = {name: open_family(family_path(name)) for name in names or family_names()}
    if file is None:
        for line in listed_families(families):
            click.echo(line)
        return
    _check_file(file)
    if number is not None and not 0 <= number <= LARGEST_NUMBER:
        raise InputError(
            f"--number: a whole number from 0 to {LARGEST_NUMBER} is required, not {number}"
        )
    start = time.monotonic()
    data = specimen_png(
        list(families.values()),
        style=load_style(style_path(style or DEFAULT_STYLE, where="--style")),
        number=DEFAULT_NUMBER if number is None else number,
        captions=open_family(family_path(default_recipe().family)),
    )
    _check_file(file)
    write_whole(file, data)
    what = "1 family" if len(families) == 1 else f"{len(families)} families"
    click.echo(f"{what} on {file} ({time.monotonic() - start:.1f} s).")
    click.echo(
        'To draw a kit with one: family = "NAME" under [lettering] in a recipe, or inkline kit '
        "--glyphs NAME -o DIR"
    )


def listed_families(families: dict[str, StrokeFamily]) -> Iterator[str]:
    """A line for each family, and what to do with them."""
    width = max(map(len, families), default=0)
    for name, family in families.items():
        usual = ", used unless you say otherwise" if name == default_recipe().family else ""
        yield from textwrap.wrap(
            f"{name:{width}}  {holding(family)}{usual}",
            _WIDTH,
            subsequent_indent=" " * (width + 2),
            drop_whitespace=True,
        )
    yield ""
    yield "See them: inkline glyphs -o families.png. Look over one of your own: inkline glyphs check MINE.ufo"


def run_check(place: str, *, languages: Sequence[str]) -> int:
    """Say what a family lacks and what is uneven in it.

    Args:
        place: a UFO folder, or a family that comes with inkline.
        languages: whose month and weekday names it is meant to write; all that families are drawn
            for if there are none.

    Returns:
        0 if nothing is missing, else 1.

    Raises:
        InputError: it is no family, or a language that CLDR doesn't know.
    """
    family = open_family(family_path(place) if place in family_names() else Path(place))
    report = family_report(family, languages=languages or LANGUAGES)
    click.echo(f"{family.name}: {report.holds}.")
    for head, sentences in (
        ("Missing", report.missing),
        ("Uneven, unless you mean it so", report.uneven),
    ):
        click.echo(f"{head}:" if sentences else f"{head}: nothing.")
        for sentence in sentences:
            click.echo(textwrap.fill(sentence, _WIDTH, initial_indent="- ", subsequent_indent="  "))
    return _INCOMPLETE if report.missing else 0


def _check_file(file: Path) -> None:
    if file.suffix.lower() != _SUFFIX:
        raise InputError(f"--out: a sheet's name must end in {_SUFFIX}, not {str(file)!r}")
    if file.exists():
        raise InputError(f"{file} exists already and is left as it is; choose another name")
