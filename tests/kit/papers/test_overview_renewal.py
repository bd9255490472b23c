"""An overview made of the one before is the same to the byte as one made anew."""

import json
from unittest.mock import patch

import numpy as np
import pytest
from PIL import Image

from inkline.kit.build import build_kit
from inkline.kit.papers import overview
from inkline.kit.papers.makers import kit_sheet
from inkline.kit.papers.overview_renewal import do_boxes_meet, renewed_pixels
from inkline.kit.papers.sheet import SheetJob
from inkline.kit.product import KitOrder

NAMES = ("standard/grid-5", "standard/dates-3", "words/month-02", "words/digit-7")


@pytest.fixture
def kit(small):
    return KitOrder(recipe=small).open_and_check().kit


@pytest.fixture
def drawn(tmp_path, small, kit):
    """A folder with some stamps, and the job of their overview, which lies there too."""
    build_kit(small, tmp_path, workers=1, only=NAMES)
    job = SheetJob(name="overview", folder=tmp_path, names=NAMES)
    first = kit_sheet(kit, job)
    (tmp_path / "overview.png").write_bytes(first.picture)
    return tmp_path, first


def job_after(drawn, **changes):
    folder, first = drawn
    facts = json.loads(json.dumps(first.facts))
    return SheetJob(name="overview", folder=folder, names=NAMES, before={**facts, **changes})


def overview_of(kit, job):
    """The overview, and whether its lettering was drawn."""
    with patch.object(overview, "_add_lettering", side_effect=overview._add_lettering) as letter:
        sheet = kit_sheet(kit, job)
    return sheet, bool(letter.call_count)


@pytest.mark.parametrize("mode", ["L", "RGB"])
def test_only_what_has_another_picture_is_made_anew(kit, drawn, mode):
    folder, first = drawn
    colour = 255 if mode == "L" else (200, 30, 60)
    Image.new(mode, (160, 160), colour).save(folder / "standard" / "dates-3.png")
    renewed, is_lettered = overview_of(kit, job_after(drawn))
    assert not is_lettered
    assert renewed.picture != first.picture
    anew, is_lettered = overview_of(kit, job_after(drawn, setting="another"))
    assert is_lettered
    assert renewed.picture == anew.picture
    assert renewed.facts == anew.facts != first.facts


def test_where_nothing_changed_it_stays_to_the_byte(kit, drawn):
    renewed, is_lettered = overview_of(kit, job_after(drawn))
    assert not is_lettered
    assert renewed.picture == drawn[1].picture


@pytest.mark.parametrize("changes", [{"setting": None}, {"shows": None}, {"shows": ["a"]}])
def test_what_is_said_in_another_way_is_made_anew(kit, drawn, changes):
    sheet, is_lettered = overview_of(kit, job_after(drawn, **changes))
    assert is_lettered
    assert sheet.picture == drawn[1].picture


def test_a_picture_that_lies_there_no_longer_is_made_anew(kit, drawn):
    (drawn[0] / "overview.png").unlink()
    sheet, is_lettered = overview_of(kit, job_after(drawn))
    assert is_lettered
    assert sheet.picture == drawn[1].picture


def test_lettering_is_never_cut(kit, drawn):
    folder, first = drawn
    setting = overview._overview_setting(kit, NAMES)
    place, line = setting.prints[0], setting.lines[0]
    near = type(place)(
        name=place.name, x=int(line.x), y=int(line.baseline) - 5, size=(9, 9), part=place.part
    )
    over = type(setting)(
        size=setting.size,
        cards=setting.cards,
        rules=setting.rules,
        prints=(*setting.prints, near),
        lines=setting.lines,
    )
    facts = {**first.facts, "shows": {**first.facts["shows"], place.name: "new"}}
    for one, is_made in ((setting, True), (over, False)):
        pixels = renewed_pixels(
            folder / "overview.png",
            one,
            facts,
            before=first.facts,
            part=lambda box: np.zeros((box[3] - box[1], box[2] - box[0], 3), np.uint8),
        )
        assert (pixels is not None) is is_made


def test_a_run_makes_an_overview_of_the_one_before_unless_asked_for_a_new_one(tmp_path, small):
    jobs = []

    def sheet(kit, job):
        jobs.append(job)
        return kit_sheet(kit, job)

    papers = type(KitOrder(recipe=small).papers)(sheet=sheet, guide=lambda *_: b"guide")
    build_kit(small, tmp_path, workers=1, papers=papers, only=["words/digit-*"])
    build_kit(small, tmp_path, workers=1, papers=papers, only=["words/month-02"])
    build_kit(
        small, tmp_path, workers=1, papers=papers, only=["words/month-02"], redraw=["overview"]
    )
    (tmp_path / "overview.png").unlink()
    build_kit(small, tmp_path, workers=1, papers=papers, only=["words/month-02"])
    before = [bool(job.before) for job in jobs if job.name == "overview"]
    assert before == [False, True, False, False]


def test_boxes_that_only_touch_do_not_meet():
    assert not do_boxes_meet((0, 0, 2, 2), (2, 0, 3, 2))
    assert not do_boxes_meet((0, 0, 2, 2), (0, 2, 2, 3))
    assert do_boxes_meet((0, 0, 2, 2), (1, 1, 3, 3))
