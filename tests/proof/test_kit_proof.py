"""A small kit made here, whole and then spoiled in one way at a time.

None of inkline's drawing is used.
"""

import hashlib
import json
import struct

import numpy as np
import pytest
from PIL import Image, PngImagePlugin

from inkline.errors import InputError
from inkline.proof import listed_kit
from inkline.proof.expected import Expected
from inkline.proof.finding import Check
from inkline.proof.kit_proof import prove_drawn, prove_kit

SIDE, PPI = 460, 300
XS, YS = (50.4, 170.4, 290.4, 410.4), (60.3, 180.3, 300.3)
RULE_PX = 6.0


def filled(box):
    """The exact picture of one upright box, 0 to 1."""
    x0, y0, x1, y1 = box
    pixels = np.arange(SIDE)
    across = np.clip(np.minimum(pixels + 1, x1) - np.maximum(pixels, x0), 0, 1)
    down = np.clip(np.minimum(pixels + 1, y1) - np.maximum(pixels, y0), 0, 1)
    return np.outer(down, across)


def grey_of(boxes):
    return np.rint(255 * np.max([filled(box) for box in boxes], axis=0)).astype(np.uint8)


def lines():
    half = RULE_PX / 2
    across = [
        {"from": [XS[0] - half, y], "to": [XS[-1] + half, y], "width_px": RULE_PX} for y in YS
    ]
    return across + [
        {"from": [x, YS[0] - half], "to": [x, YS[-1] + half], "width_px": RULE_PX} for x in XS
    ]


def rule_boxes():
    half = RULE_PX / 2
    return [
        (
            line["from"][0] - half * (line["from"][0] == line["to"][0]),
            line["from"][1] - half * (line["from"][1] == line["to"][1]),
            line["to"][0] + half * (line["from"][0] == line["to"][0]),
            line["to"][1] + half * (line["from"][1] == line["to"][1]),
        )
        for line in lines()
    ]


def glyphs():
    cells = [(x, y, x + 120, y + 120) for y in YS[:2] for x in XS[:3]]
    return [
        {
            "text": str(day),
            "cell": list(cell),
            "ink": [cell[0] + 15, cell[1] + 14, cell[0] + 45, cell[1] + 74],
        }
        for day, cell in enumerate(cells, start=1)
    ]


def blocks():
    return [
        {"x0": x + 12, "y0": y + 12, "x1": x + 108, "y1": y + 108, "radius": 0.0}
        for y in YS[:2]
        for x in XS[:3]
    ]


def saved(folder, name, grey, *, ppi=PPI, chunk=None):
    path = folder / f"{name}.png"
    path.parent.mkdir(parents=True, exist_ok=True)
    info = PngImagePlugin.PngInfo()
    if chunk:
        info.add(*chunk)
    Image.fromarray(grey).save(path, dpi=(ppi, ppi), pnginfo=info)
    return path


def entry(folder, name, kind, grey, geometry, *, style="plain", **options):
    path = saved(folder, name, grey, **options)
    return {
        "name": name,
        "file": f"{name}.png",
        "sha256": hashlib.sha256(path.read_bytes()).hexdigest(),
        "kind": kind,
        "format": style,
        "canvas": list(grey.shape[::-1]),
        **geometry,
    }


def kit(folder, **changed):
    """A kit of one grid, its numerals, its blocks and a word.

    A changed picture, its geometry or options can be given by stamp.
    """
    word = np.zeros((30, 80), np.uint8)
    word[5:25, 6:74] = 255
    made = {
        "grid": ("plain/grid", "grid", grey_of(rule_boxes()), {"lines": lines()}, {}),
        "dates": (
            "plain/dates",
            "dates",
            grey_of([g["ink"] for g in glyphs()]),
            {"glyphs": glyphs()},
            {},
        ),
        "blocks": (
            "plain/blocks",
            "blocks",
            grey_of([(b["x0"], b["y0"], b["x1"], b["y1"]) for b in blocks()]),
            {"boxes": blocks()},
            {},
        ),
        "word": (
            "words/may",
            "words",
            word,
            {"glyphs": [{"text": "MAY", "cell": [0, 0, 80, 30], "ink": [6, 5, 74, 25]}]},
            {"style": None},
        ),
    }
    entries = []
    for which, (name, kind, grey, exact, options) in made.items():
        change = changed.get(which, {})
        picture = change.get("picture", lambda grey: grey)(grey.copy())
        geometry = change.get("geometry", lambda values: values)(exact)
        entries.append(
            entry(folder, name, kind, picture, geometry, **options, **change.get("options", {}))
        )
    (folder / "manifest.json").write_text(json.dumps({"ppi": PPI, "stamps": entries}))
    return folder


