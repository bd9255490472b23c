"""Pages of PDF files as artwork, against PDFium, and files made by three libraries.

reportlab, fpdf2 and matplotlib write pages in their own ways; pages written operator by operator
are made with pikepdf. PDFium draws what is read here without it, text aside.
"""

import zlib
from pathlib import Path

import font_lato
import numpy as np
import pikepdf
import pypdfium2
import pytest
from fpdf import FPDF
from matplotlib.figure import Figure
from reportlab.lib.colors import CMYKColor
from reportlab.pdfgen import canvas as reportlab_canvas
from scipy.ndimage import binary_dilation

from inkline.artwork.model import TextRun
from inkline.artwork.pdf.file import artwork_from_pdf, page_count
from inkline.artwork.size import PictureSize
from inkline.errors import InputError
from inkline.finishing.drawn import sheet_png
from inkline.finishing.request import FinishRequest, open_finish
from inkline.ink.style import EXACT
from inkline.kit.recipe.choices import ArtLetters
from inkline.output.look import Ground

SIZE, LARGE = PictureSize(ppi=144.0), PictureSize(ppi=1152.0)


def page_of(steps, tmp_path, *, box=(0, 0, 160, 120), page=None, resources=None):
    """A file with one page of these operators."""
    document = pikepdf.new()
    sheet = pikepdf.Dictionary(
        Type=pikepdf.Name.Page,
        MediaBox=list(box),
        Contents=document.make_stream(steps.encode()),
        Resources=pikepdf.Dictionary(resources or {}),
        **(page or {}),
    )
    document.pages.append(pikepdf.Page(document.make_indirect(sheet)))
    file = tmp_path / "page.pdf"
    document.save(file)
    return file


def grey(file, tmp_path, letters=ArtLetters.SET):
    """Ink on white by luma, 0 to 255, as this package and as PDFium draw a page.

    Letters are drawn large, since PDFium sets small ones on whole pixels.
    """
    size = SIZE if letters is ArtLetters.SET else LARGE
    request = FinishRequest(files=(file,), ground=Ground.CLEAR, size=size, letters=letters)
    opened = open_finish(request, style=EXACT)
    (tmp_path / "ours.png").write_bytes(sheet_png(opened, opened.sheets[0]))
    from PIL import Image  # noqa: PLC0415

    with Image.open(tmp_path / "ours.png") as picture:
        paper = Image.new("RGBA", picture.size, "white")
        ours = np.asarray(Image.alpha_composite(paper, picture.convert("RGBA")).convert("L"))
    document = pypdfium2.PdfDocument(file)
    theirs = np.asarray(document[0].render(scale=size.ppi / 72.0).to_pil().convert("L"))
    document.close()
    return ours.astype(np.float64), theirs.astype(np.float64)


def check(file, tmp_path, letters=ArtLetters.SET):
    ours, theirs = grey(file, tmp_path, letters)
    assert ours.shape == theirs.shape
    ink = (ours < 250) | (theirs < 250)
    assert ink.any()
    assert np.abs(ours - theirs)[binary_dilation(ink, iterations=2)].mean() < 4.0


MASKED = {
    "/ExtGState": pikepdf.Dictionary(
        M=pikepdf.Dictionary(SMask=pikepdf.Dictionary(S=pikepdf.Name.Luminosity))
    )
}
STEPS = {
    "fill": "10 10 100 60 re f",
    "curve": "20 20 m 20 110 140 110 140 20 c f",
    "curves from and to points": "20 20 m 80 110 140 20 v 120 5 60 5 y f",
    "even odd": "80 110 m 120 10 l 20 75 l 140 75 l 40 10 l h f*",
    "hole": "10 10 140 100 re 40 30 m 40 90 l 120 90 l 120 30 l h f",
    "stroke": "6 w 20 20 m 140 100 l S",
    "round ends": "14 w 1 J 30 30 m 130 30 l S",
    "square ends": "14 w 2 J 30 30 m 130 30 l S",
    "frame": "5 w 20 20 120 80 re S",
    "closed": "5 w 20 20 m 140 20 l 80 100 l s",
    "fill and stroke": ".8 .3 .1 rg 0 .2 .5 RG 6 w 40 30 80 60 re B",
    "dashes": "6 w [16 8] 0 d 10 60 m 150 60 l S",
    "dashes begun": "6 w [16 8] 10 d 10 60 m 150 60 l S",
    "saved and restored": "q .5 g 2 0 0 2 10 10 cm 0 0 20 20 re f Q 100 60 40 40 re f",
    "turned": "q .866 .5 -.5 .866 60 20 cm 0 0 60 30 re f Q",
    "stretched line": "q 3 0 0 1 10 10 cm 4 w 5 5 30 60 re S Q",
    "clip": "q 40 20 60 80 re W n 0 40 160 30 re f Q",
    "clip even odd": "q 20 20 120 80 re 50 40 60 40 re W* n 0 0 160 120 re f Q",
    "clipped line": "q 40 0 60 120 re W n 10 w 0 60 m 160 60 l S Q",
    "grey": ".4 g 20 20 60 60 re f .7 G 8 w 100 20 m 100 100 l S",
    "grey by space": "/DeviceGray cs .3 sc 20 20 60 60 re f",
    "rgb by space": "/DeviceRGB cs .1 .5 .3 scn 20 20 60 60 re f",
    "a path that is not painted": "10 10 50 50 re n 80 60 40 40 re f",
    "several runs": "10 10 m 60 10 l 60 60 l h 90 40 m 140 40 l 140 90 l f",
    "going on after closing": "5 w 20 20 m 80 20 l 80 60 l h 20 100 l S",
}


