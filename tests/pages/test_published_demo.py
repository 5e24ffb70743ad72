"""The demo, published and opened in a real browser: every sheet of both builds, by day and night, wide and narrow."""

from __future__ import annotations

import re
import warnings
from pathlib import Path

import html5lib
import pytest

from dossier.model.audience import Audience
from dossier.publish import dossiers
from tests.pages.demo import opened

pytestmark = pytest.mark.browser
# Web Content Accessibility Guidelines 2.2, levels A and AA, with axe-core's rules of good practice.
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    out: Path = tmp_path_factory.mktemp("published") / "site"
    builds = opened()
    dossiers.publish([one.edition(Audience.WORKSHOP) for one in builds], [one.path for one in builds], out, single=False)
    return out


def sheets(site: Path) -> list[str]:
    found = sorted(str(path.relative_to(site)) for path in site.rglob("*.html") if "assets" not in path.parts)
    assert len(found) > 25
    return found


def axe_findings(page) -> list[tuple[str, str]]:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe-playwright-python is not installed").Axe()
    found = axe.run(page, options={"runOnly": {"type": "tag", "values": RULES}, "resultTypes": ["violations"]}).response
    return [(each["id"], each["nodes"][0]["html"][:200]) for each in found["violations"]]


@pytest.mark.parametrize(("width", "night"), [(1440, False), (360, True)])
def test_no_sheet_is_wider_than_its_screen_or_asks_or_complains(browser, site, width, night):
    with browser.open(site, width, night) as one:
        wide = []
        for name in sheets(site):
            one.go(name)
            if one.page.evaluate("document.documentElement.scrollWidth") > width:
                wide.append(name)
        assert wide == [] and one.foreign == [] and one.complaints == []


@pytest.mark.parametrize(("width", "night"), [(1440, False), (360, True)])
def test_axe_finds_nothing_on_any_sheet(browser, site, width, night):
    found = {}
    with browser.open(site, width, night) as one:
        for name in sheets(site):
            one.go(name)
            found[name] = axe_findings(one.page)
    assert {name: some for name, some in found.items() if some} == {}


def test_every_sheet_is_clean_html(site):
    for name in sheets(site):
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            html5lib.HTMLParser(strict=True).parse((site / name).read_text("utf-8"))


def test_every_link_within_a_dossier_leads_to_something(site):
    ids = {name: set(re.findall(r' id="([^"]+)"', (site / name).read_text("utf-8"))) for name in sheets(site)}
    dead = []
    for name in ids:
        for address in re.findall(r'href="([^":]+\.html(?:#[^"]+)?)"', (site / name).read_text("utf-8")):
            file, _, id = address.partition("#")
            target = str((site / name).parent.joinpath(file).resolve().relative_to(site.resolve()))
            if target not in ids or (id and id not in ids[target]):
                dead.append((name, address))
    assert dead == []


@pytest.mark.parametrize("build", ["talvera-350-gp", "kestrane-125-r"])
def test_the_set_up_sheet_is_printed_on_one_leaf(browser, site, build):
    with browser.open(site, name=f"{build}/set-up.html") as one:
        leaves = one.page.pdf(prefer_css_page_size=True)
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", leaves)) == 1
