"""`inkline kit` as a person meets it, with one kit."""

import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from inkline.chance import DEFAULT_NUMBER, LARGEST_NUMBER
from inkline.cli import kit_run
from inkline.cli.kit_run import report_lines
from inkline.cli.running import run
from inkline.errors import InputError
from inkline.progress import Step

SMALL = """
version = 1
title = "S"
number = 7
[canvas]
side = "160 px"
[formats.standard]
[words]
years = [2027]
"""


@pytest.fixture
def recipe(tmp_path):
    path = tmp_path / "small.toml"
    path.write_text(SMALL)
    return path


def test_a_kit_is_built_step_by_step_and_told_at_the_end(tmp_path, recipe, said):
    kit = tmp_path / "kit"
    arguments = ["kit", str(recipe), "-o", str(kit), "--workers", "1", "--only", "words/digit-[12]"]
    assert run(arguments) == 0
    out, err = said()
    assert err == []
    names = {line.split()[3].rstrip(",") for line in out[:3]}
    assert names == {"words/digit-1", "words/digit-2", "overview"}
    assert out[2].startswith("3 of 3")
    assert out[3].startswith(f"2 stamps in {kit}: 2 drawn (")
    assert out[4] == "Proved: 2 stamps drawn lie where they should."
    assert out[5] == f"Next: look at {kit / 'overview.png'}, where the whole kit is on one sheet."
    Image.new("L", (50, 50), 255).save(kit / "words" / "digit-1.png")
    assert run(arguments) == 0
    out, _ = said()
    assert out[0].endswith("overview")
    assert f"2 stamps in {kit}: 1 unchanged, 1 kept, retouched by you (" in out[1]
    assert (
        "Retouched by you, and kept: 1 picture: words/digit-1. To have one drawn anew: --redraw "
        "NAME." in out
    )


def test_a_kit_is_not_drawn_over_because_the_recipe_was_forgotten(tmp_path, recipe, said):
    arguments = ["-o", str(tmp_path / "kit"), "--workers", "1", "--only", "words/digit-1"]
    assert run(["kit", str(recipe), *arguments]) == 0
    said()
    assert run(["kit", *arguments]) == 2
    out, err = said()
    assert (out, len(err)) == ([], 1)
    assert err[0].startswith(f"inkline: {tmp_path / 'kit'} holds another kit: its title is")
    assert err[0].endswith(
        f"its number is 7, not {DEFAULT_NUMBER}; 1 of its 1 picture would be drawn over; give "
        f"another folder, or say --force if that is meant"
    )
    assert run(["kit", *arguments, "--force"]) == 0
    assert "1 stamp in" in "\n".join(said()[0])


class SimpleLicence:
    def words(self):
        return "its licence decides"


def test_options_reach_the_build(tmp_path, recipe, monkeypatch, report):
    seen = {}

    def build(orders, **options):
        (order,) = orders
        seen.update(options, title=order.order.recipe.title, folder=order.folder, since=order.since)
        yield report(folder=order.folder)

    monkeypatch.setattr(kit_run, "build_all", build)
    monkeypatch.setattr(kit_run, "font_licence", lambda _: SimpleLicence())
    options = [
        "--number",
        "5",
        "--font",
        "f.ttf",
        "--workers",
        "3",
        "--only",
        "a/*",
        "--only",
        "b",
        "--redraw",
        "c",
        "--spread",
        "d/e",
    ]
    assert run(["kit", "-o", str(tmp_path), *options, "--since", "old", "--force"]) == 0
    listener = seen.pop("listener")
    assert callable(listener)
    assert seen == {
        "title": "A year of evenings",
        "folder": tmp_path,
        "since": Path("old"),
        "number": 5,
        "font": Path("f.ttf"),
        "workers": 3,
        "only": ("a/*", "b"),
        "redraw": ("c",),
        "spread": ("d/e",),
        "foreign": "leave",
    }
    assert run(["kit", str(recipe), "-o", str(tmp_path)]) == 0
    assert (seen["foreign"], seen["number"], seen["font"], seen["since"]) == (
        "refuse",
        None,
        None,
        None,
    )


