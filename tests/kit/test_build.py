"""Building kits.

What is drawn, what is left alone, and that the same recipe gives the same bytes.
"""

import errno
import hashlib
import shutil
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from inkline.cli.remedies import error_sentence, note_sentence
from inkline.errors import InputError, WorkError
from inkline.folder.disk import Disk, file_sha256, sha256
from inkline.folder.kept import Foreign
from inkline.kit import build
from inkline.kit.papers.sheet import Sheet
from inkline.kit.product import Papers
from inkline.output.png import png_bytes
from inkline.press.masters import npz_bytes
from kit_folders import manifest_of, retouch

FEW = ("standard/grid-5", "standard/weekdays-sunday", "words/digit-7")


def plain_sheet(kit, job):
    """A picture that says what is on a sheet, in place of the sheet, whose drawing takes long."""
    shown = [(job.folder / kit.plans[name].file).read_bytes() for name in job.names]
    pixels = np.frombuffer(hashlib.sha256(b"".join(shown)).digest(), np.uint8)[None]
    return Sheet(name=job.name, picture=png_bytes(pixels, ppi=72.0))


PLAIN = Papers(sheet=plain_sheet, guide=lambda *_: b"guide")
whole_kit = build.build_kit
"""With the papers as they are."""


def build_kit(recipe, folder, **options):
    return build.build_kit(recipe, folder, papers=PLAIN, **options)


def notes_of(report):
    """The notes as the command line says them."""
    return tuple(map(note_sentence, report.notes))


@pytest.fixture(scope="module")
def first_kit_of_few(tmp_path_factory):
    """Where the kit of a few stamps lies once a test has built it."""
    return tmp_path_factory.mktemp("few") / "kit"


@pytest.fixture
def kit_of_few(tmp_path, small, first_kit_of_few):
    """A copy of a kit of a few stamps, which is built once; it holds what building it gives."""
    if not first_kit_of_few.exists():
        build_kit(small, first_kit_of_few, workers=1, only=FEW)
    shutil.copytree(first_kit_of_few, tmp_path, dirs_exist_ok=True)
    return tmp_path


def test_a_kit_holds_every_stamp_its_sheets_and_a_manifest_that_agrees(tmp_path, small, contents):
    report = whole_kit(small, tmp_path / "kit", workers=1)
    manifest = manifest_of(tmp_path / "kit")
    assert len(report.drawn) == len(manifest["stamps"]) == 39
    assert report.sheets == ("standard/layout", "overview", "guide")
    assert manifest["number"] == 7
    assert manifest["ppi"] == 300
    for stamp in manifest["stamps"]:
        file = tmp_path / "kit" / stamp["file"]
        assert file_sha256(file) == stamp["sha256"]
        with Image.open(file) as picture:
            assert picture.mode == "L"
            assert list(picture.size) == stamp["canvas"]
            assert np.asarray(picture).max() > 200
    files = {stamp["file"] for stamp in manifest["stamps"]} | {
        stamp["masters"]["file"] for stamp in manifest["stamps"]
    }
    sheets = {sheet["file"] for sheet in manifest["sheets"]}
    assert set(contents(tmp_path / "kit")) == files | sheets | {"manifest.json"}


def test_the_manifest_gives_the_geometry_of_each_kind_and_no_time(tmp_path, small):
    names = ("standard/grid-6-head", "standard/blocks-5", "standard/dates-3", "words/month-02")
    build_kit(small, tmp_path, workers=1, only=names)
    grid, blocks, dates, word = manifest_of(tmp_path)["stamps"]
    assert [stamp["kind"] for stamp in (grid, blocks, dates, word)] == [
        "grid",
        "blocks",
        "dates",
        "words",
    ]
    assert len(grid["lines"]) == 8 + 8
    assert set(grid["lines"][0]) == {"name", "from", "to", "width_px"}
    assert grid["lines"][-6]["name"] == "standard/grid-6-head/down-3"
    assert len(blocks["boxes"]) == 35
    assert set(blocks["boxes"][0]) == {"name", "x0", "y0", "x1", "y1", "radius"}
    assert blocks["boxes"][31]["name"] == "standard/blocks-5/r5c4"
    assert [glyph["text"] for glyph in dates["glyphs"]] == [str(day) for day in range(1, 32)]
    assert word["format"] is None
    assert word["glyphs"][0]["cell"] == [0, 0, *word["canvas"]]
    assert not {"date", "time", "made"} & set(manifest_of(tmp_path))


