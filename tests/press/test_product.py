"""The press, with the smallest of products: three pieces, each in two files, and a sheet of them.

It knows nothing of calendars; neither does this.
"""

import itertools
import json
import os

import numpy as np
import pytest
from line_product import LinesOrder
from PIL import Image

from inkline.errors import InputError, WorkError
from inkline.folder.kept import Foreign
from inkline.press.choice import Selection, whole_selection
from inkline.press.crew import Crew, ParallelCrew, processes
from inkline.press.editions import earlier_edition
from inkline.press.run import Task
from inkline.press.shop import Job, Shop
from inkline.press.tasks import reports_of

NAMES = ("line-1", "line-2", "line-3")


def task(folder, order=None, **options):
    order = LinesOrder() if order is None else order
    product = order.open()
    values = {"selection": whole_selection(product), "number": product.number} | options
    return Task(order=order, product=product, folder=folder, **values)


def made(folder, order=None, *, disk=None, workers=1, **options):
    extra = {} if disk is None else {"disk": disk}
    (report,) = reports_of([task(folder, order, **options)], workers=workers, **extra)
    return report


def manifest_of(folder):
    return json.loads((folder / "manifest.json").read_text())


def retouch(path):
    with Image.open(path) as picture:
        pixels = np.array(picture)
    pixels[:4, :4] = 255
    Image.fromarray(pixels).save(path)
    return path.read_bytes()


def test_each_piece_lies_in_both_files_and_the_manifest_lists_them(tmp_path, contents):
    report = made(tmp_path)
    assert (report.drawn, report.sheets, report.n_marks) == (NAMES, ("list",), 3)
    manifest, sums = manifest_of(tmp_path), contents(tmp_path)
    assert manifest["format"] == "lines"
    assert [stamp["name"] for stamp in manifest["stamps"]] == list(NAMES)
    for stamp in manifest["stamps"]:
        assert [one["form"] for one in stamp["files"]] == ["png", "txt"]
        assert all(sums[one["file"]] == one["sha256"] for one in stamp["files"])
        assert len({one["inputs"] for one in stamp["files"]}) == 2
    again = made(tmp_path)
    assert (again.drawn, again.unchanged, again.sheets) == ((), NAMES, ())
    assert contents(tmp_path) == sums


def test_a_new_form_of_file_draws_nothing_anew(tmp_path, contents):
    made(tmp_path, LinesOrder(forms=("png",)))
    before = contents(tmp_path)
    assert "files" not in manifest_of(tmp_path)["stamps"][0]
    report = made(tmp_path)
    after = contents(tmp_path)
    assert report.n_marks == 0
    assert report.files_made == ("line-1.txt", "line-2.txt", "line-3.txt")
    assert report.files_unchanged == ("line-1.png", "line-2.png", "line-3.png", "list.txt")
    kept = {name for name in before if name != "manifest.json"}
    assert {name: after[name] for name in kept} == {name: before[name] for name in kept}


def test_what_no_longer_is_asked_for_stays_and_is_listed(tmp_path):
    made(tmp_path)
    report = made(tmp_path, LinesOrder(slopes=(0.0, 0.5), forms=("png",)))
    assert report.left_over == ("line-3",)
    stamps = manifest_of(tmp_path)["stamps"]
    assert [len(stamp["files"]) for stamp in stamps] == [2, 2, 2]


def test_a_changed_piece_is_drawn_again_in_both_files_and_nothing_else_is(tmp_path):
    made(tmp_path)
    report = made(tmp_path, LinesOrder(slopes=(0.0, 0.6, 1.0)))
    assert (report.drawn, report.unchanged) == (("line-2",), ("line-1", "line-3"))
    assert set(report.files_made) == {"line-2.png", "line-2.txt", "list.txt"}


def test_a_retouched_file_is_kept_while_the_other_follows(tmp_path):
    made(tmp_path)
    hers = retouch(tmp_path / "line-2.png")
    report = made(tmp_path, LinesOrder(slopes=(0.0, 0.6, 1.0)))
    assert report.kept == ("line-2",)
    assert "line-2.txt" in report.files_made
    assert report.files_kept == ("line-2.png",)
    assert (tmp_path / "line-2.png").read_bytes() == hers
    redraw = Selection(partial=True, stamps=NAMES, redraw=frozenset({"line-2"}))
    made(tmp_path, LinesOrder(slopes=(0.0, 0.6, 1.0)), selection=redraw)
    assert (tmp_path / "line-2.png").read_bytes() != hers


def test_files_that_nobody_knows_are_kept_where_they_differ(tmp_path):
    made(tmp_path)
    hers = retouch(tmp_path / "line-2.png")
    (tmp_path / "manifest.json").unlink()
    with pytest.raises(InputError, match="holds files that are no part of the set of lines"):
        made(tmp_path)
    report = made(tmp_path, foreign=Foreign.LEAVE)
    assert (report.kept, report.files_kept) == (("line-2",), ("line-2.png", "list.txt"))
    assert (tmp_path / "line-2.png").read_bytes() == hers


