"""Pictures drawn again from their masters, and faults planted in them, each called by its name."""

import shutil

import numpy as np
import pytest

from inkline.folder.kept import masters_file
from inkline.kit.build import build_kit
from inkline.kit.recipe.loading import load_recipe
from inkline.press.redrawn import just_drawn_stamp, redrawn_stamp
from inkline.proof.differences import differences
from inkline.proof.finding import Check
from inkline.proof.kit_proof import prove_kit
from inkline.proof.things import things_of
from planted import FAULTS, WORD, entry_named, full_name, grey_at, plant, png_of

STAMPS = ("tall/grid-5", "tall/dates-3", "tall/blocks-5", "words/month-05")
RECIPE = """
version = 1
number = {number}
[canvas]
side = "600 px"
[formats.tall]
blocks = "both"
[style]
name = "{style}"
{values}
"""


def drawn_kit(folder, *stamps, number=12, style="round-pen", values=""):
    folder.mkdir()
    recipe = folder / "recipe.toml"
    recipe.write_text(RECIPE.format(number=number, style=style, values=values))
    build_kit(load_recipe(recipe), folder / "kit", workers=1, only=stamps or STAMPS)
    return folder / "kit"


@pytest.fixture(scope="module")
def kit(tmp_path_factory):
    return drawn_kit(tmp_path_factory.mktemp("planted") / "kit")


@pytest.fixture(scope="module")
def others(tmp_path_factory):
    """The same stamps of another number, and with edges twice as rough, by name."""
    base = tmp_path_factory.mktemp("others")
    rough = "[style.edge]\nraggedness = '18 um'"
    folders = {
        "number": drawn_kit(base / "number", number=13),
        "rough": drawn_kit(base / "rough", values=rough),
    }
    return {
        which: {name: grey_at(folder / f"{name}.png") for name in STAMPS}
        for which, folder in folders.items()
    }


@pytest.mark.parametrize("style", ["round-pen", "chalk", "quick-note"])
def test_a_stamp_is_drawn_again_to_the_byte(tmp_path, style):
    stamps = ("tall/grid-6-head", "tall/dates-3", "tall/blocks-5-cut-3", "words/month-05")
    folder = drawn_kit(tmp_path / style, *stamps, style=style)
    for name in stamps:
        expected = redrawn_stamp(folder, entry_named(folder, name))
        assert (expected.picture == grey_at(folder / f"{name}.png")).all()
        assert expected.body.sum(dtype=np.int64) >= 0.9 * expected.picture.sum(dtype=np.int64)


@pytest.mark.parametrize("style", ["round-pen", "chalk"])
def test_a_stamp_that_was_just_drawn_is_as_if_drawn_again(tmp_path, style):
    stamps = ("tall/dates-3", "tall/blocks-5-cut-3", "words/month-05")
    folder = drawn_kit(tmp_path / style, *stamps, style=style)
    for name in stamps:
        entry = entry_named(folder, name)
        just_drawn, expected = just_drawn_stamp(folder, entry), redrawn_stamp(folder, entry)
        assert np.array_equal(just_drawn.picture, expected.picture)
        assert np.array_equal(just_drawn.body, expected.body)


def test_a_file_that_was_changed_since_is_not_taken_for_just_drawn(kit, tmp_path):
    folder = shutil.copytree(kit, tmp_path / "kit")
    entry = entry_named(folder, WORD)
    file, other = folder / f"{WORD}.png", folder / "tall" / "grid-5.png"
    for data in (b"", other.read_bytes()):
        file.write_bytes(data)
        got = just_drawn_stamp(folder, entry)
        assert np.array_equal(got.picture, redrawn_stamp(folder, entry).picture)
    (folder / masters_file(WORD)).unlink()
    assert just_drawn_stamp(folder, entry) is None


def test_what_has_no_masters_is_not_drawn_again(kit):
    entry = entry_named(kit, "tall/dates-3")
    for changed in (
        {"ink": None},
        {"masters": None},
        {"masters": {"file": "../elsewhere.npz"}},
        {"masters": {"file": masters_file("words/month-05")}},
        {"canvas": [10**9, 10**9]},
        {"ink": {}},
        {"ink": {**entry["ink"], "px_per_mm": "wide"}},
    ):
        assert redrawn_stamp(kit, {**entry, **changed}) is None


LOOKS = {fault.what for fault in FAULTS if fault.stem == WORD}
FEW = [fault for fault in FAULTS if fault.stem == WORD or fault.what not in LOOKS]
"""How a picture looks as a whole is planted in the smallest one; all of it is planted in the
bench."""


@pytest.mark.parametrize("fault", FEW, ids=[f"{one.stem.split('/')[-1]} {one.what}" for one in FEW])
def test_a_planted_fault_is_called_by_its_name(kit, others, fault):
    entry = entry_named(kit, full_name(fault.stem))
    drawn = grey_at(kit / entry["file"])
    changed = np.asarray(fault.change(drawn, entry, others))
    found = differences(changed, drawn, things_of(entry), sheet_px=600.0)
    assert found
    assert {one.kind for one in found} <= set(fault.kinds)
    marks = {mark for one in found for mark in one.marks}
    if fault.marks:
        assert marks == set(fault.marks)


def test_what_a_hand_added_is_told_with_its_place_and_of_several_as_of_several(kit):
    entry = entry_named(kit, "tall/grid-5")
    drawn = grey_at(kit / entry["file"])
    struck = drawn.copy()
    for x in range(60, 500):
        struck[100 + x // 2 : 103 + x // 2, x] = 255
    (one,) = differences(struck, drawn, things_of(entry), sheet_px=600.0)
    assert one.sentence.startswith("a stroke that is none of its own, of 439 x 222 px at 61, 130,")
    entry = entry_named(kit, "tall/dates-3")
    drawn = grey_at(kit / entry["file"])
    struck = drawn.copy()
    for glyph in entry["glyphs"][15:17]:
        x0, _, x1, y1 = (int(value) for value in glyph["ink"])
        struck[y1 - 3 : y1 + 2, x0 : x1 + 3] = 255
    (one,) = differences(struck, drawn, things_of(entry), sheet_px=600.0)
    assert one.sentence == (
        "'16' and '17' are joined by ink that is none of their own, at their foot"
    )


def test_a_planted_fault_is_told_by_the_proof(kit, tmp_path, others):
    folder = shutil.copytree(kit, tmp_path / "kit")
    fault = next(one for one in FAULTS if one.what == "16 and 17 exchanged")
    name = full_name(fault.stem)
    entry = entry_named(folder, name)
    plant(folder, name, png_of(fault.change(grey_at(folder / entry["file"]), entry, others)))
    proof = prove_kit(folder, drawer=redrawn_stamp)
    assert [str(one) for one in proof.faults if one.check is Check.MASTERS] == [
        "tall/dates-3: masters: '16' and '17' have changed places"
    ]
    assert {one.stamp for one in proof.faults} == {name}
