"""A small kit, drawn once and then spoiled: what `inkline prove` says of it."""

import hashlib
import json
import math
import shutil
from html.parser import HTMLParser

import numpy as np
import pytest
from PIL import Image

from inkline.cli.prove_run import bound_sentence, proof_lines
from inkline.cli.running import run
from inkline.proof.finding import Bounds, Check, Finding, KitProof, Unjudged, bounds_for

RECIPE = """
version = 1
number = 12
[canvas]
side = "600 px"
[formats.tall]
blocks = "both"
"""
STAMPS = ("grid-5", "grid-6-head", "blocks-5", "blocks-6-cut-3", "dates-3", "weekdays-monday")


@pytest.fixture(scope="module")
def drawn(tmp_path_factory):
    folder = tmp_path_factory.mktemp("drawn")
    (folder / "recipe.toml").write_text(RECIPE)
    only = [part for stem in STAMPS for part in ("--only", f"tall/{stem}")]
    build = ["kit", str(folder / "recipe.toml"), "-o", str(folder / "kit"), "--workers", "1"]
    assert run([*build, *only, "--only", "words/month-05"]) == 0
    return folder / "kit"


@pytest.fixture
def kit(drawn, tmp_path, said):
    said()
    return shutil.copytree(drawn, tmp_path / "kit")


def redrawn(kit, name, change):
    """Change a stamp's picture as if it had been drawn so: with its new checksum noted."""
    retouched(kit, name, change)
    manifest = json.loads((kit / "manifest.json").read_text())
    entry = next(stamp for stamp in manifest["stamps"] if stamp["name"] == name)
    entry["sha256"] = hashlib.sha256((kit / entry["file"]).read_bytes()).hexdigest()
    (kit / "manifest.json").write_text(json.dumps(manifest))


def retouched(kit, name, change):
    path = kit / f"{name}.png"
    with Image.open(path) as image:
        grey, dpi = np.asarray(image), image.info["dpi"]
    Image.fromarray(change(grey)).save(path, dpi=dpi)


def shifted(grey):
    return np.roll(grey, 3, axis=1)


def proved(kit, said, *options):
    """The exit code, and what was said in one line."""
    code = run(["prove", str(kit), *options])
    out, err = said()
    assert err == []
    return code, " ".join(" ".join(out).split())


