"""Every form shows the stamp that its picture shows: for every style, by readers not of inkline.

The readers: Pillow, pyora, resvg and PDFium. Pictures are the same, curves within 4/255 in the mean
over all pixels within 2 px of ink. Where paper breaks up the ink, curves are held against the ink's
own outlines, filled by inkline's raster; that is held against FreeType's in its own tests.
"""

import io
import json

import numpy as np
import pytest
import tifffile
from PIL import Image
from pyora import Project

from inkline.delivery.export import ExportRequest, export_kit
from inkline.ink.inked import united_contours, united_with_cut
from inkline.kit.build import build_kit
from inkline.kit.recipe.loading import default_recipe
from inkline.output.look import FileLook, Grain, Ground, Sheets
from inkline.press.redrawn import inked_stamp
from inkline.raster.coverage import grey_from_contours
from inkline.styles.files import style_files
from renderers import coverage_by_pdfium, coverage_by_resvg, mean_near_ink

STYLES = sorted(style_files())
MOST_MEAN = 4.0
SEEN = 128
PPI = 300.0


def exported(kit, folder, *forms, only=(), **look):
    request = ExportRequest(kit=kit, forms=forms, only=only, look=FileLook(**look))
    export_kit(request, folder, workers=1)
    manifest = json.loads((folder / "manifest.json").read_text())
    return {stamp["name"]: stamp for stamp in manifest["stamps"]}


def files_in(folder):
    """The stamps that each file holds."""
    manifest = json.loads((folder / "manifest.json").read_text())
    return {stamp["name"]: stamp["holds"] for stamp in manifest["stamps"]}


def picture_of(kit, name):
    with Image.open(kit / f"{name}.png") as picture:
        return np.asarray(picture).astype(int)


def entries_of(kit):
    manifest = json.loads((kit / "manifest.json").read_text())
    return {stamp["name"]: stamp for stamp in manifest["stamps"]}


def outlines_of(kit, entry):
    """The stamp on paper without any grain."""
    inked = inked_stamp(kit, entry)
    ink = united_contours(inked)
    grey = grey_from_contours(ink, canvas=inked.canvas).astype(int)
    if inked.cut is None:
        return grey
    cut = united_contours(inked.cut)
    both = grey_from_contours(united_with_cut(ink, cut), canvas=inked.canvas).astype(int)
    return both - grey_from_contours(cut, canvas=inked.canvas)


def boxes_of(entry):
    """Where each rule's middle, numeral or block lies, in px."""
    for glyph in entry.get("glyphs", ()):
        yield glyph["text"], glyph["ink"]
    for box in entry.get("boxes", ()):
        yield box["name"], (box["x0"], box["y0"], box["x1"], box["y1"])
    for line in entry.get("lines", ()):
        (x0, y0), (x1, y1) = line["from"], line["to"]
        yield line["name"], (x0 - 2, y0 - 2, x1 + 2, y1 + 2)


def missing_marks(entry, shown):
    """The rules, numerals and blocks of which nothing is seen."""
    found = []
    for name, box in boxes_of(entry):
        x0, y0, x1, y1 = (round(value) for value in box)
        if shown[max(y0, 0) : y1 + 1, max(x0, 0) : x1 + 1].max(initial=0) < SEEN:
            found.append(name)
    return found


@pytest.mark.parametrize("style", STYLES)
def test_curves_show_the_outlines_of_every_style(style, styled_kit):
    kit, folder = styled_kit(style)
    holds = files_in(folder)
    for name, entry in entries_of(kit).items():
        expected = outlines_of(kit, entry)
        group = f"pdf/{name.split('/')[0]}"
        data, page = (folder / f"{group}.pdf").read_bytes(), holds[group].index(name)
        shown = {
            "svg": coverage_by_resvg((folder / "svg" / f"{name}.svg").read_bytes()),
            "pdf": coverage_by_pdfium(data, page, ppi=PPI),
        }
        for form, got in shown.items():
            assert got.shape == expected.shape
            assert mean_near_ink(got, expected) < MOST_MEAN, (form, name)
            assert missing_marks(entry, got) == [], (form, name)


def test_a_mark_that_is_missing_is_found(kit):
    entry = entries_of(kit)["tall/dates-3"]
    shown = picture_of(kit, "tall/dates-3")
    assert missing_marks(entry, shown) == []
    x0, y0, x1, y1 = (round(value) for value in entry["glyphs"][16]["ink"])
    shown[y0 - 3 : y1 + 3, x0 - 3 : x1 + 3] = 0
    assert missing_marks(entry, shown) == ["17"]


