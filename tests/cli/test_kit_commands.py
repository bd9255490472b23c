"""`inkline kit` with several recipes, several kits of one recipe, and an earlier edition."""

import json
from functools import partial

import pytest

from inkline.cli.kit_run import report_lines
from inkline.cli.running import run
from inkline.kit import requests as orders
from inkline.kit.product import KitOrder
from inkline.press.report import Changes

SMALL = """
version = 1
title = "{title}"
number = 7
[canvas]
side = "160 px"
[formats.standard]
[words]
years = [2027]
"""
KITS = """
[kits.plain]
title = "Plain"
[kits.again]
title = "Once more"
edition = "2"
[kits.again.again]
"words/digit-1" = 1
"""
FEW = ["--workers", "1", "--only", "words/digit-[12]"]


@pytest.fixture(autouse=True)
def _plain_papers(monkeypatch, quick_papers):
    """The papers' drawing takes long and has no part in this."""
    monkeypatch.setattr(orders, "KitOrder", partial(KitOrder, papers=quick_papers))


def written(path, *, title="S", more=""):
    path.write_text(SMALL.format(title=title) + more)
    return str(path)


def title_of(folder):
    return json.loads((folder / "manifest.json").read_text())["title"]


def test_each_recipe_has_a_folder_called_as_its_file(tmp_path, said):
    files = [
        written(tmp_path / "one.toml", title="One"),
        written(tmp_path / "two.toml", title="Two"),
    ]
    assert run(["kit", *files, "-o", str(tmp_path / "kits"), *FEW]) == 0
    out, err = said()
    assert err == []
    assert [title_of(tmp_path / "kits" / name) for name in ("one", "two")] == ["One", "Two"]
    assert sorted(path.name for path in (tmp_path / "kits").iterdir()) == ["one", "two"]
    assert out[-5].startswith(f"2 stamps in {tmp_path / 'kits' / 'one'}: 2 drawn (")
    assert out[-3].startswith(f"2 stamps in {tmp_path / 'kits' / 'two'}: 2 drawn (")
    assert out[-1].startswith("2 kits in ")
    assert out[-1].endswith(" s. Next: look at the overview.png in each of their folders.")


def test_each_kit_of_a_recipe_has_a_folder_called_as_itself(tmp_path, said):
    file = written(tmp_path / "line.toml", more=KITS)
    assert run(["kit", file, "-o", str(tmp_path / "kits"), *FEW]) == 0
    pictures = [
        (tmp_path / "kits" / kit / "words" / "digit-1.png").read_bytes()
        for kit in ("plain", "again")
    ]
    assert pictures[0] != pictures[1]
    said()
    assert run(["kit", file, "--kit", "again", "-o", str(tmp_path / "kits"), *FEW]) == 0
    out, _ = said()
    assert out[0].startswith(f"2 stamps in {tmp_path / 'kits' / 'again'}: 2 unchanged (")


def test_a_stamp_that_only_one_kit_has_passes_the_other_over(tmp_path, said):
    more = "[kits.a]\n[kits.b.formats.tall]\n"
    file = written(tmp_path / "line.toml", more=more)
    assert (
        run(["kit", file, "-o", str(tmp_path / "kits"), "--workers", "1", "--only", "tall/grid-5"])
        == 0
    )
    assert said()[0][-1].startswith("1 kit in ")
    assert [path.name for path in (tmp_path / "kits").iterdir()] == ["b"]
    assert run(["kit", file, "-o", str(tmp_path / "kits"), "--only", "tall/gird-5"]) == 2
    assert "--only: no stamp is called 'tall/gird-5'; did you mean 'tall/grid-5'?" in said()[1][0]


def test_a_kit_chosen_by_its_name_goes_into_the_folder_itself_unless_others_lie_there(tmp_path):
    file = written(tmp_path / "line.toml", more=KITS)

    def build(folder, kit):
        assert run(["kit", file, "--kit", kit, "-o", str(tmp_path / folder), *FEW]) == 0

    build("one", "again")
    build("one", "again")
    assert (tmp_path / "one" / "manifest.json").exists()
    assert not (tmp_path / "one" / "again").exists()
    (tmp_path / "two" / "again").mkdir(parents=True)
    build("two", "again")
    assert (tmp_path / "two" / "again" / "manifest.json").exists()
    build("two", "plain")  # beside the other
    assert (tmp_path / "two" / "plain" / "manifest.json").exists()
    assert not (tmp_path / "two" / "manifest.json").exists()


