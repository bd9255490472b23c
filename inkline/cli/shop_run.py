"""What `inkline shop` does: makes the pictures that sell a kit, and says what there is."""

from __future__ import annotations

import time
from pathlib import Path

import click

from inkline.cli.progress import build_progress
from inkline.cli.remedies import note_sentence
from inkline.cli.sentences import counts_in_words
from inkline.errors import InputError
from inkline.folder.kept import Foreign
from inkline.kit.months.placing import placing_from_wishes
from inkline.progress import names_in_words, number_of_things
from inkline.shop.artwork import Wish
from inkline.shop.product import ShopRequest, make_shop


def run_shop(
    kit: Path,
    folder: Path,
    *,
    on: Path | None,
    at: str | None,
    across: str | None,
    font: Path | None,
    workers: int | None,
    foreign: str,
) -> None:
    """Make the pictures in `folder`, and report.

    Raises:
        InputError, WorkError: as `make_shop`.
    """
    start = time.monotonic()
    request = ShopRequest(kit=kit, wish=_wish(folder, on=on, at=at, across=across), font=font)
    with build_progress() as listener:
        report = make_shop(
            request, folder, workers=workers, foreign=Foreign(foreign), listener=listener
        )
    files = (*report.files_made, *report.files_unchanged, *report.files_kept)
    counts = counts_in_words(
        (report.files_unchanged, "unchanged"),
        (report.files_made, "made"),
        (report.files_kept, "kept, changed by you"),
    )
    seconds = time.monotonic() - start
    click.echo(f"{number_of_things(len(files), 'file')} in {folder}: {counts} ({seconds:.1f} s).")
    if report.files_kept:
        click.echo(f"Kept, changed by you: {names_in_words(report.files_kept)}.")
    for note in report.notes:
        click.echo(note_sentence(note))
    click.echo(f"Next: look at the covers, and change {folder / 'listing.txt'} as you like.")


def _wish(folder: Path, *, on: Path | None, at: str | None, across: str | None) -> Wish | None:
    """The picture, and where a month lies on it.

    Raises:
        InputError: a place or a width without a picture, or none.
    """
    if on is None:
        if at or across:
            raise InputError(
                "a place and a width are for a month on a picture, and none is given", setting="on"
            )
        return None
    placing = placing_from_wishes(folder, on=on, at=at, across=across, inks=())
    assert placing is not None  # noqa: S101 - there is a picture
    return Wish(
        on=on,
        at=None if at is None else (placing.at[0] / 100.0, placing.at[1] / 100.0),
        across=None if placing.across is None else placing.across / 100.0,
    )
