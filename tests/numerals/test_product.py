"""A whole numeral set.

Files, repeatability, changes by hand, stops, foreign folders, and what the manifest says.
"""

import io
import json
import re
from dataclasses import replace
from pathlib import Path

import font_roboto
import font_source_sans_pro
import numpy as np
import pytest
import resvg
from fontTools.ttLib import TTFont
from PIL import Image

from inkline.cli.remedies import error_sentence, note_sentence
from inkline.errors import Action, InputError, WorkError
from inkline.folder.disk import Disk
from inkline.folder.kept import Foreign
from inkline.folder.manifest import MANIFEST_FILE
from inkline.lettering.writing import Way
from inkline.numerals.head import MASTERS_FILE
from inkline.numerals.permission import Permission
from inkline.numerals.product import draw_numerals
from inkline.numerals.request import Ground, NumeralRequest
from inkline.units import Length, Unit, length_from_text

ORDER = NumeralRequest(
    height=length_from_text("48 px"), wanted="0-9,11,1st-2nd,A", number=5, font_name="Pier Figures"
)
SMALL = replace(ORDER, wanted="7,12", font_name=None)
SOURCE = Path(font_source_sans_pro.font_files_otf["SourceSansPro"])
ROBOTO = Path(font_roboto.font_files["Roboto"])


@pytest.fixture(scope="module")
def drawn(tmp_path_factory):
    folder = tmp_path_factory.mktemp("set") / "numerals"
    return folder, draw_numerals(ORDER, folder)


def manifest(folder):
    return json.loads((folder / MANIFEST_FILE).read_bytes())


def pixels(file):
    with Image.open(file) as picture:
        return np.asarray(picture).astype(int)


def test_every_text_has_a_picture_and_an_outline(drawn, contents):
    folder, report = drawn
    stems = [
        *(f"digits/{n}" for n in range(10)),
        "numerals/11",
        "ordinals/1st",
        "ordinals/2nd",
        "others/A",
    ]
    pairs = {f"{stem}.{end}" for stem in stems for end in ("png", "svg")}
    assert set(contents(folder)) == pairs | {
        "overview.png",
        "PierFigures.otf",
        MANIFEST_FILE,
        MASTERS_FILE,
    }
    assert (report.n_texts, report.unchanged, report.kept, report.notes) == (14, (), (), ())
    assert report.font_file == "PierFigures.otf"
    assert set(report.drawn) == pairs | {"overview.png", "PierFigures.otf"}


def notes_of(report):
    """The notes as the command line says them."""
    return [note_sentence(note) for note in report.notes]


def test_the_same_order_draws_nothing_again_and_gives_the_same_bytes(drawn, tmp_path, contents):
    folder, _ = drawn
    before = contents(folder)
    again = draw_numerals(ORDER, folder)
    assert (again.drawn, len(again.unchanged)) == ((), 30)
    assert contents(folder) == before
    draw_numerals(ORDER, tmp_path / "other")
    assert contents(tmp_path / "other") == before


def test_outlines_show_what_pictures_show(drawn):
    """Drawn by resvg, an independent renderer."""
    folder, _ = drawn
    for stem in ("digits/8", "numerals/11", "others/A"):
        tree = resvg.usvg.Tree.from_str(
            (folder / f"{stem}.svg").read_text(), resvg.usvg.Options.default()
        )
        with Image.open(io.BytesIO(resvg.render(tree, (1.0, 0.0, 0.0, 0.0, 1.0, 0.0)))) as picture:
            got = np.asarray(picture.getchannel("A")).astype(int)
        assert np.abs(got - pixels(folder / f"{stem}.png")).mean() < 1.0


def test_pictures_have_their_resolution_and_white_ink_on_black(drawn):
    folder, _ = drawn
    with Image.open(folder / "digits/0.png") as picture:
        assert picture.mode == "L"
        assert picture.info["dpi"] == pytest.approx((300, 300), abs=0.01)
        grey = np.asarray(picture)
    assert (grey[0].max(), grey.max()) == (0, 255)


