"""How far a run is: few lines, and times that follow from what was measured."""

import pytest

from inkline.cli import progress
from inkline.cli.progress import FewLines, Pace, build_progress
from inkline.cli.sentences import time_in_words
from inkline.progress import Step


@pytest.fixture
def clock(monkeypatch):
    """A clock that a test sets."""
    now = [100.0]
    monkeypatch.setattr(progress.time, "monotonic", lambda: now[0])
    return now


def test_what_is_left_goes_by_the_share_of_the_work(clock):
    pace = Pace()
    clock[0] += 12.0
    assert pace.left(Step(name="a", done=1, total=60, work=0.04)) is None
    clock[0] += 3.0
    assert pace.left(Step(name="b", done=2, total=60, work=0.25)) == pytest.approx(45.0)
    clock[0] += 45.0
    assert pace.left(Step(name="c", done=60, total=60, work=1.0)) == 0.0


def test_the_next_run_is_measured_from_the_end_of_the_one_before(clock):
    pace = Pace()
    clock[0] += 1000.0
    pace.left(Step(name="a", done=2, total=2))
    clock[0] += 6.0
    assert pace.left(Step(name="b", done=1, total=2)) == pytest.approx(6.0)


def test_a_long_run_writes_few_lines(clock, capsys):
    show = FewLines()
    for done in range(1, 64):
        clock[0] += 1.0
        show(Step(name=f"tall/dates-{done}", done=done, total=63))
    lines = capsys.readouterr().out.splitlines()
    assert lines == [
        "1 of 63  tall/dates-1",
        "16 of 63  tall/dates-16, about 45 s to go",
        "32 of 63  tall/dates-32, about 30 s to go",
        "48 of 63  tall/dates-48, about 15 s to go",
        "63 of 63  tall/dates-63",
    ]


def test_a_short_run_writes_a_line_each(capsys):
    show = FewLines()
    for done in (1, 2, 3):
        show(Step(name="a", done=done, total=3))
    assert capsys.readouterr().out.splitlines() == ["1 of 3  a", "2 of 3  a", "3 of 3  a"]


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0.4, "about 5 s"),
        (23.0, "about 25 s"),
        (89.0, "about 90 s"),
        (91.0, "about 2 min"),
        (400.0, "about 7 min"),
    ],
)
def test_times_are_as_rough_as_they_are_known(seconds, words):
    assert time_in_words(seconds) == words


def test_a_terminal_has_one_line_and_nothing_stays(monkeypatch, capsys):
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    with build_progress() as listener:
        listener(Step(name="tall/dates-3", done=1, total=2))
        listener(Step(name="overview", done=2, total=2))
    out = capsys.readouterr().out
    assert out.count("\n") <= 1
    assert "2 of 2  overview" in out
