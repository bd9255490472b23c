"""Masters as files, there and back, and what damaged ones give."""

import io
import zipfile

import numpy as np
import pytest

from inkline.errors import InputError
from inkline.press.masters import arrays_from_npz, npz_bytes

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