def test_the_manifest_says_where_all_is(drawn, contents):
    folder, _ = drawn
    said = manifest(folder)
    assert (said["format"], said["version"], said["number"], said["height_px"]) == (
        "inkline numerals",
        1,
        5,
        48.0,
    )
    assert said["style"]["name"] == "round-pen"
    assert said["lettering"]["name"] == "Scullery"
    assert said["font"]["characters"] == "0123456789Adnst"
    sums = {entry["file"]: entry["sha256"] for entry in said["files"]}
    assert sums == {
        k: v for k, v in contents(folder).items() if k not in (MANIFEST_FILE, MASTERS_FILE)
    }
    for entry in said["numerals"]:
        grey = pixels(folder / entry["picture"])
        assert [grey.shape[1], grey.shape[0]] == entry["canvas"]
        rows, columns = np.nonzero(grey > 127)
        x0, y0, x1, y1 = entry["ink"]
        assert (columns.min(), rows.min()) == pytest.approx((x0, y0), abs=3.5)
        assert (columns.max() + 1, rows.max() + 1) == pytest.approx((x1, y1), abs=3.5)
        assert y1 == pytest.approx(entry["baseline"][1], abs=1.5)
    assert str(folder) not in (folder / MANIFEST_FILE).read_text()


def test_another_number_draws_other_lines(drawn, tmp_path):
    folder, _ = drawn
    draw_numerals(replace(ORDER, number=6), tmp_path / "other")
    assert (
        np.abs(pixels(folder / "digits/7.png") - pixels(tmp_path / "other/digits/7.png")).max()
        > 100
    )


def test_ink_on_a_clear_ground_is_the_same_ink(drawn, tmp_path):
    folder, _ = drawn
    draw_numerals(replace(ORDER, ground=Ground.CLEAR, font_name=None), tmp_path / "clear")
    clear = pixels(tmp_path / "clear/digits/3.png")
    assert clear[:, :, 0].max() == 0
    assert np.array_equal(clear[:, :, 1], pixels(folder / "digits/3.png"))
    with Image.open(tmp_path / "clear/digits/3.png") as picture:
        assert (picture.mode, picture.info["dpi"]) == ("LA", pytest.approx((300, 300), abs=0.01))
    assert np.array_equal(pixels(tmp_path / "clear/overview.png"), pixels(folder / "overview.png"))


@pytest.mark.parametrize("ground", Ground)
def test_a_picture_changed_by_hand_is_kept_and_shown(tmp_path, ground):
    order = replace(SMALL, ground=ground)
    draw_numerals(order, tmp_path)
    before = pixels(tmp_path / "overview.png")
    file = tmp_path / "digits/7.png"
    with Image.open(file) as picture:
        Image.new(picture.mode, picture.size, 0).save(file)
    own = file.read_bytes()
    report = draw_numerals(order, tmp_path)
    assert (report.kept, report.drawn) == (("digits/7.png",), ("overview.png",))
    assert file.read_bytes() == own
    assert not np.array_equal(pixels(tmp_path / "overview.png"), before)
    report = draw_numerals(replace(order, number=8), tmp_path, foreign=Foreign.LEAVE)
    assert report.kept == ()
    assert {"digits/7.png", "digits/7.svg"} <= set(report.drawn)
    assert (tmp_path / "digits/7.before.png").read_bytes() == own
    file.unlink()
    assert draw_numerals(replace(order, number=8), tmp_path).kept == ()


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"style": "chalk"}, 'its style is "round-pen", not "chalk"'),
        ({"number": 8, "style": "chalk"}, "its number is 5, not 8"),
        ({"height": Length(50.0, Unit.PX)}, "px, not 50 px"),
        ({"ground": Ground.CLEAR}, 'its ground is "black", not "clear"'),
        ({"family": "errand"}, "its letters are"),
    ],
)
def test_a_set_is_not_drawn_over_by_another_unless_that_is_meant(
    tmp_path, contents, changes, words
):
    draw_numerals(SMALL, tmp_path)
    before = contents(tmp_path)
    other = replace(SMALL, **changes)
    with pytest.raises(InputError, match="holds another numeral set") as caught:
        draw_numerals(other, tmp_path)
    assert words in str(caught.value)
    assert "pictures would be drawn over" in str(caught.value)
    assert [one.action for one in caught.value.remedies] == [Action.OTHER_FOLDER, Action.GO_ON]
    assert contents(tmp_path) == before
    assert draw_numerals(SMALL, tmp_path).drawn == ()
    assert draw_numerals(other, tmp_path, foreign=Foreign.LEAVE).drawn
    assert draw_numerals(other, tmp_path).drawn == ()


