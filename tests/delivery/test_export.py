"""Exports as folders: kept, resumed, never over others; and what bad wishes are told."""

import json
import shutil
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from PIL import Image

from inkline.cli.running import run
from inkline.delivery.export import ExportRequest, export_kit
from inkline.errors import InputError, WorkError
from inkline.output.look import FileLook, Ground, Words
from kit_folders import retouch

SVG = "{http://www.w3.org/2000/svg}"
TWO = ("tall/dates-1", "words/digit-1")


def export(kit, folder, *forms, only=TWO, **options):
    look = FileLook(**options.pop("look", {}))
    request = ExportRequest(kit=kit, forms=forms, only=only, look=look, **options)
    return export_kit(request, folder, workers=1)


@pytest.fixture
def own_kit(kit, tmp_path):
    shutil.copytree(kit, tmp_path / "kit")
    return tmp_path / "kit"


def test_files_that_are_as_they_would_be_are_left_alone(kit, tmp_path, contents):
    folder = tmp_path / "files"
    first = export(kit, folder, "png", "svg")
    assert sorted(first.files_made) == [
        "png/tall/dates-1.png",
        "png/words/digit-1.png",
        "svg/tall/dates-1.svg",
        "svg/words/digit-1.svg",
    ]
    before = contents(folder)
    again = export(kit, folder, "png", "svg")
    assert (again.files_made, len(again.files_unchanged)) == ((), 4)
    assert contents(folder) == before
    other = export(kit, folder, "png", look={"ink": "#c2452d"})
    assert sorted(other.files_made) == ["png/tall/dates-1.png", "png/words/digit-1.png"]
    (folder / "svg" / "tall" / "dates-1.svg").write_text("mine")
    kept = export(kit, folder, "svg")
    assert kept.files_kept == ("svg/tall/dates-1.svg",)
    assert (folder / "svg" / "tall" / "dates-1.svg").read_text() == "mine"


def test_the_kit_is_not_changed(kit, tmp_path, contents):
    before = contents(kit)
    export(kit, tmp_path / "files")
    assert contents(kit) == before


def test_a_retouched_stamp_has_only_forms_of_its_picture(own_kit, tmp_path):
    retouch(own_kit / "tall" / "dates-1.png")
    folder = tmp_path / "files"
    report = export(own_kit, folder, "png", "svg", "pdf", "ora", "tiff")
    notes = " ".join(note.sentence for note in report.notes)
    assert "svg/tall/dates-1.svg was not made: you retouched it" in notes
    assert "In pdf/tall.pdf, pictures as you retouched them: tall/dates-1" in notes
    assert not (folder / "svg" / "tall" / "dates-1.svg").exists()
    with Image.open(folder / "png" / "tall" / "dates-1.png") as picture:
        assert (np.asarray(picture)[:9, :9, 1] == 255).all()


def test_a_retouch_of_another_size_is_told_and_one_that_is_no_picture_is_left_out(
    own_kit, tmp_path
):
    retouch(own_kit / "tall" / "dates-1.png")
    (own_kit / "words" / "digit-1.png").write_bytes(b"no picture")
    report = export(own_kit, tmp_path / "files", "png", size_px=250)
    first, second = (note.sentence for note in report.notes)
    assert first == (
        "In png/tall/dates-1.png, tall/dates-1 is its picture of 500 x 500 px taken to 250 x 250 "
        "px, since it can't be drawn again from its masters"
    )
    assert second.startswith("png/words/digit-1.png was not made: ")
    with Image.open(tmp_path / "files" / "png" / "tall" / "dates-1.png") as picture:
        assert picture.size == (250, 250)
        assert (np.asarray(picture)[:4, :4, 1] == 255).all()
    assert not (tmp_path / "files" / "png" / "words" / "digit-1.png").exists()


def test_groups_of_outlines_have_the_names_of_marks(kit, tmp_path):
    export(kit, tmp_path / "files", "svg", only=("tall/grid-5", "tall/dates-1", "tall/blocks-5"))
    root = ET.parse(tmp_path / "files" / "svg" / "tall" / "grid-5.svg").getroot()  # noqa: S314
    names = [group.get("id") for group in root.iter(f"{SVG}g")][1:]
    assert names[:6] == [f"grid-5.across-{row}" for row in range(1, 7)]
    assert names[6:] == [*(f"grid-5.down-{column}" for column in range(1, 9)), "grid-5.joins"]
    root = ET.parse(tmp_path / "files" / "svg" / "tall" / "dates-1.svg").getroot()  # noqa: S314
    titles = [group.findtext(f"{SVG}title") for group in root.iter(f"{SVG}g")]
    assert {"4", "4/1", "4/2", "31"} <= set(titles)
    assert len({group.get("id") for group in root.iter(f"{SVG}g")}) == len(titles)


def test_what_files_say_of_themselves(kit, tmp_path):
    words = Words(title="Föhn", author="A. Hand", licence="For your own work")
    export(kit, tmp_path / "files", "png", "svg", look={"words": words})
    with Image.open(tmp_path / "files" / "png" / "tall" / "dates-1.png") as picture:
        said = {"Title": "Föhn", "Author": "A. Hand", "Copyright": "For your own work"}
        assert picture.text == said
        assert picture.info["dpi"] == pytest.approx((300, 300), abs=0.1)
    text = (tmp_path / "files" / "svg" / "tall" / "dates-1.svg").read_text()
    assert "<dc:rights>For your own work</dc:rights>" in text
    assert 'width="42.3333mm"' in text  # 500 px at 300 an inch of 25.4 mm


