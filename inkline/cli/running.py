"""Running a command: exit codes, and one line on standard error for what went wrong."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Sequence

import click

from inkline.cli.commands import inkline
from inkline.cli.process import patient_streams, problem_of_output, stopping_in_order
from inkline.cli.remedies import error_sentence
from inkline.cli.sentences import shortened
from inkline.errors import InklineError, InputError, WorkError

_USED_WRONGLY = 2
_FAILED = 1


_STOPPED = "stopped; what was finished is kept, and the same command goes on from there"


def run_as_process(arguments: Sequence[str]) -> int:
    """As `run`, for a process of its own: any screen will do, and it ends when told to."""
    with patient_streams(), stopping_in_order(f"inkline: {_STOPPED}"):
        code = run(arguments)
        sys.stdout.flush()
        if problem := problem_of_output():
            _say(f"standard output could not be written: {problem}")
            return code or _FAILED
        return code


def run(arguments: Sequence[str]) -> int:
    """Run `arguments` and give the exit code: 0, 2 for what the user gave, 1 for what failed.

    With `--debug` among them every error is raised, traceback and all.
    """
    try:
        code = inkline.main(args=list(arguments), prog_name="inkline", standalone_mode=False)
    except (
        click.ClickException,
        InputError,
        WorkError,
        OSError,
        MemoryError,
        KeyboardInterrupt,
        click.Abort,
    ) as problem:
        if "--debug" in arguments:
            raise
        return _say_problem(problem)
    except Exception as problem:  # whatever comes through this last door shows no traceback
        if "--debug" in arguments:
            raise
        _say(
            f"something went wrong that should not have ({type(problem).__name__}: {problem}); "
            f"--debug shows where"
        )
        return _FAILED
    return code if isinstance(code, int) else 0


def _say_problem(problem: BaseException) -> int:
    """Say what went wrong and give the exit code for it."""
    if isinstance(problem, BrokenPipeError):  # the reader of our output has had enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return _FAILED
    if isinstance(problem, KeyboardInterrupt | click.Abort):
        _say(_STOPPED)
    elif isinstance(problem, MemoryError):
        _say("there is not enough memory; a smaller canvas or --workers 1 needs less")
    elif isinstance(problem, click.ClickException):
        _say(" ".join(problem.format_message().split()))
        return _USED_WRONGLY
    else:
        _say(error_sentence(problem) if isinstance(problem, InklineError) else _in_words(problem))
        return _USED_WRONGLY if isinstance(problem, InputError) or _is_no_name(problem) else _FAILED
    return _FAILED


def _is_no_name(problem: BaseException) -> bool:
    """Whether a path was given that no file can have."""
    return isinstance(problem, OSError) and problem.errno == errno.ENAMETOOLONG


def _in_words(problem: BaseException) -> str:
    """What the system refused, without its number for it."""
    if not isinstance(problem, OSError) or problem.filename is None:
        return str(problem)
    path = problem.filename if isinstance(problem.filename, str) else os.fsdecode(problem.filename)
    if _is_no_name(problem):
        return f"no file or folder can have a name as long as this, {len(path)} letters: {path}"
    return f"{path} can't be used: {problem.strerror}"


def _say(sentence: str) -> None:
    """Write to standard error; a recipe with several faults has one line for each."""
    for line in sentence.splitlines():
        click.echo(f"inkline: {shortened(line)}", err=True)
