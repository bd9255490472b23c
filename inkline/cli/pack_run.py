"""What `inkline pack` does: packs a kit, and says at the end what there is and how large."""

from __future__ import annotations

import time
from collections.abc import Sequence
from pathlib import Path

import click

from inkline.cli.progress import build_progress
from inkline.cli.remedies import note_sentence
from inkline.cli.sentences import size_in_words
from inkline.delivery.pack import pack_kit
from inkline.delivery.wishes import export_request
from inkline.progress import number_of_things


def run_pack(
    kit: Path, forms: Sequence[str], file: Path, *, beside: Sequence[Path], unproved: bool
) -> None:
    """Pack the kit, and report.

    Raises:
        InputError, WorkError: as `pack_kit`.
    """
    start = time.monotonic()
    request = export_request(kit, forms=tuple(forms), are_all_meant=False)
    with build_progress() as listener:
        packs = pack_kit(request, file, beside=tuple(beside), unproved=unproved, listener=listener)
    for one in packs:
        files = number_of_things(one.n_files, "file")
        stamps = f"{one.n_pictures} of stamps"
        click.echo(f"{one.file}: {files}, {stamps}, {size_in_words(one.n_bytes)}.")
        for note in one.notes:
            click.echo(note_sentence(note))
    proved = "not proved" if unproved else "all within bounds"
    click.echo(f"Packed in {time.monotonic() - start:.1f} s; {proved}.")