@pytest.mark.parametrize(
    ("wishes", "sentence"),
    [
        ({"forms": ("psx",)}, "there is no form 'psx'"),
        ({"size_px": 3}, "a size from 16 px to 20000 px is required, not 3 px"),
        ({"size_px": 40000}, "a size from 16 px to 20000 px is required, not 40000 px"),
        ({"ppi": 0.0}, "pixels per inch from 30 to 4800 are required, not 0"),
        ({"ppi": -3.0}, "pixels per inch from 30 to 4800 are required, not -3"),
        ({"ppi": float("nan")}, "pixels per inch from 30 to 4800 are required, not nan"),
        ({"only": ("tall/dotes-1",)}, "did you mean 'tall/dates-1'"),
    ],
)
def test_bad_wishes_get_their_sentence(kit, tmp_path, wishes, sentence):
    with pytest.raises(InputError, match=sentence):
        export_kit(ExportRequest(kit=kit, **wishes), tmp_path / "files", workers=1)
    assert not (tmp_path / "files").exists()


@pytest.mark.parametrize(
    ("look", "sentence"),
    [
        ({"ink": "reddish"}, "a colour is written as"),
        ({"ink": "#c2452d", "ground": Ground.WHITE}, "a colour stands on a clear ground"),
        ({"bits": 12}, "a value has 8 or 16 bits, not 12"),
        ({"bleed_mm": 900.0}, "bleed must be from 0 mm to 50 mm"),
    ],
)
def test_bad_looks_get_their_sentence(look, sentence):
    with pytest.raises(InputError, match=sentence):
        FileLook(**look)


def test_a_stranger_s_folder_and_the_kit_s_own_are_refused(own_kit, tmp_path, contents):
    folder = tmp_path / "hers"
    folder.mkdir()
    (folder / "letter.txt").write_text("dear")
    with pytest.raises(InputError, match="holds files that are no part"):
        export(own_kit, folder, "png")
    assert sorted(contents(folder)) == ["letter.txt"]
    with pytest.raises(InputError, match="lies in the kit's own folder"):
        export(own_kit, own_kit / "files", "png")
    with pytest.raises(InputError, match="holds no kit"):
        export(folder, tmp_path / "out", "png")
    with pytest.raises(InputError, match='says "inkline kit", and a folder of'):
        export(kit=own_kit, folder=_copy(own_kit, tmp_path / "other"))


def _copy(kit, folder):
    shutil.copytree(kit, folder)
    return folder


def test_a_kit_that_is_not_finished_is_refused(own_kit, tmp_path):
    (own_kit / "journal.jsonl").write_text("")
    from inkline.folder.journal import JOURNAL_FILE  # noqa: PLC0415

    (own_kit / JOURNAL_FILE).write_text("")
    with pytest.raises(InputError, match="is being built, or was stopped"):
        export(own_kit, tmp_path / "files", "png")


def test_it_is_said_what_there_is(kit, tmp_path, said):
    folder = tmp_path / "files"
    arguments = ["export", str(kit), "png", "svg", "-o", str(folder), "--workers", "1"]
    assert run([*arguments, "--only", "words/digit-1", "--ink", "#C2452D"]) == 0
    out, err = said()
    assert err == []
    assert f"2 files in {folder}: 2 written (" in out[2]
    assert out[3].startswith("- png: 1 file, ")
    assert run([*arguments, "--ink", "blue"]) == 2
    _, err = said()
    assert err[0].startswith("inkline: --ink: a colour is written as")
    assert run([*arguments, "--size", "3 mm"]) == 2
    _, err = said()
    assert "a size in px is required" in err[0]


def test_the_recipe_s_wishes_hold_where_nothing_is_said(own_kit, tmp_path):
    file = own_kit / "manifest.json"
    manifest = json.loads(file.read_text())
    manifest["files"] = {"forms": ["png"], "ink": "#c2452d", "author": "A. Hand"}
    file.write_text(json.dumps(manifest))
    out = tmp_path / "files"
    assert run(["export", str(own_kit), "-o", str(out), "--only", "words/digit-1"]) == 0
    assert sorted(one.name for one in out.iterdir()) == ["manifest.json", "png"]
    with Image.open(out / "png" / "words" / "digit-1.png") as picture:
        assert picture.getpixel((0, 0)) == (194, 69, 45, 0)
        assert picture.text == {"Title": "Föhn & fog", "Author": "A. Hand"}


def test_a_full_disk_loses_nothing_and_the_next_run_goes_on(kit, tmp_path, monkeypatch, contents):
    folder = tmp_path / "files"
    export(kit, folder, "png")
    before = contents(folder)

    def full(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr("os.fsync", full)
        with pytest.raises(WorkError, match="there is no room left on the disk"):
            export(kit, folder, "png", "svg", look={"ink": "#c2452d"})
    assert {name: data for name, data in contents(folder).items() if "png" in str(name)} == {
        name: data for name, data in before.items() if "png" in str(name)
    }
    again = export(kit, folder, "png", "svg", look={"ink": "#c2452d"})
    assert len(again.files_made) == 4
