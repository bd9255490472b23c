"""What `inkline recipe` does."""

from __future__ import annotations

import secrets
from pathlib import Path

import click

from inkline.errors import InputError
from inkline.kit.recipe_text import recipe_text
from inkline.kit.schema import LARGEST_NUMBER
from inkline.output.files import work_error


def run_recipe(file: Path | None) -> None:
    """Print the default recipe with a fresh drawing number, or write it to `file`.

    Raises:
        InputError: the file exists.
        WorkError: it cannot be written.
    """
    text = recipe_text(secrets.randbelow(LARGEST_NUMBER) + 1)
    if file is None:
        click.echo(text, nl=False)
        return
    try:
        with file.open("x", encoding="utf-8", newline="\n") as out:
            out.write(text)
    except FileExistsError as problem:
        raise InputError(f"{file} exists already and is left as it is; choose another name") from problem
    except OSError as problem:
        raise work_error(problem, file) from problem
    click.echo(f"Wrote {file}. Open it in a text editor, change what you like, then: inkline kit {file} -o my-kit")
