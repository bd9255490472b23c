"""Names against CLDR's values (from memory), week starts against the weekData of CLDR 38 (unicode-org/cldr-json)."""

import pytest

from inkline.calendar.names import LetterCase, LocaleError, NameWidth, cased, month_names, week_start, weekday_names

CAPITALS, AS_WRITTEN = LetterCase.CAPITALS, LetterCase.AS_WRITTEN


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
    assert cased(small, locale=locale, case=CAPITALS) == capitals


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
