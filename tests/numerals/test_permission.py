"""What a font's own file says against a font drawn from it.

Source of the bits' meanings: OpenType specification, OS/2, fsType.
"""

import re
from dataclasses import replace
from pathlib import Path

import font_roboto
import font_source_sans_pro
import pytest

from inkline.cli.remedies import error_sentence
from inkline.errors import InputError
from inkline.lettering.licence import embedding_from_number
from inkline.numerals.permission import (
    Permission,
    check_font_allowed,
    checked_font_name,
    source_font,
)

SOURCE = Path(font_source_sans_pro.font_files_otf["SourceSansPro"])
ROBOTO = Path(font_roboto.font_files["Roboto"])


@pytest.fixture(scope="module")
def source():
    return source_font(SOURCE)


def with_bits(source, fs_type):
    """The font as if its embedding number were another."""
    licence = replace(
        source.licence,
        fs_type=fs_type,
        embedding=embedding_from_number(fs_type, version=4),
        may_be_subset=not fs_type & 0x100,
        bitmaps_only=bool(fs_type & 0x200),
    )
    return replace(source, licence=licence)


@pytest.mark.parametrize("name", ["Pier Figures", "A", "9-Volt", "x" * 29])
def test_plain_names_are_fine(name):
    assert checked_font_name(name) == name


@pytest.mark.parametrize(
    "name", ["", " Pier", "Pier ", "-", "../pier", "pier.otf", "Pi\u00e9r", "x" * 30, "a\nb", "a/b"]
)
def test_other_names_are_not(name):
    with pytest.raises(
        InputError, match="a font's name is 1 to 29 letters, digits, spaces and hyphens"
    ):
        checked_font_name(name)


def test_fonts_say_who_they_are(source):
    assert source.names == ("Source Sans Pro",)
    assert source.reserved == ("Source",)
    assert source.is_open
    roboto = source_font(ROBOTO)
    assert (roboto.names, roboto.reserved, roboto.is_open) == (("Roboto",), (), False)


@pytest.mark.parametrize(
    "name", ["Source Sans Pro", "SOURCE sans-pro", "Source Sans Pro Hand", "SourceSansProx"]
)
def test_the_own_name_of_a_font_is_taken(source, name):
    with pytest.raises(
        InputError,
        match=r"the font needs a name of its own, and .* is or begins with that of Source Sans Pro",
    ):
        check_font_allowed(source, name, permission=Permission.STATED)


@pytest.mark.parametrize("name", ["Source", "Source Hand", "Harbour source", "Sourcerer"])
def test_a_reserved_name_may_not_be_borne(source, name):
    with pytest.raises(InputError, match="'Source' is a reserved name of Source Sans Pro"):
        check_font_allowed(source, name, permission=Permission.STATED)


def test_another_name_may(source):
    check_font_allowed(source, "Resource Figures", permission=Permission.UNSTATED)
    check_font_allowed(source_font(ROBOTO), "Pier Figures", permission=Permission.UNSTATED)


@pytest.mark.parametrize(
    ("bits", "reason"),
    [
        (0x0002, "nothing may be made of it without its owner's permission"),
        (0x0004, "reading and printing only"),
        (0x0001, "no meaning that the standard defines"),
        (0x000E, "no meaning that the standard defines"),
        (0x0200, "bitmaps only and no outlines"),
        (0x0108, "must not be used in part"),
    ],
)
def test_bits_that_forbid_it_need_permission(source, bits, reason):
    font = with_bits(source, bits)
    with pytest.raises(InputError, match=re.escape(reason)) as caught:
        check_font_allowed(font, "Pier Figures", permission=Permission.UNSTATED)
    assert "the licence text decides; say --i-have-permission if" in error_sentence(caught.value)
    check_font_allowed(font, "Pier Figures", permission=Permission.STATED)


@pytest.mark.parametrize("bits", [0x0000, 0x0008])
def test_bits_that_allow_it_need_none(source, bits):
    check_font_allowed(with_bits(source, bits), "Pier Figures", permission=Permission.UNSTATED)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ('with Reserved Font Name "Pier".', ("Pier",)),
        ("with Reserved Font Names 'Pier' and 'Pier Sans'", ("Pier", "Pier Sans")),
        (
            "with Reserved Font Name Pier, Quay and Dock. All rights reserved",
            ("Pier", "Quay", "Dock"),
        ),
        ("Copyright 2020", ()),
    ],
)
def test_reserved_names_are_found(monkeypatch, text, names):
    from inkline.lettering import font  # noqa: PLC0415

    monkeypatch.setattr(font.Font, "text", lambda _, key: {0: text, 1: "Built"}.get(key, ""))
    assert source_font(ROBOTO).reserved == names
