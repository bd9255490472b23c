"""The overview of a kit: one sheet with all its stamps, as they lie in its folder.

It is made from the pictures in the folder, so it shows retouches as they are; one that isn't white
on black is no stamp, and is shown in its own colours.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from inkline.drawing import Cap, Drawing, Layer, Mark, Role, Stroke
from inkline.ink.engine import draw
from inkline.ink.style import Style
from inkline.kit.papers.open_kit import OpenKit
from inkline.kit.papers.overview_items import (
    FormatSection,
    OverviewSetting,
    PixelBox,
    ShownStamp,
    StampSeries,
)
from inkline.kit.papers.overview_renewal import (
    do_boxes_meet,
    facts_of_overview,
    renewed_pixels,
)
from inkline.kit.papers.overview_setting import set_overview
from inkline.kit.papers.parts import Pictures, drawn_box, picture_part
from inkline.kit.papers.sheet import OVERVIEW, Sheet, SheetJob
from inkline.kit.papers.shown_layers import first_year, layers_of
from inkline.kit.recipe.choices import Shows
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.month import month_that_fits
from inkline.kit.stamps.names import WORDS, SplitPart, Subject, last_part, name_from_text
from inkline.kit.stamps.plan import StampPlan
from inkline.kit.stamps.words import month_name, year_name
from inkline.lettering.face import Face
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.output.png import colour_png_bytes
from inkline.pages.letters import PLAIN, line_marks
from inkline.pages.lines import Tone
from inkline.pages.page import Page, part_on_page
from inkline.pages.palette import ACCENT, BLOCK, CARD, INK, PAPER, STRONG_BLOCK, colour_of_tone
from inkline.raster.compose import render

_DATED = frozenset({Shows.MONTH, Shows.STRIP})
_MOST_SHOWN = 8
"""Stamps that differ in little are shown one by one up to this many."""
_LAYER_NAMES = {Tone.STRONG: "title", Tone.ACCENT: "heading", Tone.SOFT: "label"}
"""What the layers of the overview's own lettering are called; their marks begin with it, and the
lines of each are drawn in an order of their own."""
_LETTERED_AT = 0.3
"""The overview's own lettering is drawn on a sheet this share as wide, or small labels would shake
like large ones."""
_TITLE_SPACING_EM, _SPACING_EM = 0.03, 0.06
_SHEET_PPI = 150.0


def overview_sheet(kit: OpenKit, job: SheetJob) -> Sheet:
    """The whole kit on one sheet.

    Where the one that lies there shows the same in the same places, only what has another picture
    by now is put there anew; all else stays as it is, to the byte.
    """
    setting = _overview_setting(kit, job.names)
    facts = _facts(kit, setting, job.folder)
    printer = _Printer(kit=kit, setting=setting, folder=job.folder)
    pixels = renewed_pixels(
        job.folder / f"{job.name}.png",
        setting,
        facts,
        before=job.before,
        part=lambda box: printer.page(box).srgb(),
    )
    if pixels is None:
        page = printer.page((0, 0, *setting.size))
        _add_lettering(page, kit, setting)
        pixels = page.srgb()
    return Sheet(
        name=job.name,
        picture=colour_png_bytes(pixels, ppi=_SHEET_PPI),
        notes=tuple(printer.pictures.notes),
        facts=facts,
    )


def _facts(kit: OpenKit, setting: OverviewSetting, folder: Path) -> dict[str, Any]:
    """What decides every pixel of the sheet: its setting and lettering, and each picture's sum."""
    shown = dict.fromkeys(place.name for place in setting.prints)
    colours = [_colour_of_stamp(kit.plans[name]) for name in shown]
    look = (kit.recipe.number, kit.recipe.family, kit.style.to_dict(), colours)
    return facts_of_overview(setting, look, {name: folder / kit.plans[name].file for name in shown})


@dataclass(kw_only=True)
class _Printer:
    """Prints cards and stamps on a part of the sheet.

    Attributes:
        kit: whose stamps.
        setting: where they stand.
        folder: where their pictures lie.
        pictures: reads those.
    """

    kit: OpenKit
    setting: OverviewSetting
    folder: Path
    pictures: Pictures = field(default_factory=Pictures)

    def page(self, box: PixelBox) -> Page:
        """What stands within `box` of the sheet, but its lettering."""
        corner, size = box[:2], (box[2] - box[0], box[3] - box[1])
        page = Page(size, colour=PAPER)
        for x, y, width, height in self.setting.cards:
            card = np.full((height, width), 255, np.uint8)
            part, at = part_on_page(card, at=(x - corner[0], y - corner[1]), size=size)
            page.ink(part, at=at, colour=CARD)
        inside = [one for one in self.setting.prints if do_boxes_meet(one.box, box)]
        for name in dict.fromkeys(place.name for place in inside):
            plan = self.kit.plans[name]
            path, canvas = self.folder / plan.file, plan.canvas
            picture = self.pictures.picture(path, canvas=canvas)
            colours = self.pictures.colours(path, picture, canvas=canvas)
            for place in (place for place in inside if place.name == name):
                shown = picture if colours is None else colours
                whole = picture_part(shown, place.part, canvas=canvas, size=place.size)
                at = (place.x - corner[0], place.y - corner[1])
                part, at = part_on_page(whole, at=at, size=size)
                if colours is None:
                    page.ink(part, at=at, colour=_colour_of_stamp(plan))
                else:
                    page.paste(part, at=at)
        return page


