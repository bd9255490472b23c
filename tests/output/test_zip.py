"""Archives that depend on their members alone."""

import io
import zipfile

import pytest

from inkline.output.zip import zip_bytes

MEMBERS = [("b/two.txt", b"two"), ("a.txt", b""), ("é.bin", bytes(range(256)))]


def test_members_come_back_in_their_order_unpacked_and_without_a_date():
    with zipfile.ZipFile(io.BytesIO(zip_bytes(MEMBERS))) as file:
        assert [(one.filename, file.read(one)) for one in file.infolist()] == MEMBERS
        assert {one.compress_type for one in file.infolist()} == {zipfile.ZIP_STORED}
        assert {one.date_time for one in file.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert file.testzip() is None


@pytest.mark.parametrize("members", [MEMBERS, MEMBERS[::-1], []])
def test_equal_members_give_equal_bytes(members):
    assert zip_bytes(members) == zip_bytes(iter(members))
