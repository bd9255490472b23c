"""The command for the page on the user's own machine."""

from __future__ import annotations

from pathlib import Path

import click

from inkline.cli.options import FILE, debug_option


@click.command()
@click.argument("file", required=False, type=FILE, metavar="[RECIPE.toml|KIT]")
@click.option(
    "--port",
    type=click.IntRange(0, 65_535),
    default=0,
    metavar="N",
    help="Serve the page at this port of this machine; any that is free, if left out.",
)
@click.option(
    "--browser/--no-browser",
    default=True,
    help="Open the page in the browser, or only say where it is.",
)
@click.option(
    "--shortcut",
    type=click.Choice(["beside", "desktop"]),
    is_flag=False,
    flag_value="beside",
    help="Only put a file there that opens the page by a double click: beside the recipe, or on "
    "your desktop.",
)
@debug_option
def desk(
    file: Path | None,
    port: int,
    browser: bool,  # noqa: FBT001 - click's form
    shortcut: str | None,
) -> None:
    """Turn the ink on a page in your browser until you like it.

    The page is served on this machine and for it alone. What you change is written into
    RECIPE.toml, or into my-recipe.toml in this folder, at once; comments in it stay, and
    everything can be undone. For a kit's folder it is the recipe beside it that draws that kit.
    Ctrl-C ends it.

    \b
    Examples:
        inkline desk
        inkline desk my-recipe.toml
        inkline desk my-kit
        inkline desk my-recipe.toml --shortcut desktop
    """  # noqa: D301 - \b is click's sign for lines that stay as they are
    from inkline.cli.desk_run import run_desk, run_shortcut  # noqa: PLC0415

    if shortcut is not None:
        run_shortcut(file, on_desktop=shortcut == "desktop")
        return
    run_desk(file, port=port, opens_browser=browser)
