"""A new edition of a kit.

What it takes over, what it draws, and what it tells those who have the earlier one.
"""

import json
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from inkline.errors import InputError, WorkError
from inkline.folder.kept import Foreign
from inkline.kit.build import Request, build_all, build_kit
from inkline.kit.letters import face_of
from inkline.kit.papers.changes import changes_text
from inkline.kit.papers.sheet import Sheet
from inkline.kit.product import KitOrder, Papers
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import stamp_names
from inkline.kit.stamps.file_names import files_of
from inkline.kit.stamps.plain_names import plain_name
from inkline.press.editions import Before, before_in, changes_since
from inkline.press.report import Changes
from kit_folders import manifest_of, retouch

FEW = ("standard/grid-5", "standard/weekdays-sunday", "words/digit-7", "words/digit-1")


def plain_sheet(_, job):
    """The sheets' drawing takes long and has no part in this."""
    return Sheet(name=job.name, picture=repr(job.names).encode())


PLAIN = Papers(sheet=plain_sheet, guide=lambda *_: b"guide")


def built(recipe, folder, **options):
    return build_kit(recipe, folder, workers=1, papers=PLAIN, **({"only": FEW} | options))


def test_an_edition_takes_over_what_its_recipe_did_not_change(tmp_path, small, contents):
    built(replace(small, edition="1"), tmp_path / "old")
    retouch(tmp_path / "old" / "words" / "digit-1.png")
    before = contents(tmp_path / "old")
    again = replace(small, edition="2", again={"words/digit-7": 1})
    report = built(again, tmp_path / "new", since=tmp_path / "old")
    after = contents(tmp_path / "new")
    assert (report.drawn, report.kept) == (("words/digit-7",), ("words/digit-1",))
    assert report.changes == Changes(
        before="1",
        added=(),
        redrawn=("words/digit-7",),
        same=("standard/grid-5", "standard/weekdays-sunday", "words/digit-1"),
        gone=(),
    )
    assert contents(tmp_path / "old") == before
    for name in report.changes.same:
        assert after[f"{name}.png"] == before[f"{name}.png"]
        assert after[f"masters/{name}.npz"] == before[f"masters/{name}.npz"]
    assert after["words/digit-7.png"] != before["words/digit-7.png"]
    manifest = manifest_of(tmp_path / "new")
    assert list(manifest)[2:4] == ["title", "edition"]
    assert manifest["edition"] == "2"
    assert manifest["changes"] == report.changes.to_dict()
    assert manifest["since"]["edition"] == "1"
    assert [sheet["name"] for sheet in manifest["sheets"]] == ["overview", "changes"]


def test_the_pictures_of_an_inkline_that_drew_otherwise_are_kept_to_the_byte(
    tmp_path, small, contents
):
    """The earlier kit's own pictures stand for those of another inkline.

    They are not what this one would draw.
    """
    built(small, tmp_path / "old")
    picture = tmp_path / "old" / "words" / "digit-7.png"
    with Image.open(picture) as opened:
        drawn = Image.fromarray(np.array(opened)[::-1])
    drawn.save(picture)
    manifest = (tmp_path / "old" / "manifest.json").read_text()
    sums = contents(tmp_path / "old")
    stamp = next(one for one in json.loads(manifest)["stamps"] if one["name"] == "words/digit-7")
    (tmp_path / "old" / "manifest.json").write_text(
        manifest.replace(stamp["sha256"], sums["words/digit-7.png"])
    )
    report = built(small, tmp_path / "new", since=tmp_path / "old")
    assert (report.drawn, report.unchanged) == ((), (*FEW[:2], "words/digit-1", "words/digit-7"))
    assert contents(tmp_path / "new")["words/digit-7.png"] == sums["words/digit-7.png"]


def test_marks_come_from_the_earlier_masters_where_a_picture_has_to_be_made(tmp_path, small):
    built(small, tmp_path / "old", only=["standard/dates-2"])
    again = replace(small, again={"standard/dates-2/17": 1})
    report = built(again, tmp_path / "new", only=["standard/dates-2"], since=tmp_path / "old")
    assert report.drawn == ("standard/dates-2",)
    assert 0 < report.n_marks <= 4
    (tmp_path / "old" / "standard" / "dates-2.png").unlink()
    report = built(small, tmp_path / "newer", only=["standard/dates-2"], since=tmp_path / "old")
    assert (report.drawn, report.n_marks) == (("standard/dates-2",), 0)
    assert report.changes.added == ("standard/dates-2",)


