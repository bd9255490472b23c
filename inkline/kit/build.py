"""Building kits: from recipes to folders of finished stamps."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from inkline.chance import LARGEST_NUMBER
from inkline.errors import InputError
from inkline.folder.disk import DISK, Disk
from inkline.folder.kept import Foreign, open_kit_folder
from inkline.folder.view import KitView
from inkline.kit.months.recipe import contents_of_folder
from inkline.kit.recipe.model import Recipe
from inkline.press.choice import chosen_names
from inkline.press.crew import hired_staff
from inkline.press.editions import CHANGES, earlier_kit
from inkline.press.report import KitReport
from inkline.press.run import Run, Selection
from inkline.press.sheets import sheet_file, sheets_of
from inkline.press.shop import Workshop
from inkline.progress import Listener, unheard
from inkline.source.faults import Fault, RecipeError


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """One kit to build.

    Attributes:
        recipe: from `default_recipe` or `load_recipes`.
        folder: where the kit goes; made if need be.
        since: the folder of an earlier edition, whose drawings are taken over wherever the recipe
            asks for the same, or None.
    """

    recipe: Recipe
    folder: Path
    since: Path | None = None


def build_kit(
    recipe: Recipe,
    folder: Path,
    *,
    number: int | None = None,
    font: Path | None = None,
    workers: int | None = None,
    only: Iterable[str] = (),
    redraw: Iterable[str] = (),
    foreign: Foreign = Foreign.REFUSE,
    since: Path | None = None,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> KitReport:
    """Draw the stamps of `recipe` into `folder` and say what was done; `build_kits` tells of the options.

    Raises:
        InputError: something in the arguments, the recipe or the folder can't be used; nothing has
            been changed.
        WorkError: the folder can't be written, or a process was stopped; what was finished is kept.
    """
    order = Order(recipe=recipe, folder=folder, since=since)
    (report,) = build_kits(
        [order],
        number=number,
        font=font,
        workers=workers,
        only=only,
        redraw=redraw,
        foreign=foreign,
        listener=listener,
        disk=disk,
    )
    return report


def build_kits(
    orders: Iterable[Order],
    *,
    number: int | None = None,
    font: Path | None = None,
    workers: int | None = None,
    only: Iterable[str] = (),
    redraw: Iterable[str] = (),
    foreign: Foreign = Foreign.REFUSE,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> Iterator[KitReport]:
    """Draw the kits of `orders` one after another; a report of each as soon as it is done, so go through all of them.

    Pictures that are as they would be drawn are left alone, and so are those that were retouched by
    hand. The same recipe and drawing number give the same bytes on the same machine, with any
    number of workers and in any order. A run that is stopped leaves every file whole, and the same
    call again finishes it.

    A kit that was drawn with another number is refused, since all of it would be drawn over; with
    both `number` and `only`, those stamps alone are drawn with that number.

    Args:
        orders: the kits, each into a folder of its own.
        number: drawing number in place of the recipes'.
        font: font file in place of the recipes' letters.
        workers: how many processes draw; as many as there are cores if None, this process alone if
            1. With more, a script calls this under `if __name__ == "__main__":`, as for all of
            Python's processes.
        only: names or patterns of the stamps to see to, such as `tall/*`; all if empty. Kits
            without any are passed over.
        redraw: names or patterns of stamps and sheets to draw anew, even if they were retouched.
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
    orders, only, redraw = list(orders), tuple(only), tuple(redraw)
    if number is not None and not 0 <= number <= LARGEST_NUMBER:
        raise InputError(f"a drawing number must lie between 0 and {LARGEST_NUMBER}, not {number}")
    n_workers = _workers(workers)
    _refuse_shared_folder(orders)
    shops = _opened([_with_choices(order.recipe, number, font) for order in orders])
    meant = number is not None and bool(only)
    tasks = [
        _Task(
            shop=shop,
            folder=order.folder,
            selection=selection,
            number=None if meant else shop.recipe.number,
            foreign=foreign,
            earlier=_earlier(
                order, None if meant or foreign is Foreign.LEAVE else shop.recipe.number
            ),
        )
        for order, shop, selection in zip(
            orders, shops, _selections(shops, only, redraw), strict=True
        )
        if selection is not None
    ]
    return _built(tasks, n_workers, listener, disk)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Task:
    """One order, opened: `number` is the one that its folder must have, None if any will do."""

    shop: Workshop
    folder: Path
    selection: Selection
    number: int | None
    foreign: Foreign
    earlier: KitView | None


