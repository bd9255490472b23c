"""Names of months and days against CLDR, and the days on which weeks start.

Values of CLDR are from memory and from its tables by way of Babel; week starts are those of the
weekData of CLDR 38 (unicode-org/cldr-json).
"""

import subprocess
import sys
import unicodedata
from copy import deepcopy

import pytest
from babel.localedata import LocaleDataDict, load

from inkline.calendar.names import (
    LetterCase,
    LocaleError,
    NameWidth,
    default_numbering,
    language_tag,
    month_names,
    runs_right_to_left,
    text_in_case,
    week_start,
    weekday_letters,
    weekday_names,
)

CAPITALS, AS_WRITTEN = LetterCase.CAPITALS, LetterCase.AS_WRITTEN
LATIN = [
    "ca",
    "cs",
    "da",
    "de",
    "en",
    "es",
    "et",
    "eu",
    "fi",
    "fr",
    "ga",
    "hr",
    "hu",
    "id",
    "is",
    "it",
    "lt",
    "lv",
    "nb",
    "nl",
    "pl",
    "pt",
    "ro",
    "sl",
    "sv",
    "tr",
    "vi",
]
SCRIPTS = dict.fromkeys(LATIN, "LATIN") | {
    "el": "GREEK",
    "ru": "CYRILLIC",
    "ar": "ARABIC",
    "fa": "ARABIC",
    "he": "HEBREW",
    "hi": "DEVANAGARI",
    "th": "THAI",
}
LANGUAGES = tuple(SCRIPTS)


def test_english_months():
    names = month_names("en", width=NameWidth.WIDE, case=CAPITALS)
    assert names[:3] == ("JANUARY", "FEBRUARY", "MARCH")
    assert len(names) == 12
    assert names[11] == "DECEMBER"


def test_names_stand_alone():
    # Polish has lipca inside a date and lipiec alone.
    assert month_names("pl", width=NameWidth.WIDE, case=AS_WRITTEN)[6] == "lipiec"


def test_weekdays_begin_with_monday():
    assert weekday_names("en", width=NameWidth.ABBREVIATED, case=CAPITALS) == (
        "MON",
        "TUE",
        "WED",
        "THU",
        "FRI",
        "SAT",
        "SUN",
    )
    assert weekday_names("de", width=NameWidth.WIDE, case=AS_WRITTEN)[2] == "Mittwoch"


def test_capitals_lose_an_abbreviations_point():
    assert weekday_names("fr", width=NameWidth.ABBREVIATED, case=CAPITALS)[0] == "LUN"
    assert weekday_names("fr", width=NameWidth.ABBREVIATED, case=AS_WRITTEN)[0] == "lun."


# Unicode's SpecialCasing.txt for Turkish and Azeri; Greek by CLDR's el-Upper transform.
@pytest.mark.parametrize(
    ("locale", "small", "capitals"),
    [
        ("tr", "haziran ırmak", "HAZİRAN IRMAK"),
        ("az", "iyun", "İYUN"),
        ("el", "Ιανουάριος", "ΙΑΝΟΥΑΡΙΟΣ"),
        ("de", "Groß", "GROSS"),
    ],
)
def test_capitals_follow_the_language(locale, small, capitals):
    assert text_in_case(small, locale=locale, case=CAPITALS) == capitals


# CLDR 38 weekData; countries whose day has changed from one release to the next are left out.
@pytest.mark.parametrize(
    ("locale", "day"),
    [
        ("en_US", 6),
        ("en", 6),
        ("ja_JP", 6),
        ("en_CA", 6),
        ("de", 0),
        ("fr-FR", 0),
        ("en_GB", 0),
        ("pl", 0),
        ("ar_EG", 5),
        ("fa_IR", 5),
        ("dv_MV", 4),
    ],
)
def test_first_day_of_the_week(locale, day):
    assert week_start(locale) == day


@pytest.mark.parametrize("locale", ["", "xx", "english", "en_XX_YY", 3, None])
def test_an_unknown_language_is_refused(locale):
    with pytest.raises(LocaleError, match="a language is required as CLDR names it") as caught:
        month_names(locale, width=NameWidth.WIDE, case=CAPITALS)
    assert caught.value.locale == locale


@pytest.mark.parametrize("language", LANGUAGES)
def test_each_language_has_names_of_its_own_however_many_were_read_before(language):
    # Babel 2.18 lets languages without names of their own for months that stand alone see those of
    # whichever came first.
    for width in NameWidth:
        names = month_names(language, width=width, case=AS_WRITTEN) + weekday_names(
            language, width=width, case=AS_WRITTEN
        )
        scripts = {
            unicodedata.name(letter).split()[0]
            for name in names
            for letter in name
            if letter.isalpha()
        }
        assert scripts == {SCRIPTS[language]}
        assert len(set(names[:12])) == 12
        assert len(set(names[12:])) == 7


def test_hindi_after_hebrew_is_hindi():
    month_names("he", width=NameWidth.WIDE, case=AS_WRITTEN)
    # January in Hindi, from memory.
    assert month_names("hi", width=NameWidth.WIDE, case=AS_WRITTEN)[0] == "जनवरी"


