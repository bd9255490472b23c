"""Kits and finished months as products: their stamps and papers as pieces that the press makes.

What makes papers is imported when one is made, for a run that makes none takes a second less so.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Generic, Self, TypeVar

from inkline.folder.strangers import Kind
from inkline.kit.head import head_of
from inkline.kit.letters import face_of
from inkline.kit.months.placing import PLACE_FILE, Placing
from inkline.kit.months.plans import month_plans
from inkline.kit.months.recipe import MonthsRecipe
from inkline.kit.papers.changes import changes_text
from inkline.kit.papers.makers import CALENDAR_FORMS, KIT_PAPERS, MONTHS_PAPERS, Papers, SheetMaker
from inkline.kit.papers.open_kit import OpenKit
from inkline.kit.papers.sheet import CALENDAR, LAYOUT, OVERVIEW
from inkline.kit.papers.shown_layers import layers_of, layout_month, with_most_rows
from inkline.kit.pieces import (
    GUIDE,
    GUIDE_COST,
    QUICK_COST,
    WANTED_MODULES,
    GuidePiece,
    cost_of_plans,
    papers_of,
    stamp_of,
)
from inkline.kit.recipe.keys import KITS
from inkline.kit.recipe.model import DEFAULT_SOURCE, Recipe
from inkline.kit.stamps.catalogue import plan_makers
from inkline.kit.stamps.faults.every import recipe_faults
from inkline.kit.stamps.file_names import plans_with_files
from inkline.kit.stamps.plan import StampPlan
from inkline.lettering.face import Face
from inkline.press.patches import Patch, masters_of_patches
from inkline.press.product import Difference, Piece, Product, by_name, differences_between
from inkline.press.report import Changes
from inkline.press.stamp_form import MONTHS, STAMP_FORM
from inkline.progress import Note
from inkline.source.faults import RecipeError


@dataclass(frozen=True, eq=False, kw_only=True)
class Kit(Product):
    """A kit, or finished months: its stamps, and the papers that are made of them.

    Attributes:
        kit: the recipe, opened.
        said: what the user should know of it.
    """

    kit: OpenKit
    said: tuple[Note, ...] = ()

    def notes(self) -> tuple[Note, ...]:
        """What was noticed before it was drawn."""
        return self.said

    def head(self) -> dict[str, Any]:
        """Title, resolution, number, style, letters and versions."""
        return head_of(self.kit)

    def differences(self, about: Mapping[str, Any]) -> tuple[Difference, ...]:
        """The title, and the name that a kit has among several."""
        before = {"title": about.get("title"), "name": about.get("kit")}
        now = {"title": self.kit.recipe.title, "name": self.kit.name}
        return differences_between(before, now)

    def way_to_names(self) -> str:
        """The recipe."""
        return "the recipe's pattern"

    def way_to_other_lines(self, name: str) -> str:
        """By a key of the recipe."""
        return f'write "{name}" = 1 (or one more than stands there) under [again] in the recipe'

    def way_to_number(self, number: int, about: Mapping[str, Any]) -> str:
        """By the recipe's key, or by that of one kit among several; siblings share no lines."""
        recipe, before = self.kit.recipe, about.get("kit")
        if recipe.source == DEFAULT_SOURCE:
            return ""
        if not recipe.kit:
            return f"write number = {number} in {recipe.source}"
        key = f"number = {number} under [{KITS}.{recipe.kit}] in {recipe.source}"
        if before in {None, recipe.kit}:
            return f"write {key}"
        return (
            f'it holds the kit "{before}", and each kit of a line draws lines of its own; the '
            f'folder of an earlier "{recipe.kit}" is required, or {key}'
        )

    def changes_text(self, changes: Changes) -> str:
        """What is new, stamp by stamp, in plain words."""
        recipe, plans = self.kit.recipe, self.kit.plans
        files = {name: plan.file for name, plan in plans.items()}
        return changes_text(changes, title=recipe.title, edition=recipe.edition, files=files)


R = TypeVar("R", bound=Recipe)


@dataclass(frozen=True, kw_only=True)
class RecipeOrder(ABC, Generic[R]):
    """What is drawn from a recipe.

    Attributes:
        recipe: what is drawn.
        papers: who makes its papers.
        name: what the kit is called among several, or "".
        patches: what its owner drew in place of marks.
    """

    recipe: R
    papers: Papers
    name: str = ""
    patches: tuple[Patch, ...] = ()

    def with_choices(self, *, number: int, font: Path | None) -> Self:
        """The order with this drawing number and font."""
        return replace(self, recipe=replace(self.recipe, number=number, font=font))

    def open(self) -> Kit:
        """What is drawn, of a recipe that has been looked over.

        Raises:
            InputError: a font or a family cannot be used, or two files would be called alike.
        """
        face = face_of(self.recipe)
        return self._product(face, self._plans(face))

    def open_and_check(self) -> Kit:
        """What is drawn, once the recipe has been looked over. Cost: 0.2 s for the default one.

        Raises:
            RecipeError: something doesn't fit its place, the face lacks a letter, or a name to be
                drawn again is unknown; all faults at once.
            InputError: as `open`.
        """
        face = face_of(self.recipe)
        _check_recipe(self.recipe, face)
        return self._product(face, self._plans(face))

    @abstractmethod
    def _plans(self, face: Face) -> tuple[StampPlan, ...]:
        """Plans of all stamps."""

    @abstractmethod
    def _product(self, face: Face, plans: tuple[StampPlan, ...]) -> Kit:
        """The product of these stamps."""