@pytest.mark.parametrize("name", STEPS)
def test_a_page_is_drawn_as_by_pdfium(name, tmp_path):
    check(page_of(STEPS[name], tmp_path), tmp_path)


@pytest.mark.parametrize("turn", [90, 180, 270, -90])
def test_a_turned_page_is_looked_at_upright(turn, tmp_path):
    page = {"Rotate": turn, "CropBox": [10, 5, 150, 110]}
    check(page_of("20 20 60 30 re f 6 w 100 20 m 140 100 l S", tmp_path, page=page), tmp_path)


def test_what_pages_share_is_theirs(tmp_path):
    """Resources, boxes and turns may stand with the group that a page lies in (7.7.3.4)."""
    file = page_of("/H gs 20 20 60 30 re f", tmp_path)
    with pikepdf.open(file, allow_overwriting_input=True) as document:
        states = pikepdf.Dictionary(H=pikepdf.Dictionary(ca=0.4))
        page, group = document.pages[0].obj, document.Root.Pages
        group.Resources = pikepdf.Dictionary(ExtGState=states)
        group.MediaBox, group.Rotate = page.MediaBox, 90
        del page.Resources, page.MediaBox
        document.save(file)
    artwork = artwork_from_pdf(file, 1, SIZE)
    assert artwork.canvas == (240, 320)
    assert artwork.items[0].fill.opacity == pytest.approx(0.4)
    check(file, tmp_path)


def test_forms_and_their_boxes_are_drawn(tmp_path):
    file = page_of("/F Do q .5 0 0 .5 80 60 cm /F Do Q", tmp_path)
    with pikepdf.open(file, allow_overwriting_input=True) as document:
        form = document.make_stream(b"0 0 100 100 re f")
        form.Type, form.Subtype = pikepdf.Name.XObject, pikepdf.Name.Form
        form.BBox, form.Matrix = [0, 0, 60, 40], [1, 0, 0, 1, 10, 10]
        document.pages[0].Resources.XObject = pikepdf.Dictionary(F=form)
        document.save(file)
    check(file, tmp_path)


def test_opacity_comes_from_the_graphics_state(tmp_path):
    states = {"/ExtGState": pikepdf.Dictionary(H=pikepdf.Dictionary(ca=0.4, CA=0.6))}
    file = page_of("/H gs 20 20 60 60 re f 8 w 100 20 m 100 100 l S", tmp_path, resources=states)
    items = artwork_from_pdf(file, 1, SIZE).items
    assert items[0].fill.opacity == pytest.approx(0.4)
    assert items[1].stroke.opacity == pytest.approx(0.6)


def test_layers_keep_their_names_and_hidden_ones_stay_hidden(tmp_path):
    file = page_of("/OC /A BDC 10 10 50 50 re f EMC /OC /B BDC 70 10 50 50 re f EMC", tmp_path)
    with pikepdf.open(file, allow_overwriting_input=True) as document:
        groups = [
            document.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name=name))
            for name in ("walls", "notes")
        ]
        document.pages[0].Resources.Properties = pikepdf.Dictionary(A=groups[0], B=groups[1])
        document.Root.OCProperties = pikepdf.Dictionary(
            OCGs=groups, D=pikepdf.Dictionary(OFF=[groups[1]])
        )
        document.save(file)
    items = artwork_from_pdf(file, 1, SIZE).items
    assert [item.layer for item in items] == ["walls"]
    check(file, tmp_path)


