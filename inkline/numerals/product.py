"""Numeral sets as products: pictures with their outlines, an overview, and on request a font."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inkline.errors import Action, Remedy
from inkline.folder.disk import DISK, Disk
from inkline.folder.kept import Foreign
from inkline.folder.manifest import plain_values
from inkline.folder.strangers import Kind
from inkline.lettering.writing import Way
from inkline.numerals.about import set_about
from inkline.numerals.head import MASTERS_FILE, SetForm
from inkline.numerals.pieces import OTF, PNG, SVG, FontPiece, NumeralPiece, OverviewPiece
from inkline.numerals.request import OVERVIEW_FILE, NumeralRequest, OpenSet, open_set
from inkline.press.choice import whole_selection
from inkline.press.product import Difference, Product, by_name, differences_between
from inkline.press.run import Task
from inkline.press.tasks import report_of
from inkline.progress import Listener, Note, unheard


@dataclass(frozen=True, slots=True, kw_only=True)
class SetReport:
    """What was done.

    Attributes:
        folder: where the set lies.
        n_texts: how many pictures it has, each with its outlines.
        drawn: files that were written.
        unchanged: files left as they were, since nothing that they depend on has changed.
        kept: files left as they were because somebody changed them by hand.
        left_over: names in the folder that nobody asks for any more.
        font_file: the font file's name, or None.
        notes: what the user should know.
    """

    folder: Path
    n_texts: int
    drawn: tuple[str, ...]
    unchanged: tuple[str, ...]
    kept: tuple[str, ...]
    left_over: tuple[str, ...]
    font_file: str | None
    notes: tuple[Note, ...]


def draw_numerals(
    request: NumeralRequest,
    folder: Path,
    *,
    foreign: Foreign = Foreign.REFUSE,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> SetReport:
    """Draw the set that `request` asks for into `folder`; what was done.

    Files that are as they would be drawn are left alone, and so are those that were changed by
    hand. The same request gives the same bytes on the same machine. A run that is stopped leaves
    every file whole, and the same call again finishes it.

    Args:
        request: what is asked for.
        folder: where the set goes; made if need be.
        foreign: whether files that are no part of the set are a reason to refuse the folder.
        listener: told of every piece that was drawn.
        disk: through which files are changed.

    Raises:
        InputError: something in the request or the folder can't be used, or the font forbids a font
            file; nothing has been changed.
        WorkError: the folder can't be written; what was finished is kept.
    """
    order = _SetOrder(request=request)
    numerals = order.open()
    task = Task(
        order=order,
        product=numerals,
        folder=folder,
        selection=whole_selection(numerals),
        number=numerals.opened.request.number,
        foreign=foreign,
    )
    report = report_of(task, workers=1, listener=listener, disk=disk)
    return SetReport(
        folder=report.folder,
        n_texts=len(numerals.opened.plans),
        drawn=report.files_made,
        unchanged=report.files_unchanged,
        kept=report.files_kept,
        left_over=report.left_over,
        font_file=numerals.opened.font_file,
        notes=report.notes,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _SetOrder:
    """A numeral set to draw.

    Attributes:
        request: what is asked for.
    """

    request: NumeralRequest

    def open(self) -> _SetProduct:
        """The set.

        Raises:
            InputError: something in the request can't be used.
        """
        opened = open_set(self.request)
        pictures = [
            NumeralPiece(
                name=plan.stem,
                files={PNG: f"{plan.stem}.png", SVG: f"{plan.stem}.svg"},
                canvas=plan.canvas,
                lends=True,
                opened=opened,
                plan=plan,
            )
            for plan in opened.plans
        ]
        overview = OverviewPiece(
            name=Path(OVERVIEW_FILE).stem,
            files={PNG: OVERVIEW_FILE},
            needs=tuple(plan.stem for plan in opened.plans),
            opened=opened,
        )
        file = opened.font_file
        fonts = (
            []
            if file is None
            else [FontPiece(name=Path(file).stem, files={OTF: file}, lends=True, opened=opened)]
        )
        return _SetProduct(
            opened=opened,
            pieces=by_name([*pictures, overview, *fonts]),
            kind=Kind(form=SetForm()),
            masters_file=MASTERS_FILE,
        )


@dataclass(frozen=True, eq=False, kw_only=True)
class _SetProduct(Product):
    """A numeral set.

    Attributes:
        opened: the request, opened.
    """

    opened: OpenSet

    def head(self) -> dict[str, Any]:
        """What the set is made of, and where each numeral lies on its canvas."""
        values: dict[str, Any] = plain_values(set_about(self.opened))
        return values

    def differences(self, about: Mapping[str, Any]) -> tuple[Difference, ...]:
        """Letters and how they are drawn, style by its name, height and ground."""
        return differences_between(_facts_of(about), _facts_of(self.head()))

    def notes(self) -> tuple[Note, ...]:
        """In which way a font is drawn, and under which licence the font file is."""
        opened, found = self.opened, list[Note]()
        if opened.source is None:
            return ()
        font = opened.source.licence.font
        if opened.request.way is Way.AUTO:
            found.append(_way_note(font, is_written=opened.face.is_drawn_with_pen))
        if opened.font_file is not None and opened.source.is_open:
            found.append(
                Note(
                    f"{font} says that it is under the SIL Open Font License, and so "
                    f"{opened.font_file} is as well: whoever gets it gets that licence's text and "
                    f"the copyright notice with it."
                )
            )
        return tuple(found)


def _facts_of(about: Mapping[str, Any]) -> dict[str, object]:
    """What at the top of a set's manifest tells it from others, by the words for it."""
    letters, style = about.get("lettering"), about.get("style")
    letters = letters if isinstance(letters, Mapping) else {}
    style = style if isinstance(style, Mapping) else {}
    height = about.get("height_px")
    return {
        "letters": letters.get("name"),
        "way": letters.get("way"),
        "style": style.get("name"),
        "height": f"{height:g} px" if isinstance(height, int | float) else None,
        "ground": about.get("ground"),
    }


def _way_note(font: str, *, is_written: bool) -> Note:
    """What is said of the way that was chosen for a font."""
    if is_written:
        return Note(
            f"{font}: its letters are written stroke by stroke",
            (Remedy(action=Action.INK_CONTOURS),),
        )
    return Note(
        f"{font}: its letters are inked along their contours, as suits its build",
        (Remedy(action=Action.WRITE_STROKES),),
    )
