"""In a browser: another style beside, what a stroke measures, a desk that ends and comes back."""

from tests.desk.browser import (
    desk_running,
    needs_browser,
    page_at,
    picture_of,
    wait_for_other_picture,
    wait_for_picture,
)

pytestmark = needs_browser
OTHER = "() => document.getElementById('other').toDataURL()"


def measure(page, name):
    return page.locator(f'#measured [data-measures="{name}"]').inner_text()


def test_what_the_stroke_measures_follows_what_is_turned(browser, address):
    with page_at(browser, address) as page:
        page.wait_for_selector('#measured [data-measures="edge"]')
        before = measure(page, "edge")
        slider = page.locator("#turn-edge-raggedness")
        slider.focus()
        slider.press("End")
        page.wait_for_function(
            "before => document.querySelector('[data-measures=edge]').textContent !== before",
            arg=before,
        )
        assert float(measure(page, "edge").split()[0]) > float(before.split()[0])


def test_another_style_lies_beside_and_moves_along(browser, address):
    with page_at(browser, address) as page:
        page.select_option("#beside", "chalk")
        empty = page.evaluate(OTHER)
        page.wait_for_function(f"before => ({OTHER})() !== before", arg=empty)
        whole, own = page.evaluate(OTHER), picture_of(page)
        assert whole != own
        page.locator("#picture").focus()
        for _ in range(4):
            page.keyboard.press("+")
        wait_for_other_picture(page, own)
        page.wait_for_function(f"before => ({OTHER})() !== before", arg=whole)
        page.select_option("#beside", "")
        assert not page.locator("#other").is_visible()


def test_the_exact_lines_are_seen_alone_while_their_button_is_held(browser, address):
    with page_at(browser, address) as page:
        ink = picture_of(page)
        page.locator("#alone").hover()
        page.mouse.down()
        wait_for_other_picture(page, ink)
        page.mouse.up()
        wait_for_picture(page, ink)


def test_a_page_goes_on_once_its_desk_is_started_again(browser, recipe_file):
    with desk_running(recipe_file) as address:
        context = browser.new_context()
        page = context.new_page()
        page.goto(address)
        page.wait_for_selector("html[data-drawn-in]")
        page.locator("#pens input[value=chalk]").check(force=True)
        page.wait_for_selector("#undo:not(:disabled)")
    page.click("#undo")
    page.get_by_text("no longer answers").wait_for()
    with desk_running(recipe_file) as again:
        assert again == address
        page.wait_for_function("() => document.getElementById('saying').textContent === ''")
        page.click("#undo")
        page.wait_for_selector("#undo:disabled")
        assert 'name = "felt-marker"' in recipe_file.read_text()
    context.close()
