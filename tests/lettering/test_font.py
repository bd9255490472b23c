"""Opening fonts, their measures and their faults.

Shaping against HarfBuzz and the font's own kerning table.
"""

import random
import re

import numpy as np
import pytest
import uharfbuzz
from fontTools.ttLib import TTCollection, TTFont, newTable

from inkline.lettering.errors import FontError, MissingGlyphError
from inkline.lettering.face import Figures
from inkline.lettering.font import open_font
from inkline.lettering.line import set_line

WORDS = ["AV", "To", "17", "WEDNESDAY", "11", "Type, AWAY.", "2027"]


def shaped_by_harfbuzz(path, text, features):
    """Pen positions in font units and the whole advance."""
    font = uharfbuzz.Font(uharfbuzz.Face(uharfbuzz.Blob.from_file_path(str(path))))
    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    uharfbuzz.shape(font, buffer, features)
    ends = np.cumsum([0] + [position.x_advance for position in buffer.glyph_positions])
    offsets = [position.x_offset for position in buffer.glyph_positions]
    return ends[:-1] + offsets, ends[-1]


@pytest.mark.parametrize("name", ["source-otf", "roboto"])
@pytest.mark.parametrize("text", WORDS)
def test_positions_are_harfbuzz_positions(fonts, font_files, name, text):
    wanted, advance = shaped_by_harfbuzz(font_files[name], text, {"kern": True, "liga": False})
    line = set_line(fonts[name], text)
    np.testing.assert_allclose(
        [item.x_em * fonts[name].units_per_em for item in line.glyphs], wanted, atol=1e-9
    )
    assert line.advance_em * fonts[name].units_per_em == pytest.approx(advance)


def kerning_by_table(path, first, second):
    """The kern feature's value for two glyphs, read from the font's GPOS table by hand.

    Source: OpenType, PairPos formats 1 and 2.
    """
    with TTFont(path) as font:
        cmap = font.getBestCmap()
        left, right = cmap[ord(first)], cmap[ord(second)]
        table = font["GPOS"].table
        features = [
            record.Feature
            for record in table.FeatureList.FeatureRecord
            if record.FeatureTag == "kern"
        ]
        lookups = dict.fromkeys(index for feature in features for index in feature.LookupListIndex)
        for lookup in (table.LookupList.Lookup[index] for index in lookups):
            for subtable in (
                getattr(subtable, "ExtSubTable", subtable) for subtable in lookup.SubTable
            ):
                value = pair_value(subtable, left, right)
                if value is not None:
                    return value
    return 0


def pair_value(subtable, left, right):
    if subtable.LookupType != 2 or left not in subtable.Coverage.glyphs:
        return None
    if subtable.Format == 1:
        pairs = subtable.PairSet[subtable.Coverage.glyphs.index(left)].PairValueRecord
        found = [pair.Value1.XAdvance for pair in pairs if pair.SecondGlyph == right]
        return found[0] if found else None
    record = subtable.Class1Record[subtable.ClassDef1.classDefs.get(left, 0)]
    value = record.Class2Record[subtable.ClassDef2.classDefs.get(right, 0)].Value1
    return getattr(value, "XAdvance", 0) if value else 0


@pytest.mark.parametrize("name", ["source-otf", "roboto"])
@pytest.mark.parametrize("pair", ["AV", "To", "VA", "LT", "HH", "17"])
def test_kerning_is_the_fonts_own(fonts, font_files, name, pair):
    font = fonts[name]
    first, second = set_line(font, pair).glyphs
    kerned = (second.x_em - first.x_em - first.glyph.advance_em) * font.units_per_em
    assert kerned == pytest.approx(kerning_by_table(font_files[name], *pair), abs=1e-6)


def test_some_kerning_is_there_to_be_checked(font_files):
    assert kerning_by_table(font_files["roboto"], "A", "V") < 0
    assert kerning_by_table(font_files["source-otf"], "A", "V") < 0


def test_figures_by_the_fonts_features(fonts):
    """Source Sans has proportional figures under pnum; its figures are tabular by themselves.

    Source: OpenType feature registry.
    """
    font = fonts["source-otf"]
    advances = {
        figures: [set_line(font, digit, figures=figures).advance_em for digit in "0123456789"]
        for figures in Figures
    }
    assert len(set(advances[Figures.TABULAR])) == 1
    assert len(set(advances[Figures.PROPORTIONAL])) > 3
    names = [set_line(font, "1", figures=figures).glyphs[0].glyph.name for figures in Figures]
    assert names[1] != names[2]


def test_figures_that_line_by_themselves_are_left_alone(fonts):
    """Roboto's lnum would change the widths of 6 and 8 alone."""
    font = fonts["roboto"]
    for digit in "0123456789":
        assert set_line(font, digit).glyphs[0].glyph is font.glyph(digit)