def test_workers_and_pieces_and_order_change_no_byte(tmp_path, small, contents):
    pieces = (
        ["words/digit-*"],
        ["standard/dates-1", "standard/weekdays-sunday"],
        ["*/grid-6-head", "*/blocks-[6h]*"],
    )
    everything = [pattern for piece in pieces for pattern in piece]
    whole_kit(small, tmp_path / "one", workers=1, only=everything)
    whole_kit(small, tmp_path / "two", workers=2, only=everything)
    for piece in pieces:
        whole_kit(small, tmp_path / "pieces", workers=1, only=piece)
    assert "standard/layout.png" in contents(tmp_path / "one")
    assert contents(tmp_path / "one") == contents(tmp_path / "two") == contents(tmp_path / "pieces")


def test_a_second_run_changes_nothing(kit_of_few, small, contents):
    before = contents(kit_of_few)
    steps = []
    report = build_kit(small, kit_of_few, workers=1, only=FEW, listener=steps.append)
    assert (report.drawn, report.unchanged, report.sheets) == ((), FEW, ())
    assert not steps
    assert contents(kit_of_few) == before


def test_a_deleted_picture_is_made_again_from_its_masters(kit_of_few, small, contents):
    before = contents(kit_of_few)
    (kit_of_few / "standard" / "grid-5.png").unlink()
    report = build_kit(small, kit_of_few, workers=1, only=FEW)
    assert report.drawn == ("standard/grid-5",)
    assert report.n_marks == 0
    assert contents(kit_of_few) == before


@pytest.mark.parametrize(
    "damage",
    [b"no masters at all", b"", b"PK\x03\x04 cut short", npz_bytes({"format": np.ones(1)})],
)
def test_masters_that_are_gone_or_damaged_are_drawn_anew(kit_of_few, small, contents, damage):
    before = contents(kit_of_few)
    (kit_of_few / "masters" / "standard" / "grid-5.npz").unlink()
    masters = kit_of_few / "masters" / "words" / "digit-7.npz"
    masters.write_bytes(damage)
    report = build_kit(small, kit_of_few, workers=1, only=FEW)
    assert report.drawn == ("standard/grid-5", "words/digit-7")
    assert report.n_marks > 0
    assert notes_of(report) == (
        (
            f"The masters in {masters} could not be used, since the file is damaged; they were "
            f"drawn "
            f"again."
        ),
    )
    assert contents(kit_of_few) == before


def test_a_retouch_is_kept_and_shown_until_it_is_to_be_redrawn(kit_of_few, small, contents):
    before = contents(kit_of_few)
    mine = retouch(kit_of_few / "standard" / "grid-5.png")
    report = build_kit(small, kit_of_few, workers=1, only=FEW)
    assert report.kept == ("standard/grid-5",)
    assert report.moved == ()
    assert (kit_of_few / "standard" / "grid-5.png").read_bytes() == mine
    assert report.sheets == ("overview",)
    assert contents(kit_of_few)["overview.png"] != before["overview.png"]
    assert build_kit(small, kit_of_few, workers=1, only=FEW).kept == ("standard/grid-5",)
    report = build_kit(small, kit_of_few, workers=1, only=FEW, redraw=["standard/grid-5"])
    assert report.drawn == ("standard/grid-5",)
    assert contents(kit_of_few) == before | {"standard/grid-5.before.png": sha256(mine)}
    assert notes_of(report) == (
        "standard/grid-5.png as you had it lies in standard/grid-5.before.png now.",
    )
    assert build_kit(small, kit_of_few, workers=1, only=FEW).notes == ()