def test_a_picture_that_cannot_be_read_is_kept_and_exits_with_1(tmp_path, recipe, said):
    arguments = ["kit", str(recipe), "-o", str(tmp_path / "kit"), "--workers", "1", "--only"]
    assert run([*arguments, "words/digit-[12]"]) == 0
    (tmp_path / "kit" / "words" / "digit-1.png").write_bytes(b"half a picture")
    said()
    assert run([*arguments, "words/digit-[12]"]) == 1
    assert any("digit-1.png cannot be read as a picture; it may be" in line for line in said()[0])
    assert (tmp_path / "kit" / "words" / "digit-1.png").read_bytes() == b"half a picture"


def test_what_is_hers_is_told_also_where_it_is_not_seen_to(tmp_path, recipe, said):
    kit = tmp_path / "kit"
    arguments = ["kit", str(recipe), "-o", str(kit), "--workers", "1", "--only"]
    assert run([*arguments, "words/digit-[12]"]) == 0
    Image.new("L", (50, 50), 255).save(kit / "words" / "digit-1.png")
    said()
    assert run([*arguments, "words/digit-2"]) == 0
    assert any("kept: 1 picture: words/digit-1." in line for line in said()[0])


def test_the_end_says_what_was_left_alone_and_why(report):
    names = tuple(f"standard/dates-{n}" for n in range(1, 8))
    built = report(
        unchanged=tuple(f"u{n}" for n in range(43)),
        drawn=names,
        kept=("a", "b"),
        hers=("a", "b", "c"),
        moved=("b",),
        left_over=names,
        sheets_kept=("overview",),
        notes=("Mind this.",),
    )
    lines = list(report_lines(built, seconds=12.34, recipe=Path("mine.toml")))
    assert lines == [
        "52 stamps in there: 43 unchanged, 7 drawn, 2 kept, retouched by you (12.3 s).",
        "The layout under your retouch has changed: b. Check that it still fits.",
        "Sheets kept, changed by you: overview.",
        f"No longer in the recipe, left in place: {', '.join(names[:6])} and 1 more.",
        "Mind this.",
        ("Retouched by you, and kept: 3 pictures: a, b, c. To have one drawn anew: --redraw NAME."),
        (
            "To have one numeral drawn again, write its name under [again] in mine.toml and run "
            "this once more."
        ),
    ]


def test_the_end_of_the_default_kit_says_how_to_make_ones_own(report):
    *_, last = report_lines(report(drawn=("a",), sheets=("overview",)), seconds=1.0, recipe=None)
    assert last == "To make a kit of your own: inkline recipe -o my-recipe.toml"


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["kit"], "Missing option '-o' / '--out'."),
        (["kti"], "No such command 'kti'."),
        (["kit", "-o", "x", "--wrong"], "No such option"),
        (
            ["kit", "-o", "x", "--number", "many"],
            "a whole number or \"new\" is required, not 'many'",
        ),
        (
            ["kit", "-o", "{tmp}/x", "--number", "-4"],
            "--number: a whole number from 0 to 999999999 is required, not -4",
        ),
        (["kit", "-o", "{tmp}/x", "--workers", "0"], "--workers: at least 1 is required, not 0"),
        (["kit", "{tmp}/none.toml", "-o", "{tmp}/x"], "none.toml"),
        (["kit", "{tmp}", "-o", "{tmp}/x"], "cannot be read"),
        (["kit", "-o", "{tmp}/x", "--font", "{tmp}/none.ttf"], "none.ttf"),
        (["kit", "-o", "{tmp}/x", "--only", "zzz"], "--only: no stamp is called 'zzz'"),
        (["kit", "-o", "{tmp}/small.toml"], "is a file; a kit can only go into a folder"),
        (["kit", "-o", "{tmp}"], "holds files that are no part of the kit"),
    ],
)
def test_options_that_cannot_be_used_exit_2_with_one_line(tmp_path, recipe, said, arguments, words):
    assert recipe.exists()
    assert run([argument.replace("{tmp}", str(tmp_path)) for argument in arguments]) == 2
    out, err = said()
    assert out == []
    assert len(err) == 1
    assert words in err[0]
    assert err[0].startswith("inkline: ")
    assert not (tmp_path / "x").exists()


