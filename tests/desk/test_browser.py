"""The page in a browser: Debian's Chromium, looked over by axe-core for WCAG 2.2 AA."""

import re
import zipfile

import pytest

from inkline.kit.build import build_kit
from inkline.kit.recipe.loading import load_recipe
from tests.desk.browser import (
    desk_running,
    findings_of_axe,
    needs_browser,
    page_at,
    picture_of,
    wait_for_other_picture,
    wait_for_picture,
    wait_until,
)
from tests.desk.conftest import RECIPE

pytestmark = needs_browser
SMALL = "() => document.getElementById('small').toDataURL()"
DROP_PAINTING = """async () => {
  const canvas = new OffscreenCanvas(40, 40);
  const context = canvas.getContext("2d");
  context.fillStyle = "#208060";
  context.fillRect(0, 0, 40, 40);
  const data = new DataTransfer();
  data.items.add(new File([await canvas.convertToBlob()], "sea.png", { type: "image/png" }));
  const event = new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true });
  document.querySelector(".in-use").dispatchEvent(event);
}"""


def test_a_control_changes_the_picture_and_undo_takes_it_back_to_the_byte(
    browser, address, laid_out
):
    text = laid_out.read_text()
    with page_at(browser, address) as page:
        before = picture_of(page)
        slider = page.locator("#turn-edge-raggedness")
        slider.focus()
        for _ in range(30):
            slider.press("ArrowRight")
        wait_for_other_picture(page, before)
        wait_until(page, lambda: laid_out.read_text() != text)
        for _ in range(30):
            if laid_out.read_text() == text:
                break
            page.keyboard.press("Control+z")
            page.wait_for_timeout(150)
        assert laid_out.read_text() == text
        wait_for_picture(page, before)


def test_a_fault_is_said_in_words_with_a_button_that_takes_it_back(browser, address, laid_out):
    text = laid_out.read_text()
    with page_at(browser, address) as page:
        page.click("#tab-layout")
        cell = page.locator("#set-formats-standard-cell")
        cell.fill("40")
        cell.press("Enter")
        faults = page.locator("#faults")
        faults.wait_for(state="visible")
        assert "cell" in faults.inner_text()
        faults.get_by_role("button", name="Undo this change").click()
        faults.wait_for(state="hidden")
        assert laid_out.read_text() == text


def test_a_numeral_is_clicked_and_another_drawing_of_it_chosen(browser, address, laid_out):
    with page_at(browser, address) as page:
        page.click('#strip button[data-stamp="standard/dates-3"]')
        page.wait_for_selector('html[data-shows="standard/dates-3"]')
        before = picture_of(page)
        box = page.locator("#picture").bounding_box()
        side = min(box["width"], box["height"])
        x, y = box["width"] / 2 + side * (17.5 / 28 - 0.5), box["height"] / 2
        page.locator("#picture").click(position={"x": x, "y": y})
        page.locator("#choice").wait_for()
        clicked = page.locator("#marks").input_value()
        assert re.fullmatch(r"standard/dates-3/\d+", clicked)
        page.locator("#choices input").nth(3).check(force=True)
        wait_for_other_picture(page, before)
        assert f'"{clicked}" = 3' in laid_out.read_text()


def test_the_kit_made_from_the_page_is_the_command_lines_and_is_proved_there(
    browser, recipe_file, tmp_path
):
    recipe_file.write_text(
        RECIPE.replace("[formats.standard]\ncell = 1.0", '[formats.slip]\nshows = "day"').replace(
            "500 px", "300 px"
        )
    )
    with desk_running(recipe_file) as address, page_at(browser, address) as page:
        page.click("#tab-kit")
        page.click("#make")
        page.wait_for_selector("#made-overview:not([hidden])", timeout=300_000)
        with page.expect_download() as coming:
            page.get_by_text("Take the pack").click()
        pack = tmp_path / "pack.zip"
        coming.value.save_as(pack)
        page.click("#prove")
        proof = page.frame_locator("#made-proof")
        proof.get_by_text("All that was measured is within its bounds").first.wait_for()
    build_kit(load_recipe(recipe_file), tmp_path / "own", workers=1)
    made = recipe_file.parent / "ferry-kit"
    own = {
        path.relative_to(tmp_path / "own"): path.read_bytes()
        for path in (tmp_path / "own").rglob("*.png")
    }
    assert len(own) > 10
    assert own == {path.relative_to(made): path.read_bytes() for path in made.rglob("*.png")}
    with zipfile.ZipFile(pack) as packed:
        packs = {name.rpartition("/")[2]: packed.read(name) for name in packed.namelist()}
    for path, data in own.items():
        assert packs.get(path.name, data) == data
    assert len(set(packs) & {path.name for path in own}) > 8


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [(1440, 900), (360, 740)])
def test_nothing_keeps_anybody_out(browser, address, scheme, size):
    with page_at(browser, address, scheme=scheme, size=size) as page:
        for view in ("ink", "layout", "kit"):
            page.click(f"#tab-{view}")
            page.wait_for_timeout(300)
            if view == "ink":
                page.locator("details").first.locator("summary").click()
                page.click("#choose")
            assert findings_of_axe(page) == [], view
            assert page.evaluate("document.documentElement.scrollWidth") <= size[0]


def test_it_is_used_by_keyboard_alone(browser, address):
    with page_at(browser, address) as page:
        page.keyboard.press("Tab")
        seen = []
        for _ in range(60):
            seen.append(page.evaluate("document.activeElement.id"))
            page.keyboard.press("Tab")
        assert {"picture", "tab-ink", "nearer", "exact", "ground", "turn-hand-drift"} <= set(seen)
        page.locator("#picture").focus()
        before = picture_of(page)
        for key in ("+", "+", "+"):
            page.keyboard.press(key)
        near = wait_for_other_picture(page, before)
        page.keyboard.press("ArrowRight")
        wait_for_other_picture(page, near)
        page.keyboard.press("0")
        page.locator("#tab-ink").focus()
        page.keyboard.press("ArrowRight")
        assert page.get_attribute("#tab-layout", "aria-selected") == "true"


def test_a_reload_loses_nothing(browser, address, laid_out):
    with page_at(browser, address) as page:
        page.locator("#pens input[value=chalk]").check(force=True)
        wait_until(page, lambda: 'name = "chalk"' in laid_out.read_text())
        page.reload()
        page.wait_for_selector("html[data-drawn-in]")
        assert page.locator("#pens input[value=chalk]").is_checked()
        page.click("#undo")
        wait_until(page, lambda: 'name = "felt-marker"' in laid_out.read_text())


def test_a_painting_that_is_dropped_lies_below_and_stays_here(browser, address):
    with page_at(browser, address) as page:
        page.wait_for_timeout(500)
        before = page.evaluate(SMALL)
        asked = []
        page.on("request", lambda request: asked.append(request.url))
        page.evaluate(DROP_PAINTING)
        page.wait_for_function(f"before => ({SMALL})() !== before", arg=before)
        assert not any("own-hand" in one or "bring" in one for one in asked)
