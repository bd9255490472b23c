"""Real fonts from the package registry and small ones built on the spot."""

from pathlib import Path
from types import SimpleNamespace

import font_roboto
import font_source_sans_pro
import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ufoLib import UFOWriter

from inkline.lettering.font import open_font

FONT_FILES = {
    "source-ttf": Path(font_source_sans_pro.font_files_ttf["SourceSansPro"]),
    "source-otf": Path(font_source_sans_pro.font_files_otf["SourceSansPro"]),
    "roboto": Path(font_roboto.font_files["Roboto"]),
    "roboto-bold": Path(font_roboto.font_files["RobotoBold"]),
}


@pytest.fixture(scope="session")
def font_files():
    return FONT_FILES


@pytest.fixture(scope="session")
def fonts():
    return {name: open_font(path) for name, path in FONT_FILES.items()}


def line_(*points):
    """An open contour of straight pieces, as a drawing function for a point pen."""

    def draw(pen):
        pen.beginPath()
        for index, point in enumerate(points):
            pen.addPoint(point, "line" if index else "move")
        pen.endPath()

    return draw


def write_family_(
    folder, glyphs, *, kerning=None, groups=None, info=None, lib=None, libs=None, anchors=None
):
    """A UFO at `folder`; `glyphs` maps names to (width, characters, drawing function or None).

    `libs` and `anchors` map names to what these glyphs have of them.
    """
    writer = UFOWriter(str(folder))
    writer.writeInfo(
        SimpleNamespace(
            **({"unitsPerEm": 1000, "capHeight": 700, "familyName": "Tiny"} | (info or {}))
        )
    )
    writer.writeLib({"inkline.nominalStem": 90} if lib is None else lib)
    writer.writeGroups(groups or {})
    writer.writeKerning(kerning or {})
    glyph_set = writer.getGlyphSet()
    for name, (width, characters, draw) in glyphs.items():
        glyph_set.writeGlyph(
            name,
            SimpleNamespace(
                width=width,
                unicodes=[ord(c) for c in characters],
                lib=(libs or {}).get(name, {}),
                anchors=(anchors or {}).get(name, []),
            ),
            draw,
        )
    glyph_set.writeContents()
    writer.writeLayerContents()
    writer.close()
    return folder


@pytest.fixture
def tiny_family(tmp_path):
    """A folder with three glyphs: an upright 1, a 7 of two pieces, a space."""
    glyphs = {
        "one": (300, "1", line_((150, 655), (150, 45))),
        "seven": (500, "7", line_((50, 655), (400, 655), (200, 45))),
        "space": (250, " ", None),
    }
    return write_family_(tmp_path / "tiny.ufo", glyphs)


def box_(pen, x0, y0, x1, y1, *, clockwise=True):
    corners = [(x0, y0), (x0, y1), (x1, y1), (x1, y0)]
    if not clockwise:
        corners.reverse()
    pen.moveTo(corners[0])
    for corner in corners[1:]:
        pen.lineTo(corner)
    pen.closePath()


def build_font_(path, draws, characters, *, advance=600, finish=None, os2=None):
    """A TrueType font at `path`.

    `draws` maps glyph names to drawing functions, `characters` characters to glyph names.
    """
    order = [".notdef", *draws]
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(order)
    builder.setupCharacterMap({ord(character): name for character, name in characters.items()})
    glyphs = {}
    for name in order:
        pen = TTGlyphPen(glyphs)
        if name in draws:
            draws[name](pen)
        glyphs[name] = pen.glyph()
    builder.setupGlyf(glyphs)
    builder.setupHorizontalMetrics(
        {name: (advance, builder.font["glyf"][name].xMin) for name in order}
    )
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable(
        {"familyName": "Built", "styleName": "Regular", "fullName": "Built Regular"}
    )
    builder.setupOS2(**(os2 or {}))
    builder.setupPost()
    if finish is not None:
        finish(builder)
    builder.save(path)
    return path


@pytest.fixture(scope="session")
def line():
    return line_


@pytest.fixture(scope="session")
def write_family():
    return write_family_


@pytest.fixture(scope="session")
def box():
    return box_


@pytest.fixture(scope="session")
def build_font():
    return build_font_
