"""The pieces of a kit: stamps, the sheets that show them, and the guide."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from pathlib import PurePath
from typing import Any

from inkline.drawing import Drawing, Leaves
from inkline.errors import InputError
from inkline.folder.manifest import plain_values
from inkline.folder.view import FolderView
from inkline.ink.style import EXACT, Style
from inkline.kit.papers.guide_stamps import example_stamps, guide_years
from inkline.kit.papers.makers import GuideMaker, SheetMaker
from inkline.kit.papers.open_kit import OpenKit, calmer_style
from inkline.kit.papers.sheet import GUIDE_VERSION, OVERVIEW, SHEETS_VERSION, SheetJob
from inkline.kit.stamps.plan import StampPlan
from inkline.press.inputs import again_in, drawing_digest, ink_keys, sheet_digest, style_digest
from inkline.press.product import Bench, Made, Piece
from inkline.press.redrawn import ink_on_canvas
from inkline.progress import Note

GUIDE = "guide"


_SHARING = frozenset({"dates", "blocks"})
"""Kinds of stamps that have drawings in common with others of their format; what was drawn for one
is at hand for the next."""


WANTED_MODULES = (
    "inkline.ink.engine",
    "inkline.kit.papers.calendars",
    "inkline.kit.papers.guide",
    "inkline.kit.papers.layouts",
    "inkline.kit.papers.overview",
)
"""What stamps and papers want, whatever the style: most of a process's first second."""
_PATCH_VERSION = 1
"""Raised only when all patched pictures are meant to be made again."""
_LEAST_COST = 2e6
"""Of a stamp, in px of area. Measured on the default kit, as the shares that follow."""
QUICK_COST = 2.8e8
"""What pieces may cost together for one process to make them: an overview, the guide, a layout and
a stamp of the default kit, some 3.5 s. Two more processes would take one to start and have the
guide left when all else is done."""
_SHEET_COST, _OVERVIEW_COST, GUIDE_COST = 0.6, 0.26, 0.44
"""What papers cost as a share of the stamps that they show."""
_NOT_IN_THE_GUIDE = frozenset({"again", "style", "files", "finish"})
"""Values of a recipe that the guide doesn't depend on, or only by way of others."""


