"""OpenRaster files, read back by pyora, and against what the standard asks of the archive.

The standard: openraster.org, "File Layout Specification" and "Layers Stack Specification", version
0.0.3 and later, from memory.
"""

import io
import zipfile
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from PIL import Image
from pyora import Project

from inkline.output.layered import PictureLayer, open_raster_bytes

HEIGHT, WIDTH = 300, 400


def bar(x0, x1, value):
    grey = np.zeros((HEIGHT, WIDTH), np.uint8)
    grey[:, x0:x1] = value
    return grey


LAYERS = [
    PictureLayer(name="blocks", grey=bar(0, 200, 255), colour="#e4bda4"),
    PictureLayer(name="dates <17>", grey=bar(100, 300, 128), colour="#27343d"),
]
DATA = open_raster_bytes(LAYERS, ground="#ffffff", ppi=300)


@pytest.fixture
def project(tmp_path):
    (tmp_path / "calendar.ora").write_bytes(DATA)
    return Project.load(str(tmp_path / "calendar.ora"))


def test_another_reader_finds_the_layers_back_to_front_with_their_names(project):
    assert project.dimensions == (WIDTH, HEIGHT)
    assert [layer.name for layer in project.iter_layers] == ["paper", "blocks", "dates <17>"]
    for layer in project.iter_layers:
        assert (layer.offsets, layer.opacity, layer.visible) == ((0, 0), 1.0, True)


def test_a_layer_is_one_colour_as_opaque_as_its_coverage(project):
    found = {layer.name: np.asarray(layer.get_image_data()) for layer in project.iter_layers}
    for layer in LAYERS:
        assert np.array_equal(found[layer.name][:, :, 3], layer.grey)
        colour = [int(layer.colour[at : at + 2], 16) for at in (1, 3, 5)]
        assert (found[layer.name][:, :, :3] == colour).all()
    assert (found["paper"] == 255).all()


def test_the_merged_picture_is_what_the_reader_composes(project):
    """Source over destination, as the standard's default svg:src-over; by hand in one place."""
    with zipfile.ZipFile(io.BytesIO(DATA)) as file, file.open("mergedimage.png") as data:
        merged = np.asarray(Image.open(data)).astype(int)
    rendered = np.asarray(project.get_image_data(use_original=False)).astype(int)
    assert np.abs(merged - rendered).max() <= 1
    share = 128 / 255
    mixed = [
        round(ink * share + block * (1 - share)) for ink, block in ((0x27, 0xE4), (0x3D, 0xA4))
    ]
    assert np.abs(merged[10, 150, [0, 2]] - mixed).max() <= 1
    assert merged[10, 350].tolist() == [255, 255, 255, 255]


def test_the_archive_is_laid_out_as_the_standard_asks():
    with zipfile.ZipFile(io.BytesIO(DATA)) as file:
        first, *_ = file.infolist()
        assert (first.filename, first.compress_type) == ("mimetype", zipfile.ZIP_STORED)
        assert file.read("mimetype") == b"image/openraster"
        assert {"stack.xml", "mergedimage.png", "Thumbnails/thumbnail.png"} <= set(file.namelist())
        stack = ET.fromstring(file.read("stack.xml"))  # noqa: S314 - our own text
        with file.open("Thumbnails/thumbnail.png") as data:
            assert max(Image.open(data).size) == 256
    assert {key: stack.get(key) for key in ("w", "h", "xres", "yres")} == {
        "w": "400",
        "h": "300",
        "xres": "300",
        "yres": "300",
    }
    assert [layer.get("name") for layer in stack.iter("layer")] == ["dates <17>", "blocks", "paper"]
    assert DATA[30:38] == b"mimetype"  # so that a file's kind is told by its first bytes


def test_equal_layers_give_equal_bytes_and_others_others():
    assert open_raster_bytes(LAYERS, ground="#ffffff", ppi=300) == DATA
    assert open_raster_bytes(LAYERS[::-1], ground="#ffffff", ppi=300) != DATA


def test_layers_of_several_sizes_are_refused():
    odd = PictureLayer(name="odd", grey=np.zeros((4, 4), np.uint8), colour="#000000")
    with pytest.raises(ValueError, match="layers of one size are required, not of 2"):
        open_raster_bytes([*LAYERS, odd], ground="#ffffff", ppi=300)
    with pytest.raises(ValueError, match="layers of one size are required, not of 0"):
        open_raster_bytes([], ground="#ffffff", ppi=300)
