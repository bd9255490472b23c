"""The options that several commands have."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from inkline.chance import fresh_number


class OwnNumber(int):
    """A fresh drawing number that was taken because somebody asked for one of her own."""


class _NumberType(click.ParamType[int]):
    """A whole number, or `new` for a fresh one."""

    name = "number"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> int:
        """The number that `value` says."""
        if value == "new":
            return OwnNumber(fresh_number())
        try:
            return int(str(value))
        except ValueError:
            self.fail(f'a whole number or "new" is required, not {str(value)[:40]!r}', param, ctx)


NUMBER_OR_NEW = _NumberType()
_Command = TypeVar("_Command", bound=Callable[..., Any])
FOLDER = click.Path(path_type=Path)
FILE = click.Path(path_type=Path)

debug_option = click.option(
    "--debug",
    is_flag=True,
    expose_value=False,
    help="On an error, show where in the program it arose.",
)
number_option = click.option(
    "--number", type=int, metavar="N", help="Drawing number: another number, other lines."
)
workers_option = click.option(
    "--workers",
    type=int,
    metavar="N",
    help="How many processes draw at once; as many as there are cores if not said.",
)
which_kit_option = click.option(
    "--kit", metavar="NAME", help="Which kit, where the recipe holds several."
)
own_number_option = click.option(
    "--number",
    type=NUMBER_OR_NEW,
    metavar="N|new",
    help="Drawing number: another number, other lines; new takes a fresh one and tells it.",
)
style_option = click.option(
    "--style",
    metavar="STYLE",
    help="A style from the list of inkline style, or a file ending in .toml.",
)


def out_folder_option(about: str) -> Callable[[_Command], _Command]:
    """The option that says into which folder a product goes; `about` says it to the user."""
    return click.option(
        "-o", "--out", "folder", type=FOLDER, required=True, metavar="DIR", help=about
    )


def force_option(about: str) -> Callable[[_Command], _Command]:
    """The option that lets a folder hold other things; `about` says to the user what."""
    return click.option("--force", "foreign", flag_value="leave", default="refuse", help=about)
