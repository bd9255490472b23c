"""What of SVG files is refused, and what is told to be left out."""

import gzip
import zlib

import numpy as np
import pytest

from inkline.artwork.model import TextRun
from inkline.artwork.size import PictureSize
from inkline.artwork.svg.file import artwork_from_svg
from inkline.errors import InputError

OPEN = '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">'
RED_GRADIENT = '<linearGradient id="l"><stop stop-color="red"/><stop offset="1"/></linearGradient>'
CSS_PX = PictureSize(ppi=96.0)


@pytest.fixture
def read(tmp_path):
    def read_text(text, size=CSS_PX, *, plainly=False):
        file = tmp_path / "a.svg"
        file.write_bytes(text if isinstance(text, bytes) else text.encode())
        return artwork_from_svg(file, size, plainly=plainly)

    return read_text


def body(text):
    return f"{OPEN}{text}</svg>"


BOMB = """<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>
<svg xmlns="http://www.w3.org/2000/svg"><text>&b;</text></svg>"""


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "no element found"),
        ("<svg", "line 1: this is no whole SVG"),
        ("<html/>", "begins with <svg>, not <html>"),
        ("no markup", "this is no whole SVG"),
        (b"\x89PNG\r\n\x1a\n" + bytes(40), "this is no whole SVG"),
        (BOMB, "declares an entity of its own, 'a'"),
        (body("<g>" * 300 + "</g>" * 300), "more than 256 deep"),
        (body("<g/>" * 200_001), "at most 200000 elements"),
        (body('<path d="M' + "1 " * 2_000_001 + '"/>'), "at most 2000000 numbers"),
        (gzip.compress(b"<svg")[:-9], "can't be read"),
        (body("<style>" + "a{fill:red}" * 5_001 + "</style>"), "at most 5000 style rules"),
        (
            body("<style>" + "*:not(b){fill:red}" * 4_000 + "</style>" + "<g/>" * 300),
            "1000000 times",
        ),
    ],
)
def test_a_file_that_cannot_be_read_gets_a_sentence(read, text, sentence):
    with pytest.raises(InputError, match=sentence):
        read(text)


def test_a_file_that_is_not_there_gets_a_sentence(tmp_path):
    with pytest.raises(InputError, match="there is no such file"):
        artwork_from_svg(tmp_path / "none.svg", CSS_PX)


@pytest.mark.parametrize("across", [3, 40_000])
def test_a_picture_of_no_usable_size_is_refused(read, across):
    with pytest.raises(InputError, match="pictures of 16 to 20000 px can be made"):
        read(body("<rect/>"), PictureSize(across=across))


def test_uses_that_multiply_end(read):
    """A few lines that would stand for ten thousand million shapes."""
    rows = ['<g id="u0"><rect width="1" height="1"/></g>']
    for level in range(1, 11):
        uses = f'<use href="#u{level - 1}"/>' * 10
        rows.append(f'<g id="u{level}">{uses}</g>')
    with pytest.raises(InputError, match="used again at most 10000 times"):
        read(body(f"<defs>{''.join(rows)}</defs>" + '<use href="#u10"/>'))


@pytest.mark.parametrize(
    ("text", "what", "sentence"),
    [
        ('<image href="a.png"/>', "<image>", "pictures within the file are left out"),
        ("<foreignObject/>", "<foreignObject>", "what is no drawing"),
        ('<rect width="9" height="9" filter="url(#f)"/>', "<rect> filter", "left out"),
        ('<g mask="url(#m)"/>', "<g> mask", "what has one is left out"),
        ('<rect width="9" height="9" fill="url(#x)"/>', "<rect> fill", "isn't there"),
        ('<use href="other.svg#a"/>', "<use>", "nothing outside the file"),
        ('<use href="#nobody"/>', "<use>", "no such"),
        ('<g id="a"><use href="#a"/></g>', "<use>", "shows itself"),
        ('<rect width="9" height="9" fill="bluish"/>', "<rect> fill", "can't be read"),
        ('<path d="M0 0L5"/>', "<path>", "can't be read to the end"),
        ('<polygon points="0 0 5 5 9"/>', "<polygon>", "lacks a number"),
        ('<rect width="9" height="9" transform="spin(3)"/>', "<rect>", "transform"),
        (f'<g transform="{"scale(1e9)" * 40}"/>', "<g>", "goes too far"),
        ("<style>@import url(b.css);</style>", "@import", "nothing outside the file"),
        ("<style>a:::b{fill:red}</style>", "<style>", "selector"),
        ("<unheardof/>", "<unheardof>", "not known"),
        (
            f"{RED_GRADIENT}<rect width='9' height='9' fill='url(#l)'/>",
            "<rect> fill",
            "is left out",
        ),
    ],
)
def test_what_is_left_out_is_told_by_its_line(read, text, what, sentence):
    lacks = read(f"{OPEN}\n\n{text}\n</svg>").lacks
    assert [(lack.line, lack.what) for lack in lacks if sentence in lack.sentence] == [(3, what)]


