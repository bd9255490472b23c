"""Showing how far a run is: a bar on a terminal, plain lines or nothing elsewhere."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager

import click

from inkline.progress import Listener, Step, unheard

_LABEL = "Drawing"


@contextmanager
def build_progress() -> Iterator[Listener]:
    """A listener that shows a bar with names and times left, or writes plain lines elsewhere."""
    if not sys.stdout.isatty():
        yield _write_line
        return
    from rich.progress import (  # noqa: PLC0415 - slow to import, and of no use without a terminal
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
        TimeRemainingColumn,
    )

    columns = (
        TextColumn(_LABEL),
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


@contextmanager
def numerals_progress() -> Iterator[Listener]:
    """A listener that shows a bar as long as the steps say, or writes plain lines elsewhere."""
    if not sys.stdout.isatty():
        yield _write_line
        return
    with click.progressbar(length=1, label=_LABEL) as bar:

        def show(step: Step) -> None:
            bar.length = step.total
            bar.update(1)

        yield show


@contextmanager
def sheet_progress(n_pictures: int) -> Iterator[Listener]:
    """A listener that shows a bar of `n_pictures`, or nothing elsewhere."""
    if not sys.stdout.isatty():
        yield unheard
        return
    with click.progressbar(length=n_pictures, label=_LABEL) as bar:
        yield lambda _: bar.update(1)


class FirstWords:
    """Says lines once: before the first step of a run is heard, or when asked if none was."""

    def __init__(self, lines: Callable[[], Iterable[str]]) -> None:
        self._lines = lines
        self._are_said = False

    def before(self, listener: Listener) -> Listener:
        """`listener`, with the lines said before it hears its first step."""

        def hear(step: Step) -> None:
            self.say()
            listener(step)

        return hear

    def say(self) -> None:
        """Say the lines, unless they have been said."""
        if not self._are_said:
            self._are_said = True
            for line in self._lines():
                click.echo(line)


def _write_line(step: Step) -> None:
    click.echo(f"{step.done} of {step.total}  {step.name}")
