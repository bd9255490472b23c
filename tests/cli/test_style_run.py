"""`inkline style` as a person meets it."""

import tomllib

import pytest

from inkline.cli.running import run
from inkline.styles.files import load_style, style_files


def test_styles_are_listed_with_what_they_imitate(said):
    assert run(["style"]) == 0
    out, err = said()
    assert err == []
    lines = {line.partition(" ")[0]: line for line in out if "  " in line}
    for name, path in style_files().items():
        assert lines[name].partition("  ")[2].strip().startswith(load_style(path).imitates)
    assert lines["round-pen"].endswith(", used unless you say otherwise")
    assert out[-1].startswith("See them side by side: inkline sampler -o styles.png.")


def test_a_style_is_shown_value_by_value(said):
    assert run(["style", "dry-pencil"]) == 0
    out, _ = said()
    assert out[:2] == [
        "dry-pencil: a soft pencil on toothy paper",
        "* set by this style; the rest is at its default",
    ]
    assert [line for line in out if line.startswith("[")] == [
        "[hand] where the point goes",
        "[nib] how wide the ink is along the stroke",
        "[edge] where ink meets paper",
        "[paper] what the paper leaves bare",
        "[firmness] how sure the hand is of each kind of mark",
        "[weights] how heavy lines are where a recipe doesn't say",
    ]
    marked = {line.split()[1] for line in out[2:] if line.startswith("* ")}
    set_by_file = tomllib.loads(style_files()["dry-pencil"].read_text())
    assert (
        {"dryness", "drift"} <= marked <= {key for table in set_by_file.values() for key in table}
    )
    assert max(map(len, out)) <= 100
    (dryness,) = (line for line in out if line.startswith("* dryness"))
    assert dryness.split(maxsplit=3)[3] == "Share of the stroke that stays bare."


def test_a_style_of_one_s_own_is_shown_against_its_base(tmp_path, said):
    file = tmp_path / "mine.toml"
    file.write_text('based_on = "dip-pen"\n[edge]\nspread = "44 um"\n')
    assert run(["style", str(file)]) == 0
    out, _ = said()
    assert out[1] == "* differs from dip-pen"
    (line,) = (line for line in out[2:] if line.startswith("*"))
    assert line.split()[1:4] == ["spread", "44", "um"]
    assert " in dip-pen)" in " ".join(out)


def test_settings_are_shown_before_they_are_saved(said):
    assert run(["style", "dip-pen", "--set", "edge.raggedness=44um"]) == 0
    out, _ = said()
    assert out[1] == "* differs from dip-pen"
    assert [line.split()[1:4] for line in out[2:] if line.startswith("*")] == [
        ["raggedness", "44", "um"]
    ]


def test_a_style_is_saved_with_its_settings_and_never_over_a_file(tmp_path, said):
    file = tmp_path / "mine.toml"
    arguments = [
        "style",
        "dip-pen",
        "--save-as",
        str(file),
        "--set",
        "edge.raggedness=25um",
        "--set",
        "nib.pressure=0.2",
    ]
    assert run(arguments) == 0
    out, err = said()
    assert err == []
    assert out[0].startswith(
        f"Wrote {file}. Look at it: inkline sampler {file} -o mine.png. Use it: name = "
    )
    style, base = load_style(file), load_style(style_files()["dip-pen"])
    assert (style.edge.raggedness, style.nib.pressure) == (pytest.approx(0.025), 0.2)
    assert (style.hand, style.paper) == (base.hand, base.paper)
    text = file.read_bytes()
    assert run(arguments) == 2
    out, err = said()
    assert (out, err) == (
        [],
        [f"inkline: {file} exists already and is left as it is; choose another name"],
    )
    assert file.read_bytes() == text


def test_faults_of_settings_are_told_at_once_and_nothing_is_written(tmp_path, said):
    file = tmp_path / "mine.toml"
    settings = ["--set", "edge.raggedness=25", "--set", "hand.drft=1um", "--set", "paper.dryness=3"]
    assert run(["style", "dip-pen", "--save-as", str(file), *settings]) == 2
    out, err = said()
    assert (out, len(err)) == ([], 1)
    for part in (
        "edge.raggedness: a length needs",
        'did you mean "hand.drift"?',
        "paper.dryness: a value from 0.0 to 0.9",
    ):
        assert part in err[0]
    assert not file.exists()


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["round-pan"], "STYLE: there is no style 'round-pan'; did you mean 'round-pen'?"),
        (["no/such.toml"], "cannot be read: No such file or directory"),
        (["--set", "edge.spread=1um"], "--save-as and --set need the style to start from"),
        (["--save-as", "x.toml"], "--save-as and --set need the style to start from"),
        (
            ["dip-pen", "--save-as", "mine.txt"],
            "--save-as: a style file's name must end in .toml, not 'mine.txt'",
        ),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(arguments, sentence, said):
    assert run(["style", *arguments]) == 2
    out, err = said()
    assert (out, len(err)) == ([], 1)
    assert sentence in err[0]


def test_a_folder_that_is_not_there_is_a_failure(tmp_path, said):
    assert run(["style", "dip-pen", "--save-as", str(tmp_path / "no" / "mine.toml")]) == 1
    assert "could not be written" in said()[1][0]
