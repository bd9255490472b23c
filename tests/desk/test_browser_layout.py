"""The layout in the browser: remedies as buttons, languages, a font, a numeral that is moved."""

import tomllib

import pytest

from tests.desk.browser import (
    needs_browser,
    page_at,
    picture_of,
    wait_for_other_picture,
    wait_for_picture,
)

pytestmark = needs_browser


@pytest.fixture
def page(browser, address):
    with page_at(browser, address) as one:
        yield one


def test_a_fault_stands_where_it_arises_with_a_button_that_mends_it(page, laid_out):
    page.click("#tab-layout")
    row = page.locator(".typed", has=page.locator("#set-formats-standard-numeral"))
    size = page.locator("#set-formats-standard-numeral")
    size.fill("1.2")
    size.press("Enter")
    mend = row.get_by_role("button", name="Set numeral to")
    mend.click()
    page.locator("#faults").wait_for(state="hidden")
    assert "numeral = 0.59" in laid_out.read_text()


def test_a_language_is_added_and_taken_out(page, laid_out):
    page.click("#tab-layout")
    page.get_by_label("Another language").select_option(label="German")
    page.get_by_role("button", name="Without German").click()
    page.get_by_role("button", name="Without German").wait_for(state="detached")
    assert 'language = ["en"]' in laid_out.read_text()


def test_a_font_is_dropped_and_its_own_words_on_its_licence_are_shown(page, laid_out, font_file):
    before = picture_of(page)
    page.click("#tab-layout")
    page.set_input_files("#font-file", font_file)
    page.locator("#licences", has_text="The licence text decides").wait_for()
    assert f'font = "{font_file.name}"' in laid_out.read_text()
    assert (laid_out.parent / font_file.name).read_bytes() == font_file.read_bytes()
    page.click('#strip button[data-stamp="standard/dates-3"]')
    wait_for_other_picture(page, before)


def test_a_numeral_is_moved_by_arrow_keys_and_put_back(page, laid_out):
    text = laid_out.read_text()
    page.click('#strip button[data-stamp="standard/dates-3"]')
    page.wait_for_selector('html[data-shows="standard/dates-3"]')
    before = picture_of(page)
    page.click("#choose")
    page.select_option("#marks", label="17")
    page.get_by_role("button", name="To the right").focus()
    for key in ("Shift+ArrowRight", "ArrowDown"):
        page.keyboard.press(key)
        page.wait_for_timeout(100)
    page.get_by_text("10 px to the right, 1 px down").wait_for()
    wait_for_other_picture(page, before)
    assert '17 = ["10 px", "1 px"]' in laid_out.read_text()
    page.get_by_role("button", name="Back in its place").click()
    wait_for_picture(page, before)
    assert tomllib.loads(laid_out.read_text()) == tomllib.loads(text)


def test_another_form_is_chosen_for_a_figure(page, laid_out):
    page.click('#strip button[data-stamp="standard/dates-3"]')
    page.wait_for_selector('html[data-shows="standard/dates-3"]')
    before = picture_of(page)
    page.click("#choose")
    page.select_option("#marks", label="14")
    page.get_by_label("Every 4").select_option(index=1)
    wait_for_other_picture(page, before)
    assert "[lettering.swap]" in laid_out.read_text()
