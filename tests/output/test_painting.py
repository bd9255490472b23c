"""Pictures that months are stamped into: what is kept of them, how inks mix, what is refused."""

import io
import struct
import zlib

import numpy as np
import pytest
import tifffile
from PIL import Image, ImageCms

from inkline.errors import InputError
from inkline.output.curves import curves_of_profile, values_in_profile
from inkline.output.painting import Inking, painting_png_bytes, read_painting
from inkline.output.profiles import Profile, colour_in, profile_bytes

P3 = profile_bytes(Profile.DISPLAY_P3)


def light(values):
    """By the curve of IEC 61966-2-1."""
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def gradient(width=90, height=70):
    values = np.empty((height, width, 3), np.uint8)
    values[:, :, 0] = np.linspace(10, 250, width)
    values[:, :, 1] = np.linspace(200, 30, height)[:, None]
    values[:, :, 2] = 90
    return values


@pytest.mark.parametrize("ending", ["png", "tif"])
def test_pixels_profile_and_resolution_are_kept(tmp_path, ending):
    file = tmp_path / f"a.{ending}"
    Image.fromarray(gradient()).save(file, icc_profile=P3, dpi=(240, 240))
    painting = read_painting(file)
    assert (painting.profile, painting.notes) == (P3, ())
    assert painting.ppi == pytest.approx(240, abs=0.1)
    np.testing.assert_array_equal(painting.values, gradient())
    values = Inking(painting, (5, 5, 40, 40)).inked_values()
    with Image.open(io.BytesIO(painting_png_bytes(values, ppi=240, profile=P3))) as picture:
        assert picture.info["icc_profile"] == P3
        np.testing.assert_array_equal(np.asarray(picture), gradient())


@pytest.mark.parametrize("ending", ["png", "jpg"])
def test_a_picture_that_lies_on_its_side_is_turned(tmp_path, ending):
    exif = Image.Exif()
    exif[0x0112] = 6  # the upper row is the right side (EXIF 2.32, 4.6.4)
    file = tmp_path / f"a.{ending}"
    Image.fromarray(gradient()).save(file, exif=exif, quality=95)
    painting = read_painting(file)
    assert painting.size == (70, 90)
    turned = np.rot90(gradient(), -1).astype(int)
    assert np.abs(painting.values - turned).mean() < 4


def test_inks_mix_as_light(tmp_path):
    Image.fromarray(gradient()).save(tmp_path / "a.png")
    painting = read_painting(tmp_path / "a.png")
    inking = Inking(painting, (10, 20, 60, 50))
    grey = np.tile(np.linspace(0, 255, 50).astype(np.uint8), (30, 1))
    inking.ink(grey, painting.light_of_colour("#f4e8d0"))
    share = grey[:, :, None] / 255.0
    ink = light(np.array([0xF4, 0xE8, 0xD0]) / 255.0)
    mixed = light(gradient()[20:50, 10:60] / 255.0) * (1 - share) + ink * share
    shown = np.where(mixed <= 0.0031308, mixed * 12.92, 1.055 * mixed ** (1 / 2.4) - 0.055)
    values = inking.inked_values()
    assert np.abs(values[20:50, 10:60] - 255.0 * shown).max() <= 0.6
    values[20:50, 10:60] = gradient()[20:50, 10:60]
    np.testing.assert_array_equal(values, gradient())


def test_ink_on_what_is_clear_has_its_own_colour(tmp_path):
    clear = np.dstack((gradient(), np.zeros((70, 90), np.uint8)))
    clear[:, 45:, 3] = 255
    Image.fromarray(clear).save(tmp_path / "a.png")
    painting = read_painting(tmp_path / "a.png")
    inking = Inking(painting, (0, 0, 90, 70))
    inking.ink(np.full((70, 90), 128, np.uint8), painting.light_of_colour("#c2452d"))
    values = inking.inked_values()
    np.testing.assert_array_equal(values[0, 0], [0xC2, 0x45, 0x2D, 128])
    assert values[0, 80, 3] == 255


