"""Showing how far a build is: a bar on a terminal, plain lines elsewhere."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

import click

from inkline.progress import Listener


@contextmanager
def shown_progress() -> Iterator[Listener]:
    """A listener that shows a bar on a terminal and writes plain lines elsewhere."""
    if not sys.stdout.isatty():
        yield lambda step: click.echo(f"{step.done} of {step.total}  {step.name}")
        return
    from rich.progress import (  # noqa: PLC0415 - slow to import, and of no use without a terminal
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
        TimeRemainingColumn,
    )

    columns = (
        TextColumn("Drawing"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeRemainingColumn(),
        TextColumn("{task.description}"),
    )
    with Progress(*columns, transient=True) as progress:
        task = progress.add_task("", total=None)
        yield lambda step: progress.update(
            task, total=step.total, completed=step.done, description=step.name
        )
