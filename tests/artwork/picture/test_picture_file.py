"""Layouts found in pictures, against the drawings that the pictures were made from."""

import io

import numpy as np
import pytest
from PIL import Image, ImageDraw

from inkline.artwork.model import ArtPath
from inkline.artwork.picture.file import artwork_from_picture
from inkline.errors import InputError
from inkline.geometry.arrays import Points
from inkline.raster.coverage import grey_from_contours


def bar(x0, y0, x1, y1, width) -> Points:
    """The outline of a straight line."""
    along = np.array([x1 - x0, y1 - y0]) / np.hypot(x1 - x0, y1 - y0)
    side = 0.5 * width * np.array([-along[1], along[0]])
    start, end = np.array([x0, y0]), np.array([x1, y1])
    return np.array([start - side, end - side, end + side, start + side])


def disc(x, y, radius) -> Points:
    turns = np.linspace(0.0, 2.0 * np.pi, 400, endpoint=False)
    return np.array([x, y]) + radius * np.stack((np.cos(turns), np.sin(turns)), axis=1)


def saved(grey, tmp_path, name="a.png", **more):
    file = tmp_path / name
    Image.fromarray(grey).save(file, **more)
    return file


LINES = [
    (40.3, 60.7, 560.2, 60.7, 5.2),
    (40.3, 160.1, 560.2, 160.1, 5.2),
    (40.3, 259.45, 560.2, 259.45, 5.2),
    (41.8, 58.1, 41.8, 262.05, 3.0),
    (300.25, 58.1, 300.25, 262.05, 3.0),
    (558.7, 58.1, 558.7, 262.05, 3.0),
    (80.0, 300.0, 520.0, 371.5, 4.4),
]
"""Places and widths in px, no two on the same part of a pixel."""


def picture_of(contours, size=(600, 400)):
    """Black on white, by exact areas."""
    ink = np.max([grey_from_contours((one,), canvas=size) for one in contours], axis=0)
    return (255 - ink).astype(np.uint8)


def rules(artwork):
    return [item for item in artwork.items if item.pen is not None]


def test_straight_rules_are_found_where_they_were_drawn(tmp_path):
    grey = picture_of([bar(*line) for line in LINES])
    found = rules(artwork_from_picture(saved(grey, tmp_path)))
    assert len(found) == len(LINES)
    for x0, y0, x1, y1, width in LINES:
        across = np.array([-(y1 - y0), x1 - x0]) / np.hypot(x1 - x0, y1 - y0)
        away = [
            float(np.abs((item.subpaths[0].points - (x0, y0)) @ across).max()) for item in found
        ]
        best = int(np.argmin(away))
        assert away[best] < 0.1
        assert found[best].pen.width == pytest.approx(width, abs=0.15)
        ends = found[best].subpaths[0].points
        assert np.hypot(*(ends[0] - (x0, y0))) < width + 1.0
        assert np.hypot(*(ends[1] - (x1, y1))) < width + 1.0


def test_nothing_of_the_rules_is_left_over_as_shapes(tmp_path):
    grey = picture_of([bar(*line) for line in LINES])
    assert len(artwork_from_picture(saved(grey, tmp_path)).items) == len(LINES)


def test_a_round_shape_is_followed_to_a_part_of_a_pixel(tmp_path):
    """The edge of a disc lies within 0.06 px of its circle in the root mean square."""
    grey = picture_of([disc(200.3, 150.6, 80.0)])
    (item,) = artwork_from_picture(saved(grey, tmp_path)).items
    (run,) = item.subpaths
    off = np.hypot(*(run.points - (200.3, 150.6)).T) - 80.0
    assert np.sqrt((off**2).mean()) < 0.06


def test_a_ring_keeps_its_hole(tmp_path):
    ink = 255 - picture_of([disc(200.0, 150.0, 80.0)])
    hole = 255 - picture_of([disc(200.0, 150.0, 50.0)])
    (item,) = artwork_from_picture(saved(255 - (ink - hole), tmp_path)).items
    assert len(item.subpaths) == 2