def test_nothing_is_told_of_a_file_that_lacks_nothing(read):
    text = '<title>Tides</title><desc>x</desc><metadata/><g id="g"><rect width="9" height="9"/></g>'
    artwork = read(body(text))
    assert artwork.lacks == ()
    assert (artwork.title, artwork.items[0].layer) == ("Tides", "g")


def test_a_size_on_paper_is_known(read):
    artwork = read(body("<rect width='9' height='9'/>"), PictureSize(ppi=254.0))
    assert artwork.is_true_size
    assert artwork.canvas == (400, 300)
    assert artwork.px_per_mm == pytest.approx(10.0)


def test_a_size_that_is_not_stated_is_the_view_boxs(read):
    artwork = read('<svg viewBox="0 0 300 200"><rect width="9" height="9"/></svg>')
    assert not artwork.is_true_size
    assert artwork.canvas == (300, 200)


def test_packed_files_are_read(read):
    text = body("<rect width='9' height='9'/>").encode()
    assert len(read(gzip.compress(text)).items) == 1
    with pytest.raises(InputError, match="this is no whole SVG"):
        read(zlib.compress(text))


GREY_GRADIENT = (
    '<linearGradient id="a"><stop stop-color="#000"/><stop offset="50%" style="stop-color:#000"/>'
    '<stop offset="1" stop-color="#fff"/></linearGradient><radialGradient id="b" href="#a"/>'
)
HALF_PATTERN = (
    '<pattern id="p" patternUnits="userSpaceOnUse" width="4" height="4">'
    '<rect width="2" height="4" fill="#f00"/></pattern>'
)
BEYOND_INK = [
    (GREY_GRADIENT + '<rect width="9" height="9" fill="url(#b)"/>', "its mean colour"),
    (HALF_PATTERN + '<rect width="9" height="9" fill="url(#p)"/>', "its mean colour"),
    ('<rect width="9" height="9" mask="url(#m)"/>', "drawn without it"),
    ('<rect width="9" height="9" filter="url(#f)"/>', "drawn without it"),
    ('<image href="a.png" x="1" y="2" width="9" height="5"/>', "the frame of a picture"),
]


@pytest.mark.parametrize(("text", "sentence"), BEYOND_INK)
def test_what_no_pen_draws_is_left_out_or_its_nearest_plain_thing(read, text, sentence):
    left_out, plain = read(body(text)), read(body(text), plainly=True)
    assert left_out.items == ()
    assert [lack.line for lack in left_out.lacks] == [1]
    assert len(plain.items) == 1
    (lack,) = plain.lacks
    assert sentence in lack.sentence


def test_mean_colours_are_means(read):
    """A gradient along its line, a pattern over its tile, whose other half is clear."""
    (blend,), (tile,) = (read(body(text), plainly=True).items for text, _ in BEYOND_INK[:2])
    assert blend.fill.red == pytest.approx(0.25)
    assert tile.fill.hex == "#ff0000"
    assert tile.fill.opacity == pytest.approx(0.5)


def test_a_gradient_of_one_colour_is_that_colour(read):
    text = (
        '<linearGradient id="a"><stop stop-color="#0f0"/></linearGradient>'
        '<rect width="9" height="9" fill="url(#a)"/>'
    )
    artwork = read(body(text))
    assert artwork.items[0].fill.hex == "#00ff00"
    assert artwork.lacks == ()


def test_the_colour_beside_a_gradient_is_used_and_told(read):
    artwork = read(body(GREY_GRADIENT + '<rect width="9" height="9" fill="url(#a) #00f"/>'))
    assert artwork.items[0].fill.hex == "#0000ff"
    assert "the colour beside it is used" in artwork.lacks[0].sentence


def test_the_frame_of_a_picture_stands_where_the_picture_does(read):
    (frame,) = read(body(BEYOND_INK[4][0]), plainly=True).items
    unit = 96.0 / 25.4
    assert frame.subpaths[0].points.min(axis=0) == pytest.approx((unit, 2.0 * unit))
    assert np.ptp(frame.subpaths[0].points, axis=0) == pytest.approx((9.0 * unit, 5.0 * unit))


def test_text_is_found_run_by_run(read):
    text = (
        '<text x="10" y="12" font-size="5" text-anchor="middle">Tide <tspan fill="red">high'
        '</tspan>\n  now<tspan x="3" y="20">low</tspan></text>'
        '<text transform="rotate(90 5 5)" x="5" y="5">up</text><text display="none">no</text>'
    )
    runs = [item for item in read(body(text)).items if isinstance(item, TextRun)]
    assert [run.text for run in runs] == ["Tide ", "high", " now", "low", "up"]
    assert [run.follows for run in runs] == [False, True, True, False, False]
    px = 96.0 / 25.4
    assert runs[0].size == pytest.approx(5.0 * px)
    assert runs[0].anchor == "middle"
    assert np.allclose(runs[3].at, (3.0 * px, 20.0 * px))
    assert runs[4].turn == pytest.approx(np.pi / 2)
    assert runs[1].fill.red == 1.0