def test_a_font_that_is_no_longer_asked_for_is_told(tmp_path):
    draw_numerals(replace(SMALL, font_name="Mine", wanted="A"), tmp_path)
    report = draw_numerals(replace(SMALL, wanted="A"), tmp_path)
    assert report.left_over == ("Mine",)
    assert (tmp_path / "Mine.otf").exists()


def test_a_picture_that_cannot_be_read_is_left_blank_and_said(tmp_path):
    draw_numerals(SMALL, tmp_path)
    (tmp_path / "digits/7.png").write_bytes(b"no picture")
    report = draw_numerals(SMALL, tmp_path)
    assert report.kept == ("digits/7.png",)
    assert sum("cannot be read as a picture" in note for note in notes_of(report)) == 1


def test_damaged_masters_are_drawn_anew_and_said(tmp_path, contents):
    draw_numerals(SMALL, tmp_path)
    before = contents(tmp_path)
    (tmp_path / MASTERS_FILE).write_bytes(b"PK nonsense")
    report = draw_numerals(SMALL, tmp_path)
    assert any(
        "could not be used, since the file is damaged; they were drawn again" in note
        for note in notes_of(report)
    )
    assert contents(tmp_path) == before


def test_what_is_no_longer_asked_for_stays(tmp_path):
    draw_numerals(replace(SMALL, wanted="7,12,A"), tmp_path)
    report = draw_numerals(SMALL, tmp_path)
    assert (tmp_path / "others/A.png").exists()
    assert "others/A.png" in {entry["file"] for entry in manifest(tmp_path)["files"]}
    assert [entry["text"] for entry in manifest(tmp_path)["numerals"]] == ["7", "12"]
    assert report.drawn == ("overview.png",)


class StoppingDisk(Disk):
    """Stops for good after so many operations, as a killed run does."""

    def __init__(self, operations):
        self.left = operations

    def __getattribute__(self, name):
        if name in {"make_folder", "write", "append", "replace", "remove", "sync_folder"}:
            self.left -= 1
            if self.left < 0:
                raise KeyboardInterrupt
        return super().__getattribute__(name)


def test_a_run_that_is_stopped_anywhere_is_finished_by_the_next(tmp_path, contents):
    order = replace(SMALL, wanted="7")
    draw_numerals(order, tmp_path / "whole")
    whole = contents(tmp_path / "whole")
    for operations in range(60):
        folder = tmp_path / str(operations)
        try:
            draw_numerals(order, folder, disk=StoppingDisk(operations))
        except KeyboardInterrupt:
            report = draw_numerals(order, folder)
            assert report.kept == ()
            assert contents(folder) == whole
        else:
            assert operations > 10
            return
    pytest.fail("it never came to an end")