def test_a_file_of_reportlab_is_read(tmp_path):
    file = tmp_path / "a.pdf"
    paper = reportlab_canvas.Canvas(str(file), pagesize=(160, 120))
    paper.setLineWidth(3)
    paper.roundRect(10, 10, 140, 100, 12)
    paper.circle(60, 60, 24, fill=1)
    paper.setDash(6, 3)
    paper.grid([90, 110, 130], [20, 50, 80])
    paper.bezier(20, 20, 60, 110, 100, 10, 140, 100)
    paper.save()
    check(file, tmp_path)


def test_a_file_of_fpdf_is_read(tmp_path):
    file = tmp_path / "a.pdf"
    paper = FPDF(unit="pt", format=(160, 120))
    paper.add_page()
    paper.set_line_width(4)
    paper.rect(15, 15, 60, 50)
    paper.ellipse(90, 20, 50, 70, style="F")
    paper.line(20, 100, 140, 90)
    paper.polygon(((20, 80), (60, 80), (40, 110)), style="DF")
    paper.output(str(file))
    check(file, tmp_path)


def test_a_file_of_matplotlib_is_read(tmp_path):
    figure = Figure(figsize=(160 / 72, 120 / 72))
    chart = figure.add_axes((0.1, 0.1, 0.8, 0.8), xticks=[], yticks=[])
    chart.plot([0, 1, 2, 3], [0, 3, 1, 2], "--o", linewidth=2.5)
    chart.bar([0.5, 2.5], [1, 2], color="#c86432", edgecolor="#222222", linewidth=2)
    chart.fill_between([0, 1, 2], [0.2, 0.4, 0.3], color="#336699")
    figure.savefig(tmp_path / "a.pdf")
    check(tmp_path / "a.pdf", tmp_path)


def written_pages():
    """Pages with text that is set in every way that operators know."""
    yield "plain", "/F 22 Tf 20 60 Td (Tides) Tj"
    yield "kerned", "/F 22 Tf 20 60 Td [(Ti) 120 (de) -300 (s)] TJ"
    yield "spaced", "/F 18 Tf 4 Tc 9 Tw 10 60 Td (a bc) Tj"
    yield "stretched and raised", "/F 18 Tf 140 Tz 10 60 Td (ab) Tj 6 Ts (c) Tj"
    yield "lines", "/F 16 Tf 18 TL 20 90 Td (one) Tj T* (two) Tj (three) ' 2 1 (f r) \""
    yield "lines by steps", "/F 16 Tf 20 90 TD (one) Tj 0 -20 TD (two) Tj T* (six) Tj"
    yield "turned", "/F 20 Tf .8 .6 -.6 .8 40 20 Tm (Tide) Tj 1 0 0 1 20 100 Tm (low) Tj"


@pytest.mark.parametrize(
    "steps", [steps for _, steps in written_pages()], ids=dict(written_pages())
)
def test_letters_of_the_file_are_drawn_as_by_pdfium(steps, tmp_path):
    font = pikepdf.Dictionary(
        Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name("/Helvetica")
    )
    resources = {"/Font": pikepdf.Dictionary(F=font)}
    check(page_of(f"BT {steps} ET", tmp_path, resources=resources), tmp_path, ArtLetters.OWN)


def test_letters_of_a_font_that_lies_in_the_file_are_drawn_as_by_pdfium(tmp_path):
    """Codes of two bytes, and a ligature, whose one code is two letters."""
    paper = FPDF(unit="pt", format=(160, 120))
    paper.add_page()
    paper.add_font("Lato", fname=str(Path(font_lato.__file__).parent / "files/Lato-Regular.ttf"))
    paper.set_font("Lato", size=24)
    paper.text(20, 50, "Tide \ufb01 \u00b2")
    paper.output(str(tmp_path / "a.pdf"))
    check(tmp_path / "a.pdf", tmp_path, ArtLetters.OWN)
    artwork = artwork_from_pdf(tmp_path / "a.pdf", 1, SIZE, has_own_letters=True)
    assert all(item.is_letter for item in artwork.items)
    (lack,) = artwork.lacks
    assert "licences" in lack.sentence


