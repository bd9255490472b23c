"""What a numeral set's manifest and font file say of it."""

from __future__ import annotations

from typing import Any

from inkline.lettering.family import StrokeFamily
from inkline.lettering.writing import Way
from inkline.numerals.font import N_DRAWINGS
from inkline.numerals.request import PPI, OpenSet
from inkline.numerals.setting import NumeralPlan
from inkline.output.font_file import FontAbout
from inkline.press.product import package_versions

SOLID = "Outlines of what was drawn."
NO_TOOTH = (
    "Outlines of what was drawn, solid: the bare specks of dry ink on rough paper are in the "
    "pictures only."
)
_FONT_VERSION = 1.0
_MOST_SAMPLE = 60


def font_about(opened: OpenSet) -> FontAbout:
    """What the font file says of itself, and of the licence of the font that it comes from."""
    request, source = opened.request, opened.source
    letters = (
        f"the stroke family {opened.face.name}"
        if source is None
        else f"the font {opened.face.name}"
    )
    description = (
        f"Drawn with inkline after {letters} in the style {opened.style.name}, drawing "
        f"{request.number}; {N_DRAWINGS} drawings of each "
        f"letter take turns. {NO_TOOTH if opened.style.paper.dryness > 0.0 else SOLID}"
    )
    sample = " ".join(plan.text for plan in opened.plans[-31:])[:_MOST_SAMPLE]
    licence, address, notice, fs_type = "", "", "", 0
    if source is None:
        licence = "The drawings belong to whoever drew this set. No licence is stated here."
    else:
        said = source.licence
        licence, address, fs_type = said.licence, said.address, said.fs_type or 0
        notice = f"Drawn after {said.font}. {said.copyright}".strip()
    return FontAbout(
        family=request.font_name or "",
        version=_FONT_VERSION,
        copyright=notice,
        description=description,
        licence=licence,
        licence_address=address,
        fs_type=fs_type,
        sample=sample,
    )


def set_about(opened: OpenSet) -> dict[str, Any]:
    """What stands at the top of the manifest, and the numerals."""
    request = opened.request
    font = None
    if opened.font_file is not None:
        font = {
            "file": opened.font_file,
            "name": request.font_name,
            "characters": "".join(opened.characters),
            "drawings": N_DRAWINGS,
        }
    return {
        "ppi": PPI,
        "number": request.number,
        "height_px": opened.height_px,
        "ground": str(request.ground),
        "style": {"name": opened.style.name, "values": opened.style.to_dict()},
        "lettering": _lettering(opened),
        "versions": package_versions("Pillow"),
        "font": font,
        "numerals": [_entry(plan) for plan in opened.plans],
    }


def _lettering(opened: OpenSet) -> dict[str, Any]:
    """Where the letters come from, and under which licence as far as that is stated."""
    if opened.source is None:
        stated = opened.face.licence if isinstance(opened.face, StrokeFamily) else ""
        return {"name": opened.face.name, "kind": "family", "licence": stated}
    said = opened.source.licence
    return {
        "name": said.font,
        "kind": "font",
        "way": str(Way.STROKE if opened.face.is_drawn_with_pen else Way.CONTOUR),
        "version": said.version,
        "embedding": {"fsType": said.fs_type, "means": str(said.embedding)},
        "copyright": said.copyright,
        "licence": said.licence,
        "licence_address": said.address,
    }


def _entry(plan: NumeralPlan) -> dict[str, Any]:
    return {
        "name": plan.name,
        "text": plan.text,
        "picture": f"{plan.stem}.png",
        "outline": f"{plan.stem}.svg",
        "canvas": list(plan.canvas),
        "baseline": list(plan.baseline),
        "ink": list(plan.ink),
    }
