"""The command that measures what was drawn."""

from __future__ import annotations

from pathlib import Path

import click

from inkline.cli.options import FOLDER, debug_option


@click.command()
@click.argument("folder", type=FOLDER, metavar="DIR")
@click.option(
    "--edge",
    "edge_px",
    type=click.FloatRange(min=0.0),
    metavar="PX",
    help="How near ink may come to the canvas edge; what the kit says of itself if not said.",
)
@debug_option
def prove(folder: Path, edge_px: float | None) -> int:
    """Measure a kit's pictures, and say whether they lie where they should.

    Every stamp is held against the exact layout in the kit's manifest: where its rules, numerals,
    words and blocks lie and how much ink they have, how near ink comes to the canvas edge, and
    whether the stamps of a format lie over each other. Stamps that you retouched are named and not
    judged. Exits with 1 if something is out of its bounds. Nothing is changed.

    \b
    Example:
        inkline prove my-kit
    """  # noqa: D301
    from inkline.cli.prove_run import run_prove  # noqa: PLC0415

    return run_prove(folder, edge_px=edge_px)