def test_names_read_alone_are_those_read_among_many():
    code = (
        "from inkline.calendar.names import *\n"
        "print(ascii(month_names('hi', width=NameWidth.WIDE, case=LetterCase.AS_WRITTEN)))"
    )
    alone = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout.strip()
    for language in LANGUAGES:
        month_names(language, width=NameWidth.WIDE, case=AS_WRITTEN)
    assert ascii(month_names("hi", width=NameWidth.WIDE, case=AS_WRITTEN)) == alone


def babel_forms(language, width):
    """CLDR's own forms as Babel has them, without their closing points.

    They are read from a copy, since Babel's tables change as they are read.
    """
    table = LocaleDataDict(deepcopy(load(language)))["days"]["stand-alone"][width]
    return tuple(table[day].removesuffix(".") for day in range(7))


# CLDR's names of weekdays, from memory.
@pytest.mark.parametrize(
    ("language", "count", "letters"),
    [
        ("en", 1, "M T W T F S S"),
        ("en", 2, "MO TU WE TH FR SA SU"),
        ("en", 3, "MON TUE WED THU FRI SAT SUN"),
        ("de", 1, "M D M D F S S"),
        ("de", 2, "MO DI MI DO FR SA SO"),
        ("de", 3, "MON DIE MIT DON FRE SAM SON"),
        ("fr", 2, "LU MA ME JE VE SA DI"),
        ("sv", 2, "MÅ TI ON TO FR LÖ SÖ"),
        ("cs", 3, "PON ÚTE STŘ ČTV PÁT SOB NED"),
        ("el", 1, "Δ Τ Τ Π Π Σ Κ"),
    ],
)
def test_weekdays_in_one_two_or_three_letters(language, count, letters):
    assert weekday_letters(language, count=count, case=CAPITALS) == tuple(letters.split())


@pytest.mark.parametrize("language", LANGUAGES)
def test_one_letter_is_cldrs_narrow_form(language):
    assert weekday_letters(language, count=1, case=AS_WRITTEN) == babel_forms(language, "narrow")


@pytest.mark.parametrize("count", [2, 3])
@pytest.mark.parametrize("language", LANGUAGES)
def test_two_or_three_letters_tell_the_days_apart(language, count):
    found = weekday_letters(language, count=count, case=AS_WRITTEN)
    assert len(set(found)) == 7
    if found not in {babel_forms(language, "short"), babel_forms(language, "abbreviated")}:
        assert all(len(unicodedata.normalize("NFC", name)) == count for name in found)
        assert SCRIPTS[language] in {"LATIN", "GREEK", "CYRILLIC", "HEBREW"}
        whole = (
            babel_forms(language, "wide")
            + babel_forms(language, "abbreviated")
            + babel_forms(language, "short")
        )
        assert all(any(one.startswith(name) for one in whole) for name in found)


def test_beginnings_that_would_be_alike_give_way_to_the_short_form():
    # Basque days of work begin with aste (three) and ost (two), Portuguese ones with qua and qui.
    assert weekday_letters("eu", count=3, case=CAPITALS) == tuple(
        text_in_case(one, locale="eu", case=CAPITALS) for one in babel_forms("eu", "short")
    )
    assert len({name[:2] for name in babel_forms("pt", "short")}) < 7
    assert weekday_letters("pt", count=2, case=AS_WRITTEN) == babel_forms("pt", "short")


@pytest.mark.parametrize("language", ["ar", "fa", "hi"])
def test_words_whose_letters_join_are_never_cut(language):
    assert weekday_letters(language, count=2, case=AS_WRITTEN) == babel_forms(language, "short")
    assert weekday_letters(language, count=3, case=AS_WRITTEN) == babel_forms(
        language, "abbreviated"
    )


def test_an_accent_stays_with_its_letter(monkeypatch):
    decomposed = {
        width: {
            day: unicodedata.normalize("NFD", name)
            for day, name in enumerate(["Ñandú", "óa", "úb", "éc", "ád", "íe", "üf"])
        }
        for width in ("short", "wide")
    }
    monkeypatch.setattr(
        "inkline.calendar.names._names", lambda _: {"days": {"stand-alone": decomposed}}
    )
    found = weekday_letters("es", count=2, case=AS_WRITTEN)
    assert [unicodedata.normalize("NFC", name) for name in found] == [
        "Ña",
        "óa",
        "úb",
        "éc",
        "ád",
        "íe",
        "üf",
    ]


@pytest.mark.parametrize(
    ("locale", "tag"),
    [
        ("de", "de"),
        ("pt_BR", "pt-br"),
        ("pt-BR", "pt-br"),
        ("sr_Latn", "sr-latn"),
        ("EN_us", "en-us"),
    ],
)
def test_a_language_has_one_tag_however_it_is_spelled(locale, tag):
    assert language_tag(locale) == tag
    assert tag.isascii()


# ISO 15924 and UAX #9: Arabic and Hebrew are written from the right, Devanagari from the left.
@pytest.mark.parametrize(
    ("locale", "from_right"),
    [("ar", True), ("fa", True), ("he", True), ("hi", False), ("en", False)],
)
def test_direction(locale, from_right):
    assert runs_right_to_left(locale) == from_right


# CLDR's default numbering systems, from memory; those of Arabic differ by country and have changed.
@pytest.mark.parametrize(
    ("locale", "code"),
    [
        ("en", "latn"),
        ("fa", "arabext"),
        ("fa_IR", "arabext"),
        ("mr", "deva"),
        ("bn", "beng"),
        ("hi", "latn"),
    ],
)
def test_usual_numbering(locale, code):
    assert default_numbering(locale) == code
