"""The text of a kit's listing: what there is of what, how large, in which languages."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from typing import Any

from inkline.calendar.names import language_name
from inkline.kit.stamps.names import Subject
from inkline.shop.contents import ShopKit
from inkline.shop.inside import kinds_of

_WIDTH = 78
_MM_PER_INCH = 25.4


def listing_text(shop: ShopKit) -> str:
    """What a listing of the kit says, to be changed as its owner likes."""
    said = shop.kit.about.get("files")
    wishes = said if isinstance(said, Mapping) else {}
    title = shop.title
    edition = shop.kit.about.get("edition")
    if edition:
        title += f", {shop.phrases.say('listing.edition', edition=edition)}"
    lines = [title, "=" * min(len(title), _WIDTH), ""]
    lines += _wrapped(shop.phrases.say("listing.about"))
    lines += ["", *_headed(shop.phrases.say("shop.inside"))]
    lines += [f"- {line}" for line in _counts(shop)]
    lines += ["", *_headed(shop.phrases.say("listing.sizes"))]
    lines += [f"- {line}" for line in _sizes(shop)]
    lines += ["", *_headed(shop.phrases.say("listing.files"))]
    lines += [f"- {line}" for line in _files(shop, wishes)]
    if wishes.get("licence"):
        lines += ["", *_headed(shop.phrases.say("listing.licence"))]
        lines += _wrapped(str(wishes["licence"]))
    if wishes.get("author"):
        lines += ["", str(wishes["author"])]
    return "\n".join(lines) + "\n"


def _headed(title: str) -> tuple[str, str]:
    return title, "-" * len(title)


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH)


def _counts(shop: ShopKit) -> Iterator[str]:
    """How many stamps there are of each kind, of which years and in which languages."""
    yield shop.phrases.count("shop.stamps", len(shop.kit.stamps))
    for kind in kinds_of(shop):
        yield shop.phrases.count(f"kinds.{kind.key}", len(kind.stamps))
    if shop.years:
        first, last = min(shop.years), max(shop.years)
        span = str(first) if first == last else f"{first}\N{EN DASH}{last}"
        yield shop.phrases.say("listing.years", years=span)
    others = dict.fromkeys(shop.names[name].language for name in shop.of(Subject.MONTH))
    named = [language_name(tag, told_in=shop.phrases.language) for tag in others if tag]
    if named:
        yield shop.phrases.say("listing.languages", languages=", ".join(named))


def _sizes(shop: ShopKit) -> Iterator[str]:
    """The canvas of each format in px and as printed."""
    ppi = float(shop.kit.about["ppi"])
    for shape in shop.shapes:
        own = (one for one in shop.kit.stamps.values() if one.entry.facts["format"] == shape.name)
        width, height = next(own).canvas
        printed = " x ".join(f"{side / ppi * _MM_PER_INCH:.0f}" for side in (width, height))
        yield f"{shape.name}: {width} x {height} px ({printed} mm, {ppi:g} ppi)"


def _files(shop: ShopKit, wishes: Mapping[str, Any]) -> Iterator[str]:
    """The forms of files, and what lies beside."""
    yield "PNG"
    yield from (str(form).upper() for form in wishes.get("forms") or () if form != "png")
    if (shop.kit.folder / "guide.pdf").exists():
        yield shop.phrases.say("listing.guide")
