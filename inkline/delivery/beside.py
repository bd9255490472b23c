"""Forms of files that a recipe asks for, kept beside the pictures whenever these are drawn."""

from __future__ import annotations

from dataclasses import replace

from inkline.delivery.export import written_files
from inkline.delivery.wishes import export_request
from inkline.folder.disk import DISK, Disk
from inkline.folder.strangers import FILES_FOLDER, holds_product
from inkline.press.report import Report
from inkline.progress import Listener, unheard


def files_beside(
    drawn: Report,
    *,
    partial: bool,
    workers: int | None = None,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> Report | None:
    """Bring the files up to date that the recipe of what was `drawn` asks for; None if none.

    They lie in `files` in the product's folder, each form in a folder of its own, and are kept as
    an export is: what is as it would be made is left alone, and so is what was changed by hand.
    Files that the recipe no longer asks for are left there, and the report names them.

    Args:
        drawn: the report of the run that drew the stamps.
        partial: whether that run saw to some stamps only; files without any of them are left then.
        workers: how many processes work; as many as there are cores if None.
        listener: told of every file.
        disk: through which files are changed.

    Raises:
        InputError: the folder for them holds something else.
        WorkError: it can't be written; what was finished is kept.
    """
    seen_to = (*drawn.drawn, *drawn.unchanged, *drawn.kept)
    folder = drawn.folder / FILES_FOLDER
    if not seen_to:
        return None
    request = export_request(drawn.folder)
    if not request.forms and not holds_product(folder):
        return None
    return written_files(
        replace(request, seen_to=seen_to),
        folder,
        partial=partial,
        workers=workers,
        listener=listener,
        disk=disk,
    )
