"""What comes of finished artwork: stamps, colours, overlays, editions, proofs, exports, packs."""

import io
import json
import zipfile
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from scipy import ndimage

import inkline
from inkline.artwork.size import PictureSize
from inkline.delivery.export import ExportRequest, export_kit
from inkline.delivery.pack import pack_kit
from inkline.drawing import Cap, Drawing, Layer, Role, Stroke
from inkline.errors import InputError
from inkline.finishing.drawn import finish as finished_ink
from inkline.finishing.drawn import sheet_png
from inkline.finishing.product import finish, stamps_of_sheet
from inkline.finishing.request import FinishRequest, open_finish
from inkline.ink.style import EXACT
from inkline.kit.recipe.choices import ArtInk, ArtLines, ArtSplit
from inkline.kit.recipe.finish import ArtPart
from inkline.output.forms import FORMS
from inkline.output.look import Ground
from inkline.press.redrawn import redrawn_stamp
from inkline.press.stamp_form import STAMP_FORM
from inkline.proof.finding import Check
from inkline.proof.kit_proof import prove_kit
from inkline.proof.rule import rule_place
from inkline.proof.slices import ExactRule
from inkline.styles.files import style_files

GRID = (
    '<g id="grid" fill="none" stroke="#123" stroke-width=".8"><rect x="5" y="5" width="50" '
    'height="30"/><path d="M5 15H55M5 25H55"/><path id="middle" d="M30 5V35"/></g>'
)
DOTS = '<g id="dots"><circle cx="20" cy="10" r="3" fill="#c03050"/></g>'
SMALL = PictureSize(across=480)


@pytest.fixture
def plan(tmp_path):
    def write(*bodies, name="plan"):
        file = tmp_path / f"{name}.svg"
        file.write_text(
            '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" '
            f'viewBox="0 0 60 40">{"".join(bodies)}</svg>',
            encoding="utf-8",
        )
        return file

    return write


def request_for(*files, **more):
    return FinishRequest(files=files, size=SMALL, **{"style": "round-pen", **more})


def grey(path):
    with Image.open(path) as picture:
        return np.asarray(picture.convert("L"))


def as_drawn(request):
    opened = open_finish(request, style=EXACT)
    return sheet_png(opened, opened.sheets[0])


def test_layers_are_stamps_in_register(plan, tmp_path):
    request = request_for(plan(GRID, DOTS), split=ArtSplit.LAYERS)
    report, _ = finish(request, tmp_path / "inked")
    assert report.drawn == ("plan/grid", "plan/dots")
    dots = grey(tmp_path / "inked" / "plan" / "dots.png")
    assert dots.shape == (320, 480)
    assert dots[80, 160] == 255
    assert grey(tmp_path / "inked" / "plan" / "grid.png")[80, 160] == 0
    whole = tmp_path / "whole"
    finish(replace(request, split=ArtSplit.WHOLE), whole)
    parts = [grey(tmp_path / "inked" / "plan" / f"{name}.png") for name in ("grid", "dots")]
    assert np.array_equal(np.maximum(*parts), grey(whole / "plan.png"))


def test_colours_are_stamps_under_a_picture_of_all(plan, tmp_path):
    report, _ = finish(request_for(plan(GRID, DOTS), ground=Ground.CLEAR), tmp_path / "inked")
    assert report.drawn == ("plan/112233", "plan/c03050")
    assert report.sheets == ("plan",)
    with Image.open(tmp_path / "inked" / "plan.png") as picture:
        assert picture.getpixel((160, 80)) == (0xC0, 0x30, 0x50, 255)


def test_a_colour_joins_its_like_only_where_nothing_lies_between(plan):
    """Red, blue over it, and red over that: three stamps; beside it two."""
    red, blue = '<circle cx="{}" cy="20" r="8" fill="#c00"/>', '<rect x="14" y="14" {}'
    blue = blue.format('width="8" height="8" fill="#00c"/>')
    for x, n_stamps in ((22, 3), (45, 2)):
        file = plan(red.format(18), blue, red.format(x), name=f"at-{x}")
        opened = open_finish(request_for(file, ground=Ground.CLEAR))
        assert len(stamps_of_sheet(opened, opened.sheets[0])) == n_stamps