def test_old_style_figures_give_way_to_lining_ones(tmp_path, build_font, box):
    """A font whose 0 is low and whose 6 is high by itself, with a lining 0 under lnum.

    Source: OpenType feature registry.
    """
    draws = {
        "zero": lambda pen: box(pen, 50, 0, 250, 480),
        "six": lambda pen: box(pen, 50, 0, 250, 700),
        "zero.lf": lambda pen: box(pen, 50, 0, 300, 700),
    }

    def finish(builder):
        builder.addOpenTypeFeatures("feature lnum { sub zero by zero.lf; } lnum;")

    font = open_font(
        build_font(tmp_path / "o.ttf", draws, {"0": "zero", "6": "six"}, finish=finish)
    )
    assert [item.glyph.name for item in set_line(font, "06").glyphs] == ["zero.lf", "six"]
    assert font.glyph("0").name == "zero"


def test_no_ligatures(fonts):
    assert [item.letter for item in set_line(fonts["source-otf"], "ffi").glyphs] == [0, 1, 2]


def test_measures_are_those_of_the_fonts_tables(fonts, font_files):
    """Roboto's H and 7 by their boxes, its l is a plain box in its glyf table.

    Source Sans names its standard stem (CFF StdVW).
    """
    source, roboto = fonts["source-otf"], fonts["roboto"]
    with TTFont(font_files["roboto"]) as font:
        box = font["glyf"][font.getBestCmap()[ord("l")]]
        seven = font["glyf"][font.getBestCmap()[ord("7")]]
        assert roboto.nominal_stem_em == pytest.approx((box.xMax - box.xMin) / 2048)
        assert roboto.digit_height_em == pytest.approx(seven.yMax / 2048)
        assert roboto.cap_height_em == pytest.approx(font["OS/2"].sCapHeight / 2048)
    with TTFont(font_files["source-otf"]) as font:
        standard = font["CFF "].cff.topDictIndex[0].Private.StdVW
        assert source.nominal_stem_em == pytest.approx(standard / 1000, rel=0.05)
        assert source.cap_height_em == pytest.approx(font["OS/2"].sCapHeight / 1000, abs=0.005)
    assert not source.is_drawn_with_pen
    assert source.name == "Source Sans Pro"


def test_measures_without_the_letters_to_measure(tmp_path, build_font, box):
    path = build_font(tmp_path / "b.ttf", {"B": lambda pen: box(pen, 50, 0, 250, 700)}, {"B": "B"})
    font = open_font(path)
    assert font.cap_height_em == 0.7
    assert font.digit_height_em == 0.7
    assert font.nominal_stem_em == pytest.approx(0.7 / 8)


def test_the_font_is_believed_where_there_is_no_h(tmp_path, build_font, box):
    draws = {"B": lambda pen: box(pen, 50, 0, 250, 700)}
    path = build_font(tmp_path / "b.ttf", draws, {"B": "B"}, os2={"version": 4, "sCapHeight": 690})
    assert open_font(path).cap_height_em == 0.69


def test_stem_and_capitals_are_measured(tmp_path, build_font, box):
    draws = {"H": lambda pen: box(pen, 50, 0, 250, 640), "I": lambda pen: box(pen, 50, 0, 130, 640)}
    font = open_font(build_font(tmp_path / "h.ttf", draws, {"H": "H", "I": "I"}))
    assert font.cap_height_em == pytest.approx(0.64)
    assert font.nominal_stem_em == pytest.approx(0.08)


def test_missing_characters_are_named_with_their_codes(fonts):
    with pytest.raises(MissingGlyphError) as caught:
        set_line(fonts["source-otf"], "1⁂2☃⁂")
    assert caught.value.characters == ("⁂", "☃")
    assert str(caught.value) == (
        'Source Sans Pro has no glyph for "⁂" (U+2042 ASTERISM), "☃" (U+2603 SNOWMAN)'
    )
    assert not fonts["source-otf"].has("☃")
    with pytest.raises(
        MissingGlyphError, match=re.escape('Source Sans Pro has no glyph for "☃" (U+2603 SNOWMAN)')
    ):
        fonts["source-otf"].glyph("☃")


def test_an_empty_glyph_is_a_missing_one(tmp_path, build_font, box):
    draws = {
        "A": lambda pen: box(pen, 0, 0, 100, 100),
        "B": lambda _pen: None,
        "space": lambda _pen: None,
    }
    font = open_font(build_font(tmp_path / "e.ttf", draws, {"A": "A", "B": "B", " ": "space"}))
    assert len(set_line(font, "A A").glyphs) == 3
    with pytest.raises(MissingGlyphError, match=re.escape('Built has no glyph for "B" (U+0042')):
        set_line(font, "AB")


def test_glyphs_are_made_once(fonts):
    assert fonts["roboto"].glyph("7") is fonts["roboto"].glyph("7")