def faults(folder, **changed):
    return list(prove_kit(kit(folder, **changed)).faults)


def found(folder, **changed):
    return {(finding.stamp, finding.check) for finding in faults(folder, **changed)}


def moved(down, right):
    return lambda grey: np.roll(grey, (down, right), axis=(0, 1))


def test_strokes_too_thin_to_cover_a_pixel_are_as_full_as_their_masters(tmp_path):
    """No pixel of the word is wholly covered, as in a wash, or in weekdays on a small canvas."""
    pale = {"word": {"picture": lambda grey: grey // 255 * 250}}
    folder = kit(tmp_path, **pale)

    def as_drawn(folder, listed):
        grey = np.asarray(Image.open(folder / listed["file"]))
        return Expected(picture=grey, body=grey)

    assert [one.check for one in prove_kit(folder).faults] == [Check.VALUES]
    assert prove_kit(folder, drawer=as_drawn).faults == ()
    assert prove_drawn(folder, ["words/may"], drawer=as_drawn).faults == ()


def test_clean_kit_has_no_findings(tmp_path):
    assert faults(tmp_path) == []


@pytest.mark.parametrize(("down", "right"), [(1, 0), (0, 1), (-1, -1)])
def test_grid_moved_by_one_pixel_is_found(tmp_path, down, right):
    assert found(tmp_path, grid={"picture": moved(down, right)}) == {("plain/grid", Check.POSITION)}


def test_exact_edges_between_pixels_are_no_shift(tmp_path):
    """All ink is seen 0.4 px to the left of its place and 0.3 px above it.

    The columns begin so far into a pixel, and so do the rows.
    """
    proof = prove_kit(kit(tmp_path))
    assert {round(one.share, 2) for one in proof.findings if one.check is Check.SHIFT} == {
        0.44,
        0.38,
    }


def test_turned_rule_is_found(tmp_path):
    def sheared(grey):
        return np.stack(
            [np.roll(column, round(2 * (x - 230) / 360)) for x, column in enumerate(grey.T)], axis=1
        )

    findings = faults(tmp_path, grid={"picture": sheared})
    assert {finding.check for finding in findings} == {Check.POSITION}
    assert all("drift" in finding.sentence for finding in findings)


def test_thin_rule_is_found(tmp_path):
    def thinned(grey):
        grey[:, 288:290] = 0
        return grey

    findings = faults(tmp_path, grid={"picture": thinned})
    assert "the excess width of rule 6 is" in " ".join(finding.sentence for finding in findings)
    assert Check.WIDTH in {finding.check for finding in findings}


def test_missing_rule_is_found(tmp_path):
    def without(grey):
        grey[66:177, 160:180] = grey[186:297, 160:180] = 0
        return grey

    assert ("plain/grid", Check.POSITION) in found(tmp_path, grid={"picture": without})


def test_moved_numerals_are_found(tmp_path):
    assert found(tmp_path, dates={"picture": moved(0, 8)}) == {
        ("plain/dates", Check.PLACE),
        ("plain/dates", Check.SHIFT),
    }


@pytest.mark.parametrize("which", ["dates", "blocks"])
def test_a_shift_that_no_numeral_or_block_shows_alone_is_found(tmp_path, which):
    findings = faults(tmp_path, **{which: {"picture": moved(0, -1)}})
    assert [finding.check for finding in findings] == [Check.SHIFT]
    assert "all 6 together lie 1.40 px too far left, where 0.90 px are allowed" in str(findings[0])


def test_missing_numeral_is_found(tmp_path):
    def without(grey):
        grey[60:181, 50:171] = 0
        return grey

    findings = faults(tmp_path, dates={"picture": without})
    assert [finding.sentence for finding in findings] == ["'1' has no ink in its place"]


def test_ink_outside_all_cells_is_found(tmp_path):
    def dirty(grey):
        grey[330, 200] = 9
        return grey

    assert found(tmp_path, dates={"picture": dirty}) == {("plain/dates", Check.OUTSIDE)}


def test_numeral_on_a_rule_is_found(tmp_path):
    def touching(grey):
        grey[100, 50:100] = 255
        return grey

    assert ("plain/dates", Check.REGISTER) in found(tmp_path, dates={"picture": touching})


def test_cells_off_the_rules_are_found(tmp_path):
    def shifted(geometry):
        for glyph in geometry["glyphs"]:
            glyph["cell"][2] += 0.001
        return geometry

    findings = faults(tmp_path, dates={"geometry": shifted})
    assert {finding.check for finding in findings} == {Check.REGISTER}
    assert findings[0].sentence == "the cell of '1' stands 0.001 px off the rules of plain/grid"


def test_grid_off_another_grid_is_found(tmp_path):
    folder = kit(tmp_path)
    manifest = json.loads((folder / "manifest.json").read_text())
    second = [line for line in lines() if line["from"][1] != YS[2]]
    for line in second:
        line["from"][0] += 0.25
        line["to"][0] += 0.25
    picture = grey_of([box for box in rule_boxes() if box[1] != YS[2] - 3])
    manifest["stamps"].append(entry(folder, "plain/grid-small", "grid", picture, {"lines": second}))
    (folder / "manifest.json").write_text(json.dumps(manifest))
    findings = [
        finding for finding in prove_kit(folder).faults if finding.stamp == "plain/grid-small"
    ]
    assert {finding.check for finding in findings} == {Check.REGISTER}


def test_unequal_insets_are_found(tmp_path):
    def shifted(geometry):
        geometry["boxes"][4]["x0"] += 0.5
        return geometry

    findings = faults(tmp_path, blocks={"geometry": shifted})
    assert [finding.sentence for finding in findings] == [
        "block 5 must be set in equally from the rules about it, not by 12.5, 12, 12, 12 px"
    ]


def test_wrong_block_is_found(tmp_path):
    def smaller(grey):
        grey[60:181, 140:171] = 0
        return grey

    assert found(tmp_path, blocks={"picture": smaller}) == {
        ("plain/blocks", Check.PLACE),
        ("plain/blocks", Check.AREA),
    }


def test_ink_too_near_the_edge_is_found(tmp_path):
    def near(grey):
        grey[4, 200] = 1
        return grey

    findings = faults(tmp_path, dates={"picture": near})
    assert "ink comes within 4 px of the canvas edge, where 4.416 px are required" in [
        finding.sentence for finding in findings
    ]


def test_word_that_is_cut_off_is_found(tmp_path):
    def cut(grey):
        grey[10:20, 74:] = 255
        return grey

    assert ("words/may", Check.EDGE) in found(tmp_path, word={"picture": cut})


def test_values_must_reach_black_and_full(tmp_path):
    assert ("plain/dates", Check.VALUES) in found(
        tmp_path, dates={"picture": lambda grey: np.minimum(grey, 250)}
    )
    assert ("plain/blocks", Check.VALUES) in found(
        tmp_path, blocks={"picture": lambda grey: 0 * grey}
    )


def test_resolution_size_and_chunks_are_read(tmp_path):
    assert found(tmp_path, dates={"options": {"ppi": 72}}) == {("plain/dates", Check.RESOLUTION)}
    gamma = {"options": {"chunk": (b"gAMA", struct.pack(">I", 45_455))}}
    assert found(tmp_path, blocks=gamma) == {("plain/blocks", Check.FORMAT)}
    folder = kit(tmp_path)
    manifest = json.loads((folder / "manifest.json").read_text())
    manifest["stamps"][3]["canvas"] = [81, 30]
    (folder / "manifest.json").write_text(json.dumps(manifest))
    assert [finding.check for finding in prove_kit(folder).faults] == [Check.SIZE]


def test_colour_picture_is_found(tmp_path):
    folder = kit(tmp_path)
    word = np.zeros((30, 80, 3), np.uint8)
    word[5:25, 6:74] = 255
    path = saved(folder, "words/may", word)
    manifest = json.loads((folder / "manifest.json").read_text())
    manifest["stamps"][3]["sha256"] = hashlib.sha256(path.read_bytes()).hexdigest()
    (folder / "manifest.json").write_text(json.dumps(manifest))
    assert [str(finding) for finding in prove_kit(folder).faults] == [
        "words/may: format: 8-bit grey is required, not 8 bits of colour type 2 (colour)"
    ]


def test_retouched_damaged_and_missing_files_are_named(tmp_path):
    folder = kit(tmp_path)
    (folder / "words/may.png").write_bytes(b"something else")
    (folder / "plain/dates.png").unlink()
    assert [(finding.stamp, finding.check) for finding in prove_kit(folder).faults] == [
        ("plain/dates", Check.FILE),
        ("words/may", Check.FILE),
    ]


@pytest.mark.parametrize("data", [b"no picture at all", b"\x89PNG\r\n\x1a\n" + b"\0" * 40])
def test_unreadable_picture_is_named(tmp_path, data):
    folder = kit(tmp_path)
    (folder / "words/may.png").write_bytes(data)
    manifest = json.loads((folder / "manifest.json").read_text())
    manifest["stamps"][3]["sha256"] = hashlib.sha256(data).hexdigest()
    (folder / "manifest.json").write_text(json.dumps(manifest))
    (finding,) = prove_kit(folder).faults
    assert finding.check == Check.FILE
    assert "cannot be read" in finding.sentence


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (lambda grey: grey, ""),
        (moved(0, 12), "moved 12 px right"),
        (moved(40, 0), "moved 40 px down"),
        (lambda grey: np.where(np.arange(SIDE) < 170, 0, grey).astype(np.uint8), "'1' is gone"),
    ],
)
def test_retouched_picture_is_judged_by_what_no_hand_can_mean(tmp_path, change, sentence):
    folder = kit(tmp_path)
    drawn = grey_of([g["ink"] for g in glyphs()])
    drawn[200:204, 260:270] = 255
    saved(folder, "plain/dates", change(drawn))
    proof = prove_kit(folder)
    assert proof.retouched == ("plain/dates",)
    assert {fault.check for fault in proof.faults} <= {Check.RETOUCH}
    assert (
        (sentence in " ".join(fault.sentence for fault in proof.faults))
        if sentence
        else (proof.faults == ())
    )


