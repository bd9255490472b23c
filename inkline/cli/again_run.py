"""What `inkline again` does: shows other drawings of one thing, and writes which is taken."""

from __future__ import annotations

from pathlib import Path

import click

from inkline.desk.editing import Edit, edited_text
from inkline.errors import InputError
from inkline.folder.disk import write_whole
from inkline.folder.new_files import refuse_existing, require_suffix, write_new
from inkline.kit.choices import Choices, choices_of
from inkline.kit.recipe.file import recipe_file_text
from inkline.kit.recipe.keys import KITS
from inkline.kit.recipe.loading import recipes_from_text
from inkline.kit.requests import recipe_from_file

_AGAIN = "again"


def run_again(
    name: str,
    file: Path | None,
    *,
    kit: str | None,
    show: int,
    first: int,
    out: Path | None,
    take: int | None,
) -> None:
    """Show drawings of `name`, or write into the recipe which of them is taken.

    Raises:
        InputError: as `choices_of`; a file that exists, or no recipe to write into.
        WorkError: a file can't be written.
    """
    if take is not None:
        _take(name, file, kit=kit, count=take)
        return
    if out is None:
        raise InputError("a picture's name is required", setting="out")
    require_suffix(out, ".png", what="a sheet", setting="out")
    refuse_existing([out])
    choices = choices_of(recipe_from_file(file, kit=kit), name, show=show, first=first)
    write_new(out, choices.png)
    for line in _lines(choices, file, out):
        click.echo(line)


def _lines(choices: Choices, file: Path | None, out: Path) -> list[str]:
    drawn = ", ".join(map(str, choices.counts))
    where = "a recipe" if file is None else str(file)
    return [
        f"{out} shows {choices.name} as drawn {drawn}; {choices.now} is what the recipe has now.",
        f'To take one: --take N, or write "{choices.name}" = N under [{_AGAIN}] in {where}.',
    ]


def _take(name: str, file: Path | None, *, kit: str | None, count: int) -> None:
    """Write under [again] how often `name` is drawn; all else in the file stays as it is."""
    if file is None:
        raise InputError("there is no recipe to write into", setting="take")
    text = recipe_file_text(file, source=file.name)
    choices_of(recipe_from_file(file, kit=kit), name, show=1)  # refused if nothing is called so
    way = (KITS, kit, _AGAIN, name) if kit else (_AGAIN, name)
    edited = edited_text(text, [Edit(way=way, value=count or None)])
    recipes_from_text(edited, source=file.name, folder=file.parent)
    write_whole(file, edited.encode())
    said = f'"{name}" = {count}' if count else f"nothing of {name}"
    click.echo(f"{file} says {said} under [{_AGAIN}] now. Run inkline kit with it once more.")
