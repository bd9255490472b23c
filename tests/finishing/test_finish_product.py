"""Artwork finished from the command line and from Python: what is drawn, kept and said."""

from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from inkline.artwork.size import PictureSize
from inkline.errors import InputError
from inkline.finishing.marks import ink_runs
from inkline.finishing.product import finish
from inkline.finishing.request import FinishRequest, open_finish
from inkline.ink.engine import draw
from inkline.kit.recipe.choices import ArtLines
from inkline.output.look import Ground

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">'
GRID = (
    '<g id="grid" fill="none" stroke="#123" stroke-width=".8"><rect x="5" y="5" width="50" '
    'height="30"/><path d="M5 15H55M5 25H55"/><path id="middle" d="M30 5V35"/></g>'
)
SMALL = PictureSize(across=480)


@pytest.fixture
def plan(tmp_path):
    def write(*bodies, name="plan"):
        file = tmp_path / f"{name}.svg"
        file.write_text(f"{HEAD}{''.join(bodies)}</svg>", encoding="utf-8")
        return file

    return write


def request_for(*files, **more):
    return FinishRequest(files=files, size=SMALL, style="round-pen", **more)


def marks_of(request):
    opened = open_finish(request)
    runs, _ = ink_runs(opened, opened.sheets[0])
    return {mark.name: mark for run in runs for mark in run.drawing.marks}


def test_names_come_from_ids_and_geometry_never_from_order(plan):
    before = marks_of(request_for(plan(GRID)))
    after = marks_of(
        request_for(plan('<path d="M0 0L60 40" stroke="#000"/>', GRID, '<circle r="3"/>'))
    )
    assert "plan/grid/middle" in before
    assert set(before) < set(after)
    assert all(np.array_equal(before[name].points, after[name].points) for name in before)


@pytest.mark.parametrize("style", ["felt-marker", "round-pen", "quick-note", "chalk"])
def test_lines_keep_their_places_in_every_style(plan, style):
    """The middle of each drawn rule lies within a quarter of a px of the exact one."""
    opened = open_finish(replace(request_for(plan(GRID)), style=style))
    (run,), _ = ink_runs(opened, opened.sheets[0])
    inked = draw(run.drawing, opened.style, 7)
    scale = run.drawing.sheet_px / opened.style.drawn_at
    for master, mark in zip(inked.masters, run.drawing.marks, strict=True):
        along = mark.points[1] - mark.points[0]
        across = np.array([-along[1], along[0]]) / np.hypot(*along)
        path = master.path * scale
        assert abs(float((path @ across).mean())) < 0.25


def test_a_picture_is_drawn_once_and_kept(plan, tmp_path):
    folder = tmp_path / "inked"
    report, _ = finish(request_for(plan(GRID)), folder)
    assert report.drawn == ("plan",)
    first = (folder / "plan.png").read_bytes()
    report, _ = finish(request_for(plan(GRID)), folder)
    assert report.unchanged == ("plan",)
    with Image.open(folder / "plan.png") as picture:
        assert picture.mode == "L"
        assert picture.size == (480, 320)
        assert 0.02 < np.asarray(picture).mean() / 255.0 < 0.3
        picture.transpose(Image.Transpose.ROTATE_180).save(folder / "plan.png")
    report, _ = finish(request_for(plan(GRID, '<circle cx="40" cy="20" r="3"/>')), folder)
    assert report.kept == ("plan",)
    other, _ = finish(request_for(plan(GRID)), tmp_path / "other")
    assert (other.folder / "plan.png").read_bytes() == first


@pytest.mark.parametrize("ground", [Ground.WHITE, Ground.CLEAR])
def test_colours_are_kept(plan, tmp_path, ground):
    block = '<rect x="10" y="10" width="20" height="20" fill="#c03050"/>'
    finish(request_for(plan(block), ground=ground), tmp_path / "inked")
    with Image.open(tmp_path / "inked" / "plan.png") as picture:
        values = np.asarray(picture.convert("RGBA"))
    assert tuple(values[160, 160]) == (0xC0, 0x30, 0x50, 255)
    assert values[5, 5, 3] == (0 if ground is Ground.CLEAR else 255)