def test_an_edition_since_an_earlier_one(tmp_path, said):
    file = written(tmp_path / "line.toml", more=KITS)
    old, new = tmp_path / "old", tmp_path / "new"
    one = [*FEW, "--number", "9"]  # or each kit has a number of its own
    assert run(["kit", file, "-o", str(old / "plain"), "--kit", "plain", *one]) == 0
    assert run(["kit", file, "-o", str(new), "--since", str(old), *one]) == 0
    assert "What has changed" in (new / "plain" / "changes.txt").read_text()
    assert not (new / "again" / "changes.txt").exists()  # the earlier line had no such kit
    said()
    assert (
        run(["kit", file, "-o", str(new), "--kit", "again", "--since", str(old / "plain"), *one])
        == 0
    )
    out, _ = said()
    text = str(new / "again" / "changes.txt")
    assert f"Since the earlier kit: 1 redrawn, 1 the same. {text} says it for your buyers." in out


def test_the_end_says_what_has_changed(tmp_path, report):
    changes = Changes(before="1", added=("a",), redrawn=(), same=("b", "c"), gone=("d",))
    lines = list(report_lines(report(folder=tmp_path, changes=changes), seconds=1.0, recipe=None))
    assert (
        f"Since edition 1: 1 added, 2 the same, 1 no longer there. {tmp_path / 'changes.txt'} "
        f"says it for your buyers." in lines
    )


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--kit", "plain"], "--kit: this names a kit of a recipe; give the recipe as well"),
        (
            ["{tmp}/line.toml", "--kit", "plian"],
            (
                'there is no kit "plian" in this recipe: it holds "plain", "again"; did you mean '
                '"plain"?'
            ),
        ),
        (
            ["{tmp}/one.toml", "{tmp}/sub/ONE.toml"],
            (
                "two kits are called ONE, in {tmp}/one.toml and {tmp}/sub/ONE.toml; they need a "
                "name each"
            ),
        ),
        (
            ["{tmp}/one.toml", "--since", "{tmp}/none"],
            "--since: {tmp}/none is no kit; the folder of an earlier one is required, which holds",
        ),
        (
            ["{tmp}/line.toml", "--since", "{tmp}/none"],
            "--since: {tmp}/none holds none of these kits: plain, again",
        ),
    ],
)
def test_what_a_person_gets_wrong_exits_2_with_one_line(tmp_path, said, arguments, words):
    (tmp_path / "sub").mkdir()
    for name in ("one", "sub/ONE"):
        written(tmp_path / f"{name}.toml")
    written(tmp_path / "line.toml", more=KITS)
    assert (
        run(
            [
                "kit",
                *(one.replace("{tmp}", str(tmp_path)) for one in arguments),
                "-o",
                str(tmp_path / "x"),
            ]
        )
        == 2
    )
    out, err = said()
    assert out == []
    assert len(err) == 1
    assert words.replace("{tmp}", str(tmp_path)) in err[0]
    assert not (tmp_path / "x").exists()


def test_the_faults_of_all_recipes_are_told_at_once(tmp_path, said):
    for name, margin in (("one", "-1 px"), ("two", "90 %")):
        (tmp_path / f"{name}.toml").write_text(
            f'version = 1\nnumber = 7\n[canvas]\nmargin = "{margin}"\n'
        )
    files = [str(tmp_path / f"{name}.toml") for name in ("one", "two")]
    assert run(["kit", *files, "-o", str(tmp_path / "kits")]) == 2
    err = said()[1]
    assert [line[: len("inkline: one.toml, line 4")] for line in err] == [
        "inkline: one.toml, line 4",
        "inkline: two.toml, line 4",
    ]


def test_the_guide_is_named_when_it_was_made(tmp_path, report):
    lines = list(
        report_lines(
            report(folder=tmp_path, sheets=("guide",)),
            seconds=1.0,
            recipe=None,
        )
    )
    assert f"{tmp_path / 'guide.pdf'} tells those who use the stamps how they go together." in lines
