"""A small kit, and a smaller one in each of the styles that inkline comes with."""

import numpy as np
import pytest

from inkline.delivery.export import ExportRequest, export_kit
from inkline.kit.build import build_kit
from inkline.kit.papers.sheet import Sheet
from inkline.kit.product import Papers
from inkline.kit.recipe.loading import recipe_from_text
from inkline.output.png import png_bytes

RECIPE = """
version = 1
title = "Föhn & fog"
number = 7
[canvas]
side = "500 px"
[formats.tall]
blocks = "both"
[words]
years = [2027]
[style]
name = "STYLE"
"""
SMALLER = RECIPE.replace("500 px", "360 px")
FEW = ("tall/grid-5-head", "tall/dates-3", "words/digit-4")


def plain_sheet(_, job):
    """A picture in place of a sheet, whose drawing takes long."""
    return Sheet(name=job.name, picture=png_bytes(np.zeros((2, 2), np.uint8), ppi=72.0))


PLAIN = Papers(sheet=plain_sheet, guide=lambda *_: b"guide")


def small_kit(folder, *, style="round-pen", only=(), text=RECIPE):
    recipe = recipe_from_text(text.replace("STYLE", style), source="small.toml", folder=folder)
    build_kit(recipe, folder, papers=PLAIN, only=only, workers=1)
    return folder


@pytest.fixture(scope="session")
def kit(tmp_path_factory):
    return small_kit(tmp_path_factory.mktemp("kit") / "fog")


@pytest.fixture(scope="session")
def styled_kit(tmp_path_factory):
    """A function from a style's name to a folder of a few stamps, and one of them in all forms."""
    made = {}

    def kit_in(style):
        if style not in made:
            folder = tmp_path_factory.mktemp(style)
            kit = small_kit(folder / "kit", style=style, only=FEW, text=SMALLER)
            export_kit(ExportRequest(kit=kit), folder / "files", workers=1)
            made[style] = kit, folder / "files"
        return made[style]

    return kit_in


@pytest.fixture
def said(capsys):
    """What was said since the last call: the lines on standard output and on standard error."""

    def lines():
        out, err = capsys.readouterr()
        return out.splitlines(), err.splitlines()

    return lines


@pytest.fixture(scope="session")
def plain_papers():
    return PLAIN
