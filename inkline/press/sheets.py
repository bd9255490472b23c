"""The sheets of a kit as files: which are to be made, what each depends on, and which its owner has changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields, is_dataclass
from pathlib import PurePath
from typing import Any

from inkline.errors import InputError
from inkline.folder.disk import sha256
from inkline.folder.kept import KitFolder
from inkline.folder.manifest import SheetEntry
from inkline.folder.state import State
from inkline.kit.months.recipe import MonthsRecipe
from inkline.kit.papers.dispatch import sheet_made as picture_sheet_made
from inkline.kit.papers.dispatch import sheet_names
from inkline.kit.papers.guide import GUIDE_VERSION, guide_pdf
from inkline.kit.papers.overview import OVERVIEW, SHEETS_VERSION
from inkline.kit.papers.parts import Sheet, SheetJob
from inkline.press.editions import CHANGES
from inkline.press.inputs import sheet_digest
from inkline.press.retouch import picture_size, unread_note
from inkline.press.shop import Workshop

GUIDE = "guide"
_FILES = {CHANGES: "changes.txt", GUIDE: "guide.pdf"}
"""Files of the sheets that are no pictures."""
_NOT_IN_THE_GUIDE = frozenset({"again", "style"})
"""Values of a recipe that the guide doesn't depend on, or only by way of the style."""


def sheet_file(name: str) -> str:
    """Where the sheet `name` lies, from the kit folder."""
    return _FILES.get(name, f"{name}.png")


def sheets_of(shop: Workshop) -> dict[str, tuple[str, ...]]:
    """The stamps that each sheet of the kit needs, by the sheet's name, apart from what has changed since an earlier edition.

    Finished months have no guide: they are put together already.
    """
    sheets = sheet_names(shop)
    return sheets if isinstance(shop.recipe, MonthsRecipe) else sheets | {GUIDE: tuple(shop.plans)}


def sheet_made(shop: Workshop, job: SheetJob) -> Sheet:
    """The sheet that `job` asks for; without a file where the kit's letters can't write a guide, and a note that says so."""
    if job.name != GUIDE:
        return picture_sheet_made(shop, job)
    try:
        return Sheet(name=GUIDE, picture=guide_pdf(shop.recipe, shop.face, shop.style, shop.plans))
    except InputError as problem:
        return Sheet(
            name=GUIDE, picture=b"", notes=(f"{sheet_file(GUIDE)} was not made: {problem}",)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetDesk:
    """Sees to the sheets of one run.

    Attributes:
        shop: the recipe, opened.
        kit: the folder.
        sheets: the stamps that each sheet needs, by its name.
        redraw: names of stamps and sheets to draw anew.
        notes: what the user should know; added to.
    """

    shop: Workshop
    kit: KitFolder
    sheets: Mapping[str, tuple[str, ...]]
    redraw: frozenset[str]
    notes: list[str] = field(default_factory=list)

    def jobs(self, *, drawing: set[str]) -> list[SheetJob]:
        """The sheets to make, once the stamps `drawing` are there; those that need a missing stamp wait for it."""
        jobs = []
        for name, shown in self.sheets.items():
            there = tuple(stamp for stamp in shown if stamp in drawing or self._exists(stamp))
            complete = bool(there) if name == OVERVIEW else there == shown
            if not complete or self._state(name, there, drawing=drawing) in {
                State.UNCHANGED,
                State.RETOUCHED,
            }:
                continue
            jobs.append(SheetJob(name=name, folder=self.kit.path, names=there))
        return jobs

    def save(self, sheet: Sheet, shown: Sequence[str]) -> None:
        """Put a finished sheet, which shows the stamps `shown`, in its place."""
        self.save_file(sheet.name, sheet.picture, self._inputs(sheet.name, shown))

    def save_file(self, name: str, data: bytes, inputs: str) -> None:
        """Put the file of the sheet `name`, which depends on `inputs`, in its place."""
        self.kit.save(
            SheetEntry(name=name, file=sheet_file(name), sha256=sha256(data), inputs=inputs), data
        )

    def kept(self, names: Sequence[str]) -> Iterator[str]:
        """Those of `names` whose files somebody has changed."""
        for name in names:
            if self.kit.state_of(name, sheet_file(name), "") in {State.RETOUCHED, State.UNKNOWN}:
                yield name

    def _exists(self, stamp: str) -> bool:
        return self.kit.sum_of(self.shop.plans[stamp].file) is not None

    def _state(self, name: str, shown: Sequence[str], *, drawing: set[str]) -> State:
        """How a sheet stands; one that shows a stamp still to be drawn is outdated; one to draw anew, or that can't be read, is missing."""
        if name in self.redraw:
            return State.MISSING
        state = self.kit.state_of(name, sheet_file(name), self._inputs(name, shown))
        if state in {State.RETOUCHED, State.UNKNOWN}:
            if name in _FILES or picture_size(self.kit.path / sheet_file(name)) is not None:
                return State.RETOUCHED
            self.notes.append(unread_note(name, sheet_file(name)))
            return State.MISSING
        return State.OUTDATED if state is State.UNCHANGED and drawing & set(shown) else state

    def _inputs(self, name: str, shown: Sequence[str]) -> str:
        """The digest of a sheet: the pictures on it, how they lie, and what its own lettering depends on."""
        if name == GUIDE:
            return self._guide_inputs(shown)
        plans, recipe = self.shop.plans, self.shop.recipe
        pictures = [(stamp, self.kit.sum_of(plans[stamp].file)) for stamp in shown]
        if name == OVERVIEW:
            style = self.shop.style.to_dict()
            return sheet_digest(
                SHEETS_VERSION, recipe.title, recipe.number, recipe.family, style, pictures
            )
        entries = [self.shop.layout_entry(stamp) for stamp in shown]
        exact = [(entry.kind, entry.canvas, entry.geometry) for entry in entries]
        return sheet_digest(SHEETS_VERSION, recipe.ppi, exact, pictures)

    def _guide_inputs(self, shown: Sequence[str]) -> str:
        """The digest of the guide: the recipe, the style, and what the stamps are called and how they lie; not how they were drawn."""
        recipe, plans = self.shop.recipe, self.shop.plans
        entries = [(plans[name].file, self.kit.entry_of(name, plans[name].file)) for name in shown]
        own = {"sha256": "", "inputs": "", "masters": ""}
        # In order, since an entry just made and one read from the manifest differ in theirs.
        stamps = [
            (file, sorted((entry.to_dict() | own).items()))
            for file, entry in entries
            if entry is not None
        ]
        style = self.shop.style.to_dict()
        return sheet_digest(
            GUIDE_VERSION, _plain_recipe(recipe), self.shop.face.name, style, stamps
        )


def _plain_recipe(value: Any) -> Any:
    """A recipe, or a value in it, as plain values that are equal where the recipes are; places of files are told by their last names."""
    if is_dataclass(value) and not isinstance(value, type):
        own = {
            one.name: getattr(value, one.name)
            for one in fields(value)
            if one.compare and one.name not in _NOT_IN_THE_GUIDE
        }
        return {name: _plain_recipe(one) for name, one in own.items()}
    if isinstance(value, Mapping):
        return [[str(name), _plain_recipe(one)] for name, one in sorted(value.items())]
    if isinstance(value, tuple | list):
        return [_plain_recipe(one) for one in value]
    return value.name if isinstance(value, PurePath) else value
