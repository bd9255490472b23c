"""What `inkline recipe` does: writes a recipe to start from, explains one, or looks it over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from inkline.chance import fresh_number
from inkline.cli.sentences import time_in_words
from inkline.errors import InputError
from inkline.folder.new_files import write_new
from inkline.kit.check import RecipeCheck, check_recipe_file
from inkline.kit.recipe.explain import explanation_lines
from inkline.kit.recipe.text import recipe_text

_TO_DRAW = "inkline kit THIS-FILE -o FOLDER"
_TO_EXPLAIN = "inkline recipe --explain KEY (or: all)"
_TO_CHECK = "inkline recipe check THIS-FILE"
_NOT_WHOLE = "layout and letters are looked at once these are mended"


def run_recipe(file: Path | None, *, asked: str | None) -> None:
    """Print the default recipe with a fresh drawing number or write it to `file`, or explain a key.

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
    text = recipe_text(fresh_number(), to_draw=_TO_DRAW, to_explain=_TO_EXPLAIN, to_check=_TO_CHECK)
    if file is None:
        click.echo(text, nl=False)
        return
    write_new(file, text.encode())
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
        for line in kit_lines(file, check):
            click.echo(line)
    if faults:
        raise InputError("\n".join(faults))


def kit_lines(file: Path, check: RecipeCheck) -> Iterator[str]:
    """A line for each kit of a recipe without faults, and its notes."""
    for kit in check.kits:
        which = f"{file.name}, kit {kit.name}" if kit.name else file.name
        parts = ", ".join(f"{number} in {folder}" for folder, number in kit.stamps.items())
        n_stamps = sum(kit.stamps.values())
        long = time_in_words(kit.seconds)
        yield (
            f'{which}: all is well; "{kit.title}" will hold {n_stamps} stamps: {parts}; to draw '
            f"them takes {long}"
        )
        yield from (f"{which}: {note}" for note in kit.notes)
