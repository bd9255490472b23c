"""One run of a build: sorts the stamps of one kit by what is to be done, has them drawn, and keeps count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from importlib.metadata import version
from typing import Any

from inkline.folder.kept import KitFolder, masters_file
from inkline.folder.manifest import StampEntry, plain_values
from inkline.folder.state import State
from inkline.folder.strangers import HOLDS, KIT
from inkline.folder.view import KitView
from inkline.kit.months.recipe import contents_of_folder
from inkline.kit.papers.changes import changes_text
from inkline.press.crew import Crew, Staff
from inkline.press.editions import (
    CHANGES,
    EDITION,
    SINCE,
    Before,
    Changes,
    before_in,
    before_of,
    changes_since,
    heirloom,
)
from inkline.press.inputs import sheet_digest
from inkline.press.report import KitReport
from inkline.press.retouch import again_note, picture_size, size_notes, unread_note
from inkline.press.sheets import SheetDesk, sheet_file, sheet_made
from inkline.press.shop import Drawn, Job, Workshop, about_kit
from inkline.progress import Listener, Step

_PACKAGES = (
    "inkline",
    "numpy",
    "scipy",
    "pyclipper",
    "fonttools",
    "uharfbuzz",
    "Babel",
    "opensimplex",
)
"""Whose versions may show in a picture; the manifest lists them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Selection:
    """What a run sees to: stamps in order, and stamps and sheets to draw anew; `sheets` are all there are.

    `partial` is whether stamps were chosen; such a run leaves the kit's number as it is.
    """

    partial: bool
    stamps: tuple[str, ...]
    redraw: frozenset[str]
    sheets: dict[str, tuple[str, ...]]