def test_redrawing_what_nobody_changed_gives_the_same_and_says_how_to_get_another(
    tmp_path, small, recipe_of, contents
):
    build_kit(small, tmp_path, workers=1, only=["words/digit-7"])
    before = contents(tmp_path)
    report = build_kit(small, tmp_path, workers=1, only=["words/digit-7"], redraw=["words/digit-7"])
    assert contents(tmp_path) == before
    assert "words/digit-7 came out as it was" in notes_of(report)[0]
    assert "[again]" in notes_of(report)[0]
    again = replace(recipe_of(), again={"words/digit-7": 1})
    assert (
        build_kit(
            again, tmp_path, workers=1, only=["words/digit-7"], redraw=["words/digit-7"]
        ).notes
        == ()
    )
    assert contents(tmp_path)["words/digit-7.png"] != before["words/digit-7.png"]


def test_a_retouch_outlives_another_drawing_number_and_a_moved_layout_is_named(
    kit_of_few, small, recipe_of
):
    mine = retouch(kit_of_few / "standard" / "grid-5.png")
    report = build_kit(small, kit_of_few, workers=1, only=FEW, number=8)
    assert (report.kept, report.moved) == (("standard/grid-5",), ())
    moved = recipe_of(margin='"3 %"')
    for _ in range(2):
        report = build_kit(moved, kit_of_few, workers=1, only=FEW)
        assert (report.kept, report.moved) == (("standard/grid-5",), ("standard/grid-5",))
    assert (kit_of_few / "standard" / "grid-5.png").read_bytes() == mine


def test_a_retouched_sheet_is_kept_too(kit_of_few, small):
    mine = retouch(kit_of_few / "overview.png")
    report = build_kit(small, kit_of_few, workers=1, only=FEW)
    assert report.sheets_kept == ("overview",)
    assert (kit_of_few / "overview.png").read_bytes() == mine
    assert build_kit(small, kit_of_few, workers=1, only=FEW, redraw=["overview"]).sheets == (
        "overview",
    )
    (kit_of_few / "overview.png").write_bytes(b"")
    report = build_kit(small, kit_of_few, workers=1, only=FEW)
    assert (report.sheets, report.sheets_kept) == (("overview",), ())
    assert "overview.png was empty, so overview was drawn anew" in notes_of(report)[0]
    assert (kit_of_few / "overview.png").read_bytes() != mine


@pytest.mark.parametrize("damage", [b"a text by mistake", b"\x89PNG\r\n\x1a\n"])
def test_a_retouch_that_is_no_picture_is_kept_and_noted(kit_of_few, small, damage):
    (kit_of_few / "standard" / "grid-5.png").write_bytes(damage)
    report = build_kit(small, kit_of_few, workers=1, only=FEW)
    assert (report.drawn, report.kept) == ((), ("standard/grid-5",))
    assert (kit_of_few / "standard" / "grid-5.png").read_bytes() == damage
    assert notes_of(report)[0] == (
        "standard/grid-5.png cannot be read as a picture; it may be half saved, so it was kept; "
        "say --redraw standard/grid-5 to replace it."
    )
    assert sum("cannot be read" in note for note in notes_of(report)) == 1


def test_a_picture_that_is_empty_is_drawn_anew_and_noted(kit_of_few, small, contents):
    before = contents(kit_of_few)
    (kit_of_few / "standard" / "grid-5.png").write_bytes(b"")
    report = build_kit(small, kit_of_few, workers=1, only=FEW)
    assert (report.drawn, report.kept) == (("standard/grid-5",), ())
    assert notes_of(report) == (
        "standard/grid-5.png was empty, so standard/grid-5 was drawn anew.",
    )
    assert contents(kit_of_few) == before


def test_a_retouch_of_another_size_is_kept_with_a_warning(kit_of_few, small):
    Image.new("L", (80, 160), 255).save(kit_of_few / "standard" / "grid-5.png")
    report = build_kit(small, kit_of_few, workers=1, only=FEW)
    assert report.kept == ("standard/grid-5",)
    assert notes_of(report)[0].startswith(
        "standard/grid-5, which you retouched, is 80 x 160 px and its canvas 160 x 160 px, so it "
        "no longer lines up with the "
    )


