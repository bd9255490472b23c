"""Drawing numbers; the streams that they seed are tested with the ink."""

import pytest

from inkline.chance import (
    DEFAULT_NUMBER,
    LARGEST_NUMBER,
    fresh_number,
    number_of_kit,
    number_or_default,
    stream,
)
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


def test_kits_that_share_a_number_have_each_their_own():
    names = [f"kit-{at}" for at in range(50)]
    numbers = [number_of_kit(number, name) for number in (0, 7, LARGEST_NUMBER) for name in names]
    assert len(set(numbers)) == len(numbers)
    assert all(1 <= number <= LARGEST_NUMBER for number in numbers)
    assert number_of_kit(7, "calm") == number_of_kit(7, "calm")


def test_two_hands_draw_from_streams_of_their_own():
    draws = [stream(7, "a/1", 0, "hand", hand).random() for hand in ("", "one", "two")]
    assert len(set(draws)) == 3
    assert stream(7, "a/1", 0, "hand").random() == draws[0]
