"""A run that is stopped at any single operation, and the run after it."""

import itertools
import shutil
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from inkline.folder.disk import Disk
from inkline.folder.kept import Foreign
from inkline.kit.build import build_kit
from inkline.kit.papers.overview import Sheet
from inkline.press import run as build_run

FEW = ("standard/blocks-head", "words/digit-1", "words/digit-7")


class StoppedError(BaseException):
    """Stands for the end of the process: no handler of errors may catch it."""


class StoppingDisk(Disk):
    """Ends at operation number `stop` (from 0), before it or halfway through.

    It then does nothing any more.

    A dead process tidies nothing up, so whatever runs afterwards finds every operation gone.
    """

    def __init__(self, stop=None, *, halfway=False):
        self.stop, self.halfway, self.count, self.dead = stop, halfway, 0, False
        self.names = []

    def _step(self, name, halfway=None):
        if self.dead:
            raise StoppedError
        if self.count == self.stop:
            self.dead = True
            if self.halfway and halfway is not None:
                halfway()
            raise StoppedError
        self.count += 1
        self.names.append(name)

    def make_folder(self, folder):
        self._step("make_folder")
        super().make_folder(folder)

    def write(self, path, data):
        self._step("write", lambda: Disk.write(self, path, data[: len(data) // 2]))
        super().write(path, data)

    def append(self, path, data):
        self._step("append", lambda: Disk.append(self, path, data[: len(data) // 2]))
        super().append(path, data)

    def replace(self, source, target):
        self._step("replace")
        super().replace(source, target)

    def remove(self, path):
        self._step("remove")
        super().remove(path)

    def sync_folder(self, folder):
        self._step("sync_folder")
        super().sync_folder(folder)


@pytest.fixture(autouse=True)
def _plain_overview(monkeypatch):
    """The sheets' drawing takes long and has no part in this."""

    def plain(shop, job):
        pictures = [(job.folder / shop.plans[name].file).read_bytes()[:64] for name in job.names]
        return Sheet(name=job.name, picture=b"sheet " + b"".join(pictures))

    monkeypatch.setattr(build_run, "sheet_made", plain)


def stopped_and_finished(folder, build, *, stop, halfway):
    """Build until operation `stop`, then build again.

    False if the first build never came to that operation.
    """
    disk = StoppingDisk(stop, halfway=halfway)
    try:
        build(folder, disk=disk)
    except StoppedError:
        report = build(folder)
        assert report.kept == ()
        assert report.sheets_kept == ()
        return True
    return False


@pytest.mark.parametrize("halfway", [False, True])
def test_a_new_kit_stopped_anywhere_comes_out_the_same(tmp_path, small, halfway, contents):
    def build(folder, **options):
        return build_kit(small, folder, workers=1, only=FEW, **options)

    counting = StoppingDisk()
    build(tmp_path / "whole", disk=counting)
    whole = contents(tmp_path / "whole")
    assert counting.count > 25
    for stop in itertools.count():
        folder = tmp_path / f"stopped-{stop}"
        if not stopped_and_finished(folder, build, stop=stop, halfway=halfway):
            break
        assert contents(folder) == whole, f"stopped at operation {stop}, {counting.names[stop]}"
    assert stop == counting.count


@pytest.mark.parametrize("halfway", [False, True])
def test_a_changed_kit_stopped_anywhere_comes_out_the_same(
    tmp_path, small, halfway, contents, recipe_of
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
        if not stopped_and_finished(folder, build, stop=stop, halfway=halfway):
            break
        assert contents(folder) == whole, f"stopped at operation {stop}"
    assert stop > 20


def test_the_run_after_a_stop_draws_only_what_is_missing(tmp_path, small):
    counting = StoppingDisk()
    build_kit(small, tmp_path / "whole", workers=1, only=FEW, disk=counting)
    last_append = max(index for index, name in enumerate(counting.names) if name == "append")
    with pytest.raises(StoppedError):
        build_kit(small, tmp_path / "kit", workers=1, only=FEW, disk=StoppingDisk(last_append))
    report = build_kit(small, tmp_path / "kit", workers=1, only=FEW)
    assert report.unchanged == FEW
    assert report.sheets == ("overview",)


def test_pieces_after_a_stop_lose_nothing_of_the_journal(tmp_path, small, contents):
    counting = StoppingDisk()
    build_kit(small, tmp_path / "whole", workers=1, only=["words/digit-7"], disk=counting)
    with pytest.raises(StoppedError):
        build_kit(
            small,
            tmp_path / "kit",
            workers=1,
            only=["words/digit-7"],
            disk=StoppingDisk(counting.count - 5),
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


def test_a_kit_whose_pictures_are_renamed_stopped_anywhere_loses_none(tmp_path, small, contents):
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
    assert report.notes == ("3 pictures were renamed by the recipe's pattern.",)
    whole = contents(tmp_path / "whole")
    for name in FEW:
        folder, _, stem = name.rpartition("/")
        assert whole[f"{folder}/S {stem}.png"] == before[f"{name}.png"]
    for stop in itertools.count():
        folder = tmp_path / f"stopped-{stop}"
        start(folder)
        disk = StoppingDisk(stop)
        try:
            build(folder, disk=disk)
            break
        except StoppedError:
            report = build(folder)
        assert (report.drawn, report.kept) == ((), ("words/digit-7",)), (
            f"stopped at operation {stop}"
        )
        assert contents(folder) == whole, f"stopped at operation {stop}"
        shutil.rmtree(folder)
    assert stop > 10


def test_a_renaming_that_was_stopped_may_be_taken_back(tmp_path, small, contents):
    called = replace(small, file_pattern="{title} {name}")
    build_kit(small, tmp_path / "whole", workers=1, only=FEW)
    retouched(tmp_path / "whole", "words/digit-7.png")
    build_kit(small, tmp_path / "whole", workers=1, only=FEW)
    whole = contents(tmp_path / "whole")
    for stop in itertools.count():
        folder = tmp_path / f"stopped-{stop}"
        shutil.copytree(tmp_path / "whole", folder)
        try:
            build_kit(called, folder, workers=1, only=FEW, disk=StoppingDisk(stop))
            break
        except StoppedError:
            report = build_kit(small, folder, workers=1, only=FEW)
        assert (report.drawn, report.kept) == ((), ("words/digit-7",)), (
            f"stopped at operation {stop}"
        )
        assert contents(folder) == whole, f"stopped at operation {stop}"
        shutil.rmtree(folder)
    assert stop > 10


@pytest.mark.parametrize("halfway", [False, True])
def test_a_new_edition_stopped_anywhere_comes_out_the_same(tmp_path, small, contents, halfway):
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
            build(folder, disk=StoppingDisk(stop, halfway=halfway))
            break
        except StoppedError:
            report = build(folder)
        assert report.kept == ("words/digit-7",), f"stopped at operation {stop}"
        assert report.sheets_kept == ()
        assert contents(folder) == whole, f"stopped at operation {stop}"
        shutil.rmtree(folder)
    assert stop > 25
    assert contents(tmp_path / "old") == old
