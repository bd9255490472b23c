"""What `inkline sampler` does: draws a sheet of styles, or of one style at many settings."""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import click

from inkline.chance import DEFAULT_NUMBER, LARGEST_NUMBER
from inkline.errors import InputError
from inkline.folder.disk import write_whole
from inkline.progress import Listener, unheard
from inkline.sampler.sheet import matrix_png, specimens_png
from inkline.sampler.vary import varies_from_texts
from inkline.styles.files import DEFAULT_STYLE, load_style, style_files, style_path

_SUFFIX = ".png"
OPTION = "--vary"


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
    _check_file(file)
    drawing_number = _checked_number(number)
    data, what = (
        _matrix(styles, ranges, drawing_number) if ranges else _specimens(styles, drawing_number)
    )
    _check_file(file)
    write_whole(file, data)
    click.echo(f"{what} on {file} ({time.monotonic() - start:.1f} s).")
    click.echo("Printed at 300 pixels to the inch, its own size, stamps are as large as in a kit.")
    click.echo("To keep a setting: inkline style NAME --save-as mine.toml --set KEY=VALUE")


def _specimens(styles: Sequence[str], number: int) -> tuple[bytes, str]:
    chosen = [load_style(style_path(text, where="STYLE")) for text in styles or _all_styles()]
    with _progress(len(chosen)) as listener:
        data = specimens_png(chosen, number=number, listener=listener)
    return data, f"{len(chosen)} {'style' if len(chosen) == 1 else 'styles'}"


def _all_styles() -> list[str]:
    """The names of all styles, the one that is used unless another is named first."""
    return sorted(style_files(), key=lambda name: (name != DEFAULT_STYLE, name))


def _matrix(styles: Sequence[str], ranges: Sequence[str], number: int) -> tuple[bytes, str]:
    if len(styles) != 1:
        raise InputError(f"{OPTION} needs exactly one style to vary, not {len(styles) or 'none'}")
    varies = varies_from_texts(ranges, where=OPTION)
    style = load_style(style_path(styles[0], where="STYLE"))
    steps = [len(vary.steps) for vary in varies]
    with _progress(math.prod(steps)) as listener:
        data = matrix_png(style, varies, number=number, listener=listener)
    return data, f"{style.name} at {' x '.join(map(str, steps))} settings"


@contextmanager
def _progress(total: int) -> Iterator[Listener]:
    """A listener that shows a bar on a terminal and nothing elsewhere."""
    if not sys.stdout.isatty():
        yield unheard
        return
    with click.progressbar(length=total, label="Drawing") as bar:
        yield lambda _: bar.update(1)


def _check_file(file: Path) -> None:
    if file.suffix.lower() != _SUFFIX:
        raise InputError(f"--out: a sheet's name must end in {_SUFFIX}, not {str(file)!r}")
    if file.exists():
        raise InputError(f"{file} exists already and is left as it is; choose another name")


def _checked_number(number: int | None) -> int:
    if number is None:
        return DEFAULT_NUMBER
    if not 0 <= number <= LARGEST_NUMBER:
        raise InputError(
            f"--number: a whole number from 0 to {LARGEST_NUMBER} is required, not {number}"
        )
    return number