def test_a_clean_kit_holds(kit, said):
    before = {path: path.read_bytes() for path in kit.rglob("*") if path.is_file()}
    code, text = proved(kit, said)
    assert code == 0, text
    assert "kit: 7 stamps, 7 of them measured" in text
    assert "Does not hold: nothing." in text
    assert "Every picture has the size of its canvas. (7 stamps)" in text
    assert "Rules keep their exact lines" in text
    assert "nearest to its bound is tall/grid-" in text
    assert "Not judged: - tall/blocks-6-cut-3: what is cut out of it" in text
    assert text.endswith("All that was measured is within its bounds.")
    assert {path: path.read_bytes() for path in kit.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize(
    ("stem", "sentence"),
    [
        ("grid-5", "Rules keep their exact lines"),
        ("dates-3", "together to 0.5 px"),
        ("blocks-5", "together to 0.5 px"),
        ("blocks-6-cut-3", "together to 0.5 px"),
    ],
)
def test_a_picture_three_pixels_off_is_named_by_the_layout_alone(kit, said, stem, sentence):
    shutil.rmtree(kit / "masters")
    redrawn(kit, f"tall/{stem}", shifted)
    code, text = proved(kit, said)
    assert code == 1
    failed = text.partition("Does not hold:")[2]
    assert sentence in failed
    assert f"tall/{stem}: " in failed
    assert (
        f"Out of bounds: tall/{stem}. To have one drawn with other lines, write its name under "
        f"[again] in the recipe; a picture that was changed is drawn anew by --redraw NAME." in text
    )


@pytest.mark.parametrize("stem", ["grid-5", "dates-3", "blocks-5", "blocks-6-cut-3"])
def test_a_picture_three_pixels_off_is_named_by_its_masters(kit, said, stem):
    redrawn(kit, f"tall/{stem}", shifted)
    code, text = proved(kit, said)
    assert code == 1
    assert f"Not so in 1 of 7 stamps: tall/{stem}: it is moved 3 px right" in text


def test_a_retouched_picture_that_moved_is_named(kit, said):
    retouched(kit, "tall/grid-5", shifted)
    code, text = proved(kit, said)
    assert code == 1
    assert "7 stamps, 7 of them measured" in text
    assert "tall/grid-5: it is moved 3 px right" in text


def test_a_retouch_is_told_mark_by_mark_and_is_no_fault(kit, said):
    def by_hand(grey):
        grey = grey.copy()
        grey[170:172, 200:203] = 255
        return grey

    retouched(kit, "tall/dates-3", by_hand)
    code, text = proved(kit, said)
    assert code == 0, text
    assert "judged only by what no hand can mean: tall/dates-3." in text
    assert "- tall/dates-3: a speck of 3 x 2 px near '" in text


def test_a_missing_picture_is_named(kit, said):
    (kit / "words" / "month-05.png").unlink()
    code, text = proved(kit, said)
    assert code == 1
    assert (
        "Every picture is there and can be read. Not so in 1 of 7 stamps: words/month-05: " in text
    )
    assert "words/month-05.png is missing" in text


def test_the_recipes_own_distance_from_the_edge_can_be_said(kit, said):
    assert proved(kit, said, "--edge", "0")[0] == 0
    code, text = proved(kit, said, "--edge", "200")
    assert code == 1
    assert "Ink stays clear of the canvas edge. Not so in 6 of 7 stamps" in text


def test_what_is_no_finished_kit_is_refused(kit, tmp_path, said):
    (kit / "unfinished.jsonl").write_text("{}\n")
    for folder, sentence in (
        (kit, "build it again to finish, then prove it"),
        (tmp_path / "none", "holds no kit"),
    ):
        assert run(["prove", str(folder)]) == 2
        out, err = said()
        assert (out, len(err)) == ([], 1)
        assert sentence in err[0]


def test_every_check_has_a_sentence():
    for check in Check:
        assert bound_sentence(check, bounds_for(2500.0)).endswith(".")


def test_the_worst_of_many_stands_for_all(tmp_path):
    def fault(stamp, share):
        return Finding(stamp=stamp, check=Check.AREA, sentence=f"it is {share}", share=share)

    proof = KitProof(
        n_stamps=12,
        bounds=Bounds(),
        findings=(
            fault("a", 2.0),
            fault("a", 3.0),
            fault("b", 5.0),
            fault("c", math.nan),
            fault("d", 0.5),
        ),
        retouched=tuple("efghij"),
        unjudged=(Unjudged(stamp="k", sentence="why"), Unjudged(stamp="l", sentence="why")),
    )
    lines = list(proof_lines(proof, tmp_path, seconds=1.0))
    assert lines[1:] == [
        "Does not hold:",
        (
            "- Blocks have their exact area of ink to 6 %, less what dry paper leaves bare. Not so "
            "in 3 of 4"
        ),
        "  stamps:",
        "  c: it is nan",
        "  b: it is 5.0",
        "  a: it is 3.0; and 1 more",
        (
            "Retouched by hand since, and judged only by what no hand can mean: e, f, g, h and 2 "
            "more."
        ),
        "Not judged:",
        "- k, l: why.",
        (
            "Out of bounds: a, b, c. To have one drawn with other lines, write its name under "
            "[again] in the recipe; a picture that was changed is drawn anew by --redraw NAME."
        ),
    ]


def test_a_page_shows_what_was_found_and_needs_nothing_else(kit, tmp_path, said):
    redrawn(kit, "tall/dates-3", shifted)
    page, values = tmp_path / "proof.html", tmp_path / "proof.json"
    code, text = proved(kit, said, "--report", str(page), "--json", str(values))
    assert code == 1
    assert text.endswith(f"{page} shows it.")
    html = page.read_text()
    verdict, near = html.index("Out of bounds: tall/dates-3."), html.index("Seen from near")
    assert verdict < near < html.index("At the size of use") < html.index("All in words")
    assert html.count("data:image/png;base64,") == 1
    for outside in ("http://", "https://", "<script", "src=", "url("):
        assert outside not in html
    HTMLParser().feed(html)
    found = json.loads(values.read_text())
    assert (found["holds"], found["stamps"], found["measured"]) == (False, 7, 7)
    (fault,) = [one for one in found["faults"] if one["check"] == "masters"]
    assert (fault["stamp"], fault["kind"]) == ("tall/dates-3", "moved")
    assert {one["used_at"] for one in found["at_use"] if one["stamp"].startswith("tall")} == {25.0}


def test_values_on_the_screen_stand_alone(kit, said):
    assert run(["prove", str(kit), "--json", "-"]) == 0
    out, err = said()
    assert err == []
    assert json.loads("\n".join(out))["faults"] == []


def test_a_page_is_never_written_over_another_file(kit, tmp_path, said):
    there = tmp_path / "there.html"
    there.write_text("mine")
    for options in (["--report", str(there)], ["--report", "proof.pdf"], ["--json", str(there)]):
        assert run(["prove", str(kit), *options]) == 2
        said()
    assert there.read_text() == "mine"


@pytest.mark.parametrize("far", [1e9, 10**400, -1e300])
@pytest.mark.parametrize("key", ["lines", "boxes", "glyphs", "canvas"])
def test_a_manifest_with_places_beyond_any_canvas_is_refused(kit, said, key, far):
    manifest = json.loads((kit / "manifest.json").read_text())
    entry = next(one for one in manifest["stamps"] if key in one)
    spoilt = [far, far] if key == "canvas" else [{**entry[key][0], "x1": far}]
    entry[key] = spoilt
    (kit / "manifest.json").write_text(json.dumps(manifest))
    assert run(["prove", str(kit)]) == 2
    (line,) = said()[1]
    assert f"the {key} of {entry['name']} reach to " in line
    assert len(line) < 300
