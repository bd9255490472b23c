"""`inkline chart` as a person meets it; what the charts say is tested in tests/kit."""

import io

import pypdfium2
import pytest
from PIL import Image

from inkline.cli.running import run
from inkline.kit.papers import charts


@pytest.fixture
def quick(monkeypatch):
    """What is drawn, in place of drawing it."""
    seen = []
    monkeypatch.setattr(
        charts, "chart_png", lambda chart, look: seen.append((chart, look)) or b"png"
    )
    monkeypatch.setattr(
        charts, "chart_pdf", lambda several, look: seen.append((several, look)) or b"pdf"
    )
    return seen


def test_the_chart_of_a_year_is_a_table_of_plain_text(said):
    assert run(["chart", "2027", "--week-start", "monday"]) == 0
    out, err = said()
    assert err == []
    # 2027 begins on a Friday, and its February is four whole weeks from Monday (Python's calendar).
    assert out[:4] == [
        "2027, weeks begin on Monday (standard, tall)",
        "month      rows  stamp                    erase",
        "January    5     grid-5 + dates-5 + name",
        "February   4     grid-5 + dates-1 + name  29, 30, 31",
    ]
    assert len(out) == 14


def test_all_week_starts_of_the_kit_and_more_years(said):
    assert run(["chart", "2027", "--years", "2"]) == 0
    titles = [line for line in said()[0] if "weeks begin" in line]
    assert titles == [
        f"{year}, weeks begin on {day} (standard, tall)"
        for year in (2027, 2028)
        for day in ("Sunday", "Monday")
    ]


def test_a_terminal_gets_a_table(monkeypatch):
    class Screen(io.StringIO):
        def isatty(self):
            return True

    screen = Screen()
    monkeypatch.setattr("sys.stdout", screen)
    assert run(["chart", "2027", "--week-start", "sunday", "--language", "de"]) == 0
    text = screen.getvalue()
    assert "2027, weeks begin on Sunday (standard, tall)" in text
    assert any(
        all(part in line for part in ("März", "5", "grid-5 + dates-2 + name"))
        for line in text.splitlines()
    )


def test_a_recipe_decides_what_there_is(tmp_path, said):
    recipe = tmp_path / "mine.toml"
    recipe.write_text(
        'version = 1\nnumber = 3\n[calendar]\nweek_starts = ["saturday"]\n[words]\nlanguage = '
        '"fr"\n'
        '[formats.standard]\nweeks = [5]\nsixth_week = "shared"\ndates = "exact"\n'
    )
    assert run(["chart", "2027", str(recipe)]) == 0
    out, err = said()
    assert err == []
    assert out[0] == "2027, weeks begin on Saturday (standard)"
    assert out[2].split() == [
        "janvier",
        "6",
        "grid-5",
        "+",
        "dates-7-shared",
        "+",
        "name;",
        "23/30,",
        "24/31",
        "in",
        "one",
        "cell",
    ]
    assert out[3].split() == ["février", "5", "grid-5", "+", "dates-3-28", "+", "name"]


def test_files_are_called_as_the_recipe_calls_them(tmp_path, said):
    recipe = tmp_path / "mine.toml"
    recipe.write_text(
        "version = 1\nnumber = 3\n[calendar]\nweek_starts = "
        '["monday"]\n[formats.standard]\n[formats.tall]\n'
        '[names]\npattern = "{format} {name} {days}"\n'
    )
    assert run(["chart", "2027", str(recipe)]) == 0
    out, _ = said()
    assert [line for line in out if "weeks begin" in line] == [
        "2027, weeks begin on Monday (standard)",
        "2027, weeks begin on Monday (tall)",
    ]
    assert any("tall grid-5 + tall dates-4 mon-thu + name" in line for line in out)


def test_a_folder_holds_a_pdf_and_a_picture_a_chart(tmp_path, said, quick):
    folder = tmp_path / "new" / "charts"
    assert run(["chart", "2027", "--years", "2", "-o", str(folder)]) == 0
    names = sorted(path.name for path in folder.iterdir())
    pictures = [f"chart-{year}-{day}.png" for year in (2027, 2028) for day in ("monday", "sunday")]
    assert names == sorted([*pictures, "chart.pdf"])
    assert said()[0][0].startswith(f"5 files: {folder / 'chart.pdf'}, ")
    assert len({id(look) for _, look in quick}) == 1


