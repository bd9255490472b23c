"""How long a kit will take: in proportion to its work and to how slow the machine is."""

from dataclasses import replace

import pytest

from inkline.ink.style import EXACT
from inkline.kit import time_needed
from inkline.kit.time_needed import seconds_to_draw


@pytest.fixture
def trial(monkeypatch):
    """What the trial takes, in the unit of the machine where the rates were measured."""

    def takes(times):
        monkeypatch.setattr(time_needed, "_trial", lambda: times * time_needed._TRIAL_S)

    takes(1.0)
    return takes


@pytest.mark.usefixtures("trial")
def test_time_grows_with_stamps_and_with_dry_ink():
    dry = replace(EXACT, paper=replace(EXACT.paper, dryness=0.2))
    few, many = (seconds_to_draw(count, EXACT, workers=1) for count in (10, 40))
    assert many - few == pytest.approx(30 * time_needed._STAMP_S)
    assert seconds_to_draw(40, dry, workers=1) > many


def test_a_slower_machine_takes_longer_and_more_processes_less(trial):
    usual = seconds_to_draw(60, EXACT, workers=1)
    assert usual / 2.0 < seconds_to_draw(60, EXACT, workers=2) < usual
    trial(3.0)
    assert seconds_to_draw(60, EXACT, workers=1) == pytest.approx(3.0 * usual)


def test_the_trial_takes_some_time():
    assert time_needed._trial() > 0.0
