"""Masters as files, there and back, and what damaged ones give."""

import io
import zipfile

import numpy as np
import pytest

from inkline.errors import InputError
from inkline.ink.master import Master, arrays_from_masters
from inkline.press.masters import arrays_from_npz, masters_at, npz_bytes

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


def drawn_arrays():
    """Arrays of two masters, one of them a stroke with its path."""
    corners = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0]])
    line = Master(
        key="a" * 32,
        contours=(corners, corners + 2.0),
        path=corners,
        times=np.arange(3.0),
        pressures=np.ones(3),
        levels=np.ones(3),
    )
    return arrays_from_masters([line, Master(key="b" * 32, contours=(corners,))])


@pytest.mark.parametrize(
    ("name", "change"),
    [
        ("contour_points", lambda array: array[:-1]),
        ("contour_points", lambda array: array.ravel()),
        ("contour_points", lambda array: array.astype(np.float64) * np.nan),
        ("contour_counts", lambda array: array + 1),
        ("contour_lengths", lambda array: -array),
        ("path_lengths", lambda array: array[:1]),
        ("times", lambda array: array + np.inf),
        ("pressures", lambda array: array * 1e30),
        ("levels", lambda array: array.astype(str)),
        ("keys", lambda array: np.arange(len(array))),
        ("teeth", lambda array: array[:, :3]),
        ("teeth", np.ones_like),
        ("spine_lengths", lambda array: array + 7),
        ("format", lambda array: array[:0]),
    ],
)
def test_masters_that_nobody_can_have_drawn_are_damaged(tmp_path, name, change):
    arrays = drawn_arrays()
    path = tmp_path / "m.npz"
    path.write_bytes(npz_bytes(arrays))
    assert masters_at(path)[1] == ()
    assert len(masters_at(path)[0]) == 2
    path.write_bytes(npz_bytes(arrays | {name: change(arrays[name])}))
    masters, notes = masters_at(path)
    assert masters == {}
    assert ["file is damaged" in note.sentence for note in notes] == [True]


def test_masters_that_say_more_than_their_file_holds_are_damaged(tmp_path):
    huge = b"".join(
        [
            b"\x93NUMPY\x01\x00\x76\x00",
            b"{'descr': '<f8', 'fortran_order': False, 'shape': (1000000000000,), }".ljust(117)
            + b"\n",
        ]
    )
    for compression, data in (
        (zipfile.ZIP_STORED, huge),
        (zipfile.ZIP_DEFLATED, bytes(30_000_000)),
    ):
        with zipfile.ZipFile(tmp_path / "m.npz", "w", compression) as file:
            file.writestr("format.npy", data)
        masters, notes = masters_at(tmp_path / "m.npz")
        assert (masters, len(notes)) == ({}, 1)