def test_a_retouch_black_on_white_is_found(tmp_path):
    folder = kit(tmp_path)
    saved(folder, "plain/dates", 255 - grey_of([g["ink"] for g in glyphs()]))
    assert Check.VALUES in {fault.check for fault in prove_kit(folder).faults}


def test_a_retouch_saved_on_nothing_is_called_see_through_and_nothing_else(tmp_path):
    """As programs save what has no ground: white ink, and how much of it there is."""
    folder = kit(tmp_path)
    ink = Image.fromarray(grey_of([g["ink"] for g in glyphs()]))
    clear = Image.merge("LA", (Image.new("L", ink.size, 255), ink))
    clear.save(folder / "plain/dates.png", dpi=(PPI, PPI))
    (fault,) = prove_kit(folder).faults
    assert fault.check is Check.FORMAT
    assert "see-through grey" in fault.sentence


def test_a_kit_of_which_nothing_can_be_measured_is_no_pass(tmp_path):
    folder = kit(tmp_path)
    for path in folder.rglob("*.png"):
        Image.new("L", (1, 1)).save(path)
    assert Check.KIT in {fault.check for fault in prove_kit(folder).faults}
    manifest = json.loads((folder / "manifest.json").read_text())
    (folder / "manifest.json").write_text(json.dumps(manifest | {"stamps": []}))
    (fault,) = prove_kit(folder).faults
    assert str(fault) == "manifest.json: kit: it lists no stamps"


