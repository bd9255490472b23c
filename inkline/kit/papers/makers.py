"""Who makes the papers of a kit and of finished months.

What makes papers is imported when one is made, for a run that makes none takes a second less so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from inkline.folder.kept import masters_file
from inkline.ink.master import Master
from inkline.kit.papers.open_kit import OpenKit
from inkline.kit.papers.sheet import OVERVIEW, Sheet, SheetJob
from inkline.press.masters import masters_at

SheetMaker = Callable[[OpenKit, SheetJob], Sheet]
"""What makes a sheet: a function of a module, so that another process finds it."""


GuideMaker = Callable[[OpenKit, Path], bytes]
"""What makes a guide of a kit whose stamps lie in a folder, likewise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Papers:
    """Who makes the papers of a kit: functions of modules, so that another process finds them.

    Attributes:
        sheet: makes overview, layouts, calendars and posters.
        guide: makes the guide, a PDF file.
    """

    sheet: SheetMaker
    guide: GuideMaker


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


def kit_guide(kit: OpenKit, folder: Path) -> bytes:
    """The guide of a kit; what was drawn in `folder` is not drawn again for it.

    What its owner changed there is not in it.

    Raises:
        InputError: the letters can't write it.
    """
    from inkline.kit.papers.guide import guide_pdf  # noqa: PLC0415

    def drawn(name: str) -> dict[str, Master]:
        kept, _ = masters_at(folder / masters_file(name))
        return {key: master for key, master in kept.items() if key not in kit.patches}

    return guide_pdf(kit.recipe, kit.face, kit.style, kit.plans, kept=drawn)


KIT_PAPERS = Papers(sheet=kit_sheet, guide=kit_guide)
CALENDAR_FORMS: Mapping[str, SheetMaker] = MappingProxyType({"ora": _layered_month})
"""Forms that a finished calendar can have besides its picture, and who makes them."""
MONTHS_PAPERS = Papers(sheet=months_sheet, guide=kit_guide)