def test_foreign_files_are_a_reason_to_refuse_unless_told_otherwise(tmp_path):
    (tmp_path / "mine.txt").write_text("mine")
    with pytest.raises(
        InputError, match=r"holds files that are no part of the numeral set, such as mine\.txt"
    ):
        draw_numerals(SMALL, tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]
    (tmp_path / "digits").mkdir()
    (tmp_path / "digits/7.png").write_bytes(b"mine, too")
    report = draw_numerals(SMALL, tmp_path, foreign=Foreign.LEAVE)
    assert report.kept == ("digits/7.png",)
    assert (tmp_path / "digits/7.png").read_bytes() == b"mine, too"
    assert (tmp_path / "mine.txt").read_text() == "mine"


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"{", "manifest.json is damaged"),
        (
            b'{"format": "inkline kit", "version": 1}',
            'says "inkline kit", and a numeral set would come between; give another folder',
        ),
        (
            b'{"format": "inkline numerals", "version": 2}',
            "has version 2, and this inkline reads version 1",
        ),
        (
            b'{"format": "inkline numerals", "version": 1}',
            "is damaged \\(an entry lacks or misstates 'files'\\)",
        ),
        (
            b'{"format": "inkline numerals", "version": 1, "files": [7]}',
            "is damaged \\(something in it is of another kind",
        ),
    ],
)
def test_a_manifest_of_another_kind_is_left_alone(tmp_path, data, sentence):
    (tmp_path / MANIFEST_FILE).write_bytes(data)
    with pytest.raises(InputError) as caught:
        draw_numerals(SMALL, tmp_path)
    assert re.search(sentence, error_sentence(caught.value))
    assert (tmp_path / MANIFEST_FILE).read_bytes() == data


def test_a_file_is_no_folder(tmp_path):
    (tmp_path / "set").write_text("x")
    with pytest.raises(InputError, match="is a file; a numeral set can only go into a folder"):
        draw_numerals(SMALL, tmp_path / "set")


def test_a_manifest_that_is_a_folder_is_said(tmp_path):
    (tmp_path / MANIFEST_FILE).mkdir()
    with pytest.raises(WorkError, match=r"manifest\.json could not be read"):
        draw_numerals(SMALL, tmp_path)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"number": -1}, "--number: a whole number from 0 to 999999999 is required, not -1"),
        (
            {"height": length_from_text("3 px")},
            r"--height: 8 to 5000 px are required, not 3 px \(3 px\)",
        ),
        ({"height": length_from_text("1000 in")}, "--height: 8 to 5000 px are required"),
        (
            {"height": length_from_text("10 %")},
            '--height: a length such as "300 px" or "25 mm" is required, not 10 %',
        ),
        ({"family": "nobody"}, "there is no stroke family 'nobody'"),
        ({"family": "nowhere.ufo"}, "there is no folder nowhere.ufo"),
        ({"style": "nobody"}, "nobody"),
        ({"font_name": "a/b"}, "a font's name is 1 to 29 letters"),
        ({"font": ROBOTO, "font_name": "Roboto Hand"}, "the font needs a name of its own"),
    ],
)
def test_an_order_that_cannot_be_used_changes_nothing(tmp_path, change, sentence):
    with pytest.raises(InputError) as caught:
        draw_numerals(replace(SMALL, **change), tmp_path / "set")
    assert re.search(sentence, error_sentence(caught.value))
    assert not (tmp_path / "set").exists()


def test_a_font_drawn_from_a_font_says_so(tmp_path):
    order = replace(SMALL, font=SOURCE, font_name="Quay Figures", wanted="A")
    report = draw_numerals(order, tmp_path)
    assert notes_of(report)[0] == (
        "Source Sans Pro: its letters are written stroke by stroke; --way contour inks their "
        "contours instead."
    )
    assert [note.partition(":")[0] for note in notes_of(report)[1:]] == [
        (
            "Source Sans Pro says that it is under the SIL Open Font License, and so "
            "QuayFigures.otf "
            "is as well"
        )
    ]
    font = TTFont(tmp_path / "QuayFigures.otf")
    said = {key: font["name"].getDebugName(key) for key in (0, 1, 10, 13, 14)}
    assert said[0].startswith("Drawn after Source Sans Pro")
    assert "Reserved Font Name" in said[0]
    assert said[1] == "Quay Figures"
    assert said[10].startswith("Drawn with inkline after the font Source Sans Pro")
    assert "SIL Open Font License" in said[13]
    assert said[14] == "http://scripts.sil.org/OFL"
    lettering = manifest(tmp_path)["lettering"]
    assert (lettering["kind"], lettering["name"], lettering["way"]) == (
        "font",
        "Source Sans Pro",
        "stroke",
    )
    assert lettering["version"].startswith("Version 2")
    assert "SIL Open Font License" in lettering["licence"]
    assert lettering["embedding"] == {"fsType": 0, "means": "installable"}


