"""How long the page takes from a control's change to the new picture on the screen, in Chromium.

Run with `python tests/bench/bench_desk.py`; needs Chromium, which `INKLINE_BROWSER` may name. Times
are milliseconds in the browser, on the machine as it is.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "desk"))

from browser import chromium, desk_running, page_at  # noqa: E402 - it lies there

STYLES, STAMPS = ("round-pen", "brush-pen"), ("standard/grid-5", "standard/dates-3")
CONTROLS = ("edge-raggedness", "paper-dryness", "nib-pressure", "hand-drift")
TURNS, REST_MS = 25, 900  # until what was turned is kept, and shown again
RECIPE = 'version = 1\ntitle = "Fog Bell"\nnumber = 5140\n[style]\nname = "{style}"\n'


def measured(page, control):
    """The times of `TURNS` changes of a control, each begun when the one before is seen."""
    slider = page.locator(f"#turn-{control}")
    slider.evaluate("slider => (slider.value = 100)")
    slider.focus()
    times = []
    for _ in range(TURNS):
        before = page.get_attribute("html", "data-drawings")
        slider.press("ArrowRight")  # never back: a picture that is kept would be shown
        page.wait_for_selector(f'html:not([data-drawings="{before}"])')
        times.append(float(page.get_attribute("html", "data-drawn-in")))
        page.wait_for_timeout(REST_MS)
    return times


def main():
    print(f"{'style':12}{'stamp':18}{'control':18}{'median':>8}{'95 %':>8}")
    with chromium() as browser:
        for style in STYLES:
            with tempfile.TemporaryDirectory() as folder:
                recipe = Path(folder) / "fog-bell.toml"
                recipe.write_text(RECIPE.format(style=style))
                with (
                    desk_running(recipe) as address,
                    page_at(browser, address, size=(1200, 1000)) as page,
                ):
                    page.wait_for_timeout(15_000)  # until the strip is drawn
                    for stamp in STAMPS:
                        page.click(f'#strip button[data-stamp="{stamp}"]')
                        page.wait_for_selector(f'html[data-shows="{stamp}"]')
                        for control in CONTROLS:
                            times = measured(page, control)
                            median = statistics.median(times)
                            high = statistics.quantiles(times, n=20)[-1]
                            print(f"{style:12}{stamp:18}{control:18}{median:8.0f}{high:8.0f}")


if __name__ == "__main__":
    main()