def test_files_are_renamed_by_a_new_pattern_and_drawn_no_more(tmp_path, contents):
    made(tmp_path)
    before = contents(tmp_path)
    report = made(tmp_path, LinesOrder(pattern="my {}"))
    assert (report.drawn, report.unchanged, report.n_marks) == ((), NAMES, 0)
    after = contents(tmp_path)
    for name in NAMES:
        for form in ("png", "txt"):
            assert after[f"my {name}.{form}"] == before[f"{name}.{form}"]
            assert f"{name}.{form}" not in after


@pytest.mark.parametrize("halfway", [False, True])
def test_a_run_that_is_stopped_anywhere_is_finished_by_the_next(
    tmp_path, contents, stopping_disk, halfway
):
    made(tmp_path / "whole")
    whole = contents(tmp_path / "whole")
    for stop in itertools.count():
        folder, disk = tmp_path / f"{stop}", stopping_disk(stop, halfway=halfway)
        try:
            made(folder, disk=disk)
            break
        except stopping_disk.Stopped:
            report = made(folder)
        assert (report.kept, report.files_kept, report.sheets_kept) == ((), (), ())
        assert contents(folder) == whole, f"stopped at operation {stop}"
    assert stop > 30


def test_another_edition_takes_over_what_stayed_the_same(tmp_path, contents):
    made(tmp_path / "old")
    hers = retouch(tmp_path / "old" / "line-3.png")
    order = LinesOrder(slopes=(0.0, 0.6, 1.0))
    new = tmp_path / "new"
    earlier = earlier_edition(tmp_path / "old", folder=new, number=7, product=order.open())
    report = made(new, order, earlier=earlier)
    assert (report.drawn, report.unchanged, report.kept) == (("line-2",), ("line-1",), ("line-3",))
    assert report.n_marks == 1
    assert report.changes.redrawn == ("line-2",)
    assert report.changes.same == ("line-1", "line-3")
    assert (new / "line-3.png").read_bytes() == hers
    assert (new / "changes.txt").read_text() == "redrawn: line-2"
    old, now = contents(tmp_path / "old"), contents(new)
    for file in ("line-1.png", "line-1.txt", "line-3.txt", "masters/line-1.npz"):
        assert now[file] == old[file]


def test_processes_change_no_byte(tmp_path, contents):
    for workers in (1, 2):
        made(tmp_path / f"{workers}", workers=workers)
    assert contents(tmp_path / "1") == contents(tmp_path / "2")


def test_a_set_of_another_number_is_refused(tmp_path):
    made(tmp_path)
    with pytest.raises(InputError, match="was drawn with number 7, and this is 8"):
        made(tmp_path, number=8)


# The processes.


def job(name, folder):
    return Job(name=name, folder=folder, forms=("txt",))


def test_one_process_does_all_by_itself(tmp_path):
    order = LinesOrder()
    with processes(1) as several:
        crew = several.crew(Shop(order.open()), order, n_jobs=3)
        assert type(crew) is Crew
        assert len(list(crew.results([job(name, tmp_path) for name in NAMES]))) == 3
        assert several.pool is None


def test_the_same_processes_work_for_one_product_after_another(tmp_path):
    orders = [LinesOrder(slopes=slopes) for slopes in ((0.0,) * 3, (1.0,) * 3, (0.0,) * 3)]
    with processes(2) as several:
        assert type(several.crew(Shop(orders[0].open()), orders[0], n_jobs=1)) is Crew
        assert several.pool is None  # no process is started for a single job
        crews = [several.crew(Shop(order.open()), order, n_jobs=3) for order in orders]
        assert all(type(crew) is ParallelCrew for crew in crews)
        done, there = [], set()
        for crew in crews:
            jobs = [job(name, tmp_path) for name in NAMES]
            done.append({one.name: one.files["txt"] for one in crew.results(jobs)})
            there |= set(several.pool._processes)
    assert done[0] == done[2] != done[1]
    assert len(there) <= 2
    assert os.getpid() not in there


class DiesOnArrival:
    """An order whose arrival in another process ends that at once, as the system's guard would."""

    def __reduce__(self):
        return (os._exit, (3,))


def test_a_process_that_is_killed_is_told_and_the_others_end(tmp_path):
    def build():
        with processes(2) as several:
            crew = several.crew(Shop(LinesOrder().open()), DiesOnArrival(), n_jobs=2)
            return list(crew.results([job(name, tmp_path) for name in NAMES[:2]]))

    with pytest.raises(WorkError, match="one of the drawing processes was stopped by the system"):
        build()