def test_a_font_is_written_with_the_pen_or_inked_along_its_contours(tmp_path):
    """Source Sans' regular weight is written by itself, its black one is not.

    Either can be had the other way.
    """
    black = Path(font_source_sans_pro.font_files_otf["SourceSansProBlack"])
    for font, way, other in ((SOURCE, Way.STROKE, Way.CONTOUR), (black, Way.CONTOUR, Way.STROKE)):
        order = replace(
            SMALL, font=font, wanted="7", style="brush-pen", height=length_from_text("90 px")
        )
        pictures = []
        for chosen in (Way.AUTO, way, other):
            folder = tmp_path / f"{font.stem}-{chosen}"
            report = draw_numerals(replace(order, way=chosen), folder)
            assert len(report.notes) == (chosen is Way.AUTO)
            pictures.append((folder / "digits/7.png").read_bytes())
        assert pictures[0] == pictures[1] != pictures[2]


def test_a_font_without_tooth_says_so(tmp_path):
    dry = replace(SMALL, style="worn-print", font_name="Dry Figures", wanted="A")
    draw_numerals(dry, tmp_path)
    assert (
        "the bare specks of dry ink on rough paper are in the pictures only"
        in (tmp_path / "others/A.svg").read_text()
    )
    assert "in the pictures only" in TTFont(tmp_path / "DryFigures.otf")["name"].getDebugName(10)
    draw_numerals(replace(dry, style="round-pen"), tmp_path, foreign=Foreign.LEAVE)
    assert "in the pictures only" not in (tmp_path / "others/A.svg").read_text()


def test_a_font_that_forbids_it_is_drawn_from_only_with_permission(tmp_path):
    font = TTFont(ROBOTO)
    font["OS/2"].fsType = 2
    file = tmp_path / "closed.ttf"
    font.save(file)
    order = replace(SMALL, font=file, font_name="Quay Figures", wanted="A")
    with pytest.raises(InputError) as caught:
        draw_numerals(order, tmp_path / "set")
    assert re.fullmatch(
        r"no font file is drawn from Roboto: .*; the licence text decides; say --i-have-permission "
        r"if you have its owner's permission for a font file",
        error_sentence(caught.value),
    )
    assert not (tmp_path / "set").exists()
    draw_numerals(replace(order, permission=Permission.STATED), tmp_path / "set")
    assert TTFont(tmp_path / "set/QuayFigures.otf")["OS/2"].fsType == 2
    assert draw_numerals(replace(order, font_name=None), tmp_path / "pictures").n_texts == 1


def test_a_changed_set_keeps_its_drawings(tmp_path):
    """One more text widens the canvas and redraws no line: the ink is the same, moved."""
    draw_numerals(replace(SMALL, wanted="12"), tmp_path)
    narrow = pixels(tmp_path / "numerals/12.png")
    masters = (tmp_path / MASTERS_FILE).read_bytes()
    draw_numerals(replace(SMALL, wanted="12,1234"), tmp_path)
    wide = pixels(tmp_path / "numerals/12.png")
    assert wide.shape[1] > narrow.shape[1]
    assert wide.sum() == pytest.approx(narrow.sum(), rel=1e-3)
    assert len((tmp_path / MASTERS_FILE).read_bytes()) > len(masters)


def test_every_picture_is_told_of(tmp_path):
    steps = []
    draw_numerals(SMALL, tmp_path, listener=steps.append)
    assert [(step.name, step.done, step.total) for step in steps] == [
        ("digits/7", 1, 3),
        ("numerals/12", 2, 3),
        ("overview", 3, 3),
    ]
