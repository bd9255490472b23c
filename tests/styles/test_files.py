"""Styles that are based on one another, and settings made to one."""

import pytest

from inkline.errors import InputError
from inkline.ink.style import EXACT, Style
from inkline.ink.values import StyleError
from inkline.styles.files import (
    DEFAULT_STYLE,
    load_style,
    read_style,
    style_fields,
    style_files,
    style_of,
    style_path,
    style_with_settings,
    value_of,
)


@pytest.fixture
def write(tmp_path):
    def written(name, text):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return path

    return written


def test_a_style_lends_what_a_file_based_on_it_leaves_out(write):
    path = write("line.toml", 'based_on = "round-pen"\n[edge]\nraggedness = "25 um"\n')
    style, pen = load_style(path), load_style(style_files()["round-pen"])
    assert style.edge.raggedness == pytest.approx(0.025)
    assert style.edge.correlation == pen.edge.correlation
    assert (style.hand, style.nib, style.paper, style.firmness) == (
        pen.hand,
        pen.nib,
        pen.paper,
        pen.firmness,
    )
    assert (style.name, style.imitates) == ("line", pen.imitates)


def test_styles_may_be_based_on_one_another_in_a_chain(write):
    write(
        "lines/first.toml",
        'based_on = "dip-pen"\nimitates = "a scratchy pen"\n[nib]\npressure = 0.2\n',
    )
    write("second.toml", 'based_on = "lines/first.toml"\n[nib]\ncontrast = 0.3\n')
    third = read_style(write("third.toml", 'based_on = "second.toml"\ndrawn_at = "100 mm"\n'))
    assert (third.style.nib.pressure, third.style.nib.contrast, third.style.drawn_at) == (
        0.2,
        0.3,
        100.0,
    )
    assert (third.style.name, third.style.imitates) == ("third", "a scratchy pen")
    assert third.based_on.path.name == "second.toml"
    assert third.base.nib.contrast == 0.3
    dip = third.based_on.based_on.based_on
    assert (dip.style.name, dip.based_on, dip.base) == ("dip-pen", None, EXACT)


def test_a_file_may_bear_the_name_of_the_style_that_it_is_based_on(write):
    path = write("round-pen.toml", 'based_on = "round-pen"\n[hand]\ntremor = "30 um"\n')
    assert load_style(path).hand.tremor == pytest.approx(0.03)


@pytest.mark.parametrize("names", [("a",), ("a", "b"), ("a", "b", "c")])
def test_a_circle_is_refused_by_name(write, names):
    for name, base in zip(names, (*names[1:], names[0]), strict=True):
        path = write(f"{name}.toml", f'based_on = "{base}.toml"\n')
    ring = " on ".join(f"{name}.toml" for name in (names[-1], *names))
    with pytest.raises(InputError) as error:
        load_style(path)
    assert (
        str(error.value) == f"{names[-1]}.toml: a style may not be based on itself, as here: {ring}"
    )


def test_a_circle_above_a_style_names_only_the_circle(write):
    write("b.toml", 'based_on = "b.toml"\n')
    with pytest.raises(
        InputError,
        match=r"^b\.toml: a style may not be based on itself, as here: b\.toml on b\.toml$",
    ):
        load_style(write("a.toml", 'based_on = "b.toml"\n'))


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ("3", "based_on: a style's name or a file ending in .toml is required, not 3"),
        ('""', "based_on: a style's name or a file ending in .toml is required, not ''"),
        ('"round-pan"', "based_on: there is no style 'round-pan'; did you mean 'round-pen'?"),
        (
            '"lines/mine"',
            "based_on: there is no style 'lines/mine'; a style file's name ends in .toml",
        ),
    ],
)
def test_a_base_that_is_none_is_told(write, given, sentence):
    with pytest.raises(InputError) as error:
        load_style(write("a.toml", f"based_on = {given}\n"))
    assert str(error.value) == f"a.toml: {sentence}"