@dataclass(frozen=True, eq=False, kw_only=True)
class StampPiece(Piece):
    """One stamp of a kit, or one layer of a finished month.

    Attributes:
        kit: what it belongs to.
        plan: what it is.
        colour: of its ink in a finished month, as `#rrggbb`, or "".
    """

    kit: OpenKit
    plan: StampPlan
    colour: str = ""

    @property
    def is_asked_again(self) -> bool:
        """Whether the recipe asks for another drawing of it or of something on it."""
        again = self.kit.recipe.again
        return bool(again) and bool(again_in(self.plan.drawing(), again))

    @property
    def style(self) -> Style:
        """The style that it is drawn in.

        That is the kit's, calmed at the edge where its numerals are cut for small use, or none.
        """
        style = self.kit.style
        if self.plan.crisp:
            return replace(EXACT, drawn_at=style.drawn_at)
        return calmer_style(style, self.plan.raggedness)

    @property
    def cut_style(self) -> Style | None:
        """The style that what is cut out of it is drawn in: that of the numerals' own stamp."""
        cut = self.plan.cut
        return None if cut is None else calmer_style(self.kit.style, cut.raggedness)

    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:  # noqa: ARG002 - it needs no others
        """The digest of its exact drawing, style, number and what is drawn again."""
        return self._digest(self.plan.drawing())

    def _digest(self, drawing: Drawing) -> str:
        recipe, style, cut_style = self.kit.recipe, self.style.to_dict(), self.cut_style
        if cut_style is not None:
            style["cut"] = cut_style.to_dict()
        digest = drawing_digest(
            drawing, number=recipe.number, again=recipe.again, style=style, ppi=recipe.ppi
        )
        patches = self._patches(drawing)
        return sheet_digest(_PATCH_VERSION, digest, patches) if patches else digest

    def _patches(self, drawing: Drawing) -> list[str]:
        """The keys of what stands on it that its owner drew on another stamp."""
        patches = self.kit.patches
        return [patches[key].key for key in self._keys(drawing) if key in patches]

    def _patched_marks(self, drawing: Drawing) -> list[str]:
        """The names of the marks in whose place that stands."""
        marks = [mark for leaves in Leaves for mark in drawing.marks_that_leave(leaves)]
        keys = self._keys(drawing) or [""] * len(marks)
        pairs = zip(marks, keys, strict=True)
        return [mark.name for mark, key in pairs if key in self.kit.patches]

    def _keys(self, drawing: Drawing) -> list[str]:
        """The keys of its marks; none where nothing is patched, which is nearly always."""
        if not self.kit.patches:
            return []
        recipe = self.kit.recipe
        return ink_keys(
            drawing,
            self.style,
            number=recipe.number,
            again=recipe.again,
            cut_style=self.cut_style,
        )

    def patch_keys(self) -> tuple[str, ...]:
        """The keys of what stands on it, or would, that its owner drew on another stamp."""
        return tuple(self._patches(self.plan.drawing()))

    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:
        """Its picture, inked; marks whose masters are kept are not drawn again."""
        # Slow to import, and wanted only where something is drawn.
        from inkline.ink.engine import draw  # noqa: PLC0415
        from inkline.output.png import png_bytes  # noqa: PLC0415
        from inkline.raster.compose import render  # noqa: PLC0415

        recipe = self.kit.recipe
        inked = draw(
            self.plan.drawing(),
            self.style,
            recipe.number,
            again=recipe.again,
            kept={**bench.kept, **self.kit.patches},
            cut_style=self.cut_style,
        )
        files = {form: png_bytes(render(inked), ppi=recipe.ppi) for form in forms}
        return Made(files=files, masters=tuple(inked.masters))

    def facts(self) -> dict[str, Any]:
        """Its kind, format and canvas."""
        plan = self.plan
        return {"kind": str(plan.kind), "format": plan.format, "canvas": list(plan.canvas)}

    def drawn_with(self) -> dict[str, Any]:
        """The kit's number and style, and where its masters lie on its canvas."""
        style, drawing = self.kit.style, self.plan.drawing()
        further: dict[str, Any] = {"colour": self.colour} if self.colour else {}
        patched = self._patched_marks(drawing)
        further |= {"patched": patched} if patched else {}
        return {
            "number": self.kit.recipe.number,
            "style": {"name": style.name, "digest": style_digest(style.to_dict())},
            "ink": ink_on_canvas(drawing, self.style, self.cut_style) | further,
        }

    def layout(self) -> dict[str, Any]:
        """Its exact geometry."""
        geometry: dict[str, Any] = plain_values(self.plan.geometry())
        return geometry


def stamp_of(kit: OpenKit, plan: StampPlan, *, colour: str = "") -> StampPiece:
    """The piece that draws the stamp `plan`, of this colour in a month."""
    return StampPiece(
        name=plan.name,
        files={"png": plan.file},
        canvas=plan.canvas,
        lends=plan.kind in _SHARING,
        cost=_cost_of(plan),
        kit=kit,
        plan=plan,
        colour=colour,
    )


def _cost_of(plan: StampPlan) -> float:
    """A guess at how long a stamp takes: its area, and as much again for a word of any size."""
    width, height = plan.canvas
    return _LEAST_COST + width * height


@dataclass(frozen=True, eq=False, kw_only=True)
class _SheetPiece(Piece):
    """A sheet that shows stamps as they lie in the folder.

    Attributes:
        kit: what it belongs to.
        makers: who makes its file of each form.
        depends_on: what else it is made from, as plain values.
    """

    kit: OpenKit
    makers: Mapping[str, SheetMaker]
    depends_on: tuple[Any, ...] = ()

    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:
        """The digest of the pictures on it, how they lie, and what its lettering depends on."""
        plans, recipe = self.kit.plans, self.kit.recipe
        pictures = [(stamp, folder.sum_of(plans[stamp].file)) for stamp in there]
        if self.name == OVERVIEW:
            style, family = self.kit.style.to_dict(), recipe.family
            return sheet_digest(
                SHEETS_VERSION, recipe.title, recipe.number, family, style, pictures
            )
        exact = [
            (str(plans[stamp].kind), plans[stamp].canvas, plain_values(plans[stamp].geometry()))
            for stamp in there
        ]
        usual = form == next(iter(self.files))
        further = [*self.depends_on, *([] if usual else [form])]
        return sheet_digest(SHEETS_VERSION, recipe.ppi, exact, pictures, *further)

    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:
        """Its picture, its layers, or both."""
        job = SheetJob(name=self.name, folder=bench.folder, names=bench.there, before=bench.before)
        made = {form: self.makers[form](self.kit, job) for form in forms}
        notes = dict.fromkeys(note for sheet in made.values() for note in sheet.notes)
        return Made(
            files={form: sheet.picture for form, sheet in made.items()},
            notes=tuple(notes),
            facts={key: fact for sheet in made.values() for key, fact in sheet.facts.items()},
        )