def test_changing_the_margin_of_one_format_redraws_that_format_alone(tmp_path, contents):
    def recipe(margin):
        text = f"""
            version = 1
            title = "S"
            number = 7
            [canvas]
            side = "160 px"
            [formats.standard]
            [formats.tall]
            margin = "{margin}"
            [words]
            years = [2027]
        """
        return recipe_from_text(text, source="two.toml", folder=tmp_path)

    few = ["*/grid-5", "*/dates-[12]", "*/weekdays-*", "*/blocks-5", "words/digit-7"]
    built(recipe("5 %"), tmp_path / "old", only=few)
    before = contents(tmp_path / "old")
    report = built(recipe("6 %"), tmp_path / "new", only=few, since=tmp_path / "old")
    tall = tuple(
        f"tall/{stem}"
        for stem in (
            "grid-5",
            "blocks-5",
            "dates-1",
            "dates-2",
            "weekdays-sunday",
            "weekdays-monday",
        )
    )
    assert report.drawn == report.changes.redrawn == tall
    assert report.changes.same == (
        *(name.replace("tall", "standard") for name in tall),
        "words/digit-7",
    )
    after = contents(tmp_path / "new")
    redrawn = {name for name in before if name.endswith(".png") and before[name] != after[name]}
    assert redrawn == {f"{name}.png" for name in tall}


def test_what_is_new_and_what_is_gone_is_told(tmp_path, small, recipe_of):
    built(small, tmp_path / "old", only=["words/year-*", "words/digit-1"])
    later = replace(recipe_of(years="[2028]"), edition="for 2028")
    report = built(
        later, tmp_path / "new", only=["words/year-*", "words/digit-[12]"], since=tmp_path / "old"
    )
    assert report.changes.added == ("words/digit-2", "words/year-2028")
    assert report.changes.gone == ("words/year-2027",)
    assert report.changes.same == ("words/digit-1",)
    text = (tmp_path / "new" / "changes.txt").read_text(encoding="utf-8")
    assert text.splitlines()[:2] == ["S, edition for 2028", "What has changed since the one before"]
    assert "    2027\n" in text
    built(
        later, tmp_path / "new", only=["words/digit-3"]
    )  # without naming the earlier kit once more
    assert "digit 3 " in (tmp_path / "new" / "changes.txt").read_text(encoding="utf-8")
    assert manifest_of(tmp_path / "new")["changes"]["added"] == [
        "words/digit-2",
        "words/digit-3",
        "words/year-2028",
    ]


def test_the_list_of_changes_is_kept_if_somebody_has_changed_it(tmp_path, small):
    built(small, tmp_path / "old")
    built(small, tmp_path / "new", since=tmp_path / "old")
    text = tmp_path / "new" / "changes.txt"
    assert "Nothing: all stamps are the same." in text.read_text()
    text.write_text("Thank you for your patience!")
    report = built(small, tmp_path / "new", only=[*FEW, "words/digit-2"])
    assert report.sheets_kept == ("changes",)
    assert text.read_text() == "Thank you for your patience!"
    text.unlink()
    assert "changes" in built(small, tmp_path / "new").sheets


def test_an_edition_may_call_its_files_by_another_pattern(tmp_path, small, contents):
    built(small, tmp_path / "old")
    before = contents(tmp_path / "old")
    report = built(
        replace(small, file_pattern="{title} {name}"), tmp_path / "new", since=tmp_path / "old"
    )
    assert (report.drawn, report.changes.same) == ((), (*FEW[:2], "words/digit-1", "words/digit-7"))
    assert contents(tmp_path / "new")["words/S digit-7.png"] == before["words/digit-7.png"]


def test_a_stamp_to_be_redrawn_is_not_taken_over(tmp_path, small):
    built(small, tmp_path / "old")
    retouch(tmp_path / "old" / "words" / "digit-1.png")
    report = built(small, tmp_path / "new", since=tmp_path / "old", redraw=["words/digit-1"])
    assert (report.drawn, report.changes.redrawn) == (("words/digit-1",), ("words/digit-1",))


@pytest.mark.parametrize("damage", [b"", b"no picture"])
def test_a_retouch_that_cannot_be_read_is_drawn(tmp_path, small, damage):
    built(small, tmp_path / "old")
    (tmp_path / "old" / "words" / "digit-1.png").write_bytes(damage)
    report = built(small, tmp_path / "new", since=tmp_path / "old")
    assert report.drawn == ("words/digit-1",)
    (note,) = report.notes
    assert note.sentence.startswith(
        f"{tmp_path / 'old' / 'words' / 'digit-1.png'} of the earlier edition cannot be read as a "
        "picture, so words/digit-1 was drawn again"
    )


def test_what_is_no_earlier_kit_is_refused_before_anything_is_written(tmp_path, small):
    (tmp_path / "empty").mkdir()
    for place in ("empty", "nowhere"):
        with pytest.raises(
            InputError,
            match=rf"^.*{place} is no kit; the folder of an earlier one is required, which",
        ):
            built(small, tmp_path / "new", since=tmp_path / place)
    built(small, tmp_path / "old")
    for place in ("old", "old/new"):
        with pytest.raises(
            InputError, match=r"^the new edition needs a folder of its own, outside of "
        ):
            built(small, tmp_path / place, since=tmp_path / "old")
    with pytest.raises(
        InputError,
        match="was drawn with number 7, and this is 8, so that nothing would stay the same; write",
    ):
        built(replace(small, number=8), tmp_path / "new", since=tmp_path / "old")
    assert not (tmp_path / "new").exists()
    other = replace(small, number=8)
    report = built(other, tmp_path / "new", since=tmp_path / "old", foreign=Foreign.LEAVE)
    assert report.changes.same == ()
    assert len(report.drawn) == len(FEW)