def test_ink_over_white_over_ink_is_ink(plan, tmp_path):
    """On black a pale shape takes away what lies under it, but not what lies over it."""
    file = plan(
        '<rect x="5" y="5" width="50" height="30"/><rect x="15" y="10" width="30" height="20" '
        'fill="#fff"/><path d="M10 20H50" stroke="#000" stroke-width="2"/>'
    )
    (tmp_path / "a.png").write_bytes(as_drawn(request_for(file)))
    values = grey(tmp_path / "a.png")
    assert values[60, 80] == values[160, 240] == 255
    assert values[100, 240] == values[220, 240] == 0


def test_pale_artwork_is_ink_where_all_of_it_is_pale(plan, tmp_path):
    file = plan('<circle cx="30" cy="20" r="8" fill="#fff"/>')
    (tmp_path / "a.png").write_bytes(as_drawn(request_for(file)))
    assert grey(tmp_path / "a.png")[160, 240] == 255


def test_an_overlay_shows_the_exact_under_the_drawn(plan, tmp_path):
    folder = tmp_path / "inked"
    report, _ = finish(request_for(plan(GRID), overlay=True), folder)
    assert report.sheets == ("plan-overlay",)
    with Image.open(folder / "plan-overlay.png") as picture:
        shown = np.asarray(picture.convert("RGB")).astype(int)
    drawn = grey(folder / "plan.png")
    assert shown[drawn == 255].mean() < 120
    bare = (drawn == 0) & (shown.min(axis=2) < 250)
    assert bare.any()
    assert np.all(shown[bare][:, 0] > shown[bare][:, 2])


def test_a_proof_finds_finished_artwork_in_its_place(plan, tmp_path):
    slant = '<path d="M8 31L54 33.5" stroke="#123" stroke-width=".6"/>'
    for split in ArtSplit:
        folder = tmp_path / split.value
        finish(request_for(plan(GRID, slant, DOTS), split=split), folder)
        proof = prove_kit(folder, drawer=redrawn_stamp)
        assert not proof.faults
        checks = {finding.check for finding in proof.findings}
        assert {Check.MASTERS, Check.POSITION, Check.WIDTH} <= checks


def test_a_proof_sees_ink_that_was_moved(plan, tmp_path):
    finish(request_for(plan(GRID)), tmp_path / "inked")
    file = tmp_path / "inked" / "plan.png"
    moved = Image.fromarray(np.roll(grey(file), 6, axis=0))
    moved.save(file, dpi=(203.2, 203.2))
    assert prove_kit(tmp_path / "inked", drawer=redrawn_stamp).faults


def test_rules_beside_other_ink_are_measured_where_they_are_clear(plan, tmp_path):
    blob = '<circle cx="12" cy="16" r="3"/>'
    finish(request_for(plan(GRID, blob)), tmp_path / "inked")
    listed = json.loads((tmp_path / "inked" / "manifest.json").read_text())["stamps"][0]["lines"]
    (near,) = [
        one for one in listed if abs(one["from"][1] - 120) < 1 and abs(one["to"][1] - 120) < 1
    ]
    assert any(start < 60 < end for start, end in near["beside"])
    assert not prove_kit(tmp_path / "inked", drawer=redrawn_stamp).faults


@pytest.mark.parametrize("style", sorted(style_files()))
def test_rules_keep_place_and_spacing_in_every_style(plan, style):
    """Places of five equal rules, read off the picture, lie within a quarter px.

    Their spacing does in the mean of three drawings: what dry paper leaves bare of either of two
    neighbours, by chance, is read off a single one (0.251 px at most, in dry-marker's).
    """
    rules = "".join(
        f'<path d="M4 {y}H56" stroke="#000" stroke-width=".7"/>' for y in range(6, 36, 7)
    )
    file, offsets = plan(rules), []
    for number in (10, 11, 12):
        picture = inkline.render(finished_ink(file, style=style, number=number, across=480))
        for y in range(6, 36, 7):
            rule = ExactRule(start=(32.0, 8.0 * y), end=(448.0, 8.0 * y), width_px=5.6)
            offsets.append(rule_place(picture, rule, reach_weights=1.9).offset_px)
    assert np.abs(offsets).max() < 0.25
    steps = np.diff(np.reshape(offsets, (3, 5)), axis=1)
    assert np.abs(steps).max() < 0.3
    assert np.abs(steps.mean(axis=0)).max() < 0.25


