"""Sheets as somebody asks for them."""

import pytest

from inkline.chance import DEFAULT_NUMBER
from inkline.errors import InputError
from inkline.lettering.families import family_names, family_path
from inkline.sampler.requests import families_from_names, family_at, sampler_request
from inkline.styles.files import style_files


def order(styles=(), ranges=(), number=None):
    return sampler_request(styles, ranges, number=number, style_where="style", range_where="range")


def test_without_names_it_is_all_styles_the_usual_one_first():
    every = order()
    assert every.styles[0].name == "round-pen"
    assert sorted(style.name for style in every.styles) == sorted(style_files())
    assert (every.number, every.n_steps) == (DEFAULT_NUMBER, ())


def test_each_step_of_each_value_is_a_picture():
    matrix = order(["chalk"], ["edge.raggedness=5um..60um:6", "hand.drift=0um..200um:4"], 7)
    assert (matrix.n_steps, matrix.number) == ((6, 4), 7)


@pytest.mark.parametrize(("styles", "came"), [([], "none"), (["chalk", "dip-pen"], "2")])
def test_one_style_varies(styles, came):
    with pytest.raises(InputError, match=f"^range needs exactly one style to vary, not {came}$"):
        order(styles, ["edge.raggedness=5um..60um:6"])


def test_families_are_those_that_are_named_or_all():
    assert list(families_from_names([])) == list(family_names())
    (name,) = families_from_names(["errand"])
    assert name == "errand"
    assert family_at("errand").name == family_at(str(family_path("errand"))).name
