"""What was printed, and reports of runs that never were."""

from pathlib import Path

import pytest

from inkline.press.report import Report


@pytest.fixture
def said(capsys):
    """Lines on standard output and on standard error, as many as came since it was last asked."""

    def lines():
        out, err = capsys.readouterr()
        return out.splitlines(), err.splitlines()

    return lines


@pytest.fixture
def report():
    """A report of a build in which nothing happened but what is said."""

    def kit_report(**changes):
        names = ("drawn", "unchanged", "kept", "moved", "left_over", "sheets", "sheets_kept")
        nothing = dict.fromkeys((*names, "notes"), ())
        return Report(**({"folder": Path("there"), "n_marks": 0} | nothing | changes))

    return kit_report
