"""Stamps of week numbers over the whole 400-year cycle."""

import pytest

from inkline.calendar.weeks import WeekCount, row_weeks
from inkline.kit.chart_weeks import CYCLE, week_runs, weeks_stamp
from inkline.kit.schema_words import WeekNumbers

SUNDAY, MONDAY, SATURDAY = 6, 0, 5


@pytest.mark.parametrize("counted", [WeekNumbers.ISO, WeekNumbers.US])
@pytest.mark.parametrize("week_start", [SUNDAY, MONDAY, SATURDAY])
def test_every_month_has_a_stamp_with_its_weeks(counted, week_start):
    runs = week_runs(counted, week_starts=[week_start])
    used = set()
    for year in CYCLE:
        for month in range(1, 13):
            stem = weeks_stamp(counted, year, month, week_start=week_start)
            numbers = row_weeks(year, month, week_start=week_start, count=WeekCount(counted.value))
            assert runs[stem][: len(numbers)] == numbers
            used.add(stem)
    assert used == set(runs)


def test_names_of_known_months():
    # 2026 has 53 ISO weeks, and 2028 touches 54 weeks from Sunday (computed).
    assert weeks_stamp(WeekNumbers.ISO, 2027, 2, week_start=MONDAY) == "weeks-05"
    assert weeks_stamp(WeekNumbers.ISO, 2026, 12, week_start=MONDAY) == "weeks-49-of-53"
    assert weeks_stamp(WeekNumbers.ISO, 2027, 1, week_start=MONDAY) == "weeks-53-of-53"
    assert weeks_stamp(WeekNumbers.ISO, 2027, 12, week_start=MONDAY) == "weeks-48"
    assert weeks_stamp(WeekNumbers.US, 2027, 12, week_start=SUNDAY) == "weeks-49"
    assert weeks_stamp(WeekNumbers.US, 2028, 12, week_start=SUNDAY) == "weeks-49-of-54"
    assert weeks_stamp(WeekNumbers.NONE, 2027, 12, week_start=SUNDAY) == ""


def test_what_the_stamps_say():
    runs = week_runs(WeekNumbers.ISO, week_starts=[MONDAY])
    assert runs["weeks-05"] == (5, 6, 7, 8, 9, 10)
    assert runs["weeks-48"] == (48, 49, 50, 51, 52, 1)
    assert runs["weeks-49-of-53"] == (49, 50, 51, 52, 53, 1)
    assert set(runs) <= set(week_runs(WeekNumbers.ISO, week_starts=[SUNDAY, MONDAY, SATURDAY]))
    assert week_runs(WeekNumbers.NONE, week_starts=[MONDAY]) == {}
