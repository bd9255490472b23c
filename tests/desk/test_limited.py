"""Work that may take only so much: what it gives, its refusals, and what is ended."""

import math
import os
import time
from pathlib import Path

import pytest

from inkline.desk.limited import limited
from inkline.errors import InputError
from inkline.kit.recipe.loading import load_recipe


class TestLimited:
    def test_gives_what_the_function_gives(self):
        assert limited(math.gcd, 12, 18) == 6

    def test_errors_are_those_of_the_function(self):
        with pytest.raises(InputError, match="nowhere"):
            limited(load_recipe, Path("nowhere.toml"))

    def test_time_is_limited(self):
        with pytest.raises(InputError, match="longer than 1 s"):
            limited(time.sleep, 60, seconds=1)

    @pytest.mark.skipif(os.name == "nt", reason="memory is not limited there")
    def test_memory_is_limited(self):
        with pytest.raises(InputError, match="more memory"):
            limited(bytearray, 4_000_000_000, most_bytes=2_000_000_000)

    def test_an_end_of_the_process_is_a_refusal(self):
        with pytest.raises(InputError, match="can't be read"):
            limited(os._exit, 3)