def test_a_retouched_stamp_asked_for_again_is_kept_and_that_is_said(kit_of_few, small):
    mine = retouch(kit_of_few / "standard" / "grid-5.png")
    again = replace(small, again={"standard/grid-5/down-3": 1})
    for _ in range(2):
        report = build_kit(again, kit_of_few, workers=1, only=FEW)
        assert report.kept == ("standard/grid-5",)
        assert len(notes_of(report)) == 1
        assert notes_of(report)[0].startswith(
            "standard/grid-5 was not drawn again because you retouched it; say --redraw "
            "standard/grid-5 to draw it without your retouch."
        )
    assert (kit_of_few / "standard" / "grid-5.png").read_bytes() == mine
    report = build_kit(again, kit_of_few, workers=1, only=FEW, redraw=["standard/grid-5"])
    assert [note.split(" as you had it")[0] for note in notes_of(report)] == ["standard/grid-5.png"]
    assert (kit_of_few / "standard" / "grid-5.before.png").read_bytes() == mine
    retouch(kit_of_few / "standard" / "grid-5.png")  # over the drawing that was asked for
    assert build_kit(again, kit_of_few, workers=1, only=FEW).notes == ()
    elsewhere = replace(small, again=again.again | {"words/digit-7": 1})
    assert build_kit(elsewhere, kit_of_few, workers=1, only=FEW).notes == ()


def test_pictures_without_a_manifest_are_somebodys_unless_they_are_just_what_would_be_drawn(
    kit_of_few, small, contents
):
    before = contents(kit_of_few)
    (kit_of_few / "manifest.json").unlink()
    mine = retouch(kit_of_few / "standard" / "weekdays-sunday.png")
    (kit_of_few / "words" / "digit-7.png").write_bytes(b"")
    with pytest.raises(InputError, match="holds files that are no part of the kit"):
        build_kit(small, kit_of_few, workers=1, only=FEW)
    report = build_kit(small, kit_of_few, workers=1, only=FEW, foreign=Foreign.LEAVE)
    assert report.drawn == ("standard/grid-5", "words/digit-7")
    assert notes_of(report)[0] == "words/digit-7.png was empty, so words/digit-7 was drawn anew."
    assert report.kept == ("standard/weekdays-sunday",)
    assert (kit_of_few / "standard" / "weekdays-sunday.png").read_bytes() == mine
    assert contents(kit_of_few)["standard/grid-5.png"] == before["standard/grid-5.png"]
    assert build_kit(small, kit_of_few, workers=1, only=FEW).kept == ("standard/weekdays-sunday",)


def test_again_redraws_one_numeral_and_no_other_stamp(tmp_path, small, contents):
    names = ("standard/dates-1", "standard/dates-2", "standard/grid-5")
    build_kit(small, tmp_path, workers=1, only=names)
    before = contents(tmp_path)
    report = build_kit(
        replace(small, again={"standard/dates-2/17": 2}), tmp_path, workers=1, only=names
    )
    after = contents(tmp_path)
    assert report.drawn == ("standard/dates-2",)
    assert 0 < report.n_marks <= 4
    assert {name for name in before if before[name] != after[name]} == {
        "standard/dates-2.png",
        "masters/standard/dates-2.npz",
        "manifest.json",
        "overview.png",
    }


def test_another_number_draws_everything_another_way(tmp_path, small, contents):
    build_kit(small, tmp_path / "a", workers=1, only=FEW)
    build_kit(small, tmp_path / "b", workers=1, only=FEW, number=8)
    one, two = contents(tmp_path / "a"), contents(tmp_path / "b")
    assert not [name for name in one if one[name] == two[name]]
    assert manifest_of(tmp_path / "b")["number"] == 8


