"""The options that several commands have."""

from __future__ import annotations

from pathlib import Path

import click

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
