"""How stamps of one format lie over each other, by geometry written down here."""

import numpy as np
import pytest

from inkline.proof.finding import Bounds, Finding, Unjudged
from inkline.proof.register import register_findings

XS, YS = (50.0, 150.0, 250.0), (60.0, 160.0)


def rules(xs=XS, ys=YS):
    across = [{"from": [xs[0], y], "to": [xs[-1], y], "width_px": 4.0} for y in ys]
    return across + [{"from": [x, ys[0]], "to": [x, ys[-1]], "width_px": 4.0} for x in xs]


def stamp(name, kind, *, canvas=(300, 300), **geometry):
    return {"name": name, "kind": kind, "canvas": list(canvas), **geometry}


GRID = stamp("grid", "grid", lines=rules())


def found(*entries, pictures=None):
    """Names of stamps that don't fit, and what was not judged of which."""
    given = (lambda entry: pictures.get(entry["name"])) if pictures else (lambda _: None)
    results = list(register_findings(list(entries), picture=given, bounds=Bounds()))
    faults = [one.stamp for one in results if isinstance(one, Finding) and not one.holds]
    return faults, [(one.stamp, one.sentence) for one in results if isinstance(one, Unjudged)]


def glyph(*cell):
    return {"text": "7", "cell": list(cell), "ink": list(cell)}


@pytest.mark.parametrize(
    ("cell", "fits"),
    [
        ((50, 60, 150, 160), True),
        ((50, 60, 149, 160), False),
        ((20, 60, 40, 160), True),  # a week number beside the rows
        ((20, 61, 40, 160), False),
        ((150, 20, 250, 60), True),  # a weekday over a grid without a row for it
        ((151, 20, 251, 60), False),
    ],
)
def test_cells_line_up_with_the_rules_that_they_lie_between(cell, fits):
    assert found(GRID, stamp("s", "dates", glyphs=[glyph(*cell)])) == ([] if fits else ["s"], [])


def test_a_title_over_all_columns_is_free():
    faults, unjudged = found(GRID, stamp("s", "words", glyphs=[glyph(55, 10, 245, 50)]))
    assert faults == []
    assert unjudged == [("s", "how some of it lines up with the others: it lies beside the grid")]


def test_a_canvas_of_its_own_and_a_format_without_a_grid_are_not_judged():
    alone = stamp("s", "dates", glyphs=[glyph(1, 2, 3, 4)], canvas=(100, 40))
    assert found(GRID, alone) == (
        [],
        [("s", "how it lines up with the others: it has a canvas of its own")],
    )
    assert found(alone) == ([], [("s", "how it lines up with the others: its format has no grid")])


def test_the_grid_with_rules_in_most_places_is_the_measure():
    """A grid in panels has more rules than one with a row for the weekdays, but in fewer places."""
    panels = stamp("panels", "grid", lines=rules(xs=XS[:2]) + rules(xs=XS[1:]))
    headed = stamp("headed", "grid", lines=rules(ys=(30.0, *YS)))
    assert found(panels, headed) == ([], [])


def test_circles_may_stand_farther_in_on_two_sides():
    circle = {"x0": 80, "y0": 90, "x1": 120, "y1": 130, "radius": 20.0}
    assert found(GRID, stamp("s", "blocks", boxes=[circle])) == ([], [])
    assert found(GRID, stamp("s", "blocks", boxes=[circle | {"radius": 5.0}])) == ([], [])
    assert found(GRID, stamp("s", "blocks", boxes=[circle | {"x0": 81, "x1": 121}])) == (["s"], [])
    flat = {"x0": 60, "y0": 80, "x1": 140, "y1": 140, "radius": 5.0}
    assert found(GRID, stamp("s", "blocks", boxes=[flat])) == (["s"], [])


def test_letters_on_rules_are_found_and_retouched_grids_are_not_used():
    ink = np.zeros((300, 300), np.uint8)
    ink[60, 50:250] = 255
    words = stamp("s", "dates", glyphs=[glyph(50, 60, 150, 160)])
    assert found(GRID, words, pictures={"grid": ink, "s": ink}) == (["s"], [])
    assert found(GRID, words, pictures={"s": ink}) == ([], [])
