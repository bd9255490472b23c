"""Which keys most people change, and examples for those whose default shows little."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.keys import EACH_FORMAT, KITS

EVERYDAY: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "": ("version", "title", "number"),
        "canvas": ("side", "ppi", "margin"),
        FORMATS: (
            "cell",
            "rule",
            "frame",
            "block_inset",
            "block_corner",
            "numeral",
            "stem",
            "gap",
            "side",
            "level",
            "dates",
            "used_at",
        ),
        "calendar": ("week_starts",),
        "words": ("language", "letters", "months", "weekdays", "years", "height"),
        "lettering": ("family", "font"),
        "style": ("name",),
    }
)
"""The keys that a new recipe writes out, table by table; the others are only named there."""

EXAMPLES: Mapping[str, Any] = MappingProxyType(
    {
        "version": 1,
        "extends": "my-base.toml",
        "edition": "2",
        "number": 41_207,
        "formats.shows": "strip",
        "formats.weeks": [6],
        "formats.column_gutter": 0.2,
        "formats.row_gutter": "3 pt",
        "formats.margin": ["5 %", "3 %", "3 %", "3 %"],
        "formats.height": 0.7,
        "formats.header": "with",
        "formats.takes": 3,
        "formats.blocks": "both",
        "formats.block_form": "circle",
        "formats.block_fill": "outlined",
        "formats.block_edge": "crisp",
        "formats.block_omit": ["r5c4", "c1"],
        "formats.gap_from": "blocks",
        "formats.side": "right",
        "formats.level": "bottom",
        "formats.dates_as": "01",
        "formats.dates": "exact",
        "formats.split": "weekend",
        "formats.sixth_week": "shared",
        "formats.week_numbers": "iso",
        "formats.week_numbers_in": "narrow",
        "formats.weekday": 0.4,
        "calendar.week_starts": ["monday", "saturday"],
        "words.language": ["en", "de"],
        "words.letters": "as written",
        "words.months": "both",
        "words.weekdays": "two letters",
        "words.years": ["2027-2031", 2040],
        "words.spans": ["2027-2028"],
        "words.captions": ["Notes", "To do"],
        "words.sizes": "fill each",
        "words.direction": "right to left",
        "lettering.family": "my-letters.ufo",
        "lettering.font": "fonts/my-font.otf",
        "lettering.way": "stroke",
        "lettering.figures": "tabular",
        "lettering.numbering": "arab",
        "lettering.guests": "rare",
        "lettering.drawings": "one",
        "style.name": "dip-pen",
        "names.pattern": "{title}-{name}-{days}",
    }
)
"""Values that show how a key is written, where the default is a number, a text or nothing."""

TABLE_EXAMPLES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        FORMATS: ("[formats.wide]               # a format of your own", "cell = 0.7"),
        EACH_FORMAT: ("[each_format]", "takes = 2"),
        "marks": ("[marks]", '"2027-03-08" = "ring"', '"12-24" = "dot"              # every year'),
        "style": ("[style.edge]", 'raggedness = "25 um"'),
        "again": (
            "[again]",
            '"tall/dates-3/17" = 1',
            '"standard/grid-6/down-3" = 1    # the third rule from the left',
            '"standard/blocks-5/r5c4" = 1    # the block in the fifth row and fourth column',
        ),
        "names": ("[names]", 'pattern = "{name}-{days}"'),
        KITS: ("[kits.german]", 'title = "Ein Jahr in Abenden"', 'words.language = "de"'),
    }
)
"""Lines of TOML that show what a table is for."""
