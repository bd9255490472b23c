"""One run: sorts the pieces of a product by what is to be done, has them made, and keeps count."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from inkline.folder.entry import Entry, FileEntry, Section
from inkline.folder.kept import Foreign, KeptFolder, masters_file
from inkline.folder.manifest import plain_values
from inkline.folder.state import Handling, State, handling_of
from inkline.folder.strangers import HOLDS
from inkline.folder.view import FolderView
from inkline.press.choice import Selection, names_in
from inkline.press.crew import Processes
from inkline.press.editions import (
    CHANGES,
    SINCE,
    Before,
    before_in,
    before_of,
    changes_files,
    changes_in,
    changes_text_of,
    inheritance_of,
)
from inkline.press.masters import SharedMasters, damaged_note, shared_masters
from inkline.press.news import News
from inkline.press.patches import keep_patches
from inkline.press.product import Order, Piece, Product
from inkline.press.report import Changes, Report
from inkline.press.retouch import (
    again_note,
    aside_note,
    empty_note,
    folder_notes,
    is_empty,
    kept_notes,
    same_note,
    saved_meanwhile_note,
    unread_earlier_note,
)
from inkline.press.sheets import is_changed_by_hand, sheet_jobs, sheets_kept
from inkline.press.shop import Done, Job, Shop, entry_of_piece
from inkline.press.tally import Tally
from inkline.progress import Listener


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One product to make.

    Attributes:
        order: what it was opened from, for other processes to open it too.
        product: it, opened.
        folder: where it goes; made if need be.
        selection: what is to be seen to.
        number: the drawing number that the folder must have, None if any will do.
        foreign: what to do about a folder that holds something else.
        earlier: the edition from which drawings are taken over, or None.
    """

    order: Order
    product: Product
    folder: Path
    selection: Selection
    number: int | None = None
    foreign: Foreign = Foreign.REFUSE
    earlier: FolderView | None = None


