"""The large view of photographs in a real browser, from the disc: by key, by mouse, and as a plain link where no scripts run."""

from __future__ import annotations

from pathlib import Path

import pytest

from dossier.model.audience import Audience
from dossier.publish import dossiers
from tests.pages.demo import opened
from tests.pages.test_published_demo import axe_findings

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    out: Path = tmp_path_factory.mktemp("large") / "Prüfstand 1 & 2" / "site"
    [build] = [one for one in opened() if one.slug.startswith("talvera")]
    dossiers.publish([build.edition(Audience.PUBLIC)], [build.path], out, single=True)
    return out


def shown(page) -> str:
    return str(page.evaluate("document.querySelector('.large-view[open] img')?.src.split('/').pop() ?? ''"))


def comes_true(page, what: str) -> None:
    """Asked again and again: the page's own policy forbids the driver's way of waiting."""
    for _ in range(200):
        if page.evaluate(what):
            return
        page.wait_for_timeout(50)
    raise AssertionError(what)


def order(page) -> list[str]:
    found: list[str] = page.evaluate("[...new Set([...document.querySelectorAll('a.large')].map(a => a.href.split('/').pop()))]")
    return found


def test_a_picture_opens_large_turns_by_key_both_ways_round_and_closes(browser, site):
    with browser.open(site, name="photographs.html") as one:
        files = order(one.page)
        assert len(files) > 25
        one.page.locator("a.large").first.focus()
        one.page.keyboard.press("Enter")
        assert shown(one.page) == files[0]
        one.page.keyboard.press("ArrowRight")
        assert shown(one.page) == files[1]
        for _ in range(2):
            one.page.keyboard.press("ArrowLeft")
        assert shown(one.page) == files[-1]
        comes_true(one.page, "document.querySelector('.large-view img').naturalWidth > 1000")
        one.page.keyboard.press("Escape")
        assert shown(one.page) == ""
        comes_true(one.page, f"(document.activeElement.href ?? '').endsWith('{files[-1]}')")
        assert one.foreign == [] and one.complaints == []


def test_focus_stays_within_the_large_view_and_returns_to_the_very_picture_opened(browser, site):
    with browser.open(site, name="photographs.html") as one:
        last = one.page.locator("a.large").last
        last.click()
        for _ in range(6):
            one.page.keyboard.press("Tab")
            assert one.page.evaluate("document.activeElement === document.body || !!document.activeElement.closest('.large-view')")
        one.page.get_by_role("button", name="Close").click()
        comes_true(one.page, "[...document.querySelectorAll('a.large')].pop() === document.activeElement")


@pytest.mark.parametrize(("width", "night"), [(1440, False), (360, True)])
def test_axe_finds_nothing_while_the_large_view_is_open(browser, site, width, night):
    with browser.open(site, width, night, name="photographs.html") as one:
        one.page.locator("a.large").first.click()
        assert one.page.locator(".large-view[open]").is_visible()
        assert one.page.evaluate("document.documentElement.scrollWidth") <= width
        assert axe_findings(one.page) == []


def test_without_scripts_a_picture_leads_to_its_largest_file(browser, site):
    with browser.open(site, scripts=False, name="photographs.html") as one:
        address = one.page.locator("a.large").first.get_attribute("href")
        one.page.locator("a.large").first.click()
        one.page.wait_for_url("**/photographs/*.jpg")
        assert one.page.url.endswith(str(address)) and one.foreign == []


def test_pins_lie_where_they_were_set_and_lead_on_without_scripts(browser, site):
    with browser.open(site, scripts=False, name="index.html") as one:
        picture, pin = (one.page.locator(css).first.bounding_box() for css in (".pinned img", ".pin"))
        # D17: x 16.5, y 62.5 per cent
        assert (pin["x"] + pin["width"] / 2 - picture["x"]) / picture["width"] == pytest.approx(0.165, abs=0.003)
        assert (pin["y"] + pin["height"] / 2 - picture["y"]) / picture["height"] == pytest.approx(0.625, abs=0.003)
        assert min(pin["width"], pin["height"]) >= 24
        one.page.locator(".pin").first.click()
        one.page.wait_for_url("**/specification.html#D17")