def test_a_folder_that_cannot_be_two_kits_is_refused(tmp_path, small):
    orders = [
        Request(order=KitOrder(recipe=small), folder=tmp_path / "kit"),
        Request(order=KitOrder(recipe=small), folder=tmp_path / "." / "kit"),
    ]
    with pytest.raises(
        InputError, match=r"^each kit needs a folder of its own, and two would go into "
    ):
        build_all(orders)


def test_changes_are_told_by_their_pictures():
    before = Before(edition="1", pictures={"a/x": "1", "a/y": "2", "a/z": "3", "b/v": "4"})
    changes = changes_since(
        before, {"a/w": "9", "a/x": "1", "a/y": "7"}, asked=["a/w", "a/x", "a/y", "b/v"]
    )
    assert changes == Changes(
        before="1", added=("a/w",), redrawn=("a/y",), same=("a/x",), gone=("a/z",)
    )
    assert list(changes.counts()) == [
        (1, "added"),
        (1, "redrawn"),
        (1, "the same"),
        (1, "no longer there"),
    ]
    assert before_in({"since": before.to_dict()}) == before
    assert before_in({}) is before_in({"since": 3}) is before_in({"since": {}}) is None


def test_the_text_says_it_format_by_format_in_plain_words():
    changes = Changes(
        before="1",
        added=("tall/grid-6-b",),
        redrawn=("tall/dates-3",),
        same=(*(f"tall/dates-{column}" for column in (1, 2, 4, 5, 6, 7)), "words/month-03"),
        gone=("words/year-2026",),
    )
    files = {name: f"{name}.png" for name in (*changes.added, *changes.redrawn, *changes.same)}
    files["words/month-03"] = "words/month-03 (march).png"
    assert changes_text(changes, title="Évenings", edition="2", files=files) == (
        "Évenings, edition 2\n"
        "What has changed since edition 1\n"
        "\n"
        "1 added, 1 redrawn, 7 the same, 1 no longer there.\n"
        "Take the pictures that are added or redrawn; those that are the same need\n"
        "nothing, they have not changed by a single dot.\n"
        "\n"
        "\n"
        "Tall\n"
        "\n"
        "  Added\n"
        "    grid of six weeks, drawing b                    tall/grid-6-b.png\n"
        "\n"
        "  Redrawn\n"
        "    dates, the 1st in column 3                      tall/dates-3.png\n"
        "\n"
        "  The same\n"
        "    dates-1, dates-2, dates-4, dates-5, dates-6, dates-7\n"
        "\n"
        "\n"
        "Words\n"
        "\n"
        "  No longer there\n"
        "    2026\n"
        "\n"
        "  The same\n"
        "    month-03 (march)\n"
    )


def test_masters_that_cannot_be_read_are_told(tmp_path, small):
    built(small, tmp_path / "old", only=["words/digit-7"])
    masters = tmp_path / "old" / "masters" / "words" / "digit-7.npz"
    masters.unlink()
    masters.mkdir()
    with pytest.raises(WorkError, match=r"digit-7\.npz could not be read: "):
        built(small, tmp_path / "new", only=["words/digit-7"], since=tmp_path / "old")


EVERYTHING = """
version = 1
number = 7
[calendar]
week_starts = ["sunday", "monday", "saturday"]
[each_format]
takes = 2
blocks = "both"
[formats.standard]
weeks = [4, 5, 6]
dates = "both"
split = "weekend"
[formats.tall]
dates = "exact"
sixth_week = "shared"
split = "weekend"
week_numbers = "iso"
week_numbers_in = "narrow"
[formats.strip]
dates = "both"
[formats.week]
[formats.day]
[formats.small]
[words]
language = ["en", "de"]
months = "both"
years = ["2026-2028"]
spans = ["2027-2028"]
captions = ["Rent", "Holiday"]
[marks]
"2027-05-31" = "ring"
"03-08" = "dot"
"""


def test_all_stamps_of_a_demanding_kit_have_words_and_files_of_their_own(tmp_path):
    recipe = recipe_from_text(EVERYTHING, source="all.toml", folder=tmp_path)
    names = stamp_names(recipe, face_of(recipe))
    assert len(names) > 500
    assert [
        name for name in names if plain_name(name) == name.rpartition("/")[2].replace("-", " ")
    ] == [
        *(f"words/digit-{digit}" for digit in range(10)),
        "words/caption-1",
        "words/caption-2",
    ]
    said = {(name.rpartition("/")[0], plain_name(name)) for name in names}
    assert len(said) == len(names)
    files = files_of(replace(recipe, file_pattern="{name} ({days}, {month}, {language})"), names)
    assert len(set(files.values())) == len(names)
    assert (
        files["tall/dates-6-shared-saturdays-monday"]
        == "tall/dates-6-shared-saturdays-monday (mon-sat).png"
    )
    assert files["words/month-10-short-de"] == "words/month-10-short-de (okt, de).png"
    assert "words/month-05-short-de" not in files  # Mai is short already
