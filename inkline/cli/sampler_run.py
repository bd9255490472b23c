"""What `inkline sampler` does: draws a sheet of styles, or of one style at many settings."""

from __future__ import annotations

import time
from collections.abc import Sequence
from pathlib import Path

import click

from inkline.cli.progress import build_progress
from inkline.folder.new_files import refuse_existing, require_suffix, write_new
from inkline.progress import number_of_things
from inkline.sampler.requests import SHEET_SUFFIX, SamplerRequest, sampler_png, sampler_request


def run_sampler(
    styles: Sequence[str], file: Path, *, ranges: Sequence[str], number: int | None
) -> None:
    """Draw the sheet into `file` and say so.

    Args:
        styles: names or style files; all that come with inkline if there are none.
        file: the sheet, which must not be there yet.
        ranges: values to vary of one style, at most two.
        number: the drawing number; the default kit's if None.

    Raises:
        InputError: the file exists, or a style, a range or the number cannot be used.
        WorkError: the sheet cannot be written.
    """
    start = time.monotonic()
    require_suffix(file, SHEET_SUFFIX, what="a sheet", setting="out")
    refuse_existing([file])
    order = sampler_request(
        styles, ranges, number=number, style_where="STYLE", range_where="--vary"
    )
    with build_progress() as listener:
        data = sampler_png(order, listener=listener)
    write_new(file, data)
    click.echo(f"{_what_is_shown(order)} on {file} ({time.monotonic() - start:.1f} s).")
    click.echo("Printed at 300 pixels to the inch, its own size, stamps are as large as in a kit.")
    click.echo("To keep a setting: inkline style NAME --save-as mine.toml --set KEY=VALUE")


def _what_is_shown(order: SamplerRequest) -> str:
    if not order.varies:
        return number_of_things(len(order.styles), "style")
    return f"{order.styles[0].name} at {' x '.join(map(str, order.n_steps))} settings"