def test_every_form_is_exported_with_its_colours(plan, tmp_path):
    finish(request_for(plan(GRID, DOTS), ground=Ground.CLEAR), tmp_path / "inked")
    report = export_kit(ExportRequest(kit=tmp_path / "inked"), tmp_path / "files", workers=1)
    assert {file.split("/")[0] for file in report.files_made} == set(FORMS)
    text = (tmp_path / "files" / "svg" / "plan.svg").read_text()
    assert "#112233" in text
    assert "#c03050" in text
    with Image.open(tmp_path / "files" / "png" / "plan.png") as picture:
        assert picture.convert("RGBA").getpixel((160, 80)) == (0xC0, 0x30, 0x50, 255)


def test_layers_are_packed_by_their_names(plan, tmp_path):
    finish(request_for(plan(GRID, DOTS), split=ArtSplit.LAYERS), tmp_path / "inked")
    (pack,) = pack_kit(ExportRequest(kit=tmp_path / "inked"), tmp_path / "tides.zip")
    with zipfile.ZipFile(pack.file) as file:
        names = file.namelist()
    assert {"tides/plan/grid.png", "tides/plan/dots.png"} <= set(names)
    export_kit(ExportRequest(kit=tmp_path / "inked", forms=("ora",)), tmp_path / "f", workers=1)
    with zipfile.ZipFile(tmp_path / "f" / "ora" / "plan.ora") as file:
        stack = file.read("stack.xml").decode()
    assert 'visibility="hidden"' not in stack


def test_one_mark_is_drawn_again(plan, tmp_path):
    file, folder = plan(GRID, DOTS), tmp_path / "inked"
    finish(request_for(file), folder)
    before = grey(folder / "plan.png")
    report, _ = finish(request_for(file, again={"plan/grid/middle": 1}), folder)
    assert report.drawn == ("plan",)
    assert report.n_marks == 1
    differs = np.argwhere(before != grey(folder / "plan.png"))
    assert len(differs)
    assert differs[:, 1].min() > 225
    assert differs[:, 1].max() < 255
    with pytest.raises(InputError, match='did you mean "plan/grid/middle"'):
        finish(request_for(file, again={"plan/grid/midle": 1}), folder)


def test_an_edition_says_what_has_changed(plan, tmp_path):
    file = plan(GRID, DOTS)
    finish(request_for(file, split=ArtSplit.LAYERS, edition="1"), tmp_path / "one")
    wide = plan(
        GRID, DOTS.replace('r="3"', 'r="4"'), '<g id="bar"><path d="M2 38H9" stroke="red"/></g>'
    )
    request = request_for(wide, split=ArtSplit.LAYERS, edition="2", title="Tides")
    report, _ = finish(request, tmp_path / "two", since=tmp_path / "one")
    assert report.changes.same == ("plan/grid",)
    assert report.changes.redrawn == ("plan/dots",)
    assert report.changes.added == ("plan/bar",)
    text = (tmp_path / "two" / "changes.txt").read_text()
    assert text.startswith("Tides, edition 2\nWhat has changed since edition 1\n")


def test_kits_and_artwork_keep_apart(plan, tmp_path):
    finish(request_for(plan(GRID)), tmp_path / "inked")
    manifest = tmp_path / "inked" / "manifest.json"
    values = json.loads(manifest.read_text())
    assert values["format"] == STAMP_FORM.format
    assert values["holds"] == "artwork"
    manifest.write_text(json.dumps({**values, "holds": "months"}))
    with pytest.raises(InputError, match="holds finished months, and finished artwork would come"):
        finish(request_for(plan(GRID)), tmp_path / "inked")


def test_only_and_redraw_choose_pictures(plan, tmp_path):
    request, folder = request_for(plan(GRID, DOTS), split=ArtSplit.LAYERS), tmp_path / "inked"
    report, _ = finish(request, folder, only=["plan/grid"])
    assert report.drawn == ("plan/grid",)
    report, _ = finish(request, folder, redraw=["plan/grid"])
    assert report.drawn == ("plan/grid", "plan/dots")
    with pytest.raises(InputError, match="did you mean 'plan/dots'"):
        finish(request, folder, only=["plan/dot"])