@pytest.mark.parametrize("style", STYLES)
def test_pictures_in_files_are_the_kit_s_own(style, styled_kit):
    kit, folder = styled_kit(style)
    layers, pages = layers_in(folder / "ora" / "tall.ora"), {}
    for group in ("tall", "words"):
        pages |= pages_in(folder / "tiff" / f"{group}.tiff")
    for name, entry in entries_of(kit).items():
        expected = picture_of(kit, name)
        with Image.open(folder / "png" / f"{name}.png") as picture:
            assert picture.mode == "LA"
            assert np.array_equal(np.asarray(picture)[:, :, 1], expected)
        assert np.array_equal(pages[name], expected)
        if entry["format"] is not None:
            assert np.array_equal(layers[name.split("/")[1]], expected)


@pytest.mark.parametrize("style", STYLES)
def test_pictures_of_sixteen_bits_hold_the_same_shares(style, styled_kit, tmp_path):
    """Read by Pillow and tifffile; on black, since Pillow takes clear pictures down to 8 bits."""
    kit, _ = styled_kit(style)
    exported(kit, tmp_path / "files", "png", "tiff", bits=16, ground=Ground.BLACK)
    pages = {}
    for group in ("tall", "words"):
        with tifffile.TiffFile(tmp_path / "files" / "tiff" / f"{group}.tiff") as file:
            pages |= {page.tags["PageName"].value: page.asarray() for page in file.pages}
    for name in entries_of(kit):
        expected = picture_of(kit, name) * 257
        with Image.open(tmp_path / "files" / "png" / f"{name}.png") as picture:
            assert np.array_equal(np.asarray(picture).astype(int), expected)
        assert pages[name].dtype == np.uint16
        assert np.array_equal(pages[name], expected)


@pytest.mark.parametrize("style", ["dry-pencil", "wash"])
def test_curves_can_give_way_to_the_picture(style, styled_kit, tmp_path):
    kit, _ = styled_kit(style)
    folder = tmp_path / "files"
    files = exported(kit, folder, "svg", "pdf", grain=Grain.PICTURE)
    for name, entry in entries_of(kit).items():
        assert any(mark.tooth is not None for mark in inked_stamp(kit, entry).marks)
        expected = picture_of(kit, name)
        group = f"pdf/{name.split('/')[0]}"
        page = files[group]["holds"].index(name)
        shown = coverage_by_pdfium((folder / f"{group}.pdf").read_bytes(), page, ppi=PPI, finer=1)
        assert np.abs(shown - expected).max() <= 1
        data = (folder / "svg" / f"{name}.svg").read_bytes()
        assert np.abs(coverage_by_resvg(data, finer=1) - expected).max() <= 1


def layers_in(file):
    project = Project.load(str(file))
    return {one.name: np.asarray(one.get_image_data())[:, :, 3] for one in project.iter_layers}


def pages_in(path):
    """The opacity of each page of a TIFF file, by its name."""
    found = {}
    with Image.open(path) as file:
        for page in range(file.n_frames):
            file.seek(page)
            found[file.tag_v2[285]] = np.asarray(file.convert("LA"))[:, :, 1]
    return found


@pytest.mark.parametrize("ground", [(255, 255, 255), (0, 0, 0), (20, 160, 90)])
@pytest.mark.parametrize("form", ["png", "tiff"])
def test_a_colour_on_nothing_has_no_fringe(kit, tmp_path, form, ground):
    """Over any ground each pixel lies between that and the ink: straight alpha, by hand."""
    ink = (194, 69, 45)
    export_kit(
        ExportRequest(kit=kit, forms=(form,), look=FileLook(ink="#c2452d"), only=("tall/dates-3",)),
        tmp_path / "files",
        workers=1,
    )
    file = {"png": "png/tall/dates-3.png", "tiff": "tiff/tall.tiff"}[form]
    with Image.open(tmp_path / "files" / file) as picture:
        over = Image.new("RGBA", picture.size, (*ground, 255))
        over.alpha_composite(picture.convert("RGBA"))
    share = picture_of(kit, "tall/dates-3")[:, :, None] / 255.0
    expected = share * ink + (1.0 - share) * ground
    assert np.abs(np.asarray(over)[:, :, :3] - expected).max() <= 1.0


def test_grounds_and_bits(kit, tmp_path):
    expected = picture_of(kit, "tall/dates-3")
    for ground, bits, values in (
        (Ground.BLACK, 8, expected),
        (Ground.WHITE, 8, 255 - expected),
        (Ground.BLACK, 16, 257 * expected),
        (Ground.WHITE, 16, 65535 - 257 * expected),
    ):
        folder = tmp_path / f"{ground}-{bits}"
        exported(kit, folder, "png", "tiff", only=("*/dates-[34]",), ground=ground, bits=bits)
        for file in ("png/tall/dates-3.png", "tiff/tall.tiff"):
            with Image.open(folder / file) as picture:
                if file.endswith("tiff"):
                    names = json.loads((folder / "manifest.json").read_text())["stamps"]
                    holds = next(one["holds"] for one in names if one["name"] == "tiff/tall")
                    picture.seek(holds.index("tall/dates-3"))
                assert np.array_equal(np.asarray(picture).astype(int), values), (file, ground, bits)


