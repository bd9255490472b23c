"""Several products, one after another, each in a folder of its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from inkline.folder.disk import DISK, Disk
from inkline.folder.kept import Foreign, open_kept_folder
from inkline.press.crew import processes
from inkline.press.editions import changes_files
from inkline.press.others import refuse_other_product
from inkline.press.patches import PATCHES_FILE
from inkline.press.product import files_of
from inkline.press.report import Report
from inkline.press.run import Run, Task
from inkline.progress import Listener, unheard


def reports_of(
    tasks: Sequence[Task], *, workers: int, listener: Listener = unheard, disk: Disk = DISK
) -> Iterator[Report]:
    """Make the products of `tasks` one after another; a report of each as soon as it is made.

    Raises:
        InputError: the folder of the next one can't be used; nothing there has been changed.
        WorkError: something can't be written, or a process was stopped; what was finished is kept.
    """
    with processes(workers) as several:
        for task in tasks:
            product = task.product
            if task.foreign is Foreign.REFUSE:
                refuse_other_product(product, task.folder, number=task.number)
            files = files_of(product) | changes_files(product)
            with open_kept_folder(
                task.folder,
                files=files,
                foreign=task.foreign,
                number=task.number,
                kind=product.kind,
                others=[PATCHES_FILE, *([product.masters_file] if product.masters_file else [])],
                disk=disk,
            ) as folder:
                yield Run(task=task, folder=folder, listener=listener).report(several)


def report_of(
    task: Task, *, workers: int, listener: Listener = unheard, disk: Disk = DISK
) -> Report:
    """Make one product; what was done.

    Raises:
        InputError: its folder can't be used; nothing there has been changed.
        WorkError: something can't be written, or a process was stopped; what was finished is kept.
    """
    (report,) = reports_of([task], workers=workers, listener=listener, disk=disk)
    return report