def _add_lettering(page: Page, kit: OpenKit, setting: OverviewSetting) -> None:
    """Print all lines of the sheet on it."""
    face = _labels_face(kit)
    for tone in _LAYER_NAMES:
        marks = tuple(_lettering_marks(setting, face, tone))
        picture = _lettering_picture(kit, setting, tone, marks)
        page.ink(picture, at=(0, 0), colour=colour_of_tone(tone))


def _colour_of_stamp(plan: StampPlan) -> str:
    """The colour in which the overview shows a stamp."""
    if plan.kind == "blocks":
        return BLOCK if plan.cut is None else STRONG_BLOCK
    name = name_from_text(plan.name)
    is_rest = name is not None and name.split in {SplitPart.SATURDAYS, SplitPart.SUNDAYS}
    return ACCENT if plan.kind == "marks" or is_rest else INK


def _overview_setting(kit: OpenKit, names: Sequence[str]) -> OverviewSetting:
    """The overview of the stamps `names`, each in its section."""
    plans = {name: kit.plans[name] for name in names}
    groups: dict[tuple[object, ...], list[ShownStamp]] = {}
    for plan in (plan for plan in plans.values() if plan.format is None):
        groups.setdefault(_group(plan.name), []).append(_item(plan))
    there = {plan.format for plan in plans.values()}
    shapes = [shape for shape in kit.recipe.formats if shape.name in there]
    return set_overview(
        title=kit.recipe.title,
        note=f"{len(names)} stamps" if len(names) != 1 else "1 stamp",
        formats=[_section(kit.recipe, plans, shape, place) for place, shape in enumerate(shapes)],
        words_title=WORDS,
        words=list(groups.values()),
    )


def _section(
    recipe: Recipe, plans: Mapping[str, StampPlan], shape: FormatRecipe, place: int
) -> FormatSection:
    """One format: a true month beside all single stamps.

    Its weeks begin on each of the kit's days by turns, from format to format.
    """
    starts = tuple(recipe.starts)
    shown = month_that_fits(shape, first_year(recipe), start=starts[place % len(starts)])
    above = (month_name(shown.month), year_name(shown.year))
    groups: dict[tuple[object, ...], list[ShownStamp]] = {}
    for plan in (plan for plan in plans.values() if plan.format == shape.name):
        groups.setdefault(_series_of(plan.name), []).append(_item(plan))
    layers = (
        [plans[name] for name in layers_of(plans, shape, shown)]
        if shape.shows is not Shows.SMALL
        else []
    )
    return FormatSection(
        title=shape.name,
        layers=tuple(_item(plan) for plan in layers),
        part=drawn_box(layers),
        names=tuple(
            _item(plans[stamp]) for stamp in above if stamp in plans and shape.shows in _DATED
        ),
        items=tuple(
            item for group in groups.values() if len(group) <= _MOST_SHOWN for item in group
        ),
        series=tuple(
            StampSeries(items=tuple(group)) for group in groups.values() if len(group) > _MOST_SHOWN
        ),
    )


def _series_of(name: str) -> tuple[object, ...]:
    """What a format's stamp has in common with those that differ from it in little."""
    read = name_from_text(name)
    if read is None:
        return (name,)
    if read.subject is not Subject.DATES:
        is_header = read.subject is Subject.HEADER_BLOCKS
        return (Subject.BLOCKS if is_header else read.subject,)
    if read.split:
        return (read.subject, "split")
    return (read.subject, "shared") if read.shared else (read.subject, read.days is not None)


def _group(name: str) -> tuple[object, ...]:
    """What a word has in common with those of its row: of months how long and in what language."""
    read = name_from_text(name)
    return (name,) if read is None else (read.subject, read.short, read.language)


def _item(plan: StampPlan) -> ShownStamp:
    return ShownStamp(name=plan.name, label=last_part(plan.name), canvas=plan.canvas)


def _labels_face(kit: OpenKit) -> Face:
    """The family that letters the sheet, even where the kit's letters come from a font."""
    return open_family(family_path(kit.recipe.family))


def _lettering_marks(setting: OverviewSetting, face: Face, tone: Tone) -> Iterator[Mark]:
    """The marks of all lines of one tone, in capitals; with the headings also the sheet's rules."""
    spacing, layer = _TITLE_SPACING_EM if tone is Tone.STRONG else _SPACING_EM, _LAYER_NAMES[tone]
    for index, line in enumerate(line for line in setting.lines if line.tone is tone):
        capitals = replace(line, text=line.text.upper())
        name = f"{OVERVIEW}/{layer}-{index + 1}"
        yield from line_marks(capitals, face=face, name=name, spacing_em=spacing)
    if tone is Tone.ACCENT:
        for index, (x0, x1, y) in enumerate(setting.rules):
            name = f"{OVERVIEW}/rule-{index + 1}"
            ends = np.array([[x0, y], [x1, y]], dtype=np.float64)
            yield Stroke(
                name=name,
                group=name,
                role=Role.RULE,
                points=ends,
                width_px=5.0,
                cap=Cap.BUTT,
                origin=(x0, y),
            )


def _lettering_picture(
    kit: OpenKit, setting: OverviewSetting, tone: Tone, marks: tuple[Mark, ...]
) -> NDArray[np.uint8]:
    """The marks of one tone as a picture of the sheet, drawn in the kit's style.

    Labels are drawn exactly, since at their size no hand would show.
    """
    style: Style = PLAIN if tone is Tone.SOFT else kit.style
    drawing = Drawing(
        name=OVERVIEW,
        canvas=setting.size,
        sheet_px=setting.size[0] * _LETTERED_AT,
        layers=(Layer(name=_LAYER_NAMES[tone], marks=marks),),
    )
    return render(draw(drawing, style, kit.recipe.number))