@pytest.mark.parametrize(("side", "allowed"), [(600, 2.42), (2500, 8.5), (None, 2.0), (-1, 2.0)])
def test_words_alone_are_held_to_the_bounds_of_the_sheet_they_were_drawn_on(
    tmp_path, side, allowed
):
    """A hand strays by the size of its sheet, of which words drawn without formats show nothing."""
    folder = kit(tmp_path)
    manifest = json.loads((folder / "manifest.json").read_text())
    words = [one for one in manifest["stamps"] if one["format"] is None]
    said = {"stamps": words} | ({} if side is None else {"side_px": side})
    (folder / "manifest.json").write_text(json.dumps(manifest | said))
    assert prove_kit(folder).bounds.near_least_px == pytest.approx(allowed)


def test_files_that_the_manifest_does_not_list_are_named(tmp_path):
    folder = kit(tmp_path)
    (folder / "plain/notes.txt").write_text("mine")
    assert prove_kit(folder).strangers == ("plain/notes.txt",)


def test_what_lies_outside_of_the_folder_is_no_file_of_the_kit(tmp_path):
    folder = kit(tmp_path / "kit")
    (folder / "words/may.png").rename(tmp_path / "may.png")
    manifest = json.loads((folder / "manifest.json").read_text())
    for file in ("../may.png", str(tmp_path / "may.png"), "/dev/zero", "words"):
        manifest["stamps"][3]["file"] = file
        (folder / "manifest.json").write_text(json.dumps(manifest))
        assert [fault.check for fault in prove_kit(folder).faults] == [Check.FILE]