def test_a_kit_of_another_number_is_left_as_it_is_unless_that_is_meant(
    kit_of_few, recipe_of, contents
):
    before = contents(kit_of_few)
    other = recipe_of(number=8)
    for arguments in ({"only": FEW}, {"number": 9}, {}):
        with pytest.raises(
            InputError,
            match=r"was drawn with number 7, and this is [89]$",
        ):
            build_kit(other, kit_of_few, workers=1, **arguments)
    assert contents(kit_of_few) == before
    assert build_kit(other, kit_of_few, workers=1, only=FEW, foreign=Foreign.LEAVE).drawn == FEW


def test_a_kit_of_another_title_or_name_is_left_as_it_is_unless_that_is_meant(
    kit_of_few, small, contents
):
    before = contents(kit_of_few)
    style = replace(small.style, edge=replace(small.style.edge, raggedness=0.005))
    other = replace(small, title="Another line", style=style)
    with pytest.raises(InputError, match="holds another kit: its title is") as caught:
        build_kit(other, kit_of_few, workers=1, only=FEW)
    assert str(caught.value).endswith(
        ', not "Another line"; 3 of its 3 pictures would be drawn over'
    )
    assert contents(kit_of_few) == before
    edited = replace(other, title=small.title)
    assert build_kit(edited, kit_of_few, workers=1, only=FEW).drawn == FEW
    report = build_kit(other, kit_of_few, workers=1, only=FEW, foreign=Foreign.LEAVE)
    assert report.unchanged == FEW


def test_kits_of_one_recipe_are_told_by_their_names(kit_of_few, small):
    def build_named(name):
        order = build.KitOrder(recipe=small, papers=PLAIN, name=name)
        (report,) = build.build_all(
            [build.Request(order=order, folder=kit_of_few)], workers=1, only=FEW
        )
        return report

    assert build_named("plain").unchanged == FEW  # the folder says no name so far
    assert manifest_of(kit_of_few)["kit"] == "plain"
    with pytest.raises(InputError, match='its name is "plain", not "festive"'):
        build_named("festive")
    assert build_kit(small, kit_of_few, workers=1, only=FEW).unchanged == FEW


def test_each_stamp_of_a_mixed_kit_says_what_it_was_drawn_with(kit_of_few, small, contents):
    before = contents(kit_of_few)
    build_kit(small, kit_of_few, workers=1, number=5, only=["words/digit-7"])
    calm = replace(
        small, style=replace(small.style, edge=replace(small.style.edge, raggedness=0.005))
    )
    build_kit(calm, kit_of_few, workers=1, only=["standard/grid-5"])
    manifest = manifest_of(kit_of_few)
    grid, weekdays, digit = manifest["stamps"]
    assert [stamp["number"] for stamp in (grid, weekdays, digit)] == [7, 7, 5]
    assert manifest["number"] == 7
    assert {stamp["style"]["name"] for stamp in manifest["stamps"]} == {manifest["style"]["name"]}
    assert grid["style"]["digest"] == manifest["style"]["digest"] != weekdays["style"]["digest"]
    assert weekdays["style"] == digit["style"]
    report = build_kit(small, kit_of_few, workers=1, only=FEW)
    assert report.drawn == ("standard/grid-5", "words/digit-7")
    assert contents(kit_of_few) == before


def test_stamps_that_the_recipe_drops_stay_listed_and_in_place(tmp_path, recipe_of):
    build_kit(recipe_of(), tmp_path, workers=1, only=["words/year-*"])
    other = recipe_of(years="[2028]")
    for _ in range(2):
        report = build_kit(other, tmp_path, workers=1, only=["words/year-*"])
        assert report.left_over == ("words/year-2027",)
        assert [stamp["name"] for stamp in manifest_of(tmp_path)["stamps"]] == [
            "words/year-2028",
            "words/year-2027",
        ]
    (tmp_path / "words" / "year-2027.png").unlink()
    build_kit(other, tmp_path, workers=1, only=["words/year-*"])
    assert [stamp["name"] for stamp in manifest_of(tmp_path)["stamps"]] == ["words/year-2028"]


