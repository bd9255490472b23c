"""Packs: what buyers get and what stays at home, the same bytes, and what is refused.

The text of the SIL Open Font License 1.1 is held against the one that comes with Lato.
"""

import io
import json
import os
import shutil
import zipfile
from pathlib import Path

import font_lato
import pytest
from PIL import Image

from inkline.cli.running import run
from inkline.delivery.export import ExportRequest
from inkline.delivery.pack import pack_kit
from inkline.delivery.readme import letters_text, open_licence_text
from inkline.errors import InputError, WorkError
from kit_folders import retouch

FEW = ("tall/dates-1.png", "words/digit-1.png")


@pytest.fixture
def own_kit(kit, tmp_path):
    """A copy of the kit with two of its stamps, and a licence."""
    folder = tmp_path / "kit"
    shutil.copytree(kit, folder)
    manifest = json.loads((folder / "manifest.json").read_text())
    for stamp in manifest["stamps"]:
        if stamp["file"] not in FEW:
            (folder / stamp["file"]).unlink()
    manifest["stamps"] = [stamp for stamp in manifest["stamps"] if stamp["file"] in FEW]
    manifest["files"] = {"author": "A. Hand", "licence_text": "Für dich.\n"}
    (folder / "manifest.json").write_text(json.dumps(manifest))
    return folder


def pack(kit, file, *forms, **options):
    return pack_kit(ExportRequest(kit=kit, forms=forms), file, **options)


def names_in(file):
    with zipfile.ZipFile(file) as archive:
        assert archive.testzip() is None
        return archive.namelist()


