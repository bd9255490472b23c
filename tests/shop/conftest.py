"""A small kit to sell, with all kinds of stamps, and a painting."""

import sys
from pathlib import Path

import pytest
from PIL import Image

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))

from hills import hills_at_dusk
from inkline.kit.build import build_kit
from inkline.kit.papers.sheet import Sheet
from inkline.kit.product import Papers
from inkline.kit.recipe.loading import recipe_from_text

RECIPE = """
version = 1
title = "Fog Bell"
edition = "2"
number = 7
[canvas]
side = "480 px"
[formats.tall]
weeks = [5]
header = "with"
[formats.small]
[calendar]
week_starts = ["monday"]
[words]
years = [2027, 2028]
language = ["en", "de"]
[files]
author = "A. Hand"
licence = "For your own work."
[shop]
palette = ["#ffffff", "#000000", "#bb2200", "#ffd9b0", "#203050"]
sizes = ["600 x 600", "480 x 600", "800 x 450"]
"""


def plain_sheet(_, job):
    return Sheet(name=job.name, picture=b"sheet")


PLAIN = Papers(sheet=plain_sheet, guide=lambda *_: b"guide")
ONLY = (
    *("tall/grid*", "tall/blocks*", "tall/dates-[45]", "tall/weekdays*", "small/month-3-31*"),
    *("words/month-01*", "words/month-02", "words/year*", "words/digit-[12]"),
)


@pytest.fixture(scope="session")
def kit(tmp_path_factory):
    folder = tmp_path_factory.mktemp("kit") / "fog"
    recipe = recipe_from_text(RECIPE, source="small.toml", folder=folder)
    build_kit(recipe, folder, papers=PLAIN, only=ONLY, workers=1)
    return folder


@pytest.fixture(scope="session")
def painting(tmp_path_factory):
    file = tmp_path_factory.mktemp("painting") / "hills.png"
    Image.fromarray(hills_at_dusk(640, 480)).save(file)
    return file