@dataclass(frozen=True, kw_only=True)
class KitOrder(RecipeOrder[Recipe]):
    """A kit to draw."""

    papers: Papers = KIT_PAPERS

    def _plans(self, face: Face) -> tuple[StampPlan, ...]:
        return _kit_plans(self.recipe, face)

    def _product(self, face: Face, plans: tuple[StampPlan, ...]) -> Kit:
        kit = _opened_kit(self, face, plans)
        guide = GuidePiece(
            name=GUIDE,
            files={"pdf": "guide.pdf"},
            needs=tuple(kit.plans),
            shows_pictures=False,
            cost=GUIDE_COST * cost_of_plans(kit, kit.plans),
            kit=kit,
            guide=self.papers.guide,
        )
        papers = papers_of(kit, kit_sheet_names(kit), makers=lambda _: {"png": self.papers.sheet})
        pieces = (*papers, guide)
        return _product_of(kit, pieces, kind=Kind(form=STAMP_FORM), patches=self.patches)


@dataclass(frozen=True, kw_only=True)
class MonthsOrder(RecipeOrder[MonthsRecipe]):
    """Months to finish. They have no guide, since they are put together already.

    Attributes:
        also: forms besides its picture in which each calendar is made: "ora", an OpenRaster file.
        placing: where they are stamped into a picture, if they are.
    """

    papers: Papers = MONTHS_PAPERS
    also: tuple[str, ...] = ()
    placing: Placing | None = None

    def _plans(self, face: Face) -> tuple[StampPlan, ...]:
        return month_plans(self.recipe, face)

    def _product(self, face: Face, plans: tuple[StampPlan, ...]) -> Kit:
        from inkline.kit.papers.calendars import (  # noqa: PLC0415 - kits don't want it
            colours_of_months,
            month_sheet_names,
        )

        kit = _opened_kit(self, face, plans)
        plans = tuple(kit.plans.values())
        sheets = month_sheet_names(self.recipe, plans)
        papers = papers_of(kit, sheets, makers=self._makers)
        kind, colours = (
            Kind(form=STAMP_FORM, holds=MONTHS, beside=(PLACE_FILE,)),
            colours_of_months(plans),
        )
        on_artwork: list[Piece] = []
        if self.placing is not None:
            from inkline.kit.artwork import artwork_papers  # noqa: PLC0415 - few want it

            on_artwork = artwork_papers(kit, self.placing, colours)
        pieces = (*papers, *on_artwork)
        return _product_of(kit, pieces, kind=kind, colours=colours, patches=self.patches)

    def _makers(self, name: str) -> Mapping[str, SheetMaker]:
        """Who makes the files of the sheet `name`, by their forms."""
        plain = {"png": self.papers.sheet}
        if not name.endswith(f"/{CALENDAR}"):
            return plain
        return plain | {form: CALENDAR_FORMS[form] for form in self.also}


def _product_of(
    kit: OpenKit,
    papers: Iterable[Piece],
    *,
    kind: Kind,
    colours: Mapping[str, str] | None = None,
    patches: tuple[Patch, ...] = (),
) -> Kit:
    """The stamps of `kit` in the order of the catalogue, then its papers."""
    inks = colours or {}
    stamps = [stamp_of(kit, plan, colour=inks.get(name, "")) for name, plan in kit.plans.items()]
    return Kit(
        kit=kit,
        pieces=by_name([*stamps, *papers]),
        kind=kind,
        number=kit.recipe.number,
        changes_file="changes.txt",
        patches=patches,
        wanted_modules=WANTED_MODULES,
        quick_cost=QUICK_COST,
    )


def catalogue(recipe: Recipe, face: Face) -> tuple[StampPlan, ...]:
    """Plans of all stamps of a kit, once the recipe has been looked over.

    Raises:
        RecipeError: something doesn't fit its place, the face lacks a letter, or a name to be drawn
            again is unknown; all faults at once.
    """
    _check_recipe(recipe, face)
    return _kit_plans(recipe, face)


def months_catalogue(recipe: MonthsRecipe, face: Face) -> tuple[StampPlan, ...]:
    """Plans of all layers of finished months, once the recipe has been looked over.

    Errors are those of `catalogue`.
    """
    _check_recipe(recipe, face)
    return month_plans(recipe, face)


def _kit_plans(recipe: Recipe, face: Face) -> tuple[StampPlan, ...]:
    """Plans of all stamps of a kit: format by format, then the words."""
    return tuple(make() for make in plan_makers(recipe, face).values())


def _check_recipe(recipe: Recipe, face: Face) -> None:
    """Refuse a recipe that can't be laid out with these letters.

    Raises:
        RecipeError: all that is wrong, at once.
    """
    faults = recipe_faults(recipe, face)
    if faults:
        raise RecipeError(faults)


def _opened_kit(order: RecipeOrder[R], face: Face, plans: tuple[StampPlan, ...]) -> OpenKit:
    """What is opened for a kit of these stamps.

    Raises:
        InputError: there is no such style, or two files would be called alike.
    """
    recipe, style = order.recipe, order.recipe.style
    named = {plan.name: plan for plan in plans_with_files(recipe, plans)}
    return OpenKit(
        recipe=recipe,
        face=face,
        style=style,
        plans=named,
        name=order.name,
        patches=masters_of_patches(order.patches),
    )


def kit_sheet_names(kit: OpenKit) -> dict[str, tuple[str, ...]]:
    """The stamps that each sheet of a kit shows, back to front, by the sheet's name."""
    shapes = ((shape, layout_month(kit.recipe, shape)) for shape in kit.recipe.formats)
    layers = {
        f"{shape.name}/{LAYOUT}": layers_of(kit.plans, with_most_rows(shape), shown)
        for shape, shown in shapes
    }
    layouts = {name: stamps for name, stamps in layers.items() if stamps}
    return layouts | {OVERVIEW: tuple(kit.plans)}
