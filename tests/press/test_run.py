"""A run that is stopped at any single operation, and the run after it."""

import itertools
import shutil
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from inkline.folder.kept import Foreign
from inkline.kit import build
from inkline.kit.papers.sheet import Sheet
from inkline.kit.product import Papers
from inkline.progress import Note

FEW = ("standard/blocks-head", "words/digit-1", "words/digit-7")


def plain_sheet(kit, job):
    """The sheets' drawing takes long and has no part in this."""
    pictures = [(job.folder / kit.plans[name].file).read_bytes()[:64] for name in job.names]
    return Sheet(name=job.name, picture=b"sheet " + b"".join(pictures))


def build_kit(recipe, folder, **options):
    papers = Papers(sheet=plain_sheet, guide=lambda *_: b"guide")
    return build.build_kit(recipe, folder, papers=papers, **options)


def stopped_and_finished(folder, build, stopping_disk, *, stop, halfway):
    """Build until operation `stop`, then again; False if the first never came to that operation."""
    disk = stopping_disk(stop, halfway=halfway)
    try:
        build(folder, disk=disk)
    except stopping_disk.Stopped:
        report = build(folder)
        assert report.kept == ()
        assert report.sheets_kept == ()
        return True
    return False


@pytest.mark.parametrize("halfway", [False, True])
def test_a_new_kit_stopped_anywhere_comes_out_the_same(
    tmp_path, stopping_disk, small, halfway, contents
):
    def build(folder, **options):
        return build_kit(small, folder, workers=1, only=FEW, **options)

    counting = stopping_disk()
    build(tmp_path / "whole", disk=counting)
    whole = contents(tmp_path / "whole")
    assert counting.count > 25
    for stop in itertools.count():
        folder = tmp_path / f"stopped-{stop}"
        if not stopped_and_finished(folder, build, stopping_disk, stop=stop, halfway=halfway):
            break
        assert contents(folder) == whole, f"stopped at operation {stop}, {counting.names[stop]}"
    assert stop == counting.count


@pytest.mark.parametrize("halfway", [False, True])
def test_a_changed_kit_stopped_anywhere_comes_out_the_same(
    tmp_path, stopping_disk, small, halfway, contents, recipe_of
):
    changed = recipe_of(number=8)

    def start(folder):
        build_kit(small, folder, workers=1, only=FEW)

    def build(folder, **options):
        return build_kit(changed, folder, workers=1, only=FEW, foreign=Foreign.LEAVE, **options)

    start(tmp_path / "whole")
    build(tmp_path / "whole")
    whole = contents(tmp_path / "whole")
    for stop in itertools.count():
        folder = tmp_path / f"stopped-{stop}"
        start(folder)
        if not stopped_and_finished(folder, build, stopping_disk, stop=stop, halfway=halfway):
            break
        assert contents(folder) == whole, f"stopped at operation {stop}"
    assert stop > 20


def test_the_run_after_a_stop_draws_only_what_is_missing(tmp_path, stopping_disk, small):
    counting = stopping_disk()
    build_kit(small, tmp_path / "whole", workers=1, only=FEW, disk=counting)
    last_append = max(index for index, name in enumerate(counting.names) if name == "append")
    with pytest.raises(stopping_disk.Stopped):
        build_kit(small, tmp_path / "kit", workers=1, only=FEW, disk=stopping_disk(last_append))
    report = build_kit(small, tmp_path / "kit", workers=1, only=FEW)
    assert report.unchanged == FEW
    assert report.sheets == ("overview",)


def test_pieces_after_a_stop_lose_nothing_of_the_journal(tmp_path, stopping_disk, small, contents):
    counting = stopping_disk()
    build_kit(small, tmp_path / "whole", workers=1, only=["words/digit-7"], disk=counting)
    with pytest.raises(stopping_disk.Stopped):
        build_kit(
            small,
            tmp_path / "kit",
            workers=1,
            only=["words/digit-7"],
            disk=stopping_disk(counting.count - 5),
        )
    build_kit(small, tmp_path / "kit", workers=1, only=["words/digit-8"])
    build_kit(small, tmp_path / "other", workers=1, only=["words/digit-[78]"])
    assert contents(tmp_path / "kit") == contents(tmp_path / "other")


