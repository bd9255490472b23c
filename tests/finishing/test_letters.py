"""Characters that the letters to be set lack: what stands for them, and what is told."""

import pytest

from inkline.artwork.model import TextRun
from inkline.artwork.size import PictureSize
from inkline.finishing.marks import ink_runs
from inkline.finishing.request import FinishRequest, open_finish


def opened(tmp_path, text):
    file = tmp_path / "sign.svg"
    file.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="200" height="40">\n'
        f'<text y="30">{text}</text></svg>',
        encoding="utf-8",
    )
    return open_finish(FinishRequest(files=(file,), size=PictureSize(ppi=96.0), family="scullery"))


@pytest.mark.parametrize(
    ("text", "becomes", "told"),
    [
        ("5 m\u00b2", "5 m2", "'\u00b2' ('2' is set in its place)"),
        ("a\u2116b", "aNob", "'No' is set"),
        ("tide \u2603", "tide ", "'\u2603' (it is left out)"),
        ("\u4e2d\u4e2d x", " x", "'\u4e2d' (it is left out)"),
        ("a\u00a0b\u00adc", "a bc", ""),
    ],
)
def test_what_a_family_lacks_is_set_as_its_like_or_left_out(tmp_path, text, becomes, told):
    (sheet,) = opened(tmp_path, text).sheets
    (run,) = [item for item in sheet.artwork.items if isinstance(item, TextRun)]
    assert run.text == becomes
    assert [told in lack.sentence for lack in sheet.artwork.lacks] == [True] * bool(told)
    assert all((lack.line, lack.what) == (2, "text") for lack in sheet.artwork.lacks)


def test_a_run_of_which_nothing_is_left_is_none(tmp_path):
    found = opened(tmp_path, '\u4e2d</text><rect width="9" height="9"/><text>')
    assert not any(isinstance(item, TextRun) for item in found.sheets[0].artwork.items)
    assert ink_runs(found, found.sheets[0])[1].n_words == 0
