"""The small parts of a build.

Masters as files, digests, choosing by name, styles, and the processes.
"""

import io
import os
import zipfile
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from inkline.drawing import Cap, Drawing, Layer, Role, Shape, Stroke
from inkline.errors import InputError, WorkError
from inkline.ink.style import EXACT
from inkline.kit.recipe.loading import recipe_from_text
from inkline.press.choice import chosen_names
from inkline.press.crew import Crew, ParallelCrew, hired_staff
from inkline.press.inputs import drawing_digest, sheet_digest
from inkline.press.masters import arrays_from_npz, npz_bytes
from inkline.press.shop import Workshop, about_kit
from inkline.styles.files import load_style, style_files, style_of

ARRAYS = {
    "points": np.arange(12.0).reshape(6, 2),
    "keys": np.array([b"ab", b"cd"]),
    "none": np.zeros((0, 2), np.float32),
}


def test_arrays_come_back_and_numpy_reads_them_too():
    data = npz_bytes(ARRAYS)
    for found in (arrays_from_npz(data, where="m"), np.load(io.BytesIO(data))):
        for name, array in ARRAYS.items():
            assert found[name].dtype == array.dtype
            assert np.array_equal(found[name], array)


def test_equal_arrays_give_equal_bytes_without_a_date():
    assert npz_bytes(ARRAYS) == npz_bytes({name: array.copy() for name, array in ARRAYS.items()})
    with zipfile.ZipFile(io.BytesIO(npz_bytes(ARRAYS))) as file:
        assert {member.date_time for member in file.infolist()} == {(1980, 1, 1, 0, 0, 0)}


