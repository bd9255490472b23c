"""Exports: a kit's stamps in other forms of files, in a folder of their own that is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from inkline.delivery.pieces import FilePiece, file_pieces
from inkline.delivery.stamps import FolderKit, FolderStamp, folder_kit, refuse_within_kit
from inkline.errors import InputError
from inkline.folder.disk import DISK, Disk
from inkline.folder.kept import Foreign
from inkline.folder.manifest import SectionForm
from inkline.folder.strangers import Kind
from inkline.output.forms import FORMS
from inkline.output.ground import ground_notes
from inkline.output.look import FileLook, GroundPicture
from inkline.press.choice import Selection, chosen_names
from inkline.press.crew import number_of_workers
from inkline.press.product import (
    Difference,
    Product,
    by_name,
    differences_between,
    package_versions,
)
from inkline.press.report import Report
from inkline.press.run import Task
from inkline.press.tasks import report_of
from inkline.progress import Listener, Note, unheard
from inkline.source.faults import did_you_mean

_EXPORT_FORM = SectionForm(format="inkline files", noun="folder of exported files")
_SMALLEST_PX, _LARGEST_PX = 16, 20_000
"""Of the side of a format: less shows nothing, and more no recipe may ask for."""
_LEAST_PPI, _MOST_PPI = 30, 4800
"""As of recipes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExportRequest:
    """What is to be exported.

    Attributes:
        kit: the folder of a kit or of finished months.
        forms: names of `FORMS`; all if empty.
        only: names or patterns of stamps; all if empty.
        look: how files look. Their title is the kit's unless it says one.
        size_px: how wide formats are to be, everything else in proportion; as the kit's if None.
        ppi: pixels per inch; the kit's if None.
        inks: colours of single layers by their kinds, or by the last parts of their names; "" for
            all layers of finished months but blocks.
        seen_to: of files that are kept beside a kit's pictures, the stamps that were seen to: no
            other file is looked at, and none of other forms belongs there. None for an export.
    """

    kit: Path
    forms: tuple[str, ...] = ()
    only: tuple[str, ...] = ()
    look: FileLook = field(default_factory=FileLook)
    size_px: float | None = None
    ppi: float | None = None
    inks: tuple[tuple[str, str], ...] = ()
    seen_to: tuple[str, ...] | None = None

    def open(self) -> ExportProduct:
        """The files, opened.

        Raises:
            InputError: there is no such kit or form, or a number is out of range.
            WorkError: the kit can't be read.
        """
        refuse_unknown_forms(self.forms)
        _refuse_ppi(self.ppi)
        kit = folder_kit(self.kit, ppi=self.ppi)
        if self.size_px is not None:
            scale = _whole_size(self.size_px) / kit.side_px
            kit = folder_kit(self.kit, scale=scale, ppi=self.ppi)
        if (self.look.paper or self.look.picture) and not kit.is_finished:
            raise InputError(
                "a ground of a colour or a picture is for finished months; stamps stand on clear, "
                "white or black",
                setting="ground",
            )
        kit = _with_inks(kit, dict(self.inks))
        chosen = chosen_names(tuple(kit.stamps), self.only or ("*",), setting="only")
        files = file_pieces(kit, chosen, self.look)
        if self.seen_to is not None:
            chosen &= frozenset(self.seen_to)
            files = (file for file in files if file.form.name in self.forms)
        pieces = by_name(files)
        return ExportProduct(
            pieces=pieces,
            kind=Kind(form=_EXPORT_FORM, holds="files"),
            kit=kit,
            chosen=chosen,
            ground=self.look.picture,
        )


@dataclass(frozen=True, eq=False, kw_only=True)
class ExportProduct(Product):
    """The files of an export.

    Attributes:
        kit: of which they are.
        chosen: the stamps that are asked for.
        ground: a picture under all ink, or None.
    """

    kit: FolderKit
    chosen: frozenset[str]
    ground: GroundPicture | None = None

    def notes(self) -> tuple[Note, ...]:
        """What its owner should know of the picture under the ink."""
        if self.ground is None:
            return ()
        sizes = [stamp.canvas for name, stamp in self.kit.stamps.items() if name in self.chosen]
        return tuple(Note(one) for one in ground_notes(self.ground, max(sizes)))

    def head(self) -> dict[str, Any]:
        """The kit's title, and the versions that shape the files."""
        return {
            "title": self.kit.title,
            "versions": package_versions("Pillow", "pikepdf", "tifffile"),
        }

    def differences(self, about: Mapping[str, Any]) -> tuple[Difference, ...]:
        """The title of the kit."""
        return differences_between({"title": about.get("title")}, {"title": self.kit.title})

    def selection(self, forms: tuple[str, ...], *, partial: bool) -> Selection:
        """Files of these forms, of the chosen stamps."""
        names = tuple(
            name
            for name, piece in self.pieces.items()
            if isinstance(piece, FilePiece)
            and piece.form.name in (forms or tuple(FORMS))
            and any(stamp.name in self.chosen for stamp in piece.stamps)
        )
        return Selection(partial=partial, stamps=names)


