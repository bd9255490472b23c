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
@click.option(
    "--report",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Write a page that shows what was found: a new HTML file, whole in itself.",
)
@click.option(
    "--json",
    "values",
    type=click.Path(path_type=Path, dir_okay=False, allow_dash=True),
    metavar="FILE",
    help="Write what was found as JSON; - for the screen, and nothing else there.",
)
@debug_option
def prove(folder: Path, edge_px: float | None, report: Path | None, values: Path | None) -> int:
    """Measure a kit's pictures, and say whether they lie where they should.

    Each picture is drawn again from its masters, and every difference is named by mark and kind.
    The masters are held against the exact layout in the kit's manifest: where rules, numerals,
    words and blocks lie and how much ink they have, how near ink comes to the canvas edge, and
    whether the stamps of a format lie over each other. Of stamps that you retouched it says what
    you changed, and judges only what no hand can mean: another size or ground, the whole of it
    moved, a mark gone. Exits with 1 if something is out of its bounds. The kit is not changed.

    \b
    Examples:
        inkline prove my-kit
        inkline prove my-kit --report proof.html
    """  # noqa: D301
    from inkline.cli.prove_run import run_prove  # noqa: PLC0415

    return run_prove(folder, edge_px=edge_px, report=report, values=values)
