"""Letters that tests of several rooms set: families that come with inkline, and a joined script."""

from functools import cache
from pathlib import Path

import fontpkg_noto_sans_arabic

from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.font import open_font

ARABIC = next((Path(fontpkg_noto_sans_arabic.__file__).parent / "files").glob("*.ttf"))
MEASURES = (
    "name",
    "cap_height_em",
    "digit_height_em",
    "nominal_stem_em",
    "own_stem_em",
    "is_drawn_with_pen",
)
"""What any face says of itself, whoever drew it."""


@cache
def shipped_family(name):
    """A stroke family that comes with inkline."""
    return open_family(family_path(name))


def scullery():
    """The family whose letters a kit has when its recipe asks for no others."""
    return shipped_family("scullery")


@cache
def arabic():
    """A font whose letters join and run from right to left."""
    return open_font(ARABIC)
