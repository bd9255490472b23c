"""Files that are broken or meant to do harm: each opens or gets a sentence, and nothing hangs."""

import io
import random
import struct
import zlib

import numpy as np
import pytest
from fpdf import FPDF
from PIL import Image

from inkline.artwork.size import PictureSize
from inkline.errors import InputError
from inkline.finishing.marks import ink_runs
from inkline.finishing.request import FinishRequest, open_finish

SVG = b"""<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30" viewBox="0 0 40 30">
<style>.a{stroke:#123;stroke-width:2} g > path{fill:none}</style>
<defs><clipPath id="c"><circle cx="20" cy="15" r="9"/></clipPath><marker id="m" markerWidth="4">
<path d="M0 0L4 2"/></marker><linearGradient id="l"><stop stop-color="red"/></linearGradient></defs>
<g id="one" transform="rotate(9) translate(2,1)"><path class="a" d="M1 1h30c9 1 4 9 1 9a4 4 0 1
1 2-3z" stroke-dasharray="3 1" marker-end="url(#m)"/></g><rect x="2" y="3" width="9" height="7"/>
<use href="#one" x="3"/><g clip-path="url(#c)"><ellipse cx="20" cy="15" rx="14" ry="5"
fill="url(#l)"/></g><text x="3" y="20" font-size="6">Tide <tspan dx="1">7</tspan></text></svg>"""
SMALL = PictureSize(across=64)


def a_page():
    page = FPDF(unit="pt", format=(120, 90))
    page.add_page()
    page.set_line_width(2)
    page.line(10, 10, 100, 40)
    page.rect(20, 30, 40, 30, style="D")
    page.set_font("helvetica", size=12)
    page.text(20, 80, "Tide")
    return bytes(page.output())


def a_picture(form):
    values = np.full((48, 64, 3), 250, np.uint8)
    values[20:24, 6:58] = values[8:40, 30:33] = 20
    data = io.BytesIO()
    Image.fromarray(values).save(data, form)
    return data.getvalue()


BASES = {
    ".svg": (SVG, 150),
    ".pdf": (a_page(), 90),
    ".png": (a_picture("PNG"), 80),
    ".jpg": (a_picture("JPEG"), 50),
    ".tif": (a_picture("TIFF"), 40),
}


def mutated(data, rng):
    """Some bytes changed, taken out, doubled, or swapped for numbers that are too large."""
    data = bytearray(data)
    for _ in range(rng.randint(1, 6)):
        at = rng.randrange(len(data))
        far = min(len(data), at + rng.randint(1, 40))
        match rng.randrange(5):
            case 0:
                data[at] = rng.randrange(256)
            case 1:
                del data[at:far]
            case 2:
                data[at:at] = data[at:far]
            case 3:
                data[at:far] = rng.choice([b"1e308", b"-99999999999", b"NaN", b"<g>", b"\x00\xff"])
            case 4:
                data = data[: max(far, 20)]
    return bytes(data)


def refusal_of(file):
    """What is said of a file that can't be opened, "" if it can."""
    use = SMALL if file.suffix in {".svg", ".pdf"} else PictureSize()
    try:
        opened = open_finish(FinishRequest(files=(file,), size=use))
        for sheet in opened.sheets:
            ink_runs(opened, sheet)
    except InputError as error:
        return str(error)
    return ""


@pytest.mark.parametrize("suffix", BASES)
def test_what_is_broken_opens_or_is_refused(suffix, tmp_path):
    """410 broken files in all."""
    data, n_files = BASES[suffix]
    rng = random.Random(suffix)  # noqa: S311 - no secret
    refusals = []
    for number in range(n_files):
        file = tmp_path / f"{number}{suffix}"
        file.write_bytes(mutated(data, rng))
        refusals.append(refusal_of(file))
    assert any(refusals)
    assert max(map(len, refusals)) < 600


def test_the_files_are_sound_before_they_are_broken(tmp_path):
    for suffix, (data, _) in BASES.items():
        file = tmp_path / f"a{suffix}"
        file.write_bytes(data)
        assert refusal_of(file) == ""


HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="30">'
ENTITIES = '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>'


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            f"{ENTITIES}{HEAD}<text>&b;</text></svg>",
            "declares an entity of its own",
        ),
        (HEAD + "<g>" * 100_000 + "</g>" * 100_000 + "</svg>", "more than 256 deep"),
        (HEAD + '<path d="M0 0"/>' * 200_001 + "</svg>", "at most 200000 elements"),
        (
            '<svg xmlns="http://www.w3.org/2000/svg" width="1e30" height="1e30"/>',
            "pictures of 16 to 20000 px can be made",
        ),
    ],
    ids=["entities", "groups", "elements", "size"],
)
def test_bombs_get_a_sentence(text, sentence, tmp_path):
    (tmp_path / "a.svg").write_text(text)
    with pytest.raises(InputError, match=sentence):
        open_finish(FinishRequest(files=(tmp_path / "a.svg",)))


def test_giant_numbers_do_no_harm(tmp_path):
    body = (
        '<path d="M-1e300 5L1e300 5M0 0C1e20 9 -1e20 4 9 9" stroke="red" stroke-width="1e30"/>'
        '<circle r="1e200"/><rect width="1e300" height="2" transform="scale(1e200)"/>'
        '<path d="M0 0H30" stroke="red" stroke-dasharray="1e-300"/><text font-size="1e99">l</text>'
        '<text x="1e300" y="9">l</text>'
    )
    (tmp_path / "a.svg").write_text(f"{HEAD}{body}</svg>")
    assert refusal_of(tmp_path / "a.svg") == ""


def test_shapes_that_cross_themselves_without_end_get_a_sentence(tmp_path):
    rng = random.Random(3)  # noqa: S311 - no secret
    points = " ".join(f"{40 * rng.random():.2f},{30 * rng.random():.2f}" for _ in range(20_000))
    (tmp_path / "a.svg").write_text(f'{HEAD}<polygon points="{points}"/></svg>')
    assert "crosses itself" in refusal_of(tmp_path / "a.svg")


def test_long_outlines_that_hardly_cross_themselves_are_drawn(tmp_path):
    turns = np.linspace(0.0, 2.0 * np.pi, 20_000, endpoint=False)
    ring = np.stack((20.0 + 9.0 * np.cos(turns), 15.0 + 9.0 * np.sin(turns)), axis=1)
    points = " ".join(f"{x:.4f},{y:.4f}" for x, y in ring)
    (tmp_path / "a.svg").write_text(f'{HEAD}<polygon points="{points}"/></svg>')
    assert refusal_of(tmp_path / "a.svg") == ""


def empty_png(width, height):
    """A PNG file of that size whose pixels are all white, a few bytes however large it is."""

    def chunk(kind, data):
        whole = kind + data
        return struct.pack(">I", len(data)) + whole + struct.pack(">I", zlib.crc32(whole))

    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    row = b"\x00" + b"\xff" * ((width + 7) // 8)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(row * min(height, 64)))
        + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize("size", [(1, 1), (40_000, 40_000), (40_000, 20), (15, 900)])
def test_pictures_of_no_use_get_a_sentence(size, tmp_path):
    (tmp_path / "a.png").write_bytes(empty_png(*size))
    with pytest.raises(InputError, match="pictures from 16 px a side"):
        open_finish(FinishRequest(files=(tmp_path / "a.png",)))


def test_a_blank_picture_gets_a_sentence(tmp_path):
    (tmp_path / "a.png").write_bytes(empty_png(64, 64))
    with pytest.raises(InputError, match="no ink is told from the ground"):
        open_finish(FinishRequest(files=(tmp_path / "a.png",)))