def test_a_picture_of_another_size_is_not_unpacked(tmp_path, monkeypatch):
    folder = kit(tmp_path)
    path = saved(folder, "words/may", np.zeros((300, 800), np.uint8))
    sizes = []
    real = listed_kit.grey_from_png
    monkeypatch.setattr(
        listed_kit, "grey_from_png", lambda data: (sizes.append(len(data)), real(data))[1]
    )
    assert Check.SIZE in {fault.check for fault in prove_kit(folder).faults}
    assert len(path.read_bytes()) not in sizes
    assert sizes


def bare(grey):
    """A sixth of the ink left bare, spread evenly."""
    y, x = np.indices(grey.shape)
    grey[(x + 2 * y) % 6 == 0] = 0
    return grey


def with_style(folder, dryness, *, digest="d"):
    """The manifest in `folder` with a style of that dryness at its top.

    All stamps but one of another digest are drawn in it.
    """
    manifest = json.loads((folder / "manifest.json").read_text())
    manifest["style"] = {"name": "s", "digest": "d", "values": {"paper": {"dryness": dryness}}}
    for stamp in manifest["stamps"]:
        stamp["style"] = {"name": "s", "digest": digest}
    (folder / "manifest.json").write_text(json.dumps(manifest))
    return folder


@pytest.mark.parametrize("which", ["grid", "blocks"])
def test_what_dry_paper_leaves_bare_is_no_fault_of_a_dry_style(tmp_path, which):
    changed = {which: {"picture": bare}}
    wet = {
        (f.stamp, f.check)
        for f in prove_kit(with_style(kit(tmp_path / "wet", **changed), 0.0)).faults
    }
    assert wet == {(f"plain/{which}", Check.WIDTH if which == "grid" else Check.AREA)}
    dry = prove_kit(with_style(kit(tmp_path / "dry", **changed), 1 / 6)).faults
    assert [fault for fault in dry if fault.stamp == f"plain/{which}"] == []


def test_ink_of_a_style_that_is_not_listed_is_not_judged(tmp_path):
    proof = prove_kit(with_style(kit(tmp_path, grid={"picture": bare}), 0.0, digest="another"))
    assert proof.faults == ()
    assert {one.stamp for one in proof.unjudged} == {"plain/grid", "plain/blocks"}
    assert all("no longer lists the values of the style" in one.sentence for one in proof.unjudged)


def test_blocks_with_crisp_edges_are_whole_in_a_dry_style(tmp_path):
    proof = prove_kit(with_style(kit(tmp_path), 0.3))
    assert {finding.stamp for finding in proof.faults} == {"plain/grid"}


def test_the_least_distance_from_the_edge_can_be_said(tmp_path):
    assert {finding.check for finding in prove_kit(kit(tmp_path), edge_px=60).faults} == {
        Check.EDGE
    }
    assert prove_kit(kit(tmp_path), edge_px=40).faults == ()


def test_folder_without_a_kit_is_refused(tmp_path):
    with pytest.raises(InputError, match=r"holds no kit: it has no manifest\.json"):
        prove_kit(tmp_path)


@pytest.mark.parametrize("text", ["{", "[]", '{"ppi": 300}', '{"ppi": "many", "stamps": []}'])
def test_damaged_manifest_is_refused(tmp_path, text):
    (tmp_path / "manifest.json").write_text(text)
    with pytest.raises(InputError, match="cannot be read as the manifest of a kit"):
        prove_kit(tmp_path)


@pytest.mark.parametrize("key", ["name", "canvas", "kind", "sha256"])
def test_manifest_whose_stamps_lack_something_is_refused(tmp_path, key):
    folder = kit(tmp_path)
    manifest = json.loads((folder / "manifest.json").read_text())
    del manifest["stamps"][1][key]
    (folder / "manifest.json").write_text(json.dumps(manifest))
    with pytest.raises(InputError, match=rf"cannot be read as the manifest of a kit \('{key}'\)"):
        prove_kit(folder)


def test_how_near_ink_may_come_is_what_the_kit_says(tmp_path):
    folder = kit(tmp_path)
    assert prove_kit(folder).bounds.edge_px is None
    manifest = json.loads((folder / "manifest.json").read_text())
    (folder / "manifest.json").write_text(json.dumps(manifest | {"safe_px": 7.5}))
    assert prove_kit(folder).bounds.edge_px == 7.5
    assert prove_kit(folder, edge_px=3.0).bounds.edge_px == 3.0
