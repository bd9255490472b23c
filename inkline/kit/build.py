"""Building a kit: from a recipe to a folder of finished stamps."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from importlib.metadata import version
from pathlib import Path

from inkline.errors import InputError
from inkline.kit.choice import chosen_names
from inkline.kit.crew import Crew, hired_staff
from inkline.kit.inputs import sheet_digest
from inkline.kit.manifest import SheetEntry, StampEntry, plain_values
from inkline.kit.recipe_model import Recipe
from inkline.kit.report import KitReport, Listener, Step, unheard
from inkline.kit.retouch import again_note, picture_size, size_notes, unread_note
from inkline.kit.schema import LARGEST_NUMBER
from inkline.kit.sheets import OVERVIEW, SHEETS_VERSION, SheetJob, sheet_made, sheet_names
from inkline.kit.store import Foreign, KitFolder, State, masters_file, open_kit_folder
from inkline.kit.workshop import Drawn, Job, Workshop, about_kit
from inkline.output.files import DISK, Disk, sha256

_PACKAGES = ("inkline", "numpy", "scipy", "pyclipper", "fonttools", "uharfbuzz", "Babel", "opensimplex")
"""Whose versions may show in a picture; the manifest lists them."""


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
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> KitReport:
    """Draw the stamps of `recipe` into `folder` and say what was done.

    Pictures that are as they would be drawn are left alone, and so are those that were retouched by hand. The same recipe
    and drawing number give the same bytes on the same machine, with any number of workers and in any order. A run that is stopped
    leaves every file whole, and the same call again finishes it.

    A kit that was drawn with another number is refused, since all of it would be drawn over; with both `number` and `only`, those
    stamps alone are drawn with that number.

    Args:
        recipe: from `default_recipe` or `load_recipe`.
        folder: where the kit goes; made if need be.
        number: drawing number in place of the recipe's.
        font: font file in place of the recipe's letters.
        workers: how many processes draw; as many as there are cores if None, this process alone if 1. With more, a script
            calls this under `if __name__ == "__main__":`, as for all of Python's processes.
        only: names or patterns of the stamps to see to, such as `tall/*`; all if empty.
        redraw: names or patterns of stamps and sheets to draw anew, even if they were retouched.
        foreign: whether to refuse a folder that is no kit and holds files, and a kit of another number.
        listener: told of every finished picture.
        disk: through which files are changed.

    Raises:
        InputError: something in the arguments, the recipe or the folder can't be used; nothing has been changed.
        WorkError: the folder can't be written, or a process was stopped; what was finished is kept.
    """
    only = tuple(only)
    meant = number is not None and bool(only)
    number = recipe.number if number is None else number
    if not 0 <= number <= LARGEST_NUMBER:
        raise InputError(f"a drawing number must lie between 0 and {LARGEST_NUMBER}, not {number}")
    n_workers = _workers(workers)
    shop = Workshop(replace(recipe, number=number, font=recipe.font if font is None else font))
    selection = _selection(shop, only=only, redraw=tuple(redraw))
    files = {name: plan.file for name, plan in shop.plans.items()} | {
        name: _sheet_file(name) for name in selection.sheets
    }
    expected = None if meant else number
    with open_kit_folder(folder, files=files, foreign=foreign, number=expected, disk=disk) as kit:
        return _Build(shop=shop, kit=kit, selection=selection, listener=listener).done(n_workers)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Selection:
    """What this run sees to: stamps in order, and stamps and sheets to draw anew; `sheets` are all there are.

    `partial` is whether stamps were chosen; such a run leaves the kit's number as it is.
    """

    partial: bool
    stamps: tuple[str, ...]
    redraw: frozenset[str]
    sheets: dict[str, tuple[str, ...]]


def _selection(shop: Workshop, *, only: Sequence[str], redraw: Sequence[str]) -> _Selection:
    names, sheets = tuple(shop.plans), sheet_names(shop)
    anew = chosen_names([*names, *sheets], redraw, option="--redraw")
    chosen = chosen_names(names, only, option="--only") | anew if only else frozenset(names)
    stamps = tuple(name for name in names if name in chosen)
    return _Selection(partial=bool(only), stamps=stamps, redraw=anew, sheets=sheets)


def _workers(workers: int | None) -> int:
    """How many processes to use.

    Raises:
        InputError: fewer than one.
    """
    if workers is None:
        return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    if workers < 1:
        raise InputError(f"--workers must be at least 1, not {workers}")
    return workers


def _sheet_file(name: str) -> str:
    return f"{name}.png"


@dataclass(kw_only=True)
class _Build:
    """One run: sorts the stamps by what is to be done, has them drawn, and keeps count."""

    shop: Workshop
    kit: KitFolder
    selection: _Selection
    listener: Listener
    total: int = 0
    done_count: int = 0
    n_marks: int = 0
    drawn: set[str] = field(default_factory=set)
    unchanged: set[str] = field(default_factory=set)
    kept: set[str] = field(default_factory=set)
    moved: set[str] = field(default_factory=set)
    sheets: list[str] = field(default_factory=list)
    sheets_kept: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def done(self, workers: int) -> KitReport:
        """Do all of it and report."""
        if self.kit.foreign:
            self.notes.append(
                f"{self.kit.path} also holds files that are no part of the kit, such as {self.kit.foreign}; they stay untouched."
            )
        jobs = self._stamp_jobs()
        self.total = len(jobs) + len(self._sheet_jobs(drawing={job.name for job in jobs}))
        with hired_staff(workers) as staff:
            crew = staff.crew(self.shop, n_jobs=self.total)
            self._draw_stamps(crew, jobs)
            self._make_sheets(crew)
        versions = {package: version(package) for package in _PACKAGES}
        stamps, sheets = tuple(self.shop.plans), tuple(self.selection.sheets)
        left_over = self.kit.left_over(stamps)
        about = about_kit(self.shop, versions)
        if self.selection.partial and self.kit.number is not None:
            about["number"] = self.kit.number
        self.kit.finish(plain_values(about), stamps=stamps, sheets=sheets)
        return self._report(left_over)

    def _stamp_jobs(self) -> list[Job]:
        """The stamps to draw, the largest first, so that no process is left with a large one at the end."""
        jobs = []
        for name in self.selection.stamps:
            anew = name in self.selection.redraw
            state = self._state(name)
            if state is State.RETOUCHED and not anew and self._usable(name):
                self._keep(name)
            elif state is State.UNCHANGED and not anew:
                self.unchanged.add(name)
            else:
                jobs.append(Job(name=name, masters=None if anew else self.kit.path / masters_file(name)))
        return sorted(jobs, key=lambda job: -self.shop.cost(job.name))

    def _state(self, name: str) -> State:
        inputs = self.shop.inputs(name) if name in self.kit.known else ""
        return self.kit.state_of(name, self.shop.plans[name].file, inputs)

    def _usable(self, name: str) -> bool:
        """Whether a stamp that inkline did not draw can be read as a picture; notes it if not, or if its size is wrong."""
        plan = self.shop.plans[name]
        size = picture_size(self.kit.path / plan.file)
        self.notes += [unread_note(name, plan.file)] if size is None else size_notes(name, size, plan.canvas)
        return size is not None

    def _keep(self, name: str) -> None:
        """Leave a retouched stamp alone, and see whether it still fits the layout and is asked for again."""
        self.kept.add(name)
        entry = self.kit.entry_of(name, self.shop.plans[name].file)
        if not isinstance(entry, StampEntry):
            return
        if not entry.same_layout(self.shop.layout_entry(name)):
            self.moved.add(name)
        if self.shop.asked_again(name) and entry.inputs != self.shop.inputs(name):
            self.notes.append(again_note(name))

    def _draw_stamps(self, crew: Crew, jobs: Sequence[Job]) -> None:
        for drawn in crew.results(Workshop.drawn, jobs):
            self._save(drawn)
            self._tell(drawn.entry.name)

    def _save(self, drawn: Drawn) -> None:
        """Put a drawn stamp in its place, unless a picture that nobody knows lies there: that may be the user's own."""
        entry = drawn.entry
        self.n_marks += drawn.n_drawn
        self.notes.extend([drawn.note] if drawn.note else [])
        if entry.name in self.selection.redraw and self.kit.sum_of(entry.file) == entry.sha256:
            self.notes.append(
                f"{entry.name} came out as it was, since one number always draws the same lines; for other lines write "
                f'"{entry.name}" = 1 (or one more than stands there) under [again] in the recipe.'
            )
        assert entry.masters is not None  # noqa: S101 - a drawn stamp has masters
        self.kit.save_masters(entry.masters.file, drawn.masters)
        unknown = self.kit.state_of(entry.name, entry.file, entry.inputs) is State.UNKNOWN
        other = unknown and entry.name not in self.selection.redraw and self.kit.sum_of(entry.file) != entry.sha256
        if other and self._usable(entry.name):
            self.kit.note(entry)
            self.kept.add(entry.name)
        else:
            self.kit.save(entry, drawn.picture)
            self.drawn.add(entry.name)

    def _sheet_jobs(self, *, drawing: set[str]) -> list[SheetJob]:
        """The sheets to make, once the stamps `drawing` are there; those that need a missing stamp wait for it."""
        jobs = []
        for name, shown in self.selection.sheets.items():
            there = tuple(stamp for stamp in shown if stamp in drawing or self._exists(stamp))
            complete = bool(there) if name == OVERVIEW else there == shown
            if not complete or self._sheet_state(name, there, drawing=drawing) in {State.UNCHANGED, State.RETOUCHED}:
                continue
            jobs.append(SheetJob(name=name, folder=self.kit.path, names=there))
        return jobs

    def _exists(self, stamp: str) -> bool:
        return self.kit.sum_of(self.shop.plans[stamp].file) is not None

    def _sheet_state(self, name: str, shown: Sequence[str], *, drawing: set[str]) -> State:
        """How a sheet stands; one that shows a stamp still to be drawn is outdated; one to draw anew, or that can't be read, is missing."""
        if name in self.selection.redraw:
            return State.MISSING
        state = self.kit.state_of(name, _sheet_file(name), self._sheet_inputs(name, shown))
        if state in {State.RETOUCHED, State.UNKNOWN}:
            if picture_size(self.kit.path / _sheet_file(name)) is not None:
                return State.RETOUCHED
            self.notes.append(unread_note(name, _sheet_file(name)))
            return State.MISSING
        return State.OUTDATED if state is State.UNCHANGED and drawing & set(shown) else state

    def _sheet_inputs(self, name: str, shown: Sequence[str]) -> str:
        """The digest of a sheet: the pictures on it, how they lie, and what its own lettering depends on."""
        plans, recipe = self.shop.plans, self.shop.recipe
        pictures = [(stamp, self.kit.sum_of(plans[stamp].file)) for stamp in shown]
        if name == OVERVIEW:
            style = self.shop.style.to_dict()
            return sheet_digest(SHEETS_VERSION, recipe.title, recipe.number, recipe.family, style, pictures)
        entries = [self.shop.layout_entry(stamp) for stamp in shown]
        exact = [(entry.kind, entry.canvas, entry.geometry) for entry in entries]
        return sheet_digest(SHEETS_VERSION, recipe.ppi, exact, pictures)

    def _make_sheets(self, crew: Crew) -> None:
        jobs = self._sheet_jobs(drawing=set())
        shown = {job.name: job.names for job in jobs}
        for sheet in crew.results(sheet_made, jobs[::-1]):
            inputs = self._sheet_inputs(sheet.name, shown[sheet.name])
            file, checksum = _sheet_file(sheet.name), sha256(sheet.picture)
            self.kit.save(SheetEntry(name=sheet.name, file=file, sha256=checksum, inputs=inputs), sheet.picture)
            self.notes.extend(sheet.notes)
            self.sheets.append(sheet.name)
            self._tell(sheet.name)
        for name in self.selection.sheets:
            if name not in shown and self.kit.state_of(name, _sheet_file(name), "") in {State.RETOUCHED, State.UNKNOWN}:
                self.sheets_kept.append(name)

    def _tell(self, name: str) -> None:
        self.done_count += 1
        self.listener(Step(name=name, done=self.done_count, total=max(self.total, self.done_count)))

    def _report(self, left_over: tuple[str, ...]) -> KitReport:
        def ordered(names: set[str]) -> tuple[str, ...]:
            return tuple(name for name in self.shop.plans if name in names)

        return KitReport(
            folder=self.kit.path,
            drawn=ordered(self.drawn),
            unchanged=ordered(self.unchanged),
            kept=ordered(self.kept),
            moved=ordered(self.moved),
            left_over=left_over,
            sheets=tuple(name for name in self.selection.sheets if name in self.sheets),
            sheets_kept=tuple(self.sheets_kept),
            n_marks=self.n_marks,
            notes=tuple(dict.fromkeys(self.notes)),
        )
