"""The layout sheet of a format: all its layers over each other, drawn over exact."""

from __future__ import annotations

from inkline.ink.engine import draw
from inkline.ink.style import EXACT
from inkline.kit.papers.open_kit import OpenKit
from inkline.kit.papers.parts import Pictures
from inkline.kit.papers.sheet import Sheet, SheetJob
from inkline.output.png import colour_png_bytes
from inkline.pages.page import Page, fitted_size, shrink_picture
from inkline.pages.palette import DRAWN_BLOCK, DRAWN_LINE, EXACT_BLOCK, EXACT_LINE, WHITE
from inkline.raster.compose import render

_LAYOUT_SIDE = 2500
"""Layouts are no larger than this, in px, whatever the canvas."""


def layout_sheet(kit: OpenKit, job: SheetJob) -> Sheet:
    """All layers of one format over each other: blocks pale, the rest strong, drawn over exact."""
    plans = [kit.plans[name] for name in job.names]
    size = fitted_size(plans[0].canvas, within=(_LAYOUT_SIDE, _LAYOUT_SIDE))
    blocks = [plan for plan in plans if plan.kind == "blocks"]
    others = [plan for plan in plans if plan.kind != "blocks"]
    page, pictures = Page(size, colour=WHITE), Pictures()
    for group, exact, drawn in (
        (blocks, EXACT_BLOCK, DRAWN_BLOCK),
        (others, EXACT_LINE, DRAWN_LINE),
    ):
        for plan in group:
            picture = render(draw(plan.drawing(), EXACT, kit.recipe.number))
            page.ink(shrink_picture(picture, size=size), at=(0, 0), colour=exact)
        for plan in group:
            picture = pictures.picture(job.folder / plan.file, canvas=plan.canvas)
            page.ink(shrink_picture(picture, size=size), at=(0, 0), colour=drawn)
    ppi = kit.recipe.ppi * size[0] / plans[0].canvas[0]
    return Sheet(
        name=job.name, picture=colour_png_bytes(page.srgb(), ppi=ppi), notes=tuple(pictures.notes)
    )
