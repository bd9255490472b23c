"""What `inkline recipe` does: writes a recipe to start from, explains one, or looks it over."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from pathlib import Path

import click

from inkline.chance import LARGEST_NUMBER
from inkline.errors import InputError
from inkline.folder.disk import work_error
from inkline.kit.check import check_recipe_file, told
from inkline.kit.recipe.explain import explanation_lines
from inkline.kit.recipe.text import recipe_text

_TO_DRAW = "inkline kit THIS-FILE -o FOLDER"
_TO_EXPLAIN = "inkline recipe --explain KEY (or: all)"
_TO_CHECK = "inkline recipe check THIS-FILE"
_NOT_WHOLE = "layout and letters are looked at once these are mended"


def run_recipe(file: Path | None, *, asked: str | None) -> None:
    """Print the default recipe with a fresh drawing number, or write it to `file`; or explain the key that is `asked` for.

    Raises:
        InputError: the file exists, both are wanted, or a recipe has no such key.
        WorkError: it cannot be written.
    """
    if asked is not None:
        if file is not None:
            raise InputError("--explain and -o are two wishes; give one of them")
        for line in explanation_lines(asked):
            click.echo(line)
        return
    text = recipe_text(
        secrets.randbelow(LARGEST_NUMBER) + 1,
        to_draw=_TO_DRAW,
        to_explain=_TO_EXPLAIN,
        to_check=_TO_CHECK,
    )
    if file is None:
        click.echo(text, nl=False)
        return
    try:
        with file.open("x", encoding="utf-8", newline="\n") as out:
            out.write(text)
    except FileExistsError as problem:
        raise InputError(
            f"{file} exists already and is left as it is; choose another name"
        ) from problem
    except OSError as problem:
        raise work_error(problem, file) from problem
    click.echo(
        f"Wrote {file}. Open it in a text editor, change what you like, then: inkline kit {file} "
        f"-o my-kit"
    )


def run_check(files: Sequence[Path]) -> None:
    """Say of each of `files` what its kits will hold.

    Raises:
        InputError: there is something wrong with any of them; every fault is a line.
    """
    faults: list[str] = []
    for file in files:
        check = check_recipe_file(file)
        faults += [str(fault) for fault in check.faults]
        if check.faults:
            can_be_mended = any(fault.line for fault in check.faults)
            faults += [f"{file.name}: {_NOT_WHOLE}"] if can_be_mended and not check.is_whole else []
            continue
        for line in told(file, check):
            click.echo(line)
    if faults:
        raise InputError("\n".join(faults))
