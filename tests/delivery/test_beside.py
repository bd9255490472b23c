"""Forms that a recipe asks for lie beside the pictures, and are kept with them."""

import numpy as np
import pytest
from PIL import Image

from inkline.cli.running import run
from inkline.delivery.beside import files_beside
from inkline.errors import InputError
from inkline.kit.build import build_kit
from inkline.kit.recipe.loading import recipe_from_text
from kit_folders import retouch

RECIPE = """
version = 1
title = "Fog"
number = 7
canvas.side = "300 px"
[formats.tall]
weeks = [5]
blocks = "none"
"""
ENDINGS = {".svg", ".tiff"}
FORMS = RECIPE + '[files]\nforms = ["svg", "tiff"]\nink = "#27343d"\n'


@pytest.fixture
def build(tmp_path, plain_papers):
    """A function that builds a recipe into one folder; reports on forms and on stamps."""

    def built(text, *only):
        recipe = recipe_from_text(text, source="fog.toml", folder=tmp_path)
        kit = build_kit(recipe, tmp_path / "fog", only=only, papers=plain_papers, workers=1)
        return files_beside(kit, partial=bool(only), workers=1), kit

    return built


def files_in(folder):
    return sorted(
        str(path.relative_to(folder)) for path in folder.rglob("*") if path.suffix in ENDINGS
    )


def test_a_kit_has_the_forms_that_its_recipe_asks_for_and_keeps_them(build, tmp_path, contents):
    folder = tmp_path / "fog" / "files"
    report, _ = build(RECIPE, "tall/dates-1")
    assert report is None
    assert not folder.exists()
    report, _ = build(FORMS, "tall/dates-1")
    assert files_in(folder) == ["svg/tall/dates-1.svg", "tiff/tall.tiff"]
    report, _ = build(FORMS, "tall/dates-[12]")
    assert set(report.files_made) == {"svg/tall/dates-2.svg", "tiff/tall.tiff"}
    assert report.files_unchanged == ("svg/tall/dates-1.svg",)
    with Image.open(folder / "tiff" / "tall.tiff") as pages:
        assert pages.n_frames == 2
    before = contents(tmp_path / "fog")
    report, kit = build(FORMS, "tall/dates-1")
    assert (report.files_made, len(report.files_unchanged)) == ((), 2)
    assert not any("no part of" in note.sentence for note in kit.notes)
    assert contents(tmp_path / "fog") == before


def test_what_changes_is_made_anew_and_nothing_else(build, tmp_path):
    build(FORMS, "tall/dates-[12]")
    retouch(tmp_path / "fog" / "tall" / "dates-2.png")
    report, _ = build(FORMS + '[again]\n"tall/dates-1/31" = 1\n', "tall/dates-1")
    assert set(report.files_made) == {"svg/tall/dates-1.svg", "tiff/tall.tiff"}
    with Image.open(tmp_path / "fog" / "files" / "tiff" / "tall.tiff") as pages:
        pages.seek(1)
        ink = np.asarray(pages)[:, :, 3]
    with Image.open(tmp_path / "fog" / "tall" / "dates-2.png") as hers:
        assert (ink == np.asarray(hers.convert("L"))).all()


def test_forms_that_are_no_longer_asked_for_stay_and_are_told(build, tmp_path):
    build(FORMS, "tall/dates-1")
    svg = tmp_path / "fog" / "files" / "svg" / "tall" / "dates-1.svg"
    svg.write_text("mine")
    report, _ = build(FORMS.replace('["svg", "tiff"]', '"tiff"'), "tall/dates-1")
    assert report.left_over == ("svg/tall/dates-1",)
    assert svg.read_text() == "mine"


def test_a_folder_of_her_own_is_left_alone(build, tmp_path):
    build(RECIPE, "tall/dates-1")
    hers = tmp_path / "fog" / "files" / "hers.txt"
    hers.parent.mkdir()
    hers.write_text("mine")
    with pytest.raises(InputError, match="no part of the files, such as hers"):
        build(FORMS, "tall/dates-1")
    assert [path.name for path in hers.parent.iterdir()] == ["hers.txt"]


def test_the_command_writes_them_and_says_so(tmp_path, capsys):
    (tmp_path / "fog.toml").write_text(FORMS)
    out = tmp_path / "fog"
    arguments = [str(tmp_path / "fog.toml"), "-o", str(out), "--only", "tall/dates-1"]
    assert run(["kit", *arguments, "--workers", "1"]) == 0
    said = f"Forms that the recipe asks for: 2 files in {out / 'files'}: 2 written."
    assert said in capsys.readouterr().out.splitlines()
    assert files_in(out / "files") == ["svg/tall/dates-1.svg", "tiff/tall.tiff"]


def test_no_format_may_be_called_as_their_folder(tmp_path):
    with pytest.raises(InputError, match="and be none of files, masters, words"):
        recipe_from_text("version = 1\n[formats.files]\n", source="fog.toml", folder=tmp_path)