@dataclass(frozen=True, eq=False, kw_only=True)
class GuidePiece(Piece):
    """The guide of a kit, which shows no picture but waits for all.

    Attributes:
        kit: what it belongs to.
        guide: makes it.
    """

    kit: OpenKit
    guide: GuideMaker

    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:  # noqa: ARG002 - it has but one
        """The digest of the recipe, the style, and what the stamps are called and how they lie.

        What is drawn again counts where the guide shows it. What its owner changed in their
        pictures makes no difference.
        """
        kit = self.kit
        files = [(name, kit.plans[name].file) for name in there]
        entries = [(file, folder.entry_of(name, file)) for name, file in files]
        # In order, since an entry just made and one read from the manifest differ in theirs.
        stamps = [
            (file, sorted({**entry.facts, **entry.layout}.items()))
            for file, entry in entries
            if entry is not None
        ]
        return sheet_digest(
            GUIDE_VERSION,
            _plain_recipe(kit.recipe),
            self._shown_again(),
            kit.face.name,
            kit.style.to_dict(),
            stamps,
        )

    def _shown_again(self) -> dict[str, int]:
        """What is drawn again of what it shows as it is drawn."""
        again = self.kit.recipe.again
        if not again:
            return {}
        recipe, plans = self.kit.recipe, self.kit.plans
        shown = example_stamps(recipe, plans, year=guide_years(recipe)[0]).plans()
        found = {name for plan in shown for name in again_in(plan.drawing(), again)}
        return {name: again[name] for name in sorted(found)}

    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:
        """Its file; where the kit's letters can't write a guide none, and a note."""
        try:
            return Made(files=dict.fromkeys(forms, self.guide(self.kit, bench.folder)))
        except InputError as problem:
            note = Note(f"{self.files['pdf']} was not made: {problem}")
            return Made(files={}, notes=(note,))


def _plain_recipe(value: Any) -> Any:
    """A recipe, or a value in it, as plain values that are equal where the recipes are.

    Places of files are told by their last names.
    """
    if is_dataclass(value) and not isinstance(value, type):
        own = {
            one.name: getattr(value, one.name)
            for one in fields(value)
            if one.compare and one.name not in _NOT_IN_THE_GUIDE
        }
        return {name: _plain_recipe(one) for name, one in own.items()}
    if isinstance(value, Mapping):
        return [[str(name), _plain_recipe(one)] for name, one in sorted(value.items())]
    if isinstance(value, frozenset):
        return sorted(_plain_recipe(one) for one in value)
    if isinstance(value, tuple | list):
        return [_plain_recipe(one) for one in value]
    if isinstance(value, frozenset):
        return sorted(_plain_recipe(one) for one in value)
    return value.name if isinstance(value, PurePath) else value


def cost_of_plans(kit: OpenKit, names: Iterable[str]) -> float:
    """What drawing the stamps `names` costs, as their pieces guess it."""
    return sum(_cost_of(kit.plans[name]) for name in names)


def papers_of(
    kit: OpenKit,
    sheets: Mapping[str, tuple[str, ...]],
    *,
    makers: Callable[[str], Mapping[str, SheetMaker]],
    depends_on: Callable[[str], tuple[Any, ...]] = lambda _: (),
) -> list[Piece]:
    """The pieces that show stamps.

    Args:
        kit: what they belong to.
        sheets: the stamps that each shows, by its name.
        makers: gives, for a sheet's name, who makes its file of each form.
        depends_on: gives what else a sheet is made from, as plain values.
    """
    return [
        _SheetPiece(
            name=name,
            files={form: f"{name}.{form}" for form in makers(name)},
            needs=needs,
            shows_some=name == OVERVIEW,
            cost=(_OVERVIEW_COST if name == OVERVIEW else _SHEET_COST) * cost_of_plans(kit, needs),
            kit=kit,
            makers=makers(name),
            depends_on=depends_on(name),
        )
        for name, needs in sheets.items()
    ]
