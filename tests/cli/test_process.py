"""The command as a process: two interruptions, requests to end, and screens of all kinds."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from inkline.cli.running import run
from inkline.cli.sentences import shortened

COMMAND = [sys.executable, "-m", "inkline"]
FEW = ["--only", "standard/dates-[1-4]", "--workers", "2"]
STOPPED = "inkline: stopped; what was finished is kept, and the same command goes on from there"
NEVER_S = 60
"""Longer than any run here takes on a busy machine; one that hangs would take for ever."""
SAYS_LETTERS = (
    "import sys; from inkline.cli.process import patient_streams\n"
    "with patient_streams():\n"
    "    import click; click.echo('Lịch \\U0001f4c5'); print('ế', file=sys.stderr)"
)


def living_in_group(group):
    """Processes of a group that have not ended, as Linux lists them (man page proc(5))."""
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            state, _, of_group = stat.read_text().rpartition(")")[2].split()[:3]
        except (OSError, ValueError):
            continue
        found += [stat.parent.name] if int(of_group) == group and state != "Z" else []
    return found


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="needs Linux's list of processes")
@pytest.mark.parametrize(
    "signals",
    [
        [signal.SIGINT],
        [signal.SIGINT, signal.SIGINT, signal.SIGINT],
        [signal.SIGTERM],
        [signal.SIGTERM, signal.SIGINT],
    ],
)
def test_a_run_that_is_stopped_ends_leaves_nobody_and_goes_on(tmp_path, signals):
    command = [*COMMAND, "kit", "-o", str(tmp_path / "kit"), *FEW]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True
    ) as process:
        assert process.stdout.readline().startswith("1 of ")
        for number in signals:
            if number == signal.SIGINT:  # a terminal sends it to the whole group
                os.killpg(process.pid, number)
            else:
                process.send_signal(number)
            time.sleep(0.05)
        _, err = process.communicate(timeout=NEVER_S)
    assert err.strip() == STOPPED
    assert process.returncode == 1
    end = time.monotonic() + NEVER_S
    while living_in_group(process.pid) and time.monotonic() < end:
        time.sleep(0.05)  # the last to go tidies up after the others
    assert living_in_group(process.pid) == []
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=NEVER_S * 5)
    assert "unchanged" in done.stdout


@pytest.mark.parametrize(
    ("encoding", "out", "err"),
    [
        ("utf-8", "Lịch \U0001f4c5".encode(), "ế".encode()),
        ("latin-1", rb"L\u1ecbch \U0001f4c5", rb"\u1ebf"),
        ("cp1252", rb"L\u1ecbch \U0001f4c5", rb"\u1ebf"),
        ("ascii", rb"L\u1ecbch \U0001f4c5", rb"\u1ebf"),
        ("utf-8:strict", "Lịch \U0001f4c5".encode(), "ế".encode()),
    ],
)
def test_letters_that_a_screen_lacks_are_written_as_codes(encoding, out, err):
    done = subprocess.run(
        [sys.executable, "-c", SAYS_LETTERS],
        capture_output=True,
        env=os.environ | {"PYTHONIOENCODING": encoding},
        check=True,
    )
    assert (done.stdout.strip(), done.stderr.strip()) == (out, err)


def test_a_run_outlives_the_reader_of_what_it_says(tmp_path):
    command = [*COMMAND, "kit", "-o", str(tmp_path), "--only", "words/digit-[12]", "--workers", "1"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        process.stdout.close()
        assert process.stderr.read() == b""
    assert process.returncode == 0
    assert (tmp_path / "words" / "digit-2.png").exists()
    assert not (tmp_path / "unfinished.jsonl").exists()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs the device that is always full")
def test_a_full_screen_is_told_once_the_work_is_done():
    with Path("/dev/full").open("wb") as full:  # source: Linux man page full(4)
        done = subprocess.run(
            [*COMMAND, "recipe"], stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert done.returncode == 1
    assert done.stderr == "inkline: standard output could not be written: No space left on device\n"


@pytest.mark.skipif(os.name != "posix", reason="closes streams as POSIX shells do")
@pytest.mark.parametrize("closed", [">&-", "2>&-", ">&- 2>&-", "<&- >&- 2>&-"])
def test_closed_streams_are_nobodys_concern(tmp_path, closed):
    command = f'"{sys.executable}" -m inkline recipe -o "$1" {closed}'
    file = tmp_path / "mine.toml"
    done = subprocess.run(["sh", "-c", command, "sh", file], capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b"")
    assert "inkline" in file.read_text()


def test_a_message_never_repeats_what_is_very_long(said):
    assert run(["kit", "-o", "there", "--number", "7" * 5000]) == 2
    assert run(["kit", "-o", "there", "--only", "a b " * 5000]) == 2
    assert [len(line) < 2100 for line in said()[1]] == [True, True]


def test_a_sentence_of_usual_length_stays_as_it_is():
    line = f"/{'long folder/' * 20}kit.toml  cannot be read"
    assert shortened(line) == line
    assert shortened("x" * 301) == f"{'x' * 146} [...] {'x' * 146}"


def test_a_user_that_this_machine_does_not_know_is_no_mystery(said):
    assert run(["numerals", "-o", "there", "--glyphs", "~nosuchuser/mine.ufo"]) == 2
    assert "~nosuchuser" in said()[1][0]