def test_nothing_is_written_over(tmp_path, said, quick):
    (tmp_path / "chart-2027-monday.png").write_bytes(b"mine")
    assert run(["chart", "2027", "-o", str(tmp_path)]) == 2
    file = tmp_path / "chart-2027-monday.png"
    assert said()[1] == [
        f"inkline: {file} exists already and is left as it is; choose another name"
    ]
    assert [path.name for path in tmp_path.iterdir()] == ["chart-2027-monday.png"]
    assert quick == []


def test_a_file_that_appears_meanwhile_stays(tmp_path, said, monkeypatch):
    file = tmp_path / "chart.pdf"
    monkeypatch.setattr(charts, "chart_pdf", lambda *_: file.write_bytes(b"theirs") and b"ours")
    assert run(["chart", "2027", "-o", str(file)]) == 2
    assert file.read_bytes() == b"theirs"
    assert "exists already" in said()[1][0]


def test_formats_that_differ_have_pictures_of_their_own(tmp_path, quick):
    recipe = tmp_path / "mine.toml"
    recipe.write_text(
        "version = 1\nnumber = 3\n[calendar]\nweek_starts = "
        '["monday"]\n[formats.standard]\n[formats.tall]\ndates = "exact"\n'
    )
    assert run(["chart", "2027", str(recipe), "-o", str(tmp_path / "charts")]) == 0
    names = {path.name for path in (tmp_path / "charts").iterdir()}
    assert names == {"chart.pdf", "chart-standard-2027-monday.png", "chart-tall-2027-monday.png"}
    assert len(quick) == 3


def test_a_pdf_and_a_picture_are_what_they_say(tmp_path):
    assert run(["chart", "2027", "--week-start", "monday", "-o", str(tmp_path / "a.pdf")]) == 0
    assert run(["chart", "2027", "--week-start", "monday", "-o", str(tmp_path / "a.png")]) == 0
    assert len(pypdfium2.PdfDocument((tmp_path / "a.pdf").read_bytes())) == 1
    with Image.open(tmp_path / "a.png") as picture:
        assert picture.size == (1080, 1920)


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["99999"], "a chart's years must lie between 1583 and 9999, not 99999"),
        (["9999", "--years", "2"], "a chart's years must lie between 1583 and 9999, not 10000"),
        (["2027", "--years", "0"], "--years: a whole number from 1 to 100 is required, not 0"),
        (["2027", "--years", "101"], "--years: a whole number from 1 to 100 is required, not 101"),
        (
            ["2027", "--kit", "small"],
            "--kit: this names a kit of a recipe; give the recipe as well",
        ),
        (
            ["2027", "{tmp}/kits.toml"],
            (
                'kits.toml, line 3: this recipe holds several kits, "a", "b"; name one of them '
                "with --kit"
            ),
        ),
        (
            ["2027", "--language", "qx"],
            'a language is required as CLDR names it, such as "en", "de" or "pt_BR", not \'qx\'',
        ),
        (
            ["2027", "-o", "{tmp}/a.png"],
            (
                "--out: one picture holds one year and one week start, and there are 2 charts; "
                "name a folder for them, or a file ending in .pdf"
            ),
        ),
        (
            ["2027", "-o", "{tmp}/note.txt"],
            (
                "--out: a folder, or a file ending in .pdf or .png, is required, and "
                "{tmp}/note.txt is another file"
            ),
        ),
        (
            ["2027", "--language", "ar", "-o", "{tmp}/a.pdf"],
            (
                'the letters of the default recipe can\'t write "يناير"; a chart in the language '
                "ar needs a recipe with a font that has them"
            ),
        ),
        (
            ["2027", "{tmp}/week.toml"],
            "week.toml: a chart needs a format that shows a month, and this kit has none",
        ),
    ],
)
def test_what_cannot_be_used_is_said_in_one_sentence(tmp_path, said, arguments, sentence):
    (tmp_path / "note.txt").write_text("mine")
    (tmp_path / "week.toml").write_text("version = 1\nnumber = 3\n[formats.week]\n")
    (tmp_path / "kits.toml").write_text("version = 1\nnumber = 3\n[kits.a]\n[kits.b]\n")
    assert run(["chart", *(text.format(tmp=tmp_path) for text in arguments)]) == 2
    assert said() == ([], [f"inkline: {sentence.format(tmp=tmp_path)}"])


def test_a_week_start_that_the_trade_lacks_is_refused(said):
    assert run(["chart", "2027", "--week-start", "noon"]) == 2
    assert "'noon' is not one of 'sunday', 'monday', 'saturday'" in said()[1][0]