@dataclass(kw_only=True)
class Run:
    """One run in one folder.

    Attributes:
        shop: the recipe, opened.
        kit: the folder, held.
        selection: what is to be seen to.
        earlier: the edition from which drawings are taken over, or None.
        listener: told of every finished picture.
    """

    shop: Workshop
    kit: KitFolder
    selection: Selection
    earlier: KitView | None
    listener: Listener
    _total: int = 0
    _done: int = 0
    _n_marks: int = 0
    _drawn: set[str] = field(default_factory=set)
    _unchanged: set[str] = field(default_factory=set)
    _kept: set[str] = field(default_factory=set)
    _moved: set[str] = field(default_factory=set)
    _sheets: list[str] = field(default_factory=list)
    _notes: list[str] = field(default_factory=list)

    def done(self, staff: Staff) -> KitReport:
        """Do all of it and report.

        Raises:
            WorkError: something can't be written, or a process was stopped; what was finished is
                kept.
        """
        self._note_folder()
        self._take_over()
        jobs = self._stamp_jobs()
        self._total = len(jobs) + len(self._desk.jobs(drawing={job.name for job in jobs}))
        crew = staff.crew(self.shop, n_jobs=self._total)
        self._draw_stamps(crew, jobs)
        self._make_sheets(crew)
        changes = self._write_changes()
        left_over = self.kit.left_over(self.shop.plans)
        sheets = (*self.selection.sheets, CHANGES)
        self.kit.finish(
            plain_values(self._about(changes)), stamps=tuple(self.shop.plans), sheets=sheets
        )
        return self._report(left_over, changes)

    @property
    def _desk(self) -> SheetDesk:
        redraw, sheets = self.selection.redraw, self.selection.sheets
        return SheetDesk(
            shop=self.shop, kit=self.kit, sheets=sheets, redraw=redraw, notes=self._notes
        )

    def _note_folder(self) -> None:
        if self.kit.foreign:
            self._notes.append(
                f"{self.kit.path} also holds files that are no part of the kit, such as "
                f"{self.kit.foreign}; they stay untouched."
            )
        if self.kit.n_renamed:
            pictures = (
                "1 picture was"
                if self.kit.n_renamed == 1
                else f"{self.kit.n_renamed} pictures were"
            )
            self._notes.append(f"{pictures} renamed by the recipe's pattern.")

    def _take_over(self) -> None:
        """Put in place what an earlier edition has of stamps that aren't there yet: masters, and pictures that would come out the same."""
        if self.earlier is None:
            return
        for name in self.selection.stamps:
            file = self.shop.plans[name].file
            if (
                name in self.selection.redraw
                or name not in self.earlier.known
                or self.kit.sum_of(file) is not None
            ):
                continue
            left = heirloom(self.earlier, name, file=file, inputs=self.shop.inputs(name))
            if left is not None and left.masters is not None:
                self.kit.save_masters(masters_file(name), left.masters)
            if left is not None and left.entry is not None:
                self.kit.save(left.entry, left.picture)

    def _stamp_jobs(self) -> list[Job]:
        """The stamps to draw, the largest first, so that no process is left with a large one at the end."""
        jobs = []
        for name in self.selection.stamps:
            anew = name in self.selection.redraw
            state = self._state(name)
            if state is State.RETOUCHED and not anew and self._usable(name):
                self._keep(name)
            elif state is State.UNCHANGED and not anew:
                self._unchanged.add(name)
            else:
                jobs.append(
                    Job(name=name, masters=None if anew else self.kit.path / masters_file(name))
                )
        return sorted(jobs, key=lambda job: -self.shop.cost(job.name))

    def _state(self, name: str) -> State:
        inputs = self.shop.inputs(name) if name in self.kit.known else ""
        return self.kit.state_of(name, self.shop.plans[name].file, inputs)

    def _usable(self, name: str) -> bool:
        """Whether a stamp that inkline did not draw can be read as a picture; notes it if not, or if its size is wrong."""
        plan = self.shop.plans[name]
        size = picture_size(self.kit.path / plan.file)
        self._notes += (
            [unread_note(name, plan.file)] if size is None else size_notes(name, size, plan.canvas)
        )
        return size is not None

    def _keep(self, name: str) -> None:
        """Leave a retouched stamp alone, and see whether it still fits the layout and is asked for again."""
        self._kept.add(name)
        entry = self.kit.entry_of(name, self.shop.plans[name].file)
        if not isinstance(entry, StampEntry):
            return
        if not entry.same_layout(self.shop.layout_entry(name)):
            self._moved.add(name)
        if self.shop.asked_again(name) and entry.inputs != self.shop.inputs(name):
            self._notes.append(again_note(name))

    def _draw_stamps(self, crew: Crew, jobs: Sequence[Job]) -> None:
        for drawn in crew.results(Workshop.drawn, jobs):
            self._save(drawn)
            self._tell(drawn.entry.name)

    def _save(self, drawn: Drawn) -> None:
        """Put a drawn stamp in its place, unless a picture that nobody knows lies there: that may be the user's own."""
        entry = drawn.entry
        self._n_marks += drawn.n_drawn
        self._notes.extend([drawn.note] if drawn.note else [])
        if entry.name in self.selection.redraw and self.kit.sum_of(entry.file) == entry.sha256:
            self._notes.append(
                f"{entry.name} came out as it was, since one number always draws the same lines; "
                f"for other lines write "
                f'"{entry.name}" = 1 (or one more than stands there) under [again] in the recipe.'
            )
        assert entry.masters is not None  # noqa: S101 - a drawn stamp has masters
        self.kit.save_masters(entry.masters.file, drawn.masters)
        unknown = self.kit.state_of(entry.name, entry.file, entry.inputs) is State.UNKNOWN
        other = (
            unknown
            and entry.name not in self.selection.redraw
            and self.kit.sum_of(entry.file) != entry.sha256
        )
        if other and self._usable(entry.name):
            self.kit.note(entry)
            self._kept.add(entry.name)
        else:
            self.kit.save(entry, drawn.picture)
            self._drawn.add(entry.name)

    def _make_sheets(self, crew: Crew) -> None:
        desk = self._desk
        jobs = desk.jobs(drawing=set())
        shown = {job.name: job.names for job in jobs}
        for sheet in crew.results(sheet_made, jobs[::-1]):
            self._notes.extend(sheet.notes)
            if sheet.picture:
                desk.save(sheet, shown[sheet.name])
                self._sheets.append(sheet.name)
            self._tell(sheet.name)

    def _tell(self, name: str) -> None:
        self._done += 1
        self.listener(Step(name=name, done=self._done, total=max(self._total, self._done)))

    @property
    def _before(self) -> Before | None:
        """The earlier edition: the one given, or the one that the kit has been compared with so far."""
        return before_in(self.kit.about) if self.earlier is None else before_of(self.earlier)

    def _write_changes(self) -> Changes | None:
        """What has changed since the earlier edition, if there is one, and its text in the folder, unless somebody has changed that."""
        before = self._before
        if before is None:
            return None
        recipe, files = (
            self.shop.recipe,
            {name: plan.file for name, plan in self.shop.plans.items()},
        )
        sums = {name: self.kit.sum_of(file) for name, file in files.items()}
        there = {name: checksum for name, checksum in sums.items() if checksum is not None}
        changes = changes_since(before, there, asked=self.shop.plans)
        text = changes_text(
            changes, title=recipe.title, edition=recipe.edition, files=files
        ).encode()
        inputs = sheet_digest(1, text.decode())
        state = self.kit.state_of(CHANGES, sheet_file(CHANGES), inputs)
        if state in {State.MISSING, State.OUTDATED}:
            self._desk.save_file(CHANGES, text, inputs)
            self._sheets.append(CHANGES)
        return changes

    def _about(self, changes: Changes | None) -> dict[str, Any]:
        """What stands at the top of the manifest."""
        about = about_kit(self.shop, {package: version(package) for package in _PACKAGES})
        if self.selection.partial and self.kit.number is not None:
            about["number"] = self.kit.number
        if self.shop.recipe.edition:
            about = {"title": about["title"], EDITION: self.shop.recipe.edition, **about}
        if contents_of_folder(self.shop.recipe) != KIT:
            about = {HOLDS: contents_of_folder(self.shop.recipe), **about}
        if changes is not None and self._before is not None:
            about |= {SINCE: self._before.to_dict(), CHANGES: changes.to_dict()}
        return about

    def _report(self, left_over: tuple[str, ...], changes: Changes | None) -> KitReport:
        def ordered(names: set[str]) -> tuple[str, ...]:
            return tuple(name for name in self.shop.plans if name in names)

        made = set(self._sheets)
        all_sheets = (*self.selection.sheets, *([] if changes is None else [CHANGES]))
        return KitReport(
            folder=self.kit.path,
            drawn=ordered(self._drawn),
            unchanged=ordered(self._unchanged),
            kept=ordered(self._kept),
            moved=ordered(self._moved),
            left_over=left_over,
            sheets=tuple(name for name in all_sheets if name in made),
            sheets_kept=tuple(self._desk.kept([name for name in all_sheets if name not in made])),
            n_marks=self._n_marks,
            notes=tuple(dict.fromkeys(self._notes)),
            changes=changes,
        )
