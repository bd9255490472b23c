"""Artwork in the browser: dropped, looked at with its names, drawn in colours, taken away."""

import io
import zipfile

import numpy as np
import pytest
from PIL import Image

from inkline.finishing.product import finish
from inkline.finishing.request import FinishRequest
from inkline.kit.recipe.choices import ArtBeyond
from inkline.output.look import Ground
from tests.desk.browser import (
    desk_running,
    findings_of_axe,
    needs_browser,
    page_at,
    picture_of,
    wait_for_other_picture,
    wait_for_picture,
)
from tests.desk.conftest import RECIPE
from tests.support.desk_artwork import PLAN

pytestmark = needs_browser
LOOKED_AT = 'html[data-shows="artwork:plan"]'
DROP = """text => {
  const data = new DataTransfer();
  data.items.add(new File([text], "plan.svg", { type: "image/svg+xml" }));
  const at = document.getElementById("picture");
  for (const kind of ["dragover", "drop"]) {
    at.dispatchEvent(new DragEvent(kind, { dataTransfer: data, bubbles: true, cancelable: true }));
  }
}"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A folder with a recipe that names artwork."""
    folder = tmp_path_factory.mktemp("ferry")
    (folder / "ferry.toml").write_text(RECIPE + '\n[finish]\nfiles = ["plan.svg"]\n')
    (folder / "plan.svg").write_text(PLAN)
    return folder


@pytest.fixture(scope="module")
def with_artwork(folder):
    """The address of a desk with that on it."""
    with desk_running(folder / "ferry.toml", state=folder / "state") as one:
        yield one


def test_artwork_is_dropped_looked_at_drawn_in_its_colours_and_taken_away(
    browser, recipe_file, tmp_path
):
    with desk_running(recipe_file) as address, page_at(browser, address) as page:
        page.evaluate(DROP, PLAN)
        page.wait_for_selector(LOOKED_AT)
        page.get_by_text("a grid of 7 x 5 cells of 6 x 4 mm").wait_for()
        ink = picture_of(page)
        page.click("#artwork-names")
        named = wait_for_other_picture(page, ink)
        page.click("#artwork-names")
        wait_for_picture(page, ink)
        assert named != ink
        page.check("#ground-clear")
        coloured = wait_for_other_picture(page, ink)
        page.get_by_role("button", name="Draw its nearest plain thing").click()
        page.get_by_text("is drawn as its mean colour").wait_for()
        plain = wait_for_other_picture(page, coloured)
        page.select_option("#cells-what", "dates")
        page.fill("#cells-of", "2027-02")
        page.locator("#cells-of").press("Tab")
        wait_for_other_picture(page, plain)
        page.wait_for_selector(".sheet:not(.waiting)")
        page.click("#artwork-make")
        with page.expect_download(timeout=60_000) as coming:
            page.locator("#artwork-pack a").click(timeout=60_000)
        coming.value.save_as(tmp_path / "pack.zip")
    request = FinishRequest(
        files=(tmp_path / "plan.svg",),
        style="felt-marker",
        number=411,
        ground=Ground.CLEAR,
        beyond_ink=ArtBeyond.PLAIN,
        into_cells="dates=2027-02",
    )
    finish(request, tmp_path / "own")
    own = sorted(path.relative_to(tmp_path / "own") for path in (tmp_path / "own").rglob("*.png"))
    made = tmp_path / "ferry-artwork"
    assert len(own) > 1
    for path in own:
        assert (made / path).read_bytes() == (tmp_path / "own" / path).read_bytes()
    with zipfile.ZipFile(tmp_path / "pack.zip") as pack:
        names = [name for name in pack.namelist() if name.endswith(".png")]
        assert names
        assert np.asarray(Image.open(io.BytesIO(pack.read(names[0])))).any()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [(1440, 900), (360, 740)])
def test_its_view_keeps_nobody_out(browser, with_artwork, scheme, size):
    with page_at(browser, with_artwork, scheme=scheme, size=size) as page:
        page.click("#tab-artwork")
        page.wait_for_selector(LOOKED_AT)
        page.get_by_text("More", exact=True).click()
        page.select_option("#cells-what", "numerals")
        page.get_by_text("needs").or_(page.get_by_label("to", exact=True)).first.wait_for()
        assert findings_of_axe(page) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= size[0]


def test_its_ink_is_turned_and_one_thing_drawn_again_by_keyboard(browser, with_artwork, folder):
    recipe = folder / "ferry.toml"
    with page_at(browser, with_artwork) as page:
        page.locator("#tab-ink").focus()
        for _ in range(2):
            page.keyboard.press("ArrowRight")
        page.wait_for_selector(LOOKED_AT)
        page.keyboard.press("ArrowLeft")
        page.keyboard.press("ArrowLeft")
        before = picture_of(page)
        page.locator("#turn-hand-drift").focus()
        page.keyboard.press("End")
        turned = wait_for_other_picture(page, before)
        page.locator("#choose").focus()
        page.keyboard.press("Enter")
        page.select_option("#marks", label="title/May")
        page.locator("#choices input").first.focus()
        page.keyboard.press("ArrowRight")
        wait_for_other_picture(page, turned)
        assert '"plan/title/May" = 1' in recipe.read_text()