def test_no_file(tmp_path):
    with pytest.raises(
        FontError, match=r"the font .*gone\.ttf cannot be read: No such file"
    ) as caught:
        open_font(tmp_path / "gone.ttf")
    assert caught.value.path.endswith("gone.ttf")


@pytest.mark.parametrize(
    "data",
    [b"", b"hello, I am a letter", b"\0\1\0\0\0\xff\0\0\0\0\0\0", b"wOF2....", b"wOFF", b"OTTO"],
)
def test_no_font(tmp_path, data):
    (tmp_path / "x.ttf").write_bytes(data)
    with pytest.raises(FontError, match=r"x\.ttf is not a font that can be read: \S"):
        open_font(tmp_path / "x.ttf")


def test_a_collection_is_refused(tmp_path, font_files):
    collection = TTCollection()
    collection.fonts = [TTFont(font_files["source-ttf"]), TTFont(font_files["source-ttf"])]
    collection.save(tmp_path / "both.ttc")
    collection.close()
    with pytest.raises(
        FontError, match=r"both\.ttc is a collection of several fonts; give one font"
    ):
        open_font(tmp_path / "both.ttc")


def test_a_font_of_bitmaps_is_refused(tmp_path, build_font, box):
    def without_outlines(builder):
        del builder.font["glyf"], builder.font["loca"]
        builder.font["sbix"] = newTable("sbix")

    path = build_font(
        tmp_path / "bits.ttf",
        {"A": lambda pen: box(pen, 0, 0, 9, 9)},
        {"A": "A"},
        finish=without_outlines,
    )
    with pytest.raises(FontError, match=r"bits\.ttf has no outlines, only bitmaps or other tables"):
        open_font(path)


def test_a_symbol_font_is_refused(tmp_path, build_font, box):
    def symbol(builder):
        cmap = builder.font["cmap"]
        del cmap.tables[1:]
        cmap.tables[0].platformID, cmap.tables[0].platEncID = 3, 0

    path = build_font(
        tmp_path / "signs.ttf",
        {"A": lambda pen: box(pen, 0, 0, 9, 9)},
        {"\uf041": "A"},
        finish=symbol,
    )
    with pytest.raises(
        FontError, match=r"signs\.ttf maps no Unicode characters to its glyphs, as symbol fonts do"
    ):
        open_font(path)


def test_an_em_of_no_units_is_refused(tmp_path, build_font, box):
    def no_units(builder):
        builder.font["head"].unitsPerEm = 0

    path = build_font(
        tmp_path / "z.ttf", {"A": lambda pen: box(pen, 0, 0, 9, 9)}, {"A": "A"}, finish=no_units
    )
    with pytest.raises(FontError, match=r"z\.ttf must have 16 to 16384 units in its em, not 0"):
        open_font(path)


def test_a_glyph_that_holds_itself_is_named(tmp_path, build_font):
    def itself(builder):
        glyph = builder.font["glyf"]["B"]
        glyph.components[0].glyphName = "A"
        other = builder.font["glyf"]["A"]
        other.components[0].glyphName = "B"

    def part(pen):
        pen.addComponent("dot", (1, 0, 0, 1, 0, 0))

    def dot(pen):
        pen.moveTo((0, 0))
        pen.lineTo((0, 9))
        pen.lineTo((9, 9))
        pen.closePath()

    path = build_font(tmp_path / "r.ttf", {"dot": dot, "A": part, "B": part}, {"A": "A"})
    with TTFont(path) as font:
        font["glyf"]["A"].components[0].glyphName = "B"
        font["glyf"]["B"].components[0].glyphName = "A"
        font.recalcBBoxes = False
        font["maxp"].recalc = lambda _font: None
        font.save(tmp_path / "loop.ttf")
    with pytest.raises(FontError, match=r"loop\.ttf has a broken glyph 'A'"):
        open_font(tmp_path / "loop.ttf").glyph("A")


@pytest.mark.parametrize("name", ["source-otf", "roboto"])
def test_damage_is_reported_and_never_escapes(tmp_path, font_files, name):
    """Thirty-six damaged copies: cut short, or with bytes changed.

    Each either works or says in one sentence what is wrong.
    """
    rng = random.Random(7)  # noqa: S311 (damage, not secrets)
    whole, path = font_files[name].read_bytes(), tmp_path / "damaged.font"
    sentences = []
    for trial in range(36):
        data = bytearray(whole)
        if trial % 3 == 0:
            del data[rng.randrange(len(data)) :]
        else:
            for _ in range(12):
                data[rng.randrange(600 if trial % 3 == 1 else len(data))] = rng.randrange(256)
        path.write_bytes(data)
        try:
            font = open_font(path)
            set_line(font, "AV 0123456789")
            assert np.isfinite(
                [font.cap_height_em, font.digit_height_em, font.nominal_stem_em]
            ).all()
        except (FontError, MissingGlyphError) as error:
            sentences.append(str(error))
    assert len(sentences) >= 12
    assert not any("\n" in sentence for sentence in sentences)