def _built(
    tasks: Sequence[_Task], workers: int, listener: Listener, disk: Disk
) -> Iterator[KitReport]:
    with hired_staff(workers) as staff:
        for task in tasks:
            files = {name: plan.file for name, plan in task.shop.plans.items()}
            files |= {name: sheet_file(name) for name in (*task.selection.sheets, CHANGES)}
            holds = contents_of_folder(task.shop.recipe)
            with open_kit_folder(
                task.folder,
                files=files,
                foreign=task.foreign,
                number=task.number,
                holds=holds,
                disk=disk,
            ) as kit:
                run = Run(
                    shop=task.shop,
                    kit=kit,
                    selection=task.selection,
                    earlier=task.earlier,
                    listener=listener,
                )
                yield run.done(staff)


def _with_choices(recipe: Recipe, number: int | None, font: Path | None) -> Recipe:
    return replace(
        recipe, number=recipe.number if number is None else number, font=font or recipe.font
    )


def _refuse_shared_folder(orders: Sequence[Order]) -> None:
    """Refuse to build two kits into one folder.

    Raises:
        InputError: two orders have one.
    """
    folders: set[Path] = set()
    for order in orders:
        if order.folder.resolve() in folders:
            raise InputError(
                f"each kit needs a folder of its own, and two would go into {order.folder}"
            )
        folders.add(order.folder.resolve())


def _opened(recipes: Sequence[Recipe]) -> list[Workshop]:
    """A workshop for each recipe.

    Raises:
        RecipeError: something in any of them can't be used; all faults of all of them at once, each
            once.
    """
    shops, faults = [], dict[Fault, None]()
    for recipe in recipes:
        try:
            shops.append(Workshop(recipe))
        except RecipeError as error:
            faults |= dict.fromkeys(error.faults)
    if faults:
        raise RecipeError(faults)
    return shops


def _earlier(order: Order, number: int | None) -> KitView | None:
    return (
        None
        if order.since is None
        else earlier_kit(order.since, folder=order.folder, number=number)
    )


def _selections(
    shops: Sequence[Workshop], only: Sequence[str], redraw: Sequence[str]
) -> list[Selection | None]:
    """What is to be done for each kit, None where nothing was chosen.

    Raises:
        InputError: a pattern that fits no stamp, or sheet, of any kit; names the nearest there is.
    """
    sheets = [sheets_of(shop) for shop in shops]
    stamps = [tuple(shop.plans) for shop in shops]
    all_stamps = list(dict.fromkeys(name for names in stamps for name in names))
    all_sheets = list(dict.fromkeys(name for names in sheets for name in names))
    anew = chosen_names([*all_stamps, *all_sheets], redraw, option="--redraw")
    chosen = (
        chosen_names(all_stamps, only, option="--only") | anew if only else frozenset(all_stamps)
    )
    selections: list[Selection | None] = []
    for names, own in zip(stamps, sheets, strict=True):
        here = tuple(name for name in names if name in chosen)
        selection = Selection(
            partial=bool(only), stamps=here, redraw=anew & {*names, *own}, sheets=own
        )
        selections.append(selection if here or selection.redraw else None)
    return selections


def _workers(workers: int | None) -> int:
    """How many processes to use.

    Raises:
        InputError: fewer than one.
    """
    if workers is None:
        return (
            len(os.sched_getaffinity(0))
            if hasattr(os, "sched_getaffinity")
            else os.cpu_count() or 1
        )
    if workers < 1:
        raise InputError(f"--workers must be at least 1, not {workers}")
    return workers
