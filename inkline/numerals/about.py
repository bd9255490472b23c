"""What a numeral set's manifest and font file say of it."""

from __future__ import annotations

from importlib.metadata import version
from typing import Any

from inkline.lettering.family import StrokeFamily
from inkline.lettering.writing import Way
from inkline.numerals.font import N_DRAWINGS
from inkline.numerals.order import PPI, NumeralShop
from inkline.numerals.setting import NumeralPlan
from inkline.output.font_file import FontAbout

SOLID = "Outlines of what was drawn."
NO_TOOTH = "Outlines of what was drawn, solid: the bare specks of dry ink on rough paper are in the pictures only."
_PACKAGES = (
    "inkline",
    "numpy",
    "scipy",
    "pyclipper",
    "fonttools",
    "uharfbuzz",
    "Babel",
    "opensimplex",
    "Pillow",
)
"""Whose versions may show in a file; the manifest lists them."""
_FONT_VERSION = 1.0
_MOST_SAMPLE = 60


def font_about(shop: NumeralShop) -> FontAbout:
    """What the font file says of itself: where its letters come from, and the licence of the font if they come from one."""
    order, source = shop.order, shop.source
    letters = (
        f"the stroke family {shop.face.name}" if source is None else f"the font {shop.face.name}"
    )
    description = (
        f"Drawn with inkline after {letters} in the style {shop.style.name}, drawing "
        f"{order.number}; {N_DRAWINGS} drawings of each "
        f"letter take turns. {NO_TOOTH if shop.style.paper.dryness > 0.0 else SOLID}"
    )
    sample = " ".join(plan.text for plan in shop.plans[-31:])[:_MOST_SAMPLE]
    licence, address, notice, fs_type = "", "", "", 0
    if source is None:
        licence = "The drawings belong to whoever drew this set. No licence is stated here."
    else:
        said = source.licence
        licence, address, fs_type = said.licence, said.address, said.fs_type or 0
        notice = f"Drawn after {said.font}. {said.copyright}".strip()
    return FontAbout(
        family=order.font_name or "",
        version=_FONT_VERSION,
        copyright=notice,
        description=description,
        licence=licence,
        licence_address=address,
        fs_type=fs_type,
        sample=sample,
    )


def set_about(shop: NumeralShop) -> dict[str, Any]:
    """What stands at the top of the manifest, and the numerals."""
    order = shop.order
    font = None
    if shop.font_file is not None:
        font = {
            "file": shop.font_file,
            "name": order.font_name,
            "characters": "".join(shop.characters),
            "drawings": N_DRAWINGS,
        }
    return {
        "ppi": PPI,
        "number": order.number,
        "height_px": shop.height_px,
        "ground": str(order.ground),
        "style": {"name": shop.style.name, "values": shop.style.to_dict()},
        "lettering": _lettering(shop),
        "versions": {package: version(package) for package in _PACKAGES},
        "font": font,
        "numerals": [_entry(plan) for plan in shop.plans],
    }


def _lettering(shop: NumeralShop) -> dict[str, Any]:
    """Where the letters come from, and under which licence as far as that is stated."""
    if shop.source is None:
        stated = shop.face.licence if isinstance(shop.face, StrokeFamily) else ""
        return {"name": shop.face.name, "kind": "family", "licence": stated}
    said = shop.source.licence
    return {
        "name": said.font,
        "kind": "font",
        "way": str(Way.STROKE if shop.face.is_drawn_with_pen else Way.CONTOUR),
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