def test_a_base_that_is_not_there_is_told_with_its_place(write, tmp_path):
    with pytest.raises(InputError, match=r"^the style .*gone\.toml cannot be read: No such file"):
        load_style(write("a.toml", 'based_on = "gone.toml"\n'))
    with pytest.raises(InputError, match="cannot be read"):
        load_style(tmp_path)


def test_all_faults_of_a_file_are_told_with_their_lines(write):
    path = write(
        "a.toml",
        'based_on = "round-pen"\n\n[edge]\nragged = "1 um"\ncorrelation = 3\n[paper]\ndryness = '
        "2\n[papr]\nx = 1\n",
    )
    with pytest.raises(StyleError) as error:
        load_style(path)
    starts = [fault.partition(" a ")[0].partition(" there ")[0] for fault in error.value.faults]
    assert starts == [
        "a.toml, line 4: edge.ragged:",
        "a.toml, line 5: edge.correlation:",
        "a.toml, line 7: paper.dryness:",
        "a.toml, line 8: papr:",
    ]
    assert 'did you mean "raggedness"?' in error.value.faults[0]


def test_faults_are_those_of_the_file_that_has_them(write):
    write("base.toml", '[edge]\nraggedness = "9 m"\n')
    with pytest.raises(StyleError, match=r"^base\.toml, line 2: edge\.raggedness: "):
        load_style(write("a.toml", 'based_on = "base.toml"\n'))


def test_a_recipe_may_name_a_style_file_seen_from_its_folder(write, tmp_path):
    write("mine.toml", 'based_on = "dip-pen"\n[paper]\ndryness = 0.1\n')
    style = style_of("mine.toml", {"nib": {"pressure": 0.3}}, where="r.toml", folder=tmp_path)
    assert (style.name, style.paper.dryness, style.nib.pressure) == ("mine", 0.1, 0.3)
    with pytest.raises(InputError, match=r"other\.toml cannot be read"):
        style_of("other.toml", {}, where="r.toml", folder=tmp_path)


def test_a_style_s_path(tmp_path):
    assert style_path("round-pen", where="X") == style_files()["round-pen"]
    assert style_path("a.toml", folder=tmp_path, where="X") == tmp_path / "a.toml"
    assert style_path(str(tmp_path / "b.toml"), where="X") == tmp_path / "b.toml"
    with pytest.raises(InputError, match=r"^X: there is no style 'xyzzy'; there are .*round-pen"):
        style_path("xyzzy", where="X")


def test_the_usual_style_is_there():
    assert DEFAULT_STYLE in style_files()


def test_every_value_of_a_style_has_a_key_and_a_sentence():
    fields = style_fields()
    assert {
        "drawn_at",
        "hand.drift",
        "nib.ends",
        "edge.raggedness",
        "paper.dryness",
        "firmness.rule",
    } <= set(fields)
    assert not {"name", "imitates", "hand"} & set(fields)
    written = EXACT.to_dict()
    n_values = 1 + sum(len(values) for values in written.values() if isinstance(values, dict))
    assert len(fields) == n_values
    assert all(field.metadata["about"].endswith(".") for field in fields.values())
    assert (value_of(EXACT, "drawn_at"), value_of(EXACT, "nib.ends")) == (84.0, "own")


def test_settings_change_a_style_and_nothing_else():
    settings = [
        "edge.raggedness=25um",
        "paper.dryness = 0.2",
        "nib.ends=tapered",
        "drawn_at=9cm",
        "imitates=ink, old",
    ]
    style, changes = style_with_settings(EXACT, settings, where="--set")
    assert style == Style(
        imitates="ink, old",
        drawn_at=90.0,
        edge=type(EXACT.edge)(raggedness=0.025),
        paper=type(EXACT.paper)(dryness=0.2),
        nib=type(EXACT.nib)(ends="tapered"),
    )
    assert changes["edge"] == {"raggedness": "25um"}
    assert style_with_settings(EXACT, [], where="--set") == (EXACT, {})


