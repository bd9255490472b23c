"""The overview as set: everything on the sheet, nothing over anything else."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.kit.papers.overview_items import FormatSection, ShownStamp, StampSeries
from inkline.kit.papers.overview_setting import set_overview

canvases = st.tuples(st.integers(20, 5000), st.integers(20, 5000))


def items(names, canvas):
    return tuple(ShownStamp(name=name, label=name, canvas=canvas) for name in names)


@st.composite
def kits(draw):
    formats = []
    for f in range(draw(st.integers(0, 3))):
        canvas = draw(canvases)
        tiles = items([f"f{f}/s{n}" for n in range(draw(st.integers(0, 22)))], canvas)
        part = (canvas[0] // 10, canvas[1] // 8, canvas[0] - canvas[0] // 9, canvas[1] - 1)
        names = (
            ShownStamp(name="words/month", label="", canvas=(900, 200)),
            ShownStamp(name="words/year", label="", canvas=(400, 180)),
        )
        series = StampSeries(
            items=items([f"f{f}/m{n}" for n in range(draw(st.integers(9, 60)))], canvas)
        )
        formats.append(
            FormatSection(
                title=f"f{f}",
                layers=tiles[: draw(st.sampled_from((0, 3)))],
                part=part,
                names=names[: draw(st.integers(0, 2))],
                items=tiles,
                series=(series,) * draw(st.integers(0, 2)),
            )
        )
    groups = [
        [
            ShownStamp(name=f"w{g}-{n}", label="", canvas=(draw(st.integers(20, 3000)), 240))
            for n in range(draw(st.integers(0, 12)))
        ]
        for g in range(draw(st.integers(0, 3)))
    ]
    return formats, groups


def boxes_apart(boxes):
    return all(
        a[0] + a[2] <= b[0] or b[0] + b[2] <= a[0] or a[1] + a[3] <= b[1] or b[1] + b[3] <= a[1]
        for a, b in combinations(boxes, 2)
    )


@settings(max_examples=60, deadline=None)
@given(kits())
def test_all_lies_on_the_sheet_and_apart(kit):
    formats, groups = kit
    setting = set_overview(
        title="Title", note="note", formats=formats, words_title="words", words=groups
    )
    width, height = setting.size
    for place in setting.prints:
        assert place.x >= 0
        assert place.y >= 0
        assert place.x + place.size[0] <= width
        assert place.y + place.size[1] <= height
        assert min(place.size) >= 1
        assert place.part[0] < place.part[2]
        assert place.part[1] < place.part[3]
    assert all(0 < text.baseline < height for text in setting.lines)
    assert boxes_apart(setting.cards)
    words = [(p.x, p.y, *p.size) for p in setting.prints if p.name.startswith("w")]
    assert boxes_apart([box for box in words if box not in setting.cards])


@settings(max_examples=30, deadline=None)
@given(kits())
def test_every_stamp_is_shown_on_its_own_and_labelled(kit):
    formats, groups = kit
    setting = set_overview(
        title="Title", note="note", formats=formats, words_title="words", words=groups
    )
    shown = {place.name for place in setting.prints}
    assert shown >= {item.name for section in formats for item in section.items}
    assert shown >= {item.name for group in groups for item in group}
    labels = [text.text for text in setting.lines]
    assert all(item.label in labels for section in formats for item in section.items)


def test_words_keep_one_scale():
    group = [
        ShownStamp(name=f"w{n}", label="", canvas=(width, 200))
        for n, width in enumerate((1500, 700, 900, 300, 450))
    ]
    setting = set_overview(
        title="T", note="", formats=[], words_title="words", words=[group, group[3:]]
    )
    heights = {place.size[1] for place in setting.prints}
    assert len(heights) == 1


def test_the_layers_of_one_calendar_lie_on_each_other():
    tiles = items(["a/grid", "a/dates"], (2500, 2500))
    section = FormatSection(
        title="a", layers=tiles, part=(60, 300, 2440, 2200), names=(), items=tiles
    )
    setting = set_overview(title="T", note="", formats=[section], words_title="", words=[])
    large = [place for place in setting.prints if place.part == section.part]
    assert len({(place.x, place.y, place.size) for place in large}) == 1
    assert [place.name for place in large] == ["a/grid", "a/dates"]


def test_a_long_series_is_shown_by_some_and_counted():
    series = StampSeries(items=items([f"a/m{n}" for n in range(28)], (100, 100)))
    grid = items(["a/grid"], (100, 100))
    section = FormatSection(
        title="a", layers=grid, part=(0, 0, 100, 100), names=(), items=grid, series=(series,)
    )
    setting = set_overview(title="T", note="", formats=[section], words_title="", words=[])
    shown = [place.name for place in setting.prints if place.name.startswith("a/m")]
    assert 2 <= len(shown) <= 12
    assert (shown[0], shown[-1]) == ("a/m0", "a/m27")
    steps = [int(name[3:]) for name in shown]
    assert max(np.diff(steps)) - min(np.diff(steps)) <= 1
    texts = [text.text for text in setting.lines]
    assert f"+ {28 - len(shown)}" in texts
    assert "28 in all" in texts


def test_a_family_that_fits_its_row_is_shown_whole():
    series = StampSeries(items=items(["a/m0", "a/m1"], (100, 100)))
    assert [item.name for item in series.some(3)] == ["a/m0", "a/m1"]
    section = FormatSection(
        title="a", layers=(), part=(0, 0, 1, 1), names=(), items=(), series=(series,)
    )
    setting = set_overview(title="T", note="", formats=[section], words_title="", words=[])
    assert len(setting.prints) == 2
    assert not any("in all" in text.text for text in setting.lines)


def test_a_low_calendar_is_as_wide_as_the_sheet_and_its_stamps_lie_below():
    strip = items(["s/grid", "s/dates"], (2500, 250))
    section = FormatSection(
        title="s", layers=strip, part=(60, 20, 2440, 230), names=(), items=strip
    )
    setting = set_overview(title="T", note="", formats=[section], words_title="", words=[])
    large = next(
        card for card in setting.cards if card[2] == max(card[2] for card in setting.cards)
    )
    assert large[2] > 0.85 * setting.size[0]
    small = [card for card in setting.cards if card != large]
    assert all(card[1] >= large[1] + large[3] for card in small)
    assert all(card[3] < card[2] / 2 for card in small)


def test_words_that_are_wider_than_the_sheet_are_made_smaller_alone():
    months = items(["w/a", "w/b"], (500, 200))
    caption = items(["w/c"], (5000, 200))
    setting = set_overview(
        title="T", note="", formats=[], words_title="words", words=[months, caption]
    )
    sizes = {place.name: place.size for place in setting.prints}
    assert sizes["w/a"][1] > sizes["w/c"][1]
    assert sizes["w/c"][0] <= setting.size[0]


def kit_section(title, n_stamps, shape):
    """A format as kits have them: a calendar of these proportions and so many single stamps."""
    canvas = (2500, round(2500 * max(shape, 0.2)))
    tiles = items([f"{title}/s{n}" for n in range(n_stamps)], canvas)
    part = (60, 0, 2440, round(2380 * shape))
    names = items(["words/month", "words/year"], (900, 200)) if shape > 0.5 else ()
    return FormatSection(title=title, layers=tiles[:3], part=part, names=names, items=tiles)


def kit_words():
    widths = (500, 620, 400, 380, 300, 330, 320, 460, 720, 560, 660, 640)
    months = [ShownStamp(name=f"w/m{n}", label="", canvas=(w, 200)) for n, w in enumerate(widths)]
    return [months, items([f"w/d{n}" for n in range(10)], (120, 200))]


@pytest.mark.parametrize(
    "shapes",
    [
        [(16, 0.8)],
        [(16, 0.8), (16, 1.0)],
        [(12, 0.8), (30, 1.0), (9, 0.5)],
        [(16, 0.8), (16, 1.0), (16, 0.6), (8, 0.12)],
        [(20, 0.9)] * 5,
        [(16, 0.8)] * 7,
        [(6, 0.1)],
    ],
)
def test_the_sheet_is_filled_and_no_longer_than_three_to_two(shapes):
    formats = [kit_section(f"f{n}", count, shape) for n, (count, shape) in enumerate(shapes)]
    setting = set_overview(
        title="T", note="", formats=formats, words_title="words", words=kit_words()
    )
    assert max(setting.size) <= 1.5 * min(setting.size)
    width, height = setting.size
    cards = sum(card[2] * card[3] for card in setting.cards)
    assert cards > (0.3 if shapes[0][1] > 0.5 else 0.12) * width * height
    for row in range(0, height - 700, 50):  # nowhere lies a band of white
        band = (row, row + 500)
        near = [c for c in setting.cards if c[1] < band[1] and band[0] < c[1] + c[3]]
        texts = [t for t in setting.lines if band[0] <= t.baseline <= band[1]]
        assert near or texts or any(band[0] <= p.y <= band[1] for p in setting.prints)


@pytest.mark.parametrize("shape", [0.6, 0.8, 1.0, 1.2])
@pytest.mark.parametrize("count", [4, 9, 16, 24])
def test_a_calendar_and_the_stamps_beside_it_end_at_one_height(count, shape):
    setting = set_overview(
        title="T",
        note="",
        formats=[kit_section("f", count, shape)],
        words_title="words",
        words=kit_words(),
    )
    large = max(setting.cards, key=lambda card: card[2] * card[3])
    labels = max(line.baseline for line in setting.lines if line.text.startswith("f/s"))
    assert labels == pytest.approx(large[1] + large[3], abs=0.06 * large[3])
