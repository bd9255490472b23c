"""The guide among a kit's sheets.

When it is made, when it is made again, and when it is left alone.
"""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from inkline.errors import InputError
from inkline.folder.manifest import Manifest, manifest_bytes, manifest_from_bytes
from inkline.kit.build import build_kit
from inkline.kit.months.recipe import months_recipe
from inkline.kit.papers.parts import Sheet
from inkline.kit.recipe.loading import recipe_from_text
from inkline.press import sheets as build_sheets
from inkline.press.sheets import SheetDesk, sheet_file, sheets_of
from inkline.press.shop import Workshop

TEXT = """
version = 1
title = "S"
number = 7
[canvas]
side = "160 px"
[formats.week]
blocks = "none"
[words]
years = []
"""


@pytest.fixture
def recipe(tmp_path):
    return recipe_from_text(TEXT, source="week.toml", folder=tmp_path)


@pytest.fixture(autouse=True)
def guides(monkeypatch):
    """The titles of guides that were made.

    The setting of pages and pictures takes long and has no part in this.
    """
    made = []

    def guide(recipe, _face, _style, stamps):
        made.append(recipe.title)
        return f"{recipe.title}: {len(stamps)}".encode()

    monkeypatch.setattr(build_sheets, "guide_pdf", guide)
    monkeypatch.setattr(
        build_sheets, "picture_sheet_made", lambda _, job: Sheet(name=job.name, picture=b"sheet")
    )
    return made


def test_the_guide_waits_for_all_stamps_and_is_made_again_for_what_it_tells(
    tmp_path, recipe, guides
):
    assert "guide" not in build_kit(recipe, tmp_path, workers=1, only=["week/*"]).sheets
    report = build_kit(recipe, tmp_path, workers=1)
    assert "guide" in report.sheets
    n_stamps = len(report.drawn) + len(report.unchanged)
    assert (tmp_path / "guide.pdf").read_text() == f"S: {n_stamps}"
    again = replace(recipe, again={"words/digit-1": 1})
    assert build_kit(again, tmp_path, workers=1).drawn == ("words/digit-1",)
    assert guides == ["S"]
    firm = replace(again.style, nib=replace(again.style.nib, pressure=0.01))
    for changed in (
        replace(again, edition="2"),
        replace(again, title="T"),
        replace(again, title="T", file_pattern="{name} {title}"),
        replace(again, title="T", style=firm),
    ):
        build_kit(changed, tmp_path, workers=1)
    assert guides == ["S", "S", "T", "T", "T"]


def test_a_guide_that_somebody_changed_is_kept(tmp_path, recipe):
    build_kit(recipe, tmp_path, workers=1)
    (tmp_path / "guide.pdf").write_bytes(b"mine")
    report = build_kit(replace(recipe, title="T"), tmp_path, workers=1)
    assert report.sheets_kept == ("guide",)
    assert (tmp_path / "guide.pdf").read_bytes() == b"mine"
    assert "guide" in build_kit(recipe, tmp_path, workers=1, redraw=["guide"]).sheets
    assert (tmp_path / "guide.pdf").read_bytes().startswith(b"S: ")


def test_a_kit_whose_guide_cannot_be_written_is_finished_without_it(tmp_path, recipe, monkeypatch):
    def guide(*_):
        raise InputError("the letters lack something")

    monkeypatch.setattr(build_sheets, "guide_pdf", guide)
    report = build_kit(recipe, tmp_path, workers=1)
    assert "guide" not in report.sheets
    assert report.notes == ("guide.pdf was not made: the letters lack something",)
    assert (tmp_path / "manifest.json").exists()
    assert not (tmp_path / "guide.pdf").exists()


def test_the_guide_takes_an_entry_for_the_same_when_it_is_read_back(tmp_path):
    text = TEXT.replace("[formats.week]", "[formats.standard]").replace('"none"', '"cut"')
    shop, name = (
        Workshop(recipe_from_text(text, source="cut.toml", folder=tmp_path)),
        "standard/blocks-5-cut-1",
    )
    entry = shop.layout_entry(name)
    read = manifest_from_bytes(manifest_bytes(Manifest(stamps=(entry,))), where="m").stamps[0]
    digests = set()
    for one in (entry, read):
        kit = SimpleNamespace(entry_of=lambda *_, one=one: one)
        digests.add(
            SheetDesk(shop=shop, kit=kit, sheets={}, redraw=frozenset())._guide_inputs([name])
        )
    assert set(entry.geometry) == {"boxes", "glyphs"}
    assert list(entry.geometry) != list(read.geometry)
    assert len(digests) == 1


def test_finished_months_have_no_guide(recipe_of):
    assert "guide" in sheets_of(Workshop(recipe_of()))
    assert "guide" not in sheets_of(Workshop(months_recipe(recipe_of(), [(2027, 2)])))


def test_sheets_have_files_of_their_own():
    files = [sheet_file(name) for name in ("overview", "tall/layout", "guide", "changes")]
    assert files == ["overview.png", "tall/layout.png", "guide.pdf", "changes.txt"]