def test_every_fault_of_a_recipe_has_its_line(tmp_path, said):
    path = tmp_path / "bad.toml"
    path.write_text('version = 1\nnumber = 7\n[canvas]\nside = "-5 px"\nmragin = "2 %"\n')
    assert run(["kit", str(path), "-o", str(tmp_path / "kit")]) == 2
    err = said()[1]
    assert [line[: len("inkline: bad.toml, line 4")] for line in err] == [
        "inkline: bad.toml, line 4",
        "inkline: bad.toml, line 5",
    ]


def test_a_terminal_gets_a_bar(tmp_path, recipe, monkeypatch, said):
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True, raising=False)
    assert (
        run(
            [
                "kit",
                str(recipe),
                "-o",
                str(tmp_path / "kit"),
                "--workers",
                "1",
                "--only",
                "words/digit-1",
            ]
        )
        == 0
    )
    out, _ = said()
    assert not any(line.startswith("1 of") for line in out)
    assert any("1 stamp in" in line for line in out)


def test_a_killed_run_goes_on_where_it_was(tmp_path, recipe):
    """The real thing: a process with two workers is killed when the first pictures are there."""
    options = ["-o", str(tmp_path / "kit"), "--workers", "2", "--only", "words/*"]
    arguments = [sys.executable, "-m", "inkline", "kit", str(recipe), *options]
    with subprocess.Popen(
        arguments, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, bufsize=1
    ) as process:
        for _ in range(6):
            process.stdout.readline()
        process.kill()
    pictures = list((tmp_path / "kit").rglob("*.png"))
    for picture in pictures:
        with Image.open(picture) as opened:
            opened.load()  # each of them is whole
    done = subprocess.run(arguments, capture_output=True, text=True, check=True)
    assert done.stderr == ""
    end = next(line for line in done.stdout.splitlines() if line.startswith("23 stamps"))
    assert "unchanged" in end
    assert "kept" not in end
    assert not [
        path
        for path in (tmp_path / "kit").rglob("*")
        if "inkline-part" in path.name or "unfinished" in path.name
    ]


def test_a_number_of_ones_own_is_taken_and_told(tmp_path, monkeypatch, report, said, recipe):
    seen = []

    def build(_requests, **options):
        seen.append(options["number"])
        yield report(folder=tmp_path)

    monkeypatch.setattr(kit_run, "build_all", build)
    for arguments in ([], ["--number", "new"], ["--number", "5"], [str(recipe)]):
        assert run(["kit", "-o", str(tmp_path / "x"), *arguments]) == 0
    assert seen[0] is None
    assert 0 < seen[1] <= LARGEST_NUMBER
    assert seen[2:] == [5, None]
    lines = [line for line in said()[0] if "drawing number" in line]
    usual, own = lines
    assert usual.startswith(f"Its drawing number, {DEFAULT_NUMBER}, is everybody's who says none; ")
    assert own.startswith(f"Its drawing number is {seen[1]}, and yours: keep it, and say --number ")


def test_a_fonts_licence_is_told_once_and_not_before_a_refusal(tmp_path, monkeypatch, report, said):
    monkeypatch.setattr(kit_run, "font_licence", lambda _: SimpleLicence())

    def build(_requests, *, listener, **_options):
        for done in (1, 2):
            listener(Step(name=f"a/{done}", done=done, total=2))
        yield report(folder=tmp_path)
        yield report(folder=tmp_path)

    monkeypatch.setattr(kit_run, "build_all", build)
    assert run(["kit", "-o", str(tmp_path / "x"), "--font", "f.ttf"]) == 0
    out, _ = said()
    assert out[:3] == ["its licence decides", "1 of 2  a/1", "2 of 2  a/2"]
    assert out.count("its licence decides") == 1

    def refuse(_requests, **_options):
        raise InputError("no")

    monkeypatch.setattr(kit_run, "build_all", refuse)
    assert run(["kit", "-o", str(tmp_path / "x"), "--font", "f.ttf"]) == 2
    assert said()[0] == []
