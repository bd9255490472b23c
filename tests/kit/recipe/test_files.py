"""What a recipe says of files for others: read, told by the manifest, of no effect on stamps."""

from dataclasses import replace
from pathlib import Path

import pytest

from inkline.kit.head import head_of
from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.recipe.model import FilesRecipe
from inkline.source.faults import RecipeError

LEAST = "version = 1\nnumber = 1\n"


def read(text, folder=Path()):
    return recipe_from_text(f"{LEAST}[files]\n{text}", source="x.toml", folder=folder)


def test_what_is_said_stands_in_the_manifest(tmp_path):
    (tmp_path / "licence.txt").write_text("Für dich.\n", encoding="utf-8")
    recipe = read('forms = ["svg"]\nink = "#C2452D"\nlicence_file = "licence.txt"', tmp_path)
    assert recipe.files == FilesRecipe(forms=("svg",), ink="#c2452d", licence_text="Für dich.\n")
    said = head_of(KitOrder(recipe=recipe).open().kit)["files"]
    assert said == {"forms": ("svg",), "ink": "#c2452d", "licence_text": "Für dich.\n"}


def test_files_make_no_difference_to_stamps_and_the_usual_is_not_said():
    plain = recipe_from_text(LEAST, source="x.toml", folder=Path())
    kits = [
        KitOrder(recipe=replace(plain, files=files)).open()
        for files in (FilesRecipe(), FilesRecipe(ink="#c2452d"))
    ]
    assert "files" not in head_of(kits[0].kit)
    inputs = [kit.pieces["tall/grid-5"].inputs("png", None, ()) for kit in kits]
    assert inputs[0] == inputs[1]


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ('ink = "red"', "files.ink must be a colour"),
        ('ground = "white"\nink = "#c2452d"', 'files.ink needs files.ground = "clear"'),
        ('forms = ["psx"]', "files.forms must be a list of one or more of"),
        ('licence_file = "none.txt"', "files.licence_file must be a text file in UTF-8"),
    ],
)
def test_faults_are_told(text, sentence):
    with pytest.raises(RecipeError, match=sentence):
        read(text)
