"""The overview as set: everything on the sheet, nothing over anything else."""

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.output.overview import FormatSection, Item, set_overview

canvases = st.tuples(st.integers(20, 5000), st.integers(20, 5000))


def items(names, canvas):
    return tuple(Item(name=name, label=name, canvas=canvas) for name in names)


@st.composite
def kits(draw):
    formats = []
    for f in range(draw(st.integers(0, 3))):
        canvas = draw(canvases)
        tiles = items([f"f{f}/s{n}" for n in range(draw(st.integers(0, 22)))], canvas)
        part = (canvas[0] // 10, canvas[1] // 8, canvas[0] - canvas[0] // 9, canvas[1] - 1)
        names = (
            Item(name="words/month", label="", canvas=(900, 200)),
            Item(name="words/year", label="", canvas=(400, 180)),
        )
        formats.append(
            FormatSection(
                title=f"f{f}", layers=tiles[:3], part=part, names=names[: draw(st.integers(0, 2))], items=tiles
            )
        )
    groups = [
        [
            Item(name=f"w{g}-{n}", label="", canvas=(draw(st.integers(20, 3000)), 240))
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
    setting = set_overview(title="Title", note="note", formats=formats, words_title="words", words=groups)
    width, height = setting.size
    for place in setting.prints:
        assert place.x >= 0
        assert place.y >= 0
        assert place.x + place.size[0] <= width
        assert place.y + place.size[1] <= height
        assert min(place.size) >= 1
        assert place.part[0] < place.part[2]
        assert place.part[1] < place.part[3]
    assert all(0 < text.baseline < height for text in setting.texts)
    assert boxes_apart(setting.cards)
    words = [(p.x, p.y, *p.size) for p in setting.prints if p.name.startswith("w")]
    assert boxes_apart([box for box in words if box not in setting.cards])


@settings(max_examples=30, deadline=None)
@given(kits())
def test_every_stamp_is_shown_on_its_own_and_labelled(kit):
    formats, groups = kit
    setting = set_overview(title="Title", note="note", formats=formats, words_title="words", words=groups)
    shown = {place.name for place in setting.prints}
    assert shown >= {item.name for section in formats for item in section.items}
    assert shown >= {item.name for group in groups for item in group}
    labels = [text.text for text in setting.texts]
    assert all(item.label in labels for section in formats for item in section.items)


def test_words_keep_one_scale():
    group = [Item(name=f"w{n}", label="", canvas=(width, 200)) for n, width in enumerate((1500, 700, 900, 300, 450))]
    setting = set_overview(title="T", note="", formats=[], words_title="words", words=[group, group[3:]])
    heights = {place.size[1] for place in setting.prints}
    assert len(heights) == 1


def test_the_layers_of_one_calendar_lie_on_each_other():
    tiles = items(["a/grid", "a/dates"], (2500, 2500))
    section = FormatSection(title="a", layers=tiles, part=(60, 300, 2440, 2200), names=(), items=tiles)
    setting = set_overview(title="T", note="", formats=[section], words_title="", words=[])
    large = [place for place in setting.prints if place.part == section.part]
    assert len({(place.x, place.y, place.size) for place in large}) == 1
    assert [place.name for place in large] == ["a/grid", "a/dates"]
