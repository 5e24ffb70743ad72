"""A real browser for the tests marked `browser`: Debian's Chromium driven by Playwright, with a record of what it asked for."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

PLACES = ("chromium", "chromium-browser", "google-chrome", "chrome")


@dataclass
class Opened:
    """A page of a published site opened from the disc, and everything that went on meanwhile."""

    page: Any
    site: Path
    foreign: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def go(self, name: str) -> None:
        """Open `name` (such as index.html) over file:// and wait until fonts and scripts stand."""
        self.page.goto((self.site / name).as_uri())
        self.page.wait_for_load_state("load")
        self.page.evaluate("document.fonts.ready.then(() => true)")

    def type_search(self, words: str) -> list[str]:
        """Type `words` key by key into the finder; the results as their visible text."""
        finder = self.page.locator("[name=query]")
        finder.click()
        finder.press_sequentially(words)
        self.page.locator(".finder-out li").first.wait_for(timeout=20_000)
        return [str(text) for text in self.page.locator(".finder-out li").all_inner_texts()]


class Browser:
    """Opens sites, each in a context of its own."""

    def __init__(self, chromium: Any) -> None:
        self._chromium = chromium

    @contextmanager
    def open(self, site: Path, width: int = 1440, night: bool = False, scripts: bool = True, name: str = "index.html") -> Iterator[Opened]:
        """A published folder opened at `name`, `width` CSS pixels wide, by day or night, with scripts or without."""
        context = self._chromium.new_context(
            viewport={"width": width, "height": 900}, color_scheme="dark" if night else "light", java_script_enabled=scripts
        )
        opened = Opened(context.new_page(), site)
        opened.page.on("request", lambda asked: _note_foreign(opened, asked.url))
        opened.page.on("requestfailed", lambda asked: opened.complaints.append(f"not found: {asked.url}"))
        opened.page.on("pageerror", lambda fault: opened.complaints.append(f"script: {fault}"))
        opened.page.on("console", lambda said: opened.complaints.append(f"console: {said.text}"))
        try:
            if scripts:
                opened.go(name)
            else:
                opened.page.goto((site / name).as_uri())
            yield opened
        finally:
            context.close()


def _note_foreign(opened: Opened, url: str) -> None:
    if not url.startswith(("file:", "data:", "about:", "blob:")):
        opened.foreign.append(url)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """The browser of the whole session; the test is skipped, saying so, where there is none."""
    api = pytest.importorskip("playwright.sync_api", reason="Playwright is not installed")
    found = next((path for place in PLACES if (path := shutil.which(place))), None)
    if found is None:
        pytest.skip("no Chromium on this machine: " + ", ".join(PLACES) + " were looked for")
    with api.sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield Browser(chromium)
        chromium.close()