@pytest.mark.parametrize(
    ("setting", "sentence"),
    [
        ("rough", "a value is set like \"edge.raggedness=25um\", not 'rough'"),
        ("=3", "a value is set like \"edge.raggedness=25um\", not '=3'"),
        (
            "edge.raggedness=",
            "a value is set like \"edge.raggedness=25um\", not 'edge.raggedness='",
        ),
        ("edge=3", "edge has several values; name one, such as edge.raggedness"),
        (
            "egde.raggedness=3um",
            'egde.raggedness: there is no such value; did you mean "edge.raggedness"?',
        ),
        (
            "edge.ragednes=3um",
            'edge.ragednes: there is no such value; did you mean "edge.raggedness"?',
        ),
        ("paper.dryness=dry", "paper.dryness: a plain number is required, not 'dry'"),
        ("paper.dryness=0.99", "paper.dryness: a value from 0.0 to 0.9 is required, not 0.99"),
        ("nib.ends=sharp", "nib.ends: one of own, round, blunt, tapered is required, not 'sharp'"),
        (
            "hand.drift=9um",
            "hand.stray: a length above 0 is required where there is drift or tremor, not 0 mm",
        ),
    ],
)
def test_a_setting_that_cannot_be_made_is_told(setting, sentence):
    with pytest.raises(StyleError) as error:
        style_with_settings(EXACT, [setting], where="--set")
    assert error.value.faults == (f"--set: {sentence}",)


def test_all_settings_that_cannot_be_made_are_told_at_once():
    with pytest.raises(StyleError) as error:
        style_with_settings(
            EXACT, ["x", "edge.raggedness=3", "edge.spread=1um", "edge.spread=2um"], where="--set"
        )
    assert len(error.value.faults) == 3
    assert "--set: edge.spread is set twice; once is required" in error.value.faults


def test_every_style_that_comes_along_can_be_read():
    assert "round-pen" in style_files()
    for name in style_files():
        assert style_of(name, {}, where="r.toml").name == name


def test_a_recipe_changes_single_values_of_a_style():
    plain, changed = (
        style_of("round-pen", changes, where="r") for changes in ({}, {"hand": {"tremor": "20 um"}})
    )
    assert changed.hand.tremor == pytest.approx(0.02)
    assert changed.nib == plain.nib
    assert changed.hand.drift == plain.hand.drift


def test_a_style_that_is_not_there_is_told_with_the_nearest():
    with pytest.raises(
        InputError,
        match=r"r\.toml: style\.name: there is no style 'round-pan'; did you mean 'round-pen'\?",
    ):
        style_of("round-pan", {}, where="r.toml")
    with pytest.raises(InputError, match=r"there is no style 'xyzzy'; there are .*round-pen"):
        style_of("xyzzy", {}, where="r.toml")


@pytest.mark.parametrize("data", [b"[hand\n", b"\xff\xfe\x00"])
def test_a_broken_style_file_is_told(tmp_path, data):
    (tmp_path / "pen.toml").write_bytes(data)
    with pytest.raises(InputError, match=r"the style .*pen\.toml cannot be read"):
        load_style(tmp_path / "pen.toml")


def test_a_style_has_the_hand_of_the_one_at_its_root(write):
    own = write("own.toml", 'drawn_at = "100 mm"')
    tuned = write("tuned.toml", 'based_on = "own.toml"\n[hand]\ndrift = "0.1 mm"\nstray = "1 mm"')
    again = write("again.toml", 'based_on = "tuned.toml"')
    assert [load_style(file).root for file in (own, tuned, again)] == ["own"] * 3
    shipped = {load_style(path).root for path in style_files().values()}
    assert shipped == set(style_files())
    changed = style_of("round-pen", {"hand": {"drift": "0.1 mm"}}, where="t")
    assert changed.root == "round-pen"


def test_nobody_sets_the_root_of_a_style(write):
    with pytest.raises(StyleError, match=r"^one\.toml: root: there is no such value$"):
        load_style(write("one.toml", 'root = "round-pen"'))
    with pytest.raises(StyleError, match="there is no such value"):
        style_with_settings(EXACT, ["root=own"], where="--set")