def test_a_colour_looks_the_same_in_another_profile():
    """Little CMS against the matrices of both standards."""
    (values,) = values_in_profile(((194, 69, 45),), P3)
    np.testing.assert_allclose(
        values, 255 * np.array(colour_in(Profile.DISPLAY_P3, "#c2452d")), atol=1.0
    )


def test_curves_are_those_that_a_profile_states():
    steps = np.arange(256) / 255.0
    np.testing.assert_allclose(curves_of_profile(P3)[:, 1], light(steps), atol=1e-4)
    own = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    np.testing.assert_allclose(curves_of_profile(own)[:, 2], light(steps), atol=1e-4)
    np.testing.assert_allclose(curves_of_profile(b"")[:, 0], light(steps), atol=1e-6)
    power = P3.replace(P3[P3.index(b"para") :][:12], b"curv\0\0\0\0\0\0\0\1")
    at = power.index(b"curv") + 12
    power = power[:at] + b"\2\x33" + power[at + 2 :]  # 563/256, of Adobe's RGB of 1998
    np.testing.assert_allclose(curves_of_profile(power)[:, 0], steps ** (563 / 256), atol=1e-6)
    broken = P3.replace(b"para", b"xxxx")
    np.testing.assert_allclose(curves_of_profile(broken)[:, 0], light(steps), atol=1e-6)


def test_sixteen_bits_are_read_and_told(tmp_path):
    tifffile.imwrite(tmp_path / "a.tif", np.full((80, 80), 32896, np.uint16))
    painting = read_painting(tmp_path / "a.tif")
    assert painting.notes == ("a.tif has 16 bits a value, and the result has 8",)
    assert (painting.values == 128).all()


@pytest.mark.parametrize("profile", [P3[:200], b"nothing at all", P3.replace(b"RGB ", b"GRAY")])
def test_a_profile_that_cannot_be_used_is_told(tmp_path, profile):
    Image.fromarray(gradient()).save(tmp_path / "a.png", icc_profile=profile)
    painting = read_painting(tmp_path / "a.png")
    assert painting.profile == b""
    (note,) = painting.notes
    assert note.startswith("the colour profile of a.png can't be used, since it is ")


def one_pixel(file):
    Image.new("RGB", (1, 1)).save(file, "PNG")


def far_too_wide(file):
    Image.new("1", (40_000, 100)).save(file, "PNG")


def far_too_large(file):
    """A PNG file whose head says so (ISO/IEC 15948, 11.2.2): one with all its px takes seconds."""
    one_pixel(file)
    data = file.read_bytes()
    head = b"IHDR" + struct.pack(">II", 40_000, 40_000) + data[24:29]
    file.write_bytes(data[:12] + head + struct.pack(">I", zlib.crc32(head)) + data[33:])


def of_printing_inks(file):
    Image.new("CMYK", (90, 90)).save(file, "JPEG")


def half_written(file):
    speckled = np.random.default_rng(1).integers(0, 256, (90, 90, 3), np.uint8)
    Image.fromarray(speckled).save(file, "PNG")
    file.write_bytes(file.read_bytes()[:9000])


def no_picture(file):
    file.write_bytes(b"no picture")


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (one_pixel, "has 1 x 1 px; months are stamped into pictures from 64 px a side"),
        (far_too_wide, "has 40000 x 100 px; months are stamped"),
        (far_too_large, "cannot be read as a picture: it has more pixels than can be used|40000 x"),
        (of_printing_inks, "is in CMYK, and red, green and blue or greys are required"),
        (half_written, "cannot be read as a picture: "),
        (no_picture, "cannot be read as a picture: it is no PNG, JPEG or TIFF file"),
        (lambda _: None, "there is no such picture"),
    ],
)
def test_pictures_that_cannot_be_used_get_their_sentence(tmp_path, make, sentence):
    make(tmp_path / "a.png")
    with pytest.raises(InputError, match=sentence):
        read_painting(tmp_path / "a.png")
