"""The command as a person meets it: what it prints, its exit codes, one line for an error."""

import subprocess
import sys
from importlib.metadata import version

import click
import pytest

from inkline.cli import commands, main
from inkline.cli.running import run


def test_help_names_the_commands_and_how_to_begin(said):
    for arguments in ([], ["--help"], ["-h"]):
        assert run(arguments) == 0
        out = "\n".join(said()[0])
        assert "inkline kit -o my-kit" in out
        assert "inkline recipe -o my-recipe.toml" in out


def test_help_of_a_command_names_its_options(said):
    assert run(["kit", "--help"]) == 0
    out = "\n".join(said()[0])
    for option in (
        "--out",
        "--number",
        "--font",
        "--workers",
        "--only",
        "--redraw",
        "--force",
        "--debug",
    ):
        assert option in out


def test_version(said):
    assert run(["--version"]) == 0
    assert said() == ([f"inkline {version('inkline')}"], [])


def test_help_imports_nothing_that_draws():
    code = (
        "import sys; from inkline.cli.running import run; run(['--help']); "
        "print(sorted(set(sys.modules) & {'numpy', 'rich'}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


@pytest.mark.parametrize(
    ("problem", "code", "words"),
    [
        (KeyboardInterrupt(), 1, "stopped; what was finished is kept"),
        (MemoryError(), 1, "not enough memory"),
        (OSError(5, "Input/output error"), 1, "Input/output error"),
        (OSError(5, "Input/output error", "a.png"), 1, "a.png can't be used: Input/output error"),
        (RuntimeError("odd"), 1, "should not have (RuntimeError: odd); --debug shows where"),
    ],
)
def test_failures_exit_1_with_one_line_and_a_traceback_only_if_asked(
    monkeypatch, said, problem, code, words
):
    def fails(**_):
        raise problem

    monkeypatch.setattr(commands.recipe, "callback", fails)
    assert run(["recipe"]) == code
    err = [
        line for line in said()[1] if line
    ]  # click ends the line on which the terminal shows the interruption
    assert len(err) == 1
    assert words in err[0]
    raised = click.Abort if isinstance(problem, KeyboardInterrupt) else type(problem)
    with pytest.raises(raised):
        run(["--debug", "recipe"])
    with pytest.raises(raised):
        run(["recipe", "--debug"])


def test_a_reader_that_has_had_enough_is_no_error():
    code = "import sys; from inkline.cli.running import run; sys.exit(run(['recipe']))"
    with subprocess.Popen(
        [sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        process.stdout.close()
        assert process.stderr.read() == b""
    assert process.returncode in (0, 1)


def test_the_process_exits_with_the_code(monkeypatch, said):
    monkeypatch.setattr(sys, "argv", ["inkline", "kit"])
    with pytest.raises(SystemExit) as caught:
        main()
    assert caught.value.code == 2
    assert "Missing option" in said()[1][0]


def test_python_runs_it_by_its_name():
    done = subprocess.run(
        [sys.executable, "-m", "inkline", "--version"], capture_output=True, text=True, check=True
    )
    assert done.stdout.startswith("inkline ")


@pytest.mark.parametrize(
    "arguments",
    [
        ["prove", "{}"],
        ["prove", "{}/kit"],
        ["kit", "-o", "{}"],
        ["kit", "-o", "new", "--since", "{}"],
        ["numerals", "-o", "{}"],
        ["sampler", "-o", "{}.png"],
        ["chart", "2027", "-o", "{}"],
        ["export", "{}", "-o", "new"],
        ["pack", "{}", "-o", "new"],
        ["shop", "{}", "-o", "new"],
        ["glyphs", "check", "{}"],
        ["desk", "{}.toml"],
    ],
)
def test_a_name_that_no_file_can_have_is_told_in_a_sentence(tmp_path, monkeypatch, said, arguments):
    monkeypatch.chdir(tmp_path)
    assert run([argument.format("x" * 3000) for argument in arguments]) == 2
    (line,) = (line for line in said()[1] if line)
    assert line.startswith("inkline: no file or folder can have a name as long as this, 30")
    assert len(line) < 400