@dataclass(kw_only=True)
class Run:
    """One run in one folder.

    Attributes:
        task: what is to be made.
        folder: where it goes, held.
        listener: told of every piece that was made.
        tally: what became of each.
    """

    task: Task
    folder: KeptFolder
    listener: Listener
    tally: Tally = field(default_factory=Tally)
    _shared: SharedMasters = field(default_factory=lambda: SharedMasters(file=""))

    @property
    def _pieces(self) -> Mapping[str, Piece]:
        return self.task.product.pieces

    def report(self, several: Processes) -> Report:
        """Do all of it and report.

        Raises:
            WorkError: something can't be written, or a process was stopped; what was finished is
                kept.
        """
        product = self.task.product
        self.tally.notes += folder_notes(self.folder, product)
        self._shared = shared_masters(self.folder.path, product.masters_file)
        self.tally.notes += self._shared.notes
        self._take_over()
        keep_patches(self.folder, product.patches)
        self._look_at_redrawn()
        jobs = self._stamp_jobs()
        drawing = frozenset(job.name for job in jobs)
        expected = [job.name for job in (*jobs, *self._sheet_jobs(drawing))]
        news = News(listener=self.listener, pieces=self._pieces)
        news.expect(expected)
        crew = several.crew(Shop(product), self.task.order, n_jobs=product.jobs_to_share(expected))
        for done in crew.results(jobs):
            self._save_stamp(done)
            news.tell(done.name)
        for done in crew.results(self._sheet_jobs(frozenset())[::-1]):
            self._save_sheet(done)
            news.tell(done.name)
        changes = self._write_changes()
        if self._shared.file:
            self.folder.save_masters(self._shared.file, self._shared.data())
        left_over = self.folder.left_over(self._pieces)
        self.folder.finish(plain_values(self._about(changes)), names=(*self._pieces, CHANGES))
        self.tally.notes += product.notes()
        self._count_sheets_left()
        sheets = {name: self._pieces[name].files for name in names_in(product, Section.SHEETS)}
        sheets |= {} if changes is None else changes_files(product)
        stamps = names_in(product, Section.STAMPS)
        return self.tally.report(
            self.folder.path,
            stamps=stamps,
            hers=tuple(
                name
                for name in stamps
                if is_changed_by_hand(self.folder, name, self._pieces[name].files)
            ),
            sheets=sheets,
            sheets_kept=sheets_kept(self.folder, sheets, made=self.tally.made),
            left_over=left_over,
            changes=changes,
        )

    def _take_over(self) -> None:
        """Put in place what an earlier edition has of stamps that aren't there yet."""
        earlier = self.task.earlier
        if earlier is None:
            return
        for name in self.task.selection.stamps:
            piece = self._pieces[name]
            there = any(self.folder.sum_of(file) is not None for file in piece.files.values())
            if name in self.task.selection.redraw or name not in earlier.known or there:
                continue
            left = inheritance_of(earlier, piece)
            self.tally.notes += [
                unread_earlier_note(name, path) for path in (left.unread if left else ())
            ]
            if left is not None and left.masters is not None:
                self.folder.save_masters(masters_file(name), left.masters)
            if left is not None and left.entry is not None:
                for form, data in left.files.items():
                    self.folder.save(left.entry, piece.files[form], data)

    def _look_at_redrawn(self) -> None:
        """Look at what is to be made anew, so that what is saved there from now on is noticed."""
        for name in self.task.selection.redraw:
            for file in self._pieces[name].files.values():
                self.folder.sum_of(file)

    def _stamp_jobs(self) -> list[Job]:
        """The stamps to draw, the largest first, so that no process ends with a large one."""
        jobs = []
        for name in self.task.selection.stamps:
            piece = self._pieces[name]
            inputs = {}
            if name in self.folder.known:
                inputs = {form: piece.inputs(form, self.folder, ()) for form in piece.files}
            forms = self._forms_to_make(piece, inputs)
            if forms or not self._has_shared_masters(piece):
                jobs.append(self._job(name, forms, inputs))
            elif name not in self.tally.kept:
                self.tally.unchanged.add(name)
        return sorted(jobs, key=lambda job: -self._pieces[job.name].cost)

    def _job(self, name: str, forms: tuple[str, ...], inputs: Mapping[str, str]) -> Job:
        return Job(
            name=name,
            folder=self.folder.path,
            forms=forms,
            inputs=inputs,
            masters=self._masters_of(name),
        )

    def _masters_of(self, name: str) -> Path | None:
        """The file of what was drawn before, None to draw all of it anew."""
        if name in self.task.selection.redraw:
            return None
        file = self.task.product.masters_file or masters_file(name)
        path = self.folder.path / file
        if self.folder.has_changed_masters(name, file):
            self.tally.notes.append(damaged_note(path))
            return None
        return path

    def _forms_to_make(self, piece: Piece, inputs: Mapping[str, str]) -> tuple[str, ...]:
        """The forms of a stamp that are to be made; what is left as it is is counted."""
        if piece.name in self.task.selection.redraw:
            return tuple(piece.files)
        forms = []
        for form, file in piece.files.items():
            state = self.folder.state_of(piece.name, file, inputs.get(form, ""))
            handling = handling_of(state)
            if handling is Handling.LEAVE:
                self.tally.files[file] = handling
            elif (
                handling is Handling.KEEP
                and not self.folder.is_drawn_over
                and not self._is_empty(piece, form)
            ):
                self._keep(piece, form, inputs)
            else:
                forms.append(form)
        return tuple(forms)

    def _has_shared_masters(self, piece: Piece) -> bool:
        return not self._shared.file or self._shared.take_over(piece.master_keys())

    def _is_empty(self, piece: Piece, form: str) -> bool:
        """Whether a file is there but nothing is in it, which is noted."""
        file = piece.files[form]
        empty = is_empty(self.folder.path / file)
        self.tally.notes += [empty_note(piece.name, file)] if empty else []
        return empty

    def _keep(self, piece: Piece, form: str, inputs: Mapping[str, str]) -> None:
        """Leave a retouched file alone; see whether it fits the layout and is asked for again."""
        file = piece.files[form]
        self.tally.keep(piece.name, file)
        self.tally.notes += kept_notes(piece, form, self.folder.path / file)
        entry = self.folder.entry_of(piece.name, file)
        own = None if entry is None else entry.at(file)
        if entry is None or own is None:
            return
        if not entry.same_layout(entry_of_piece(piece, files={form: ("", "")})):
            self.tally.moved.add(piece.name)
        if piece.is_asked_again and own.inputs != inputs.get(form):
            self.tally.notes.append(again_note(piece.name))

    def _save_stamp(self, done: Done) -> None:
        """Put a drawn stamp in its place, unless what lies there may be the user's own."""
        entry, redrawn = done.entry, done.name in self.task.selection.redraw
        self._count(done)
        if entry is None:
            return
        if redrawn and all(self.folder.sum_of(one.file) == one.sha256 for one in entry.files):
            self.tally.notes.append(same_note(self.task.product, done.name))
        if entry.masters is not None:
            self.folder.save_masters(entry.masters.file, done.masters, entry=entry)
        for one in entry.files:
            if not redrawn and self._is_hers(done.name, one):
                self.folder.note(entry)
                self.tally.keep(done.name, one.file)
                piece = self._pieces[done.name]
                self.tally.notes += kept_notes(piece, one.form, self.folder.path / one.file)
            else:
                self._save(entry, one, done.files[one.form])

    def _save_sheet(self, done: Done) -> None:
        """Put a finished sheet in its place."""
        self._count(done)
        if done.entry is not None:
            for one in done.entry.files:
                self._save(done.entry, one, done.files[one.form])

    def _save(self, entry: Entry, one: FileEntry, data: bytes) -> None:
        """Put a file in its place, and count what came of that; nothing of its owner's is lost."""
        replaces_hers = entry.name in self.task.selection.redraw or self.folder.is_drawn_over
        save = self.folder.save_beside_hers if replaces_hers else self.folder.save
        saved = save(entry, one.file, data)
        if saved.aside:
            self.tally.notes.append(aside_note(one.file, saved.aside))
        if saved.handling is Handling.KEEP:
            self.tally.keep(entry.name, one.file)
            self.tally.notes.append(saved_meanwhile_note(entry.name, one.file))
        else:
            self.tally.make(entry.name, one.file)

    def _count(self, done: Done) -> None:
        self.tally.n_marks += done.n_drawn
        self.tally.notes += done.notes
        self._shared.add(done.shared)

    def _is_hers(self, name: str, one: FileEntry) -> bool:
        """Whether a file lies at `one` that nobody knows and that differs."""
        if self.folder.state_of(name, one.file, one.inputs) is not State.UNKNOWN:
            return False
        other = self.folder.sum_of(one.file) != one.sha256
        return other and not self._is_empty(self._pieces[name], one.form)

    def _sheet_jobs(self, drawing: frozenset[str]) -> list[Job]:
        return sheet_jobs(
            self.task.product,
            self.folder,
            redraw=self.task.selection.redraw,
            drawing=drawing,
            notes=self.tally.notes,
        )

    def _count_sheets_left(self) -> None:
        """Count the files of sheets that were left as they are."""
        for name in names_in(self.task.product, Section.SHEETS):
            for file in self._pieces[name].files.values():
                if file not in self.tally.files and self.folder.sum_of(file) is not None:
                    hers = is_changed_by_hand(self.folder, name, {"": file})
                    self.tally.files[file] = Handling.KEEP if hers else Handling.LEAVE

    @property
    def _before(self) -> Before | None:
        """The earlier edition: the one given, or the one compared with so far."""
        earlier = self.task.earlier
        return before_in(self.folder.about) if earlier is None else before_of(earlier)

    def _write_changes(self) -> Changes | None:
        """What has changed since the earlier edition, if there is one.

        Its text lies in the folder then, unless somebody has changed that.
        """
        before, product = self._before, self.task.product
        if before is None or not product.changes_file:
            return None
        changes = changes_in(self.folder, product, before)
        entry, data = changes_text_of(product, changes)
        (own,) = entry.files
        state = self.folder.state_of(CHANGES, own.file, own.inputs)
        if state in {State.MISSING, State.OUTDATED}:
            self._save(entry, own, data)
        return changes

    def _about(self, changes: Changes | None) -> dict[str, Any]:
        """What stands at the top of the manifest."""
        product = self.task.product
        about = product.head()
        if self.task.selection.partial and self.folder.number is not None:
            about["number"] = self.folder.number
        if product.kind.holds:
            about = {HOLDS: product.kind.holds, **about}
        if changes is not None and self._before is not None:
            about |= {SINCE: self._before.to_dict(), CHANGES: changes.to_dict()}
        return about