def test_text_lies_where_it_is_shown_in_its_layer_and_its_bounds(tmp_path):
    steps = (
        "0 0 9 9 re f /OC /A BDC BT /F 20 Tf 10 90 Td (walls) Tj ET EMC /OC /B BDC BT /F 20 Tf "
        "(notes) Tj ET EMC q /M gs BT /F 20 Tf (masked) Tj ET Q q BT 3 Tr /F 9 Tf (unseen) Tj ET Q "
        "q 0 0 50 50 re W n BT /F 20 Tf 10 30 Td (bound) Tj ET Q /X Do 20 20 9 9 re f"
    )
    font = pikepdf.Dictionary(
        Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name("/Helvetica")
    )
    file = page_of(steps, tmp_path, resources={"/Font": pikepdf.Dictionary(F=font), **MASKED})
    with pikepdf.open(file, allow_overwriting_input=True) as document:
        groups = [
            document.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name=name))
            for name in ("walls", "notes")
        ]
        form = document.make_stream(b"BT /F 10 Tf 5 5 Td (form) Tj ET")
        form.Type, form.Subtype = pikepdf.Name.XObject, pikepdf.Name.Form
        form.BBox, form.Matrix, form.OC = [0, 0, 60, 40], [2, 0, 0, 2, 70, 10], groups[0]
        resources = document.pages[0].Resources
        resources.Properties = pikepdf.Dictionary(A=groups[0], B=groups[1])
        resources.XObject = pikepdf.Dictionary(X=form)
        document.Root.OCProperties = pikepdf.Dictionary(
            OCGs=groups, D=pikepdf.Dictionary(OFF=[groups[1]])
        )
        document.save(file)
    artwork = artwork_from_pdf(file, 1, SIZE)
    runs = {item.text: item for item in artwork.items if isinstance(item, TextRun)}
    assert list(runs) == ["walls", "bound", "form"]
    assert [run.layer for run in runs.values()] == ["walls", "", "walls"]
    assert runs["walls"].clip is None
    assert runs["bound"].clip[0].max() == pytest.approx(240.0)
    assert runs["form"].at == pytest.approx((160.0, 200.0))
    assert runs["form"].size == pytest.approx(40.0)
    assert artwork.items.index(runs["walls"]) == 1
    assert [lack.what for lack in artwork.lacks] == ["mask"]


def test_notes_and_blended_colours_are_told(tmp_path):
    states = {"/ExtGState": pikepdf.Dictionary(B=pikepdf.Dictionary(BM=pikepdf.Name.Multiply))}
    page = {"Annots": [pikepdf.Dictionary(Subtype=pikepdf.Name.Text)]}
    file = page_of("/B gs 0 0 9 9 re f", tmp_path, page=page, resources=states)
    assert [lack.what for lack in artwork_from_pdf(file, 1, SIZE).lacks] == ["colour", "note"]


def test_text_is_found_for_letters_of_ones_own(tmp_path):
    file = tmp_path / "a.pdf"
    paper = reportlab_canvas.Canvas(str(file), pagesize=(160, 120))
    paper.setFont("Helvetica", 20)
    paper.drawString(30, 40, "Tide tables")
    paper.rotate(90)
    paper.setFillColorRGB(1, 0, 0)
    paper.drawString(10, -150, "up")
    paper.save()
    runs = [item for item in artwork_from_pdf(file, 1, SIZE).items if isinstance(item, TextRun)]
    assert [run.text for run in runs] == ["Tide tables", "up"]
    assert runs[0].at == pytest.approx((60.0, 160.0))
    assert runs[0].size == pytest.approx(40.0)
    assert runs[1].turn == pytest.approx(-np.pi / 2)
    assert runs[1].fill.hex == "#ff0000"


def test_colours_for_printing_are_turned_and_told(tmp_path):
    file = tmp_path / "a.pdf"
    paper = reportlab_canvas.Canvas(str(file), pagesize=(160, 120))
    paper.setFillColor(CMYKColor(0.0, 1.0, 1.0, 0.2))
    paper.rect(10, 10, 50, 50, fill=1, stroke=0)
    paper.save()
    artwork = artwork_from_pdf(file, 1, SIZE)
    assert artwork.items[0].fill.hex == "#cc0000"
    assert any("CMYK" in lack.sentence for lack in artwork.lacks)


def test_the_size_is_that_of_the_page(tmp_path):
    artwork = artwork_from_pdf(page_of("0 0 9 9 re f", tmp_path, page={"UserUnit": 2}), 1, SIZE)
    assert artwork.canvas == (640, 480)
    assert artwork.is_true_size
    assert artwork.px_per_mm == pytest.approx(144.0 / 25.4)


def many_pages(tmp_path, n):
    document = pikepdf.new()
    for _ in range(n):
        document.add_blank_page(page_size=(160, 120))
    document.save(tmp_path / "many.pdf")
    return tmp_path / "many.pdf"


def test_pages_are_chosen(tmp_path):
    file = many_pages(tmp_path, 4)
    assert page_count(file) == 4
    opened = open_finish(FinishRequest(files=(file,), size=SIZE, pages="4,1-2"))
    assert [sheet.stem for sheet in opened.sheets] == ["many-4", "many-1", "many-2"]


