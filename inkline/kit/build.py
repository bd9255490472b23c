"""Building kits and finishing months: from recipes to folders of finished stamps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from inkline.chance import number_of_kit, refuse_number_out_of_range
from inkline.errors import Action, InputError, Remedy
from inkline.folder.disk import DISK, Disk, write_whole
from inkline.folder.kept import Foreign
from inkline.folder.view import FolderView
from inkline.kit.months.placing import PLACE_FILE, Placing, is_remembered, remembering_text
from inkline.kit.months.recipe import MonthsRecipe
from inkline.kit.papers.makers import KIT_PAPERS, MONTHS_PAPERS, Papers
from inkline.kit.patching import (
    notes_on_patches,
    patching_from_kit,
    patching_of,
)
from inkline.kit.product import Kit, KitOrder, MonthsOrder
from inkline.kit.recipe.model import Recipe
from inkline.output.painting import read_painting
from inkline.press.choice import selections_among
from inkline.press.crew import number_of_workers
from inkline.press.editions import earlier_edition
from inkline.press.report import Report
from inkline.press.run import Task
from inkline.press.tasks import reports_of
from inkline.progress import Listener, unheard
from inkline.proof.finding import KitProof
from inkline.source.faults import Fault, RecipeError


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """One kit to build, or months to finish.

    Attributes:
        order: what is to be drawn.
        folder: where it goes; made if need be.
        since: the folder of an earlier edition, whose drawings are taken over wherever the recipe
            asks for the same, or None.
        kit_folder: for months the folder of a kit whose retouches stand in them too, or None.
    """

    order: KitOrder | MonthsOrder
    folder: Path
    since: Path | None = None
    kit_folder: Path | None = None


def build_kit(
    recipe: Recipe,
    folder: Path,
    *,
    number: int | None = None,
    font: Path | None = None,
    workers: int | None = None,
    only: Iterable[str] = (),
    redraw: Iterable[str] = (),
    spread: Iterable[str] = (),
    foreign: Foreign = Foreign.REFUSE,
    since: Path | None = None,
    papers: Papers = KIT_PAPERS,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> Report:
    """Draw the stamps of `recipe` into `folder`; what was done. `build_all` tells of the options.

    `papers` says who makes the overview, the layouts and the guide.

    Raises:
        InputError: something in the arguments, the recipe or the folder can't be used; nothing has
            been changed.
        WorkError: the folder can't be written, or a process was stopped; what was finished is kept.
    """
    (report,) = build_all(
        [Request(order=KitOrder(recipe=recipe, papers=papers), folder=folder, since=since)],
        number=number,
        font=font,
        workers=workers,
        only=only,
        redraw=redraw,
        spread=spread,
        foreign=foreign,
        listener=listener,
        disk=disk,
    )
    return report


def finish_months(
    recipe: MonthsRecipe,
    folder: Path,
    *,
    workers: int | None = None,
    only: Iterable[str] = (),
    foreign: Foreign = Foreign.REFUSE,
    also: Iterable[str] = (),
    placing: Placing | None = None,
    kit_folder: Path | None = None,
    papers: Papers = MONTHS_PAPERS,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> Report:
    """Draw the layers of the months of `recipe` into `folder`, put together as calendars.

    `also` are forms that each calendar is to have besides its picture, of those in
    `product.MonthsOrder`. With a `placing` they are stamped into its picture too, which is
    remembered in the folder. What was retouched in the kit in `kit_folder` stands in them, and
    stays there when they are finished again without one. Other options and errors are those of
    `build_all`.
    """
    if placing is not None:
        read_painting(placing.on)  # refused before anything is drawn
    order = MonthsOrder(
        recipe=recipe, papers=papers, also=tuple(dict.fromkeys(also)), placing=placing
    )
    (report,) = build_all(
        [Request(order=order, folder=folder, kit_folder=kit_folder)],
        workers=workers,
        only=only,
        foreign=foreign,
        listener=listener,
        disk=disk,
    )
    if placing is not None and not is_remembered(placing, folder):
        text = remembering_text(placing, folder)
        write_whole(folder / PLACE_FILE, text.encode(), disk=disk)
    return report


def build_all(
    requests: Iterable[Request],
    *,
    number: int | None = None,
    font: Path | None = None,
    workers: int | None = None,
    only: Iterable[str] = (),
    redraw: Iterable[str] = (),
    spread: Iterable[str] = (),
    foreign: Foreign = Foreign.REFUSE,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> Iterator[Report]:
    """Draw what is requested, one after another; a report of each as soon as it is done.

    So go through all of them. Pictures that are as they would be drawn are left alone, and so are
    those that were retouched by hand. The same recipe and drawing number give the same bytes on the
    same machine, with any number of workers and in any order. A run that is stopped leaves every
    file whole, and the same call again finishes it.

    A kit that was drawn with another number is refused, since all of it would be drawn over; with
    both `number` and `only`, those stamps alone are drawn with that number.

    Args:
        requests: each into a folder of its own.
        number: drawing number in place of the recipes'.
        font: font file in place of the recipes' letters.
        workers: how many processes draw; as many as there are cores if None, this process alone if
            1. With more, a script calls this under `if __name__ == "__main__":`, as for all of
            Python's processes.
        only: names or patterns of the stamps to see to, such as `tall/*`; all if empty. Kits
            without any are passed over.
        redraw: names or patterns of stamps and sheets to draw anew, even if they were retouched; a
            part of a stamp that was spread, or that stamp, gives up what was spread.
        spread: names of what its owner has drawn in cells of retouched stamps, such as
            `tall/dates-3/17`, to stand wherever the same drawing does; of one kit.
        foreign: whether to refuse a folder that is no kit and holds files, and a kit of another
            number.
        listener: told of every finished picture.
        disk: through which files are changed.

    Raises:
        InputError: something in the arguments, a recipe or an earlier edition can't be used;
            nothing has been changed. While going through the reports: the folder of the next kit
            can't be used.
        WorkError: a folder can't be written, or a process was stopped; what was finished is kept.
    """
    only, redraw, spread = tuple(only), tuple(redraw), tuple(spread)
    if number is not None:
        refuse_number_out_of_range(number)
    n_workers, requests = number_of_workers(workers), tuple(requests)
    requests = [
        _with_choices(request, _number_for(request, number, len(requests)), font)
        for request in requests
    ]
    _refuse_shared_folder(requests)
    requests, kits, redraw = _patched_kits(requests, spread=spread, redraw=redraw)
    meant = number is not None and bool(only)
    tasks = [
        Task(
            order=request.order,
            product=kit,
            folder=request.folder,
            selection=selection,
            number=None if meant else kit.number,
            foreign=foreign,
            earlier=_earlier_edition(
                request, kit, number=None if meant or foreign is Foreign.LEAVE else kit.number
            ),
        )
        for request, kit, selection in zip(
            requests, kits, selections_among(kits, only=only, redraw=redraw), strict=True
        )
        if selection is not None
    ]
    return reports_of(tasks, workers=n_workers, listener=listener, disk=disk)


def proof_of_drawn(report: Report) -> KitProof:
    """What a run drew, held against the exact layout; what it left unchanged is not proved again.

    Takes 0.8 s for the default kit.

    Raises:
        InputError: the folder's manifest can't be read.
    """
    from inkline.press.redrawn import just_drawn_stamp  # noqa: PLC0415 - wanted once all is drawn
    from inkline.proof.kit_proof import prove_drawn  # noqa: PLC0415

    return prove_drawn(report.folder, frozenset(report.drawn), drawer=just_drawn_stamp)


def _number_for(request: Request, number: int | None, n_kits: int) -> int | None:
    """The number in place of a recipe's: of several kits each has one of its own, made of it."""
    if number is None or n_kits == 1:
        return number
    return number_of_kit(number, request.order.name)