def export_kit(
    request: ExportRequest,
    folder: Path,
    *,
    workers: int | None = None,
    foreign: Foreign = Foreign.REFUSE,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> Report:
    """Write the files that `request` asks for into `folder`; what was done.

    Nothing is drawn anew. Files that are as they would be made are left alone, and so are those
    that were changed by hand. A run that is stopped leaves every file whole, and the same call
    again finishes it.

    Args:
        request: what is asked for.
        folder: where files go, a folder of each form; made if need be.
        workers: how many processes work; as many as there are cores if None.
        foreign: whether to refuse a folder that holds other files.
        listener: told of every file.
        disk: through which files are changed.

    Raises:
        InputError: something that is asked for can't be used, or the folder; nothing was changed.
        WorkError: the folder can't be written; what was finished is kept.
    """
    refuse_within_kit(request.kit, folder)
    return written_files(
        request,
        folder,
        partial=bool(request.only),
        workers=workers,
        foreign=foreign,
        listener=listener,
        disk=disk,
    )


def written_files(
    request: ExportRequest,
    folder: Path,
    *,
    partial: bool,
    workers: int | None = None,
    foreign: Foreign = Foreign.REFUSE,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> Report:
    """As `export_kit`, into any folder; `partial` says whether more files belong there."""
    n_workers = number_of_workers(workers)
    product = request.open()
    task = Task(
        order=request,
        product=product,
        folder=folder,
        selection=product.selection(request.forms, partial=partial),
        foreign=foreign,
    )
    return report_of(task, workers=n_workers, listener=listener, disk=disk)


def _with_inks(kit: FolderKit, inks: Mapping[str, str]) -> FolderKit:
    """The kit with these colours of its layers.

    Raises:
        InputError: no layer is called so.
    """

    def names_of(stamp: FolderStamp) -> tuple[str, str]:
        return stamp.name.rpartition("/")[2], str(stamp.entry.facts["kind"])

    known = dict.fromkeys(one for stamp in kit.stamps.values() for one in names_of(stamp))
    for name in inks:
        if name and name not in known:
            raise InputError(
                f"no layer is called {name[:40]!r}{did_you_mean(name, known)}", setting="ink"
            )

    def colour_of(stamp: FolderStamp) -> str | None:
        name, kind = names_of(stamp)
        usual = inks.get("", stamp.colour) if kind != "blocks" else stamp.colour
        return inks.get(name, inks.get(kind, usual))

    stamps = {name: replace(stamp, colour=colour_of(stamp)) for name, stamp in kit.stamps.items()}
    return replace(kit, stamps=stamps)


def refuse_unknown_forms(forms: tuple[str, ...]) -> None:
    """Refuse forms that there aren't.

    Raises:
        InputError: one of them is none.
    """
    for form in forms:
        if form not in FORMS:
            raise InputError(
                f"there is no form {form[:40]!r}{did_you_mean(form, FORMS)}; there are "
                f"{', '.join(FORMS)}"
            )


def _refuse_ppi(ppi: float | None) -> None:
    """Refuse a resolution that files can't state.

    Raises:
        InputError: it is too small, too large or no number.
    """
    if ppi is not None and not _LEAST_PPI <= ppi <= _MOST_PPI:
        raise InputError(
            f"pixels per inch from {_LEAST_PPI} to {_MOST_PPI} are required, not {ppi:g}",
            setting="ppi",
        )


def _whole_size(size_px: float) -> int:
    """A size in whole pixels.

    Raises:
        InputError: it is too small or too large.
    """
    if not _SMALLEST_PX <= size_px <= _LARGEST_PX:
        raise InputError(
            f"a size from {_SMALLEST_PX} px to {_LARGEST_PX} px is required, not {size_px:g} px",
            setting="size",
        )
    return round(size_px)
