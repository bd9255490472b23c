"""Pictures that their owner has changed: before a run, or while it goes on."""

import pytest
from line_product import Lines, LinesOrder

from inkline.cli.remedies import note_sentence
from inkline.folder.disk import Disk
from inkline.folder.kept import Foreign
from inkline.press.choice import selections_among
from inkline.press.run import Task
from inkline.press.tasks import reports_of


def make(order, folder, *, redraw=(), foreign=Foreign.REFUSE, number=None, disk=None):
    product = order.open()
    assert isinstance(product, Lines)
    (selection,) = selections_among([product], only=[], redraw=redraw)
    task = Task(
        order=order,
        product=product,
        folder=folder,
        selection=selection,
        foreign=foreign,
        number=number,
    )
    (report,) = reports_of([task], workers=1, **({"disk": disk} if disk else {}))
    return report


def notes_of(report):
    return [note_sentence(note) for note in report.notes]


class SavingDisk(Disk):
    """Another program saves `data` at `path` just before this run gives a file there its name."""

    def __init__(self, path, data):
        self.path, self.data, self.saves = path, data, 0

    def append(self, path, data):
        super().append(path, data)
        is_of_one_file = b'"files"' not in data
        if f'"file": "{self.path.name}"'.encode() in data and is_of_one_file and not self.saves:
            self.path.write_bytes(self.data)
            self.saves += 1


@pytest.mark.parametrize("data", [b"a retouch of hers", b""])
@pytest.mark.parametrize("before", ["missing", "outdated", "redrawn", "retouched and redrawn"])
@pytest.mark.parametrize("file", ["line-2.png", "list.txt"])
def test_what_is_saved_while_a_run_goes_on_is_kept_and_told(tmp_path, data, before, file):
    path = tmp_path / file
    if before != "missing":
        make(LinesOrder(slopes=(0.0, 0.25, 1.0)), tmp_path)
    if before == "retouched and redrawn":
        path.write_bytes(b"an earlier retouch")
    disk = SavingDisk(path, data)
    name = path.stem
    redraw = [name] if before.endswith("redrawn") else []
    report = make(LinesOrder(), tmp_path, redraw=redraw, disk=disk)
    assert disk.saves == 1
    assert path.read_bytes() == data
    assert (
        f"{file} was saved while this run went on, so it was kept; say --redraw {name} to replace "
        f"it." in notes_of(report)
    )
    assert file in report.files_kept
    assert file not in report.files_made
    if before == "retouched and redrawn":
        assert (tmp_path / f"{name}.before{path.suffix}").read_bytes() == b"an earlier retouch"
    if data:
        make(LinesOrder(), tmp_path)
        assert path.read_bytes() == data


def test_what_the_program_restores_meanwhile_is_nobodys_retouch(tmp_path):
    make(LinesOrder(slopes=(0.0, 0.25, 1.0)), tmp_path)
    old = (tmp_path / "line-2.png").read_bytes()
    make(LinesOrder(), tmp_path)
    new = (tmp_path / "line-2.png").read_bytes()
    report = make(
        LinesOrder(slopes=(0.0, 0.75, 1.0)), tmp_path, disk=SavingDisk(tmp_path / "line-2.png", new)
    )
    assert (tmp_path / "line-2.png").read_bytes() not in (old, new)
    assert report.kept == ()


def test_each_retouch_that_is_redrawn_gets_a_name_of_its_own(tmp_path):
    make(LinesOrder(), tmp_path)
    path = tmp_path / "line-1.png"
    drawn = path.read_bytes()
    for count, mine in enumerate([b"one", b"two", b"three"], start=1):
        path.write_bytes(mine)
        report = make(LinesOrder(), tmp_path, redraw=["line-1"])
        number = f"-{count}" if count > 1 else ""
        aside = f"line-1.before{number}.png"
        assert notes_of(report)[-1] == f"line-1.png as you had it lies in {aside} now."
        assert path.read_bytes() == drawn
    asides = sorted(one.name for one in tmp_path.glob("*.before*"))
    assert asides == ["line-1.before-2.png", "line-1.before-3.png", "line-1.before.png"]
    assert [(tmp_path / one).read_bytes() for one in asides] == [b"two", b"three", b"one"]
    assert make(LinesOrder(), tmp_path).notes == ()


def test_a_sheet_that_is_redrawn_is_set_aside_too(tmp_path):
    make(LinesOrder(), tmp_path)
    (tmp_path / "list.txt").write_bytes(b"mine")
    make(LinesOrder(), tmp_path, redraw=["list"])
    assert (tmp_path / "list.before.txt").read_bytes() == b"mine"


def test_drawing_over_another_number_sets_retouches_aside(tmp_path):
    make(LinesOrder(), tmp_path, number=7)
    (tmp_path / "line-1.png").write_bytes(b"mine")
    report = make(LinesOrder(), tmp_path, number=8, foreign=Foreign.LEAVE)
    assert (tmp_path / "line-1.before.png").read_bytes() == b"mine"
    assert report.kept == ()


def test_masters_that_are_not_as_they_were_drawn_are_drawn_again_and_told(tmp_path):
    make(LinesOrder(), tmp_path)
    drawn = (tmp_path / "line-1.png").read_bytes()
    masters = tmp_path / "masters" / "line-1.npz"
    whole = masters.read_bytes()
    masters.write_bytes((tmp_path / "masters" / "line-2.npz").read_bytes())
    report = make(LinesOrder(), tmp_path)
    assert [f"{masters}" in note for note in notes_of(report)] == [True]
    assert masters.read_bytes() == whole
    assert (tmp_path / "line-1.png").read_bytes() == drawn