def _with_choices(request: Request, number: int | None, font: Path | None) -> Request:
    """`request` with another drawing number or font in its recipe, where one is given."""
    order = request.order
    number = order.recipe.number if number is None else number
    font = font or order.recipe.font
    return replace(request, order=order.with_choices(number=number, font=font))


def _refuse_shared_folder(requests: Sequence[Request]) -> None:
    """Refuse to build two kits into one folder.

    Raises:
        InputError: two requests have one.
    """
    folders: set[Path] = set()
    for request in requests:
        if request.folder.resolve() in folders:
            raise InputError(
                f"each kit needs a folder of its own, and two would go into {request.folder}"
            )
        folders.add(request.folder.resolve())


def _opened_kits(requests: Sequence[Request]) -> list[Kit]:
    """What is requested, opened and looked over.

    Raises:
        RecipeError: something in any of them can't be used; all faults of all of them at once, each
            once.
    """
    kits, faults = [], dict[Fault, None]()
    for request in requests:
        try:
            kits.append(request.order.open_and_check())
        except RecipeError as error:
            faults |= dict.fromkeys(error.faults)
    if faults:
        raise RecipeError(faults)
    return kits


def _patched_kits(
    requests: Sequence[Request], *, spread: Sequence[str], redraw: Sequence[str]
) -> tuple[list[Request], list[Kit], tuple[str, ...]]:
    """What is requested, with what its owners drew in cells; it opened, and what else to redraw.

    Raises:
        InputError: as `_opened_kits` and `patching.patching_of`, or something of several kits is to
            be spread.
    """
    if spread and len(requests) > 1:
        raise InputError(
            "what is spread belongs to one kit, and several are to be drawn",
            setting="spread",
            remedies=(Remedy(action=Action.NAME_THE_KIT),),
        )
    patchings = [
        patching_from_kit(request.kit_folder)
        if request.kit_folder is not None
        else patching_of(request.folder, since=request.since, spread=spread, redraw=redraw)
        for request in requests
    ]
    requests = [
        replace(request, order=replace(request.order, patches=patching.patches))
        for request, patching in zip(requests, patchings, strict=True)
    ]
    kits = [
        replace(kit, said=notes_on_patches(kit, patching))
        for kit, patching in zip(_opened_kits(requests), patchings, strict=True)
    ]
    parts = {one for patching in patchings for one in {*redraw} - {*patching.redraw}}
    return requests, kits, tuple(one for one in redraw if one not in parts)


def _earlier_edition(request: Request, kit: Kit, *, number: int | None) -> FolderView | None:
    if request.since is None:
        return None
    return earlier_edition(request.since, folder=request.folder, number=number, product=kit)