def retouched(folder, name):
    """A kit whose picture `name` was touched up."""
    with Image.open(folder / name) as picture:
        pixels = np.array(picture)
    pixels[:9, :9] = 255
    Image.fromarray(pixels).save(folder / name)


def test_a_kit_whose_pictures_are_renamed_stopped_anywhere_loses_none(
    tmp_path, stopping_disk, small, contents
):
    called = replace(small, file_pattern="{title} {name}")

    def start(folder):
        build_kit(small, folder, workers=1, only=FEW)
        retouched(folder, "words/digit-7.png")

    def build(folder, **options):
        return build_kit(called, folder, workers=1, only=FEW, **options)

    start(tmp_path / "whole")
    before = contents(tmp_path / "whole")
    report = build(tmp_path / "whole")
    assert (report.drawn, report.kept) == ((), ("words/digit-7",))
    assert report.notes == (Note("3 pictures were renamed by the recipe's pattern."),)
    whole = contents(tmp_path / "whole")
    for name in FEW:
        folder, _, stem = name.rpartition("/")
        assert whole[f"{folder}/S {stem}.png"] == before[f"{name}.png"]
    for stop in itertools.count():
        folder = tmp_path / f"stopped-{stop}"
        start(folder)
        disk = stopping_disk(stop)
        try:
            build(folder, disk=disk)
            break
        except stopping_disk.Stopped:
            report = build(folder)
        assert (report.drawn, report.kept) == ((), ("words/digit-7",)), (
            f"stopped at operation {stop}"
        )
        assert contents(folder) == whole, f"stopped at operation {stop}"
        shutil.rmtree(folder)
    assert stop > 10


def test_a_renaming_that_was_stopped_may_be_taken_back(tmp_path, stopping_disk, small, contents):
    called = replace(small, file_pattern="{title} {name}")
    build_kit(small, tmp_path / "whole", workers=1, only=FEW)
    retouched(tmp_path / "whole", "words/digit-7.png")
    build_kit(small, tmp_path / "whole", workers=1, only=FEW)
    whole = contents(tmp_path / "whole")
    for stop in itertools.count():
        folder = tmp_path / f"stopped-{stop}"
        shutil.copytree(tmp_path / "whole", folder)
        try:
            build_kit(called, folder, workers=1, only=FEW, disk=stopping_disk(stop))
            break
        except stopping_disk.Stopped:
            report = build_kit(small, folder, workers=1, only=FEW)
        assert (report.drawn, report.kept) == ((), ("words/digit-7",)), (
            f"stopped at operation {stop}"
        )
        assert contents(folder) == whole, f"stopped at operation {stop}"
        shutil.rmtree(folder)
    assert stop > 10


@pytest.mark.parametrize("halfway", [False, True])
def test_a_new_edition_stopped_anywhere_comes_out_the_same(
    tmp_path, stopping_disk, small, contents, halfway
):
    build_kit(small, tmp_path / "old", workers=1, only=FEW)
    retouched(tmp_path / "old", "words/digit-7.png")
    old = contents(tmp_path / "old")
    again = replace(small, again={"words/digit-1": 1}, edition="2")

    def build(folder, **options):
        return build_kit(again, folder, workers=1, only=FEW, since=tmp_path / "old", **options)

    report = build(tmp_path / "whole")
    assert (report.drawn, report.kept) == (("words/digit-1",), ("words/digit-7",))
    whole = contents(tmp_path / "whole")
    for stop in itertools.count():
        folder = tmp_path / f"stopped-{stop}"
        try:
            build(folder, disk=stopping_disk(stop, halfway=halfway))
            break
        except stopping_disk.Stopped:
            report = build(folder)
        assert report.kept == ("words/digit-7",), f"stopped at operation {stop}"
        assert report.sheets_kept == ()
        assert contents(folder) == whole, f"stopped at operation {stop}"
        shutil.rmtree(folder)
    assert stop > 25
    assert contents(tmp_path / "old") == old
