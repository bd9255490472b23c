"""Where kits of a recipe lie, and the recipe of a kit."""

import json

import pytest

from inkline.desk.kits import KitFolders, is_kit, recipe_of_kit
from inkline.desk.opening import opened_desk
from inkline.errors import InputError
from tests.desk.conftest import RECIPE


def make_kit(folder, *, title="Ferry times", number=411, **more):
    """A folder with a manifest and nothing else."""
    folder.mkdir(parents=True)
    about = {"format": "inkline kit", "version": 1, "title": title, "number": number, **more}
    (folder / "manifest.json").write_text(json.dumps({**about, "stamps": [], "sheets": []}))
    return folder


def test_the_latest_edition_is_the_current_one(tmp_path):
    folders = KitFolders(tmp_path / "ferry-kit")
    assert (folders.current.name, folders.next.name, folders.made) == (
        "ferry-kit",
        "ferry-kit-2",
        None,
    )
    first = make_kit(tmp_path / "ferry-kit")
    assert folders.made == first
    (tmp_path / "ferry-kit-shop").mkdir()
    (tmp_path / "ferry-kit-09").mkdir()
    (tmp_path / "ferry-kit-7").write_text("no folder")
    assert folders.next.name == "ferry-kit-2"
    second = make_kit(tmp_path / "ferry-kit-2")
    assert (folders.made, folders.next.name) == (second, "ferry-kit-3")


def test_a_kit_opens_its_recipe(recipe_file, tmp_path):
    (tmp_path / "other.toml").write_text(RECIPE.replace("Ferry times", "Tide times"))
    (tmp_path / "notes.toml").write_text("no recipe = [")
    kit = make_kit(tmp_path / "made" / "ferries")
    assert is_kit(kit)
    desk = opened_desk(kit)
    assert desk.document.path.resolve() == recipe_file.resolve()
    assert desk.kit_folders.made == kit.resolve()


def test_one_kit_of_several_is_looked_at(recipe_file, tmp_path):
    recipe_file.write_text(f'{RECIPE}\n[kits.dark]\nnumber = 9\n[kits.plain]\ntitle = "Plain"\n')
    kit = make_kit(tmp_path / "both" / "dark", number=9, kit="dark")
    recipe, name, folders = recipe_of_kit(kit)
    assert (recipe.resolve(), name) == (recipe_file.resolve(), "dark")
    assert folders.made == kit.resolve()


@pytest.mark.usefixtures("recipe_file")
def test_a_later_edition_has_its_first(tmp_path):
    make_kit(tmp_path / "ferry-kit")
    later = make_kit(tmp_path / "ferry-kit-2")
    _, _, folders = recipe_of_kit(later)
    assert folders.first.name == "ferry-kit"
    assert folders.made == later.resolve()


@pytest.mark.usefixtures("recipe_file")
def test_no_recipe_or_several_are_refused(tmp_path):
    stranger = make_kit(tmp_path / "stranger", number=5)
    with pytest.raises(InputError, match="no recipe beside"):
        recipe_of_kit(stranger)
    (tmp_path / "copy.toml").write_text(RECIPE)
    with pytest.raises(InputError, match=r"copy\.toml, ferry\.toml"):
        recipe_of_kit(make_kit(tmp_path / "kit"))
    (tmp_path / "empty").mkdir()
    with pytest.raises(InputError, match="no kit"):
        opened_desk(tmp_path / "empty")