def test_a_pack_holds_what_buyers_need_and_nothing_else(own_kit, tmp_path):
    chart = tmp_path / "chart.pdf"
    chart.write_bytes(b"%PDF")
    file = tmp_path / "fog-bell.zip"
    (one,) = pack(own_kit, file, beside=[chart])
    assert names_in(file) == [
        "fog-bell/README.txt",
        "fog-bell/tall/dates-1.png",
        "fog-bell/words/digit-1.png",
        "fog-bell/guide.pdf",
        "fog-bell/chart.pdf",
        "fog-bell/LICENCE.txt",
        "fog-bell/LETTERS.txt",
    ]
    assert (one.n_files, one.n_pictures, one.n_bytes) == (7, 2, file.stat().st_size)
    with zipfile.ZipFile(file) as archive:
        assert archive.read("fog-bell/LICENCE.txt").decode() == "Für dich.\n"
        picture = archive.read("fog-bell/tall/dates-1.png")
        assert picture == (own_kit / "tall" / "dates-1.png").read_bytes()
        readme = archive.read("fog-bell/README.txt").decode()
        assert {member.date_time for member in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert readme.startswith("Föhn & fog\n==========\n\nBy A. Hand\n")
    assert "- tall: 1 picture (PNG)\n- words: 1 picture (PNG)\n- guide.pdf: how" in readme
    assert "LICENCE.txt says what you may do" in readme
    assert max(len(line) for line in readme.splitlines()) <= 80


def test_a_second_pack_of_each_form_and_the_same_bytes(own_kit, tmp_path, contents):
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        packs = pack(own_kit, tmp_path / name / "fog.zip", "svg", "png")
        assert [one.file.name for one in packs] == ["fog.zip", "fog-svg.zip", "fog-png.zip"]
        os.utime(own_kit / "tall" / "dates-1.png", (1, 1))
    assert contents(tmp_path / "one") == contents(tmp_path / "two")
    names = names_in(tmp_path / "one" / "fog-svg.zip")
    assert names[1:3] == ["fog-svg/tall/dates-1.svg", "fog-svg/words/digit-1.svg"]
    with zipfile.ZipFile(tmp_path / "one" / "fog-png.zip") as archive:
        picture = Image.open(io.BytesIO(archive.read("fog-png/tall/dates-1.png")))
        assert picture.mode == "LA"


def test_nothing_is_written_over(own_kit, tmp_path):
    (tmp_path / "fog-svg.zip").write_bytes(b"hers")
    with pytest.raises(InputError, match="exists already and is left as it is"):
        pack(own_kit, tmp_path / "fog.zip", "svg")
    assert (tmp_path / "fog-svg.zip").read_bytes() == b"hers"
    assert not (tmp_path / "fog.zip").exists()
    with pytest.raises(InputError, match=r"a pack's name must end in \.zip"):
        pack(own_kit, tmp_path / "fog.rar")


def test_a_kit_out_of_bounds_is_packed_only_if_that_is_said(own_kit, tmp_path, said):
    with Image.open(own_kit / "tall" / "dates-1.png") as picture:
        picture.resize((250, 250)).save(own_kit / "tall" / "dates-1.png")
    arguments = ["pack", str(own_kit), "-o", str(tmp_path / "fog.zip")]
    assert run(arguments) == 2
    _, err = said()
    assert "finds out of bounds: tall/dates-1; nothing was packed; inkline prove" in err[0]
    assert "say --unproved to pack it all the same" in err[0]
    assert not (tmp_path / "fog.zip").exists()
    assert run([*arguments, "--unproved"]) == 0
    out, _ = said()
    assert out[-1].endswith("not proved.")
    assert len(names_in(tmp_path / "fog.zip")) == 6


def test_a_retouch_is_packed_as_it_is(own_kit, tmp_path):
    data = retouch(own_kit / "words" / "digit-1.png")
    pack(own_kit, tmp_path / "fog.zip", unproved=True)
    with zipfile.ZipFile(tmp_path / "fog.zip") as archive:
        assert archive.read("fog/words/digit-1.png") == data


def test_a_full_disk_leaves_nothing_behind(own_kit, tmp_path, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(WorkError, match="there is no room left on the disk"):
        pack(own_kit, tmp_path / "fog.zip", unproved=True)
    assert sorted(one.name for one in tmp_path.iterdir()) == ["kit"]


def test_files_beside_that_cannot_be_packed(own_kit, tmp_path):
    with pytest.raises(InputError, match="cannot be read"):
        pack(own_kit, tmp_path / "fog.zip", beside=[tmp_path / "none.pdf"])
    (tmp_path / "README.txt").write_text("mine")
    with pytest.raises(InputError, match=r"a pack holds one file called README\.txt"):
        pack(own_kit, tmp_path / "fog.zip", beside=[tmp_path / "README.txt"])


def test_a_readme_is_in_the_language_of_the_guide_and_a_folder_goes_in_whole(own_kit, tmp_path):
    manifest = json.loads((own_kit / "manifest.json").read_text())
    manifest["guide"] = {"language": "de", "own": {"readme.use": "So geht es"}}
    (own_kit / "manifest.json").write_text(json.dumps(manifest))
    charts = tmp_path / "charts"
    charts.mkdir()
    for name in ("chart-2027.png", "chart.pdf", ".hidden"):
        (charts / name).write_bytes(b"chart")
    pack(own_kit, tmp_path / "fog.zip", "svg", beside=[charts], unproved=True)
    assert [name for name in names_in(tmp_path / "fog.zip") if "chart" in name] == [
        "fog/charts/chart-2027.png",
        "fog/charts/chart.pdf",
    ]
    with zipfile.ZipFile(tmp_path / "fog-svg.zip") as archive:
        readme = archive.read("fog-svg/README.txt").decode()
        letters = archive.read("fog-svg/LETTERS.txt").decode()
    assert "Von A. Hand" in readme
    assert "- tall: 1 SVG-Datei" in readme
    assert "So geht es\n----------" in readme
    assert "guide.pdf: wie die Stempel zusammenpassen" in readme
    assert "Was eine Schrift von sich sagt, ist keine Lizenz" in letters


def test_a_kit_without_a_licence_is_told_so(own_kit, tmp_path):
    manifest = json.loads((own_kit / "manifest.json").read_text())
    del manifest["files"]
    (own_kit / "manifest.json").write_text(json.dumps(manifest))
    (one,) = pack(own_kit, tmp_path / "fog.zip", unproved=True)
    assert "The recipe names no licence" in one.notes[0].sentence
    with zipfile.ZipFile(tmp_path / "fog.zip") as archive:
        assert b"Nothing is said here of what you may do" in archive.read("fog/README.txt")


def test_a_font_under_the_open_licence_brings_its_text_and_the_caution():
    letters = {
        "name": "Quay",
        "licence": "This font is licensed under the SIL Open Font License, Version 1.1.",
        "copyright": "Copyright 2020 The Quay Makers",
    }
    said = letters_text({"letters": letters})
    assert "the licence text decides" in " ".join(said.split())
    assert "Ask a professional when it matters" in " ".join(said.split())
    text = open_licence_text({"letters": letters})
    assert text.startswith("Copyright 2020 The Quay Makers\n\n")
    theirs = (Path(font_lato.__file__).parent / "files" / "OFL.txt").read_text(encoding="utf-8")
    start = "SIL OPEN FONT LICENSE Version 1.1"
    ours, theirs = (" ".join(one[one.index(start) :].split()) for one in (text, theirs))
    assert ours == theirs
    assert open_licence_text({"letters": {"name": "Scullery", "licence": "MIT"}}) == ""
