"""Stamps of week numbers over the whole 400-year cycle."""

from itertools import product

import pytest

from inkline.calendar.weeks import WeekCount, row_weeks
from inkline.kit.recipe.choices import WeekNumbers
from inkline.kit.stamps.week_names import weeks_stamp

SUNDAY, MONDAY, SATURDAY = 6, 0, 5


@pytest.mark.parametrize("counted", [WeekNumbers.ISO, WeekNumbers.US])
def test_months_with_one_name_have_the_same_numbers(counted):
    seen = {}
    for year, month, week_start in product(
        range(2000, 2400), range(1, 13), (SUNDAY, MONDAY, SATURDAY)
    ):
        stem = weeks_stamp(counted, year, month, week_start=week_start)
        numbers = row_weeks(year, month, week_start=week_start, count=WeekCount(counted.value))
        longest = seen.setdefault(stem, numbers)
        assert all(one == other for one, other in zip(longest, numbers, strict=False))
        seen[stem] = max(longest, numbers, key=len)
        assert int(stem[6:8]) == numbers[0]


def test_names_of_known_months():
    # 2026 has 53 ISO weeks, and 2028 touches 54 weeks from Sunday (computed).
    assert weeks_stamp(WeekNumbers.ISO, 2027, 2, week_start=MONDAY) == "weeks-05"
    assert weeks_stamp(WeekNumbers.ISO, 2026, 12, week_start=MONDAY) == "weeks-49-of-53"
    assert weeks_stamp(WeekNumbers.ISO, 2027, 1, week_start=MONDAY) == "weeks-53-of-53"
    assert weeks_stamp(WeekNumbers.ISO, 2027, 12, week_start=MONDAY) == "weeks-48"
    assert weeks_stamp(WeekNumbers.US, 2027, 12, week_start=SUNDAY) == "weeks-49"
    assert weeks_stamp(WeekNumbers.US, 2028, 12, week_start=SUNDAY) == "weeks-49-of-54"
    assert weeks_stamp(WeekNumbers.NONE, 2027, 12, week_start=SUNDAY) == ""
