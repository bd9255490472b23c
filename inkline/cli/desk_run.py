"""Runs the page on the user's own machine."""

from __future__ import annotations

from pathlib import Path

import click

from inkline.desk.opening import opened_desk
from inkline.desk.shortcut import write_shortcut


def run_shortcut(file: Path | None, *, on_desktop: bool) -> None:
    """Put a file that opens the desk where the user asks for it, and say where it is."""
    desk = opened_desk(file)
    desk.document.keep()
    shortcut = write_shortcut(file or desk.document.path, on_desktop=on_desktop)
    click.echo(f"{shortcut} opens {desk.document.path.name} on the desk by a double click.")


def run_desk(file: Path | None, *, port: int, opens_browser: bool) -> None:
    """Serve the desk until Ctrl-C, and say where it is.

    What draws begins at once; what serves is loaded meanwhile.
    """
    desk = opened_desk(file)
    desk.start()
    from inkline.desk.serving import serve  # noqa: PLC0415 - what draws begins before it

    def tell(address: str) -> None:
        click.echo(f"{desk.document.path.name} lies on the desk: {address}")
        click.echo("Ctrl-C ends it.")

    try:
        serve(desk, port=port, opens_browser=opens_browser, told=tell)
    finally:
        desk.stop()
