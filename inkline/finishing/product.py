"""Finished artwork as a product: its stamps and sheets, resumed and kept as all others are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inkline.errors import InputError
from inkline.finishing.changes import changes_text
from inkline.finishing.marks import ink_runs
from inkline.finishing.pieces import (
    PNG,
    ColouredPiece,
    FinishedPiece,
    OverlayPiece,
    ppi_of,
)
from inkline.finishing.request import FinishRequest, OpenFinish, OpenSheet, open_finish
from inkline.finishing.stamps import FinishedStamp, stamps_of_runs
from inkline.folder.disk import DISK, Disk
from inkline.folder.kept import Foreign
from inkline.folder.manifest import plain_values
from inkline.folder.strangers import Kind
from inkline.output.look import Ground
from inkline.press.choice import selections_among, whole_selection
from inkline.press.crew import number_of_workers
from inkline.press.editions import EDITION, earlier_edition
from inkline.press.inputs import style_digest
from inkline.press.product import (
    Difference,
    Piece,
    Product,
    by_name,
    differences_between,
    package_versions,
)
from inkline.press.report import Changes, Report
from inkline.press.run import Task
from inkline.press.stamp_form import ARTWORK, STAMP_FORM
from inkline.press.tasks import report_of
from inkline.progress import Listener, unheard
from inkline.source.faults import did_you_mean

_CHANGES_FILE = "changes.txt"
_OVERLAY = "-overlay"
"""Ends the names of sheets that show the exact artwork under the drawn one."""


def finish(
    request: FinishRequest,
    folder: Path,
    *,
    workers: int | None = 1,
    only: Iterable[str] = (),
    redraw: Iterable[str] = (),
    since: Path | None = None,
    foreign: Foreign = Foreign.REFUSE,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> tuple[Report, FinishedProduct]:
    """Redraw the artwork that `request` names into `folder`; what was done, and what was opened.

    The same request gives the same bytes on the same machine. What is unchanged is left alone, and
    so is what somebody changed by hand.

    Args:
        request: what is asked for.
        folder: where the pictures go; made if need be.
        workers: processes that draw; as many as there are cores if None.
        only: names or patterns of the stamps to see to; all if empty.
        redraw: names or patterns of stamps and sheets to draw anew, even if they were retouched.
        since: the folder of an earlier edition, whose drawings are taken over wherever the same is
            asked for, or None.
        foreign: whether files that are no part of it are a reason to refuse the folder.
        listener: told of every picture that was drawn.
        disk: through which files are changed.

    Raises:
        InputError: something in the request or the folder can't be used; nothing has been changed.
        WorkError: the folder can't be written; what was finished is kept.
    """
    n_workers = number_of_workers(workers)
    order = _FinishOrder(request=request)
    product = order.open()
    _refuse_unknown_again(product)
    (chosen,) = selections_among([product], only=tuple(only), redraw=tuple(redraw))
    earlier = (
        None
        if since is None
        else earlier_edition(since, folder=folder, number=request.number, product=product)
    )
    task = Task(
        order=order,
        product=product,
        folder=folder,
        selection=chosen or whole_selection(product),
        number=request.number,
        foreign=foreign,
        earlier=earlier,
    )
    return report_of(task, workers=n_workers, listener=listener, disk=disk), product


@dataclass(frozen=True, slots=True, kw_only=True)
class _FinishOrder:
    """Artwork to redraw.

    Attributes:
        request: what is asked for.
    """

    request: FinishRequest

    def open(self) -> FinishedProduct:
        """The product.

        Raises:
            InputError: something in the request can't be used.
        """
        opened = open_finish(self.request)
        stamps, sheets = list[Piece](), list[Piece]()
        for sheet in opened.sheets:
            own = stamps_of_sheet(opened, sheet)
            stamps += [_stamp_piece(opened, sheet, stamp) for stamp in own]
            sheets += _sheet_pieces(opened, sheet, own)
        _refuse_same_names([*stamps, *sheets])
        return FinishedProduct(
            opened=opened,
            pieces=by_name([*stamps, *sheets]),
            kind=Kind(form=STAMP_FORM, holds=ARTWORK),
            number=self.request.number,
            changes_file=_CHANGES_FILE,
        )


def stamps_of_sheet(opened: OpenFinish, sheet: OpenSheet) -> tuple[FinishedStamp, ...]:
    """The stamps of a file, back to front.

    Raises:
        InputError: nothing of it can be drawn, or it has too many colours.
    """
    runs, _ = ink_runs(opened, sheet)
    if not runs:
        raise InputError(f"{sheet.file}: nothing in it can be drawn")
    request = opened.request
    return stamps_of_runs(sheet, runs, ground=request.ground, split=request.split)


def _stamp_piece(opened: OpenFinish, sheet: OpenSheet, stamp: FinishedStamp) -> FinishedPiece:
    return FinishedPiece(
        name=stamp.name,
        files={PNG: f"{stamp.name}.png"},
        canvas=sheet.artwork.canvas,
        cost=float(sum(1 for _ in stamp.drawing.marks)),
        opened=opened,
        sheet=sheet,
        stamp=stamp,
    )


def _sheet_pieces(
    opened: OpenFinish, sheet: OpenSheet, stamps: tuple[FinishedStamp, ...]
) -> Iterator[Piece]:
    """What shows several stamps of a file, or what they are drawn from."""
    needs = tuple(stamp.name for stamp in stamps)
    if opened.request.ground is not Ground.BLACK:
        yield ColouredPiece(
            name=sheet.stem,
            files={PNG: f"{sheet.stem}.png"},
            needs=needs,
            opened=opened,
            sheet=sheet,
            stamps=stamps,
        )
    if opened.request.overlay:
        name = f"{sheet.stem}{_OVERLAY}"
        yield OverlayPiece(
            name=name,
            files={PNG: f"{name}.png"},
            needs=needs,
            opened=opened,
            sheet=sheet,
            stamps=stamps,
        )


def _refuse_same_names(pieces: Iterable[Piece]) -> None:
    """Refuse two pictures of one name, which capitals don't tell apart everywhere.

    Raises:
        InputError: there are.
    """
    seen = set[str]()
    for piece in pieces:
        if piece.name.casefold() in seen:
            raise InputError(
                f"two pictures would be called {piece.name}.png; give one of the files another name"
            )
        seen.add(piece.name.casefold())


def _refuse_unknown_again(product: FinishedProduct) -> None:
    """Refuse names to be drawn again that nothing has.

    Raises:
        InputError: there is one; the nearest name is told.
    """
    marks = [
        mark.name
        for piece in product.pieces.values()
        if isinstance(piece, FinishedPiece)
        for mark in piece.stamp.drawing.marks
    ]
    for name in product.opened.request.again:
        if not any(f"{mark}/".startswith(f"{name}/") for mark in marks):
            hint = did_you_mean(name, marks[:_MOST_KNOWN])
            raise InputError(f'nothing is called "{name[:60]}" that could be drawn again{hint}')


_MOST_KNOWN = 2_000
"""Names among which the nearest is looked for; of more it takes long."""


@dataclass(frozen=True, eq=False, kw_only=True)
class FinishedProduct(Product):
    """Finished artwork.

    Attributes:
        opened: the request, opened.
    """

    opened: OpenFinish

    def head(self) -> dict[str, Any]:
        """What it is called, how large it is, and how it was drawn."""
        request, style = self.opened.request, self.opened.style
        values = style.to_dict()
        facts: dict[str, Any] = plain_values(
            {
                "title": self.opened.title,
                **({EDITION: request.edition} if request.edition else {}),
                "ppi": ppi_of(self.opened.sheets[0]),
                "safe_px": 0.0,
                **({"files": dict(request.wishes)} if request.wishes else {}),
                "number": request.number,
                "ground": str(request.ground),
                "style": {"name": style.name, "digest": style_digest(values), "values": values},
                "lettering": self.opened.face.name,
                "versions": package_versions("Pillow", "tinycss2", "cssselect2"),
            }
        )
        return facts

    def differences(self, about: Mapping[str, Any]) -> tuple[Difference, ...]:
        """The style by its name, and the ground."""

        def facts(one: Mapping[str, Any]) -> dict[str, object]:
            style = one.get("style")
            name = style.get("name") if isinstance(style, Mapping) else None
            return {"style": name, "ground": one.get("ground")}

        return differences_between(facts(about), facts(self.head()))

    def changes_text(self, changes: Changes) -> str:
        """What is new since an earlier edition, for those who have that."""
        return changes_text(changes, title=self.opened.title, edition=self.opened.request.edition)
