"""Processes that draw: one by itself, several for one kit after another."""

import os
from dataclasses import replace

import pytest

from inkline.errors import WorkError
from inkline.press.crew import Crew, ParallelCrew, hired_staff
from inkline.press.shop import Workshop, about_kit


def test_one_process_does_all_by_itself(small):
    shop = Workshop(small)
    with hired_staff(1) as staff:
        crew = staff.crew(shop, n_jobs=2)
        assert type(crew) is Crew
        assert sorted(crew.results(pid_of, ["words/digit-1", "words/digit-2"])) == [os.getpid()] * 2


def pid_of(shop, name):
    assert name in shop.plans
    return os.getpid()


def test_the_same_processes_work_for_one_kit_after_another(small):
    shops = [Workshop(replace(small, title=title)) for title in ("one", "two", "one")]
    with hired_staff(2) as staff:
        assert type(staff.crew(shops[0], n_jobs=1)) is Crew
        assert staff.pool is None  # nobody is hired for a single job
        crews = [staff.crew(shop, n_jobs=3) for shop in shops]
        assert all(type(crew) is ParallelCrew for crew in crews)
        done, processes = [], set()
        for crew in crews:
            done.append([about["title"] for about in crew.results(about_kit, [{}, {}, {}])])
            processes |= set(staff.pool._processes)
    assert done == [["one"] * 3, ["two"] * 3, ["one"] * 3]
    assert len(processes) <= 2
    assert os.getpid() not in processes


def test_a_process_that_is_killed_is_told_and_the_others_end(small):
    def build():
        with hired_staff(2) as staff:
            return list(staff.crew(Workshop(small), n_jobs=2).results(DiesOnArrival(), [3, 3]))

    with pytest.raises(WorkError, match="one of the drawing processes was stopped by the system"):
        build()


class DiesOnArrival:
    """A task whose arrival in another process ends that process at once.

    The system's memory guard would end it so.
    """

    def __reduce__(self):
        return (os._exit, (3,))