def test_damaged_masters_are_told():
    data = npz_bytes(ARRAYS)
    for wrong in (b"", b"no zip", data[: len(data) // 2], data[:200] + b"\0" * 40 + data[240:]):
        with pytest.raises(InputError, match=r"grid\.npz is damaged"):
            arrays_from_npz(wrong, where="grid.npz")


def test_masters_never_run_code():
    buffer = io.BytesIO()
    np.savez(buffer, a=np.array([{"a": 1}], dtype=object))
    with pytest.raises(InputError, match="is damaged"):
        arrays_from_npz(buffer.getvalue(), where="a.npz")


def stroke(**changes):
    values = {
        "name": "standard/grid-5/across-1",
        "group": "standard/grid-5/across-1",
        "role": Role.RULE,
        "points": np.array([[10.0, 20.0], [150.0, 20.0]]),
        "width_px": 3.0,
        "cap": Cap.BUTT,
        "origin": (10.0, 20.0),
    }
    return Stroke(**(values | changes))


def digest_of(
    *marks,
    name="standard/grid-5",
    number=7,
    again=None,
    style=None,
    ppi=300.0,
    canvas=(160, 160),
    sheet=160.0,
):
    drawing = Drawing(
        name=name, canvas=canvas, sheet_px=sheet, layers=(Layer(name="rules", marks=marks),)
    )
    style = EXACT.to_dict() if style is None else style
    return drawing_digest(drawing, number=number, again=again or {}, style=style, ppi=ppi)


BOX = np.array([[10.0, 20.0], [150.0, 20.0], [150.0, 90.0]])


@pytest.mark.parametrize(
    "change",
    [
        {"points": np.array([[10.0, 20.0], [150.0, 20.001]])},
        {"width_px": 3.001},
        {"cap": Cap.ROUND},
        {"origin": (10.0, 20.1)},
        {"crossings": (4.0,)},
        {"room_px": (5.0, np.inf)},
        {"shared": "across"},
        {"closed": True},
        {"group": "other"},
        {"role": Role.WORD},
        {"name": "other"},
        {"profile": np.array([1.0, 1.2])},
    ],
)
def test_whatever_changes_in_a_stroke_changes_the_digest(change):
    assert digest_of(stroke()) != digest_of(stroke(**change))


@pytest.mark.parametrize(
    "change",
    [
        {"number": 8},
        {"again": {"standard/grid-5/across-1": 1}},
        {"again": {"standard": 1}},
        {"style": {}},
        {"ppi": 301.0},
        {"canvas": (161, 160)},
        {"sheet": 161.0},
        {"name": "standard/grid-6"},
    ],
)
def test_whatever_else_changes_the_picture_changes_the_digest(change):
    assert digest_of(stroke()) != digest_of(stroke(), **change)


def test_what_belongs_to_other_stamps_changes_nothing():
    assert digest_of(stroke()) == digest_of(
        stroke(), again={"standard/grid-50": 1, "tall/dates-3/17": 2}
    )
    assert digest_of(stroke()) == digest_of(
        stroke(points=np.array([[10.0, 20.0], [150.0, 20.0 + 1e-9]]))
    )


def test_shapes_count_by_their_contours():
    def shape(*contours):
        return Shape(name="b", group="b", role=Role.BLOCK, contours=contours, origin=(0.0, 0.0))

    digests = {
        digest_of(shape(BOX)),
        digest_of(shape(BOX, BOX + 1)),
        digest_of(shape(BOX + 1)),
        digest_of(stroke()),
    }
    assert len(digests) == 4


def test_sheets_depend_on_version_and_pictures():
    assert sheet_digest(1, "a", ["b"]) == sheet_digest(1, "a", ["b"])
    assert (
        len({sheet_digest(1, "a", ["b"]), sheet_digest(2, "a", ["b"]), sheet_digest(1, "a", ["c"])})
        == 3
    )


def test_a_numeral_is_no_stamp_and_is_told_where_to_go():
    with pytest.raises(
        InputError,
        match=r"'standard/dates-1/17'; a single numeral .* under \[again\] in the recipe",
    ):
        chosen_names(NAMES, ["standard/dates-1/17"], option="--redraw")


NAMES = ("standard/grid-5", "standard/dates-1", "standard/dates-2", "words/month-02")


def test_names_are_chosen_by_pattern():
    assert chosen_names(NAMES, ["standard/dates-*", "words/month-0?"], option="--only") == set(
        NAMES[1:]
    )
    assert chosen_names(NAMES, [], option="--only") == frozenset()


def test_a_pattern_far_from_everything_is_told_what_names_look_like():
    with pytest.raises(
        InputError, match=r"--only: no stamp is called 'zzz'; names look like 'standard/grid-5'"
    ):
        chosen_names(NAMES, ["zzz"], option="--only")


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


def test_one_process_does_all_by_itself(small):
    shop = Workshop(small)
    with hired_staff(1) as staff:
        crew = staff.crew(shop, n_jobs=2)
        assert type(crew) is Crew
        assert sorted(crew.results(pid_of, ["words/digit-1", "words/digit-2"])) == [os.getpid()] * 2


def pid_of(shop, name):
    assert name in shop.plans
    return os.getpid()


def test_the_same_processes_work_for_one_kit_after_another(small):
    shops = [Workshop(replace(small, title=title)) for title in ("one", "two", "one")]
    with hired_staff(2) as staff:
        assert type(staff.crew(shops[0], n_jobs=1)) is Crew
        assert staff.pool is None  # nobody is hired for a single job
        crews = [staff.crew(shop, n_jobs=3) for shop in shops]
        assert all(type(crew) is ParallelCrew for crew in crews)
        done, processes = [], set()
        for crew in crews:
            done.append([about["title"] for about in crew.results(about_kit, [{}, {}, {}])])
            processes |= set(staff.pool._processes)
    assert done == [["one"] * 3, ["two"] * 3, ["one"] * 3]
    assert len(processes) <= 2
    assert os.getpid() not in processes


def test_a_process_that_is_killed_is_told_and_the_others_end(small):
    def build():
        with hired_staff(2) as staff:
            return list(staff.crew(Workshop(small), n_jobs=2).results(DiesOnArrival(), [3, 3]))

    with pytest.raises(WorkError, match="one of the drawing processes was stopped by the system"):
        build()


class DiesOnArrival:
    """A task whose arrival in another process ends that process at once.

    The system's memory guard would end it so.
    """

    def __reduce__(self):
        return (os._exit, (3,))


def test_numerals_of_the_small_cut_are_half_as_ragged():
    text = "version = 1\nnumber = 7\n[formats.standard]\nused_at = 10\n[formats.tall]\n"
    shop = Workshop(recipe_from_text(text, source="small.toml", folder=Path()))
    assert shop.style_for("tall/dates-1") is shop.style
    assert shop.style_for("standard/grid-5") is shop.style
    calm = shop.style_for("standard/dates-1")
    assert calm.edge.raggedness == pytest.approx(0.5 * shop.style.edge.raggedness)
    assert replace(calm, edge=shop.style.edge) == shop.style


def test_the_manifest_says_where_the_letters_come_from(small):
    letters = about_kit(Workshop(small), {})["letters"]
    assert (letters["name"], letters["version"][:1]) == ("Scullery", "1")
    assert "MIT" in letters["licence"]
    assert "embedding" not in letters  # a family is no font file
