"""Licence reading against the OpenType specification and the fonts' own texts.

The specification's part is OS/2 fsType.
"""

import pytest
from fontTools.ttLib.tables.DefaultTable import DefaultTable

from inkline.lettering.errors import FontError
from inkline.lettering.font import open_font
from inkline.lettering.licence import CAUTION, Embedding, embedding_from_number, font_licence


@pytest.mark.parametrize(
    ("number", "meaning"),
    [
        (0x0000, Embedding.INSTALLABLE),
        (0x0002, Embedding.RESTRICTED),
        (0x0004, Embedding.PREVIEW_AND_PRINT),
        (0x0008, Embedding.EDITABLE),
        (0x0100, Embedding.INSTALLABLE),
        (0x0304, Embedding.PREVIEW_AND_PRINT),
        (0x0001, Embedding.UNCLEAR),
        (0x0006, Embedding.UNCLEAR),
        (0x000F, Embedding.UNCLEAR),
    ],
)
def test_the_lowest_four_bits_are_one_value(number, meaning):
    """Of fsType's bits 0 to 3 at most one is set, and bit 0 is reserved.

    Source: OpenType specification, OS/2.
    """
    assert embedding_from_number(number, version=4) is meaning


@pytest.mark.parametrize(
    ("number", "meaning"),
    [(6, Embedding.PREVIEW_AND_PRINT), (12, Embedding.EDITABLE), (10, Embedding.EDITABLE)],
)
def test_in_old_tables_the_most_permissive_counts(number, meaning):
    """From memory of the specification's note on versions before 3."""
    assert embedding_from_number(number, version=2) is meaning


def licence_of(path, build_font, box, number):
    path = build_font(
        path, {"A": lambda pen: box(pen, 0, 0, 9, 9)}, {"A": "A"}, os2={"fsType": number}
    )
    return font_licence(path)


def test_bit_eight_is_256_and_not_the_value_8(tmp_path, build_font, box):
    editable = licence_of(tmp_path / "e.ttf", build_font, box, 8)
    assert (editable.embedding, editable.may_be_subset, editable.bitmaps_only) == (
        Embedding.EDITABLE,
        True,
        False,
    )
    whole = licence_of(tmp_path / "w.ttf", build_font, box, 0x0100)
    assert (whole.embedding, whole.may_be_subset, whole.bitmaps_only) == (
        Embedding.INSTALLABLE,
        False,
        False,
    )
    assert "the whole font and not a part" in whole.words()


def test_words_are_careful(tmp_path, build_font, box):
    licence = licence_of(tmp_path / "r.ttf", build_font, box, 0x0202)
    words = licence.words()
    assert licence.fs_type == 0x0202
    assert "must not embed the font without its owner's permission" in words
    assert "only bitmaps of it" in words
    assert "names no licence" in words
    assert words.endswith(CAUTION)
    assert "licence text decides" in CAUTION
    assert "a professional" in CAUTION
    assert "embeds no font" in CAUTION


def test_a_font_that_says_nothing(tmp_path, build_font, box):
    def silent(builder):
        del builder.font["OS/2"]

    path = build_font(
        tmp_path / "s.ttf", {"A": lambda pen: box(pen, 0, 0, 9, 9)}, {"A": "A"}, finish=silent
    )
    licence = font_licence(path)
    assert (licence.fs_type, licence.embedding, licence.may_be_subset) == (
        None,
        Embedding.UNSTATED,
        None,
    )
    assert "says nothing about embedding" in licence.words()


def test_the_makers_texts_are_handed_on(font_files):
    """Source Sans is under the SIL Open Font License, Roboto under the Apache License.

    Source: the fonts' name tables.
    """
    source, roboto = font_licence(font_files["source-otf"]), font_licence(font_files["roboto"])
    assert source.font == "Source Sans Pro"
    assert "SIL Open Font License, Version 1.1" in source.licence
    assert "scripts.sil.org/OFL" in source.address
    assert "Reserved Font Name" in source.copyright
    assert "Apache License, Version 2.0" in roboto.licence
    assert roboto.address in roboto.words()


def test_no_font_no_licence(tmp_path):
    (tmp_path / "x.ttf").write_bytes(b"nothing")
    with pytest.raises(FontError, match=r"x\.ttf is not a font that can be read"):
        font_licence(tmp_path / "x.ttf")


def test_a_broken_table_is_named(tmp_path, build_font, box):
    def breaking(builder):
        broken = DefaultTable("OS/2")
        broken.data = b"\0\4"
        builder.font["OS/2"] = broken

    path = build_font(
        tmp_path / "b.ttf", {"A": lambda pen: box(pen, 0, 0, 9, 9)}, {"A": "A"}, finish=breaking
    )
    with pytest.raises(FontError, match=r"b\.ttf has an OS/2 table that cannot be read: \S"):
        font_licence(path)
    with pytest.raises(FontError, match=r"b\.ttf has an OS/2 table that cannot be read: \S"):
        _ = open_font(path).cap_height_em


def test_texts_of_a_font_without_names(tmp_path, build_font, box):
    def nameless(builder):
        del builder.font["name"]

    path = build_font(
        tmp_path / "n.ttf", {"A": lambda pen: box(pen, 0, 0, 9, 9)}, {"A": "A"}, finish=nameless
    )
    licence = font_licence(path)
    assert (licence.font, licence.copyright, licence.licence) == ("n", "", "")
