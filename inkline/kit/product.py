"""Kits and finished months as products: their stamps and papers as pieces that the press makes.

What makes papers is imported when one is made, for a run that makes none takes a second less so.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType
from typing import Any, Generic, Self, TypeVar

from inkline.folder.strangers import Kind
from inkline.kit.head import head_of
from inkline.kit.letters import face_of
from inkline.kit.months.placing import PLACE_FILE, Placing
from inkline.kit.months.plans import month_plans
from inkline.kit.months.recipe import MonthsRecipe
from inkline.kit.papers.changes import changes_text
from inkline.kit.papers.open_kit import OpenKit
from inkline.kit.papers.sheet import CALENDAR, LAYOUT, OVERVIEW, Sheet, SheetJob
from inkline.kit.papers.shown_layers import layers_of, layout_month, with_most_rows
from inkline.kit.pieces import (
    GUIDE,
    GUIDE_COST,
    WANTED_MODULES,
    GuidePiece,
    SheetMaker,
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
from inkline.press.product import Difference, Piece, Product, by_name, differences_between
from inkline.press.report import Changes
from inkline.press.stamp_form import MONTHS, STAMP_FORM
from inkline.source.faults import RecipeError


@dataclass(frozen=True, slots=True, kw_only=True)
class Papers:
    """Who makes the papers of a kit: functions of modules, so that another process finds them.

    Attributes:
        sheet: makes overview, layouts, calendars and posters.
        guide: makes the guide, a PDF file.
    """

    sheet: SheetMaker
    guide: Callable[[OpenKit], bytes]


def kit_sheet(kit: OpenKit, job: SheetJob) -> Sheet:
    """The overview of a kit, or the layout of one of its formats."""
    if job.name == OVERVIEW:
        from inkline.kit.papers.overview import overview_sheet  # noqa: PLC0415 - as of all sheets

        return overview_sheet(kit, job)
    from inkline.kit.papers.layouts import layout_sheet  # noqa: PLC0415

    return layout_sheet(kit, job)


def months_sheet(kit: OpenKit, job: SheetJob) -> Sheet:
    """The calendar of a month, or the poster of a year."""
    from inkline.kit.papers.calendars import month_sheet  # noqa: PLC0415

    return month_sheet(kit, job)


def _layered_month(kit: OpenKit, job: SheetJob) -> Sheet:
    """The calendar of a month in layers, an OpenRaster file."""
    from inkline.kit.papers.calendars import layered_month  # noqa: PLC0415

    return layered_month(kit, job)


def kit_guide(kit: OpenKit) -> bytes:
    """The guide of a kit.

    Raises:
        InputError: the letters can't write it.
    """
    from inkline.kit.papers.guide import guide_pdf  # noqa: PLC0415

    return guide_pdf(kit.recipe, kit.face, kit.style, kit.plans)


KIT_PAPERS = Papers(sheet=kit_sheet, guide=kit_guide)
_CALENDAR_FORMS: Mapping[str, SheetMaker] = MappingProxyType({"ora": _layered_month})
"""Forms that a finished calendar can have besides its picture, and who makes them."""
MONTHS_PAPERS = Papers(sheet=months_sheet, guide=kit_guide)


@dataclass(frozen=True, eq=False, kw_only=True)
class Kit(Product):
    """A kit, or finished months: its stamps, and the papers that are made of them.

    Attributes:
        kit: the recipe, opened.
    """

    kit: OpenKit

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
    """

    recipe: R
    papers: Papers
    name: str = ""

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
        kit = _opened_kit(self.recipe, face, plans, name=self.name)
        guide = GuidePiece(
            name=GUIDE,
            files={"pdf": "guide.pdf"},
            needs=tuple(kit.plans),
            cost=GUIDE_COST * cost_of_plans(kit, kit.plans),
            kit=kit,
            guide=self.papers.guide,
        )
        papers = papers_of(kit, kit_sheet_names(kit), makers=lambda _: {"png": self.papers.sheet})
        return _product_of(kit, (*papers, guide), kind=Kind(form=STAMP_FORM))


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

        kit = _opened_kit(self.recipe, face, plans, name=self.name)
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
        return _product_of(kit, (*papers, *on_artwork), kind=kind, colours=colours)

    def _makers(self, name: str) -> Mapping[str, SheetMaker]:
        """Who makes the files of the sheet `name`, by their forms."""
        plain = {"png": self.papers.sheet}
        if not name.endswith(f"/{CALENDAR}"):
            return plain
        return plain | {form: _CALENDAR_FORMS[form] for form in self.also}


def _product_of(
    kit: OpenKit, papers: Iterable[Piece], *, kind: Kind, colours: Mapping[str, str] | None = None
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
        wanted_modules=WANTED_MODULES,
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


def _opened_kit(recipe: Recipe, face: Face, plans: tuple[StampPlan, ...], *, name: str) -> OpenKit:
    """What is opened for a kit of these stamps.

    Raises:
        InputError: there is no such style, or two files would be called alike.
    """
    style = recipe.style
    named = {plan.name: plan for plan in plans_with_files(recipe, plans)}
    return OpenKit(recipe=recipe, face=face, style=style, plans=named, name=name)


def kit_sheet_names(kit: OpenKit) -> dict[str, tuple[str, ...]]:
    """The stamps that each sheet of a kit shows, back to front, by the sheet's name."""
    shapes = ((shape, layout_month(kit.recipe, shape)) for shape in kit.recipe.formats)
    layers = {
        f"{shape.name}/{LAYOUT}": layers_of(kit.plans, with_most_rows(shape), shown)
        for shape, shown in shapes
    }
    layouts = {name: stamps for name, stamps in layers.items() if stamps}
    return layouts | {OVERVIEW: tuple(kit.plans)}
