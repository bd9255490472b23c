"""What `inkline glyphs` does: lists families of letters, draws a specimen, looks over your own."""

from __future__ import annotations

import textwrap
import time
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

import click

from inkline.folder.new_files import refuse_existing, require_suffix, write_new
from inkline.kit.recipe.loading import default_recipe
from inkline.lettering.family import StrokeFamily
from inkline.progress import number_of_things
from inkline.sampler.families import LANGUAGES, contents_of_family, family_report
from inkline.sampler.requests import SHEET_SUFFIX, families_from_names, families_png, family_at

_WIDTH = 100
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
    families = families_from_names(names)
    if file is None:
        for line in _family_lines(families):
            click.echo(line)
        return
    require_suffix(file, SHEET_SUFFIX, what="a sheet", setting="out")
    refuse_existing([file])
    start = time.monotonic()
    data = families_png(list(families.values()), style=style, style_where="--style", number=number)
    write_new(file, data)
    what = number_of_things(len(families), "family", "families")
    click.echo(f"{what} on {file} ({time.monotonic() - start:.1f} s).")
    click.echo(
        'To draw a kit with one: family = "NAME" under [lettering] in a recipe, or inkline kit '
        "--glyphs NAME -o DIR"
    )


def _family_lines(families: Mapping[str, StrokeFamily]) -> Iterator[str]:
    """A line for each family, and what to do with them."""
    width = max(map(len, families), default=0)
    for name, family in families.items():
        usual = ", used unless you say otherwise" if name == default_recipe().family else ""
        yield from textwrap.wrap(
            f"{name:{width}}  {contents_of_family(family)}{usual}",
            _WIDTH,
            subsequent_indent=" " * (width + 2),
            drop_whitespace=True,
        )
    yield ""
    yield (
        "See them: inkline glyphs -o families.png. Look over one of your own: inkline glyphs check "
        "MINE.ufo"
    )


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
    family = family_at(place)
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
