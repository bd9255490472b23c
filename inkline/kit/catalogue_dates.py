"""The dates of a format: the numerals of a month for each column in which it may begin."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.drawing import Role
from inkline.kit.catalogue_content import TextContent
from inkline.kit.catalogue_part import SMALL_RAGGEDNESS, Part, Place
from inkline.kit.layout_numerals import placed_dates
from inkline.kit.recipe_values import NUMERALS


def date_parts(place: Place) -> Iterator[Part]:
    """1 to 31 for each column in which a month may begin."""
    ragged = SMALL_RAGGEDNESS if place.shape.is_small else 1.0
    for offset in range(DAYS_PER_WEEK):
        setting = partial(placed_dates, place.recipe, place.shape, place.layout, place.face, offset)
        content = TextContent(role=Role.NUMERAL, layer_name="numerals", labels=NUMERALS, setting=setting)
        yield Part(stem=f"dates-{offset + 1}", kind="dates", content=content, raggedness=ragged)
