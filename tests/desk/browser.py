"""A browser that looks at the desk: Chromium, driven by Playwright, where there is one."""

import os
import re
import shutil
import signal
import subprocess
import sys
from contextlib import contextmanager

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import sync_playwright

CHROMIUM = os.environ.get("INKLINE_BROWSER") or next(
    filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None
)
needs_browser = pytest.mark.skipif(
    CHROMIUM is None, reason="there is no Chromium here; INKLINE_BROWSER names one"
)
PICTURE_MS = 60_000
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@contextmanager
def desk_running(recipe, *, state=None):
    """The address of a desk with `recipe` on it, served by the command in a process of its own.

    What it remembers lies in the folder `state`, if one is named.
    """
    own = {} if state is None else {"XDG_STATE_HOME": str(state)}
    process = subprocess.Popen(
        [sys.executable, "-m", "inkline", "desk", recipe.name, "--no-browser"],
        cwd=recipe.parent,
        env={**os.environ, **own},
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        yield re.search(r"http://\S+", process.stdout.readline())[0]
    finally:
        process.send_signal(signal.SIGINT)
        process.wait(20)
        process.stdout.close()


@contextmanager
def chromium():
    """Chromium without a window."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield browser
        browser.close()


@contextmanager
def page_at(browser, address, *, size=(1280, 860), scheme="light", touch=False):
    """The page at `address` once its first picture is there; what goes wrong in it is an error."""
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, color_scheme=scheme, has_touch=touch
    )
    page = context.new_page()
    wrong = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.goto(address)
    page.wait_for_selector("html[data-drawn-in]", timeout=PICTURE_MS)
    yield page
    context.close()
    assert wrong == []


def findings_of_axe(page):
    """What keeps anybody out of the page as it stands, by WCAG 2.2 AA and axe's own advice."""
    found = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}})
    return [
        (one["id"], [node["html"][:90] for node in one["nodes"][:3]])
        for one in found.response["violations"]
    ]


def picture_of(page):
    """The pixels of the large picture, as one text."""
    return page.evaluate("() => document.getElementById('picture').toDataURL()")


def wait_until(page, is_so):
    """Wait until something is so that the page brings about elsewhere."""
    for _ in range(400):
        if is_so():
            return
        page.wait_for_timeout(50)
    raise AssertionError("it did not become so")


def wait_for_other_picture(page, before):
    """The pixels of the large picture once they are others than `before`."""
    return _picture_when(page, lambda now: now != before)


def wait_for_picture(page, wanted):
    """Wait until the large picture has the pixels `wanted`."""
    _picture_when(page, lambda now: now == wanted)


def _picture_when(page, is_right):
    for _ in range(400):
        now = picture_of(page)
        if is_right(now):
            return now
        page.wait_for_timeout(50)
    raise AssertionError("the picture did not come")
