"""What draws in a process of its own, and what is lost with it: nothing."""

import os
import signal
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np
import pytest

from inkline.desk.desk import Desk
from inkline.desk.document import RecipeDocument
from inkline.desk.looking import PictureWish
from inkline.desk.process import StaleError
from inkline.errors import InputError

WISH = PictureWish(stamp="standard/year-2027", width=90)


@pytest.fixture
def desk_of_processes(recipe_file):
    desk = Desk(document=RecipeDocument.opened(recipe_file, otherwise=""))
    yield desk
    desk.stop()


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signal")
def test_a_process_that_is_killed_is_begun_anew_and_draws_on(desk_of_processes):
    desk, easel = desk_of_processes, desk_of_processes.front
    stamp = desk.state()["stamps"][0]["name"]
    wish = PictureWish(stamp=stamp, width=90)
    before, process = easel.call("picture", desk.sheet, wish), easel.pid
    os.kill(process, signal.SIGKILL)
    assert np.array_equal(easel.call("picture", desk.sheet, wish), before)
    assert easel.pid not in {None, process}


def test_an_error_comes_through_and_the_process_stays(desk_of_processes):
    easel = desk_of_processes.front
    easel.start()
    process = easel.pid
    with pytest.raises(InputError, match="no stamp"):
        easel.call("picture", desk_of_processes.sheet, PictureWish(stamp="tall/none", width=90))
    assert easel.pid == process


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signal")
def test_a_picture_that_nobody_waits_for_is_let_go_and_the_next_is_drawn(desk_of_processes):
    desk, easel = desk_of_processes, desk_of_processes.front
    small = PictureWish(stamp="standard/dates-3", width=90)
    before = easel.call("picture", desk.sheet, small)
    process = easel.pid
    rough = replace(small, width=2000, changes={"paper": {"dryness": 0.3}})
    with ThreadPoolExecutor(1) as other:
        waiting = other.submit(easel.call, "picture", desk.sheet, rough)
        while not waiting.done():
            easel.drop()
            time.sleep(0.01)
        with pytest.raises(StaleError, match="nobody waits"):
            waiting.result()
    assert np.array_equal(easel.call("picture", desk.sheet, small), before)
    easel.drop()  # of nothing
    assert easel.call("picture", desk.sheet, rough).shape == (2000, 2000)
    assert easel.pid == process