@pytest.mark.parametrize(
    ("pages", "sentence"),
    [("0", "pages 1 to 4, not 0"), ("3-9", "not 3-9"), ("2-1", "not 2-1"), ("all", "a list of")],
)
def test_pages_that_are_not_there_are_refused(tmp_path, pages, sentence):
    with pytest.raises(InputError, match=sentence):
        open_finish(FinishRequest(files=(many_pages(tmp_path, 4),), size=SIZE, pages=pages))


def test_what_is_no_pdf_gets_a_sentence(tmp_path):
    file = tmp_path / "a.pdf"
    for data in (b"", b"%PDF-1.7 and nothing", b"\x89PNG\r\n\x1a\n", bytes(2000)):
        file.write_bytes(data)
        with pytest.raises(InputError, match="cannot be read as a PDF file"):
            artwork_from_pdf(file, 1, SIZE)
    with pytest.raises(InputError, match="there is no such file"):
        artwork_from_pdf(tmp_path / "none.pdf", 1, SIZE)


def test_a_locked_file_gets_a_sentence(tmp_path):
    document = pikepdf.new()
    document.add_blank_page()
    document.save(tmp_path / "a.pdf", encryption=pikepdf.Encryption(owner="a", user="b"))
    with pytest.raises(InputError, match="locked with a password"):
        artwork_from_pdf(tmp_path / "a.pdf", 1, SIZE)


def test_a_stream_that_unpacks_to_very_much_is_refused(tmp_path):
    document = pikepdf.new()
    document.add_blank_page()
    stream = document.make_stream(b"")
    stream.write(zlib.compress(b" " * 80_000_000), filter=pikepdf.Name.FlateDecode)
    document.pages[0].Contents = stream
    document.save(tmp_path / "a.pdf")
    with pytest.raises(InputError, match="unpacks to more"):
        artwork_from_pdf(tmp_path / "a.pdf", 1, SIZE)


def test_forms_that_show_themselves_end(tmp_path):
    file = page_of("/F Do", tmp_path)
    with pikepdf.open(file, allow_overwriting_input=True) as document:
        form = document.make_stream(b"0 0 9 9 re f /F Do")
        form.Type, form.Subtype = pikepdf.Name.XObject, pikepdf.Name.Form
        form.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(F=form))
        document.pages[0].Resources.XObject = pikepdf.Dictionary(F=form)
        document.save(file)
    artwork = artwork_from_pdf(file, 1, SIZE)
    assert any("too deep" in lack.sentence for lack in artwork.lacks)


BLEND = pikepdf.Dictionary(
    ShadingType=2,
    ColorSpace=pikepdf.Name.DeviceRGB,
    Coords=[0, 0, 160, 0],
    Function=pikepdf.Dictionary(
        FunctionType=2, Domain=[0, 1], C0=[1.0, 0.0, 0.0], C1=[0.0, 0.0, 1.0], N=1
    ),
)
RESOURCES = {
    "/Pattern": pikepdf.Dictionary(
        P=pikepdf.Dictionary(Type=pikepdf.Name.Pattern, PatternType=2, Shading=BLEND)
    ),
    "/Shading": pikepdf.Dictionary(S=BLEND),
    **MASKED,
}


@pytest.mark.parametrize(
    ("steps", "what", "colour"),
    [
        ("/Pattern cs /P scn 20 20 50 50 re f", "pattern", "#800080"),
        ("20 20 50 50 re W n /S sh", "blend", "#800080"),
        ("/M gs 1 0 0 rg 20 20 50 50 re f", "mask", "#ff0000"),
        (
            "50 0 0 50 20 20 cm BI /W 1 /H 1 /BPC 8 /CS /G ID \0 EI",
            "picture",
            None,
        ),
    ],
)
def test_what_no_pen_draws_is_left_out_or_its_nearest_plain_thing(tmp_path, steps, what, colour):
    file = page_of(steps, tmp_path, resources=RESOURCES)
    left_out, plain = (artwork_from_pdf(file, 1, SIZE, plainly=one) for one in (False, True))
    assert left_out.items == ()
    (item,) = plain.items
    assert item.fill is None if colour is None else item.fill.hex == colour
    points = item.subpaths[0].points
    assert np.ptp(points, axis=0) == pytest.approx((100.0, 100.0))
    assert [lack.what for lack in (*left_out.lacks, *plain.lacks)] == [what, what]
    assert left_out.lacks != plain.lacks


def test_what_follows_a_mask_is_drawn(tmp_path):
    file = page_of("q /M gs 0 0 9 9 re f Q 20 20 9 9 re f", tmp_path, resources=RESOURCES)
    assert len(artwork_from_pdf(file, 1, SIZE).items) == 1