def test_bends_and_stems_are_no_rules(tmp_path):
    turns = np.linspace(0.0, np.pi, 200)
    middle = np.stack((100.0 + 2.0 * np.arange(200), 200.0 + 60.0 * np.sin(turns * 2)), axis=1)
    half = np.array([0.0, 4.0])
    wave = np.concatenate((middle - half, (middle + half)[::-1]))
    stem = bar(50.0, 40.0, 50.0, 100.0, 9.0)
    artwork = artwork_from_picture(saved(picture_of([wave, stem]), tmp_path))
    assert rules(artwork) == []


@pytest.mark.parametrize("ground", ["dark", "clear", "tinted"])
def test_any_even_ground_will_do(tmp_path, ground):
    ink = 255 - picture_of([disc(200.0, 150.0, 80.0)])
    if ground == "dark":
        picture = Image.fromarray(ink)
    elif ground == "clear":
        picture = Image.merge("LA", (Image.new("L", (600, 400), 0), Image.fromarray(ink)))
    else:
        paper, pen = (
            Image.new("RGB", (600, 400), "#f6ead0"),
            Image.new("RGB", (600, 400), "#204060"),
        )
        picture = Image.composite(pen, paper, Image.fromarray(ink))
    picture.save(tmp_path / "a.png")
    (item,) = artwork_from_picture(tmp_path / "a.png").items
    assert isinstance(item, ArtPath)
    points = item.subpaths[0].points
    assert np.hypot(*(points - (200.0, 150.0)).T).mean() == pytest.approx(80.0, abs=0.1)
    if ground == "tinted":
        assert item.fill.hex == "#204060"


def test_several_colours_are_told(tmp_path):
    picture = Image.new("RGB", (200, 100), "white")
    pencil = ImageDraw.Draw(picture)
    pencil.rectangle((20, 20, 80, 80), fill="#c02020")
    pencil.rectangle((120, 20, 180, 80), fill="#2020c0")
    picture.save(tmp_path / "a.png")
    (lack,) = artwork_from_picture(tmp_path / "a.png").lacks
    assert "taken for one colour" in lack.sentence


def test_pictures_are_turned_upright_and_keep_their_resolution(tmp_path):
    grey = picture_of([bar(40, 60, 560, 60, 6)])
    exif = Image.Exif()
    exif[0x0112] = 6  # turned a quarter (TIFF 6.0, Orientation)
    file = saved(grey, tmp_path, "a.jpg", exif=exif, quality=95, dpi=(600, 600))
    artwork = artwork_from_picture(file)
    assert artwork.canvas == (400, 600)
    assert artwork.is_true_size
    assert artwork.px_per_mm == pytest.approx(600 / 25.4)
    (rule,) = rules(artwork)
    assert np.ptp(rule.subpaths[0].points[:, 0]) < 0.5


def many_pixels():
    """A PNG file's head that promises 40 000 x 40 000 px."""
    data = io.BytesIO()
    Image.new("L", (20, 20)).save(data, "PNG")
    return data.getvalue().replace((20).to_bytes(4, "big") * 2, (40_000).to_bytes(4, "big") * 2)


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"", "cannot be read as a picture"),
        (b"\x89PNG\r\n\x1a\n" + bytes(30), "cannot be read as a picture"),
        (b"GIF89a" + bytes(30), "cannot be read as a picture"),
        (many_pixels(), "40000 x 40000 px|cannot be read"),
    ],
)
def test_what_is_no_picture_gets_a_sentence(tmp_path, data, sentence):
    file = tmp_path / "a.png"
    file.write_bytes(data)
    with pytest.raises(InputError, match=sentence):
        artwork_from_picture(file)


@pytest.mark.parametrize(
    ("grey", "sentence"),
    [
        (np.full((100, 100), 255, np.uint8), "no ink is told from the ground"),
        (np.full((100, 100), 0, np.uint8), "no ink is told from the ground"),
        (np.full((1, 1), 0, np.uint8), "has 1 x 1 px"),
    ],
)
def test_a_picture_without_ink_gets_a_sentence(tmp_path, grey, sentence):
    with pytest.raises(InputError, match=sentence):
        artwork_from_picture(saved(grey, tmp_path))


def test_a_missing_file_gets_a_sentence(tmp_path):
    with pytest.raises(InputError, match="there is no such file"):
        artwork_from_picture(tmp_path / "none.png")
