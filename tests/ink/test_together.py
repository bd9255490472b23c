"""What is drawn together is drawn as if alone."""

import numpy as np

from inkline.ink.noise import band_waves, noises_of, slow_waves
from inkline.ink.together import drawn_alone, drawn_together


def lines(count):
    """Noise asked for along lines that are short or long, coarse or fine, and run either way."""
    for number in range(count):
        generator = np.random.default_rng(number)
        at = np.sort(generator.random(2 + 7 * (number % 90))) * (1.0 + number % 11)
        at = at[::-1] if number % 5 == 0 else at
        if number % 2:
            yield band_waves(generator, at, low=8.0, high=12.0)
        else:
            yield slow_waves(generator, at, corner=0.3, limit=2.0)


def test_noise_along_a_line_among_four_hundred_is_what_it_is_alone():
    asked = list(lines(400))
    for own, among in zip(asked, noises_of(asked), strict=True):
        (alone,) = noises_of([own])
        assert alone.tobytes() == among.tobytes()
    assert noises_of([]) == []


def test_each_drawing_goes_on_with_the_noise_that_it_asked_for():
    def drawing(number):
        total, asked = 0.0, list(lines(10))
        for own in asked[: number % 4]:  # some ask for nothing, some three times
            noise = yield own
            total += float(noise.sum()) + len(noise)
        return number, total

    together = drawn_together([drawing(number) for number in range(9)])
    assert [number for number, _ in together] == list(range(9))
    assert together == [drawn_alone(drawing(number)) for number in range(9)]
    assert together[0][1] == 0.0
    assert len({total for _, total in together}) == 4
    assert drawn_together([]) == []
