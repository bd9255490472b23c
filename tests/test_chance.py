"""Drawing numbers; the streams that they seed are tested with the ink."""

import pytest

from inkline.chance import DEFAULT_NUMBER, LARGEST_NUMBER, fresh_number, number_or_default
from inkline.errors import InputError


def test_a_number_is_itself_or_that_of_the_default_kit():
    assert number_or_default(None) == DEFAULT_NUMBER
    for number in (0, LARGEST_NUMBER):
        assert number_or_default(number) == number


@pytest.mark.parametrize("number", [-1, LARGEST_NUMBER + 1])
def test_a_number_outside_its_range_is_refused(number):
    sentence = f"^a whole number from 0 to 999999999 is required, not {number}$"
    with pytest.raises(InputError, match=sentence) as caught:
        number_or_default(number)
    assert caught.value.setting == "number"


def test_a_fresh_number_is_one_of_many():
    numbers = [fresh_number() for _ in range(20)]
    assert all(1 <= number <= LARGEST_NUMBER for number in numbers)
    # By chance 20 of a thousand million hold a pair alike about once in five million runs.
    assert len(set(numbers)) == len(numbers)