def test_white_over_ink_takes_it_away(plan, tmp_path):
    block = '<rect x="5" y="5" width="50" height="30"/>'
    hole = '<circle cx="30" cy="20" r="8" fill="white"/>'
    finish(request_for(plan(block, hole)), tmp_path / "inked")
    with Image.open(tmp_path / "inked" / "plan.png") as picture:
        values = np.asarray(picture)
    assert values[160, 240] == 0
    assert values[160, 80] == 255


def test_what_covers_the_canvas_behind_all_is_paper(plan):
    paper = '<rect width="60" height="40" fill="#fdf6e3"/>'
    opened = open_finish(request_for(plan(paper, GRID)))
    runs, found = ink_runs(opened, opened.sheets[0])
    assert [paint.hex for paint in found.grounds] == ["#fdf6e3"]
    assert [run.paint.hex for run in runs] == ["#112233"]


def test_text_is_set_in_drawn_letters_at_its_place(plan):
    text = '<text x="30" y="20" font-size="8" text-anchor="middle">Tide</text>'
    marks = marks_of(request_for(plan(text)))
    assert all(name.startswith("plan/Tide/") for name in marks)
    points = np.concatenate([mark.points for mark in marks.values()])
    middle = 0.5 * (points[:, 0].min() + points[:, 0].max())
    assert middle == pytest.approx(240.0, abs=6.0)
    heights = points[:, 1].max() - points[:, 1].min()
    assert heights == pytest.approx(0.7 * 8 * 480 / 60, rel=0.25)


def test_turned_text_is_turned_about_its_place(plan):
    level = marks_of(request_for(plan('<text x="30" y="20" font-size="6">ll</text>')))
    turned = marks_of(
        request_for(
            plan('<text x="30" y="20" font-size="6" transform="rotate(90 30 20)">ll</text>')
        )
    )
    for name, mark in level.items():
        away = mark.points - (240.0, 160.0)
        expected = np.stack((240.0 - away[:, 1], 160.0 + away[:, 0]), axis=1)
        assert np.allclose(turned[name].points, expected, atol=1e-6)


def test_bars_are_lines_unless_they_are_to_stay(plan):
    bar = plan('<rect x="5" y="10" width="50" height=".8"/>')
    (line,) = marks_of(request_for(bar)).values()
    assert line.width_px == pytest.approx(0.8 * 8.0, abs=0.01)
    (shape,) = marks_of(request_for(bar, lines=ArtLines.STROKES)).values()
    assert len(shape.contours) == 1


def test_the_stated_size_decides_how_coarse_the_ink_is(plan):
    file = plan(GRID)
    opened = open_finish(request_for(file))
    assert opened.sheets[0].sheet_px == pytest.approx(8.0 * opened.style.drawn_at)
    wide = open_finish(replace(request_for(file), drawn_at=120.0))
    assert wide.sheets[0].sheet_px == pytest.approx(4.0 * opened.style.drawn_at)


def test_two_files_of_one_name_are_refused(plan, tmp_path):
    (tmp_path / "sub").mkdir()
    one = plan(GRID)
    other = tmp_path / "sub" / "plan.svg"
    other.write_bytes(one.read_bytes())
    with pytest.raises(InputError, match=r"would both make plan\.png"):
        open_finish(request_for(one, other))


def test_other_files_are_refused(tmp_path):
    with pytest.raises(InputError, match="a drawing or a picture is required"):
        open_finish(request_for(tmp_path / "a.docx"))


def test_a_folder_that_is_not_ours_is_left(plan, tmp_path):
    folder = tmp_path / "hers"
    folder.mkdir()
    (folder / "letter.txt").write_text("dear")
    with pytest.raises(InputError):
        finish(request_for(plan(GRID)), folder)
    assert [path.name for path in folder.iterdir()] == ["letter.txt"]