def test_parts_have_a_style_a_hand_and_lines_of_their_own(plan, tmp_path):
    file = plan(GRID, DOTS)
    exact = ArtPart(name="grid", ink=ArtInk.EXACT)
    other = ArtPart(name="plan/dots", style="chalk", firmness=1.0)
    finish(request_for(file, parts=(exact, other)), tmp_path / "inked")
    values = grey(tmp_path / "inked" / "plan.png")
    (tmp_path / "exact.png").write_bytes(as_drawn(request_for(plan(GRID))))
    bare = np.ones(values.shape, bool)
    bare[50:110, 130:190] = False
    assert np.abs(values[bare].astype(int) - grey(tmp_path / "exact.png")[bare]).max() <= 1
    assert not prove_kit(tmp_path / "inked", drawer=redrawn_stamp).faults
    without = request_for(plan(GRID, DOTS), parts=(ArtPart(name="dots", ink=ArtInk.LEFT_OUT),))
    finish(without, tmp_path / "less")
    assert grey(tmp_path / "less" / "plan.png")[80, 160] == 0


def test_lines_may_all_be_shapes(plan):
    parts = (ArtPart(name="plan.svg", lines=ArtLines.NONE),)
    file = plan(GRID)
    opened = open_finish(request_for(file, parts=parts), style=EXACT)
    usual = open_finish(request_for(file), style=EXACT)
    one, other = (sheet_png(it, it.sheets[0]) for it in (opened, usual))
    assert np.abs(grey(io.BytesIO(one)).astype(int) - grey(io.BytesIO(other))).mean() < 0.05


@pytest.mark.parametrize(
    ("part", "sentence"),
    [
        (ArtPart(name="plam"), r'is called "plam"; did you mean "plan"'),
        (ArtPart(name="gird"), r'is called "gird"; did you mean "grid"'),
        (ArtPart(name="zzz"), "there are the layers grid, dots"),
    ],
)
def test_wishes_for_what_is_not_there_are_refused(plan, part, sentence):
    with pytest.raises(InputError, match=sentence):
        open_finish(request_for(plan(GRID, DOTS), parts=(part,)))


def test_a_drawing_built_by_hand_is_finished():
    line = Stroke(
        name="cross/level",
        group="cross/level",
        role=Role.RULE,
        points=np.array([[40.0, 100.0], [160.0, 100.0]]),
        width_px=6.0,
        cap=Cap.BUTT,
        origin=(40.0, 100.0),
    )
    drawing = Drawing(
        name="cross", canvas=(200, 200), sheet_px=400.0, layers=(Layer(name="ink", marks=(line,)),)
    )
    one, again = (
        inkline.render(inkline.finish(drawing, style="felt-marker", number=3)) for _ in range(2)
    )
    assert np.array_equal(one, again)
    assert one[100, 100] > 128
    assert one[60].max() == 0


def test_a_file_is_finished_without_a_folder(plan, tmp_path):
    file = plan(GRID)
    picture = inkline.render(inkline.finish(file, style="round-pen", across=480))
    finish(request_for(file), tmp_path / "inked")
    assert np.array_equal(picture, grey(tmp_path / "inked" / "plan.png"))


def test_the_documented_example_draws_its_line():
    page = Path(__file__).parents[2] / "shared" / "pages" / "artwork.md"
    example = page.read_text(encoding="utf-8").split("```python\n")[1].split("```")[0]
    values = {}
    exec(example, values)  # noqa: S102 - our own page
    picture = values["picture"]
    assert picture.shape == (200, 400)
    assert picture[100, 100:300].min() > 128
    assert picture[:80].max() == 0


@pytest.mark.parametrize("width", [0.7, 2.2])
@pytest.mark.parametrize("style", ["round-pen", "dip-pen", "felt-marker"])
def test_a_frame_is_closed_at_its_corners_in_every_drawing(tmp_path, style, width):
    file = tmp_path / "frame.svg"
    file.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">'
        '<rect x="8" y="8" width="44" height="24" fill="none" stroke="#000" '
        f'stroke-width="{width}"/></svg>'
    )
    for number in range(1, 13 if width < 1.0 else 7):
        picture = inkline.render(inkline.finish(file, style=style, number=number, across=600))
        # A hand may leave a chink of a third of a weight, 7 px here.
        grounds, _ = ndimage.label(~ndimage.binary_dilation(picture > 60))
        height, width = picture.shape
        assert grounds[height // 2, width // 2] != grounds[2, 2], number