def test_foreign_files_are_refused_before_anything_is_written(tmp_path, small, contents):
    (tmp_path / "notes.txt").write_text("mine")
    with pytest.raises(InputError, match=r"no part of the kit, such as notes\.txt"):
        build_kit(small, tmp_path, workers=1, only=FEW)
    assert list(contents(tmp_path)) == ["notes.txt"]
    build_kit(small, tmp_path, workers=1, only=FEW, foreign=Foreign.LEAVE)
    assert (tmp_path / "notes.txt").read_text() == "mine"
    report = build_kit(small, tmp_path, workers=1, only=FEW)  # now that the folder is a kit
    assert notes_of(report) == (
        (
            f"{tmp_path} also holds files that are no part of the kit, such as notes.txt; they "
            f"stay "
            f"untouched."
        ),
    )


def test_what_a_desktop_leaves_in_a_folder_is_not_foreign(tmp_path, small):
    (tmp_path / ".DS_Store").write_bytes(b"")
    assert build_kit(small, tmp_path, workers=1, only=FEW).drawn == FEW


def test_a_file_in_place_of_the_folder_is_refused(tmp_path, small):
    (tmp_path / "kit").write_text("")
    with pytest.raises(InputError, match="kit is a file; a kit can only go into a folder"):
        build_kit(small, tmp_path / "kit", workers=1)


@pytest.mark.parametrize(
    ("text", "words"), [("{}", "is not the manifest of a kit"), ("{", "is damaged")]
)
def test_a_manifest_of_something_else_is_left_alone(tmp_path, small, text, words):
    (tmp_path / "manifest.json").write_text(text)
    with pytest.raises(InputError, match=words):
        build_kit(small, tmp_path, workers=1, foreign=Foreign.LEAVE)
    assert (tmp_path / "manifest.json").read_text() == text


@pytest.mark.parametrize("option", ["only", "redraw"])
def test_names_that_fit_nothing_are_refused_with_the_nearest(tmp_path, small, option):
    with pytest.raises(InputError) as caught:
        build_kit(small, tmp_path / "kit", workers=1, **{option: ["standard/gird-5"]})
    sentence = f"--{option}: no stamp is called 'standard/gird-5'; did you mean 'standard/grid-5'"
    assert error_sentence(caught.value).startswith(sentence)
    assert not (tmp_path / "kit").exists()


def test_workers_and_numbers_must_be_in_range(tmp_path, small):
    with pytest.raises(InputError) as caught:
        build_kit(small, tmp_path / "kit", workers=0)
    assert error_sentence(caught.value) == "--workers: at least 1 is required, not 0"
    with pytest.raises(InputError, match="a whole number from 0 to 999999999 is required, not -1"):
        build_kit(small, tmp_path / "kit", number=-1)
    assert not (tmp_path / "kit").exists()


class FillingDisk(Disk):
    """Has room for a number of bytes, then writes what still fits and raises as the system does."""

    def __init__(self, room):
        self.room = room

    def write(self, path, data):
        fitting = data[: self.room]
        self.room -= len(fitting)
        super().write(path, fitting)
        if len(fitting) < len(data):
            raise OSError(errno.ENOSPC, "No space left on device")

    def append(self, path, data):
        fitting = data[: self.room]
        self.room -= len(fitting)
        super().append(path, fitting)
        if len(fitting) < len(data):
            raise OSError(errno.ENOSPC, "No space left on device")


def test_a_full_disk_loses_nothing_and_leaves_no_part(tmp_path, small, contents):
    build_kit(small, tmp_path / "whole", workers=1, only=FEW)
    for room in (50, 9_000, 20_000):
        folder = tmp_path / f"kit-{room}"
        with pytest.raises(WorkError, match="there is no room left on the disk"):
            build_kit(small, folder, workers=1, only=FEW, disk=FillingDisk(room))
        assert not [name for name in contents(folder) if name.endswith("inkline-part")]
        report = build_kit(small, folder, workers=1, only=FEW)
        assert report.kept == ()
        assert contents(folder) == contents(tmp_path / "whole")
