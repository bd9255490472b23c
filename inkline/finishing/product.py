"""Finished artwork as a product: a picture for each file, resumed and kept as all others are."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from inkline.finishing.marks import Found, InkRun, ink_runs
from inkline.finishing.picture import is_pale, picture_bytes
from inkline.finishing.request import FinishRequest, Ground, OpenFinish, OpenSheet, open_finish
from inkline.folder.disk import DISK, Disk
from inkline.folder.kept import Foreign
from inkline.folder.manifest import SectionForm, plain_values
from inkline.folder.strangers import Kind
from inkline.folder.view import FolderView
from inkline.ink.engine import draw
from inkline.press.choice import whole_selection
from inkline.press.inputs import ink_digest
from inkline.press.product import (
    Bench,
    Difference,
    Made,
    Piece,
    Product,
    by_name,
    differences_between,
    package_versions,
)
from inkline.press.report import Report
from inkline.press.run import Task
from inkline.press.tasks import reports_of
from inkline.progress import Listener, unheard
from inkline.raster.compose import render

_PNG = "png"
_FORM = SectionForm(format="inkline artwork", noun="finished artwork")
_VERSION = 1
"""Raised when pictures are composed in another way, so that they are made again."""
_CSS_PPI = 96.0
_MM_PER_INCH = 25.4


def finish(
    request: FinishRequest,
    folder: Path,
    *,
    workers: int = 1,
    foreign: Foreign = Foreign.REFUSE,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> tuple[Report, OpenFinish]:
    """Redraw the artwork that `request` names into `folder`; what was done, and what was opened.

    The same request gives the same bytes on the same machine. What is unchanged is left alone, and
    so is what somebody changed by hand.

    Args:
        request: what is asked for.
        folder: where the pictures go; made if need be.
        workers: processes that draw.
        foreign: whether files that are no part of it are a reason to refuse the folder.
        listener: told of every picture that was drawn.
        disk: through which files are changed.

    Raises:
        InputError: something in the request or the folder can't be used; nothing has been changed.
        WorkError: the folder can't be written; what was finished is kept.
    """
    order = _FinishOrder(request=request)
    product = order.open()
    task = Task(
        order=order,
        product=product,
        folder=folder,
        selection=whole_selection(product),
        number=request.number,
        foreign=foreign,
    )
    (report,) = reports_of([task], workers=workers, listener=listener, disk=disk)
    return report, product.opened


@dataclass(frozen=True, slots=True, kw_only=True)
class _FinishOrder:
    """Artwork to redraw.

    Attributes:
        request: what is asked for.
    """

    request: FinishRequest

    def open(self) -> _FinishedProduct:
        """The product.

        Raises:
            InputError: something in the request can't be used.
        """
        opened = open_finish(self.request)
        pieces = [
            FinishedPiece(
                name=sheet.stem,
                files={_PNG: f"{sheet.stem}.png"},
                canvas=sheet.artwork.canvas,
                cost=float(len(sheet.artwork.items)),
                opened=opened,
                sheet=sheet,
            )
            for sheet in opened.sheets
        ]
        return _FinishedProduct(
            opened=opened,
            pieces=by_name(pieces),
            kind=Kind(form=_FORM),
            number=self.request.number,
        )


@dataclass(frozen=True, eq=False, kw_only=True)
class FinishedPiece(Piece):
    """One file, redrawn.

    Attributes:
        opened: the request that it belongs to.
        sheet: the file.
    """

    opened: OpenFinish
    sheet: OpenSheet

    @cached_property
    def _found(self) -> tuple[tuple[InkRun, ...], Found]:
        return ink_runs(self.opened, self.sheet)

    @property
    def runs(self) -> tuple[InkRun, ...]:
        """Its marks, colour by colour."""
        return self._found[0]

    @property
    def found(self) -> Found:
        """What was found in the file."""
        return self._found[1]

    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:  # noqa: ARG002 - one form, and it needs no others
        """The digest of all that is drawn, of its colours and of the ground."""
        style, number = self.opened.style, self.opened.request.number
        ground = self.opened.request.ground
        facts: list[object] = [_VERSION, ground, self.sheet.artwork.canvas, self._ppi]
        for run in self.runs:
            what = (
                [run.paint.hex, run.paint.opacity]
                if ground is not Ground.BLACK
                else [is_pale(run.paint)]
            )
            facts.append(ink_digest(run.drawing, style, number=number, what=what))
        return hashlib.blake2b(json.dumps(facts).encode(), digest_size=16).hexdigest()

    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:
        """Its picture."""
        style, number = self.opened.style, self.opened.request.number
        inked = [draw(run.drawing, style, number, kept=bench.kept) for run in self.runs]
        files = {}
        if forms:
            layers = [(run.paint, render(one)) for run, one in zip(self.runs, inked, strict=True)]
            files[_PNG] = picture_bytes(
                layers,
                canvas=self.sheet.artwork.canvas,
                ground=self.opened.request.ground,
                ppi=self._ppi,
            )
        return Made(files=files, masters=tuple(master for one in inked for master in one.masters))

    @property
    def _ppi(self) -> float:
        return self.sheet.artwork.px_per_mm * _MM_PER_INCH

    def facts(self) -> dict[str, Any]:
        """Its canvas, and what was found in the file."""
        found = self.found
        return {
            "canvas": list(self.sheet.artwork.canvas),
            "rules": found.n_rules,
            "curves": found.n_curves,
            "shapes": found.n_shapes,
            "words": found.n_words,
        }

    def drawn_with(self) -> dict[str, Any]:
        """The drawing number and the style."""
        style = self.opened.style
        return {
            "number": self.opened.request.number,
            "style": {"name": style.name, "values": style.to_dict()},
        }


@dataclass(frozen=True, eq=False, kw_only=True)
class _FinishedProduct(Product):
    """Finished artwork.

    Attributes:
        opened: the request, opened.
    """

    opened: OpenFinish

    def head(self) -> dict[str, Any]:
        """How it was drawn."""
        request, style = self.opened.request, self.opened.style
        values: dict[str, Any] = plain_values(
            {
                "number": request.number,
                "ground": str(request.ground),
                "style": {"name": style.name, "values": style.to_dict()},
                "versions": package_versions("Pillow", "tinycss2", "cssselect2"),
            }
        )
        return values

    def differences(self, about: Mapping[str, Any]) -> tuple[Difference, ...]:
        """The style by its name, and the ground."""

        def facts(one: Mapping[str, Any]) -> dict[str, object]:
            style = one.get("style")
            name = style.get("name") if isinstance(style, Mapping) else None
            return {"style": name, "ground": one.get("ground")}

        return differences_between(facts(about), facts(self.head()))
