"""Months from the command line: what is asked for, what is refused, what is said at the end."""

import pytest

from inkline.cli import month_run
from inkline.cli.month_run import report_lines
from inkline.cli.running import run
from inkline.kit.months.recipe import months_recipe
from inkline.kit.recipe.loading import default_recipe

SMALL = """
version = 1
title = "S"
number = 7
[canvas]
side = "160 px"
[formats.strip]
[words]
years = [2027]
"""


@pytest.fixture
def recipe(tmp_path):
    path = tmp_path / "small.toml"
    path.write_text(SMALL)
    return path


def test_a_month_is_finished_and_told_and_the_next_run_draws_nothing(tmp_path, recipe, said):
    out = tmp_path / "out"
    arguments = ["month", "2027-02", str(recipe), "-o", str(out), "--workers", "1"]
    assert run(arguments) == 0
    lines, err = said()
    assert err == []
    assert lines[-2].startswith(f"1 calendar in {out}, 7 layers: 7 drawn (")
    assert (
        lines[-1]
        == f"Next: look at {out / '2027-02-strip/calendar'}.png; the layers beside it lie on one "
        f"canvas."
    )
    assert (out / "2027-02-strip" / "calendar.png").exists()
    assert run(arguments) == 0
    assert "7 layers: 7 unchanged" in said()[0][0]


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["2027-13"], "a month must lie between 1 and 12, not 13"),
        (["2027-00"], "a month must lie between 1 and 12, not 0"),
        (["1582"], "a year must lie between 1583 and 9999, not 1582"),
        (
            ["february"],
            'a month is written like "2027-02" and a whole year like "2027", not \'february\'',
        ),
        (
            ["2027-02-01"],
            'a month is written like "2027-02" and a whole year like "2027", not \'2027-02-01\'',
        ),
        (["2027-02", "--format", "tal"], 'the recipe has no format "tal"; did you mean "tall"?'),
        (
            ["2027-02", "--kit", "summer"],
            "--kit: this names a kit of a recipe; give the recipe as well",
        ),
        (["2027-02", "--workers", "0"], "--workers: at least 1 is required, not 0"),
        (
            ["2027-02", "--week-start", "tuesday"],
            (
                "Invalid value for '--week-start': 'tuesday' is not one of 'sunday', 'monday', "
                "'saturday'."
            ),
        ),
    ],
)
def test_what_cannot_be_used_is_said_in_one_sentence(tmp_path, said, arguments, sentence):
    out = tmp_path / "out"
    assert run(["month", *arguments, "-o", str(out)]) == 2
    assert said() == ([], [f"inkline: {sentence}"])
    assert not out.exists()


def test_options_reach_the_build(tmp_path, monkeypatch, said, report):
    seen = {}

    def build(wanted, folder, **options):
        seen.update(options, wanted=wanted, folder=folder)
        return report(folder=folder)

    monkeypatch.setattr(month_run, "finish_months", build)
    options = ["--week-start", "monday", "--format", "tall", "--workers", "3", "--force"]
    assert run(["month", "2027", "-o", str(tmp_path), *options]) == 0
    wanted = seen["wanted"]
    assert (wanted.week_start, wanted.chosen, wanted.full_years) == ("monday", ("tall",), (2027,))
    assert (seen["folder"], seen["workers"], seen["foreign"]) == (tmp_path, 3, "leave")
    assert said()[0][-1].startswith(f"Next: look at {tmp_path / '2027-tall'}.png")


def test_what_needs_a_look_is_told(report):
    wanted = months_recipe(default_recipe(), [(2027, 2)], formats=["tall"])
    finished = report(kept=("a",), moved=("a",), sheets_kept=("b",), notes=("A note.",))
    lines = list(report_lines(finished, wanted, best="calendar", seconds=0.0))
    assert lines[0] == "1 calendar in there, 1 layer: 1 kept, retouched by you (0.0 s)."
    assert lines[1] == "The layout under your retouch has changed: a. Check that it still fits."
    assert lines[2:4] == ["Kept, changed by you: b.", "A note."]