def test_layers_lie_back_to_front_in_register_and_one_month_is_seen(kit, tmp_path):
    exported(kit, tmp_path / "files", "ora")
    project = Project.load(str(tmp_path / "files" / "ora" / "tall.ora"))
    layers = list(project.iter_layers)
    kinds = [layer.name.split("-")[0] for layer in layers]
    assert list(dict.fromkeys(kinds)) == ["blocks", "grid", "dates", "weekdays"]
    assert {layer.offsets for layer in layers} == {(0, 0)}
    assert [layer.name for layer in layers if layer.visible] == [
        "blocks-5",
        "grid-5-head",
        "dates-1",
        "weekdays-sunday",
    ]
    merged = np.asarray(project.get_image_data(use_original=True)).astype(int)
    composed = np.asarray(project.get_image_data(use_original=False)).astype(int)
    assert np.abs(merged - composed).max() <= 1


def test_pdf_layers_are_switched_as_those_of_the_other_form(kit, tmp_path):
    import pikepdf  # noqa: PLC0415 - reads what pikepdf wrote, and PDFium draws it

    few = ("tall/*-5", "tall/*-5-head", "tall/dates-[12]", "tall/week*", "words/digit-[12]")
    exported(kit, tmp_path / "files", "pdf", only=few, sheets=Sheets.LAYERS)
    data = (tmp_path / "files" / "pdf" / "tall.pdf").read_bytes()
    with pikepdf.open(io.BytesIO(data)) as file:
        groups = file.Root.OCProperties
        names = [str(one.Name) for one in groups.OCGs]
        hidden = {str(one.Name) for one in groups.D.OFF}
        assert len(file.pages) == 1
    seen = [name for name in names if name not in hidden]
    assert seen == ["tall/blocks-5", "tall/grid-5-head", "tall/dates-1", "tall/weekdays-sunday"]
    shown = coverage_by_pdfium(data, 0, ppi=PPI)
    dates = picture_of(kit, "tall/dates-1")
    assert (shown[dates == 255] > 250).mean() > 0.99  # the numerals lie above the blocks
    words = (tmp_path / "files" / "pdf" / "words.pdf").read_bytes()
    with pikepdf.open(io.BytesIO(words)) as file:
        assert len(file.pages) == 2  # of several sizes, so they are pages


def test_trim_and_bleed(kit, tmp_path):
    import pypdfium2  # noqa: PLC0415

    exported(kit, tmp_path / "files", "pdf", only=("tall/dates-1",), bleed_mm=3.0)
    with pypdfium2.PdfDocument(tmp_path / "files" / "pdf" / "tall.pdf") as file:
        page = file[0]
        side, bleed = 500 / 300 * 72, 3 / 25.4 * 72
        whole = side + 2 * bleed
        assert page.get_mediabox() == pytest.approx((0, 0, whole, whole), abs=1e-3)
        assert page.get_bleedbox() == pytest.approx((0, 0, whole, whole), abs=1e-3)
        trim = (bleed, bleed, bleed + side, bleed + side)
        assert page.get_trimbox() == pytest.approx(trim, abs=1e-3)


def test_another_size_is_drawn_from_masters_and_not_shrunk(kit, tmp_path):
    request = ExportRequest(kit=kit, forms=("png",), size_px=1000, look=FileLook())
    export_kit(request, tmp_path / "files", workers=1)
    with Image.open(tmp_path / "files" / "png" / "tall" / "dates-3.png") as picture:
        assert picture.size == (1000, 1000)
        large = np.asarray(picture)[:, :, 1].astype(float)
    halved = large.reshape(500, 2, 500, 2).mean(axis=(1, 3))
    expected = picture_of(kit, "tall/dates-3")
    assert np.abs(halved - expected).max() < 3.0
    doubled = np.kron(expected, np.ones((2, 2)))
    assert np.abs(large - doubled).max() > 60  # an enlarged picture would be as coarse as that


def test_the_same_kit_gives_the_same_bytes(kit, tmp_path, contents):
    for name, workers in (("one", 1), ("two", 2)):
        request = ExportRequest(kit=kit, only=("tall/dates-1", "tall/blocks-5"))
        export_kit(request, tmp_path / name, workers=workers)
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


def test_a_drawn_grid_of_full_size_is_no_large_file(tmp_path, plain_papers):
    """The bound of 1.5 MB is ours."""
    build_kit(
        default_recipe(), tmp_path / "kit", papers=plain_papers, only=["standard/grid-6"], workers=1
    )
    exported(tmp_path / "kit", tmp_path / "files", "svg")
    assert (tmp_path / "files" / "svg" / "standard" / "grid-6.svg").stat().st_size < 1_500_000
