"""The frame in a real browser: opened from a disc, by day and night, narrow and wide, with scripts and without."""

from __future__ import annotations

import html
import io
import threading
from dataclasses import replace
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from dossier.pages.page import Page
from tests.publish.sheets import ARCHIVE, FACTS, HOSTILE, SHEETS, TABLE, built

pytestmark = pytest.mark.browser
# Web Content Accessibility Guidelines 2.2, levels A and AA, with axe-core's rules of good practice.
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    return built(tmp_path_factory.mktemp("stick") / "Prüfstand, Blatt 1 & 2 #3")


@pytest.fixture(scope="module")
def archive(tmp_path_factory) -> Path:
    sheets = (Page("index", "All builds", f'<h2 id="all">Builds</h2>\n{TABLE}'), Page("due", "Due soon", "<p>Nothing is due.</p>"))
    return built(tmp_path_factory.mktemp("archive"), sheets, ARCHIVE)


@pytest.fixture(scope="module")
def numbered(tmp_path_factory) -> Path:
    text = '<h2 id="all">Characteristics</h2>\n<p>D01 bore 66.02 mm; ORW-02 set-up as run; C-01 agreed.</p>'
    pages = (Page("index", "Front sheet", "<p>front</p>"), Page("characteristics", "Characteristics", text))
    return built(tmp_path_factory.mktemp("numbered"), pages)


def axe_findings(opened) -> list[tuple[str, str]]:
    """What axe-core finds against RULES, each as the rule's name and the first piece of markup it is about."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe-playwright-python is not installed").Axe()
    found = axe.run(opened.page, options={"runOnly": {"type": "tag", "values": RULES}}).response
    assert found["passes"], "axe looked at nothing"
    return [(each["id"], each["nodes"][0]["html"]) for each in found["violations"]]


def test_typed_search_finds_a_word_from_a_disc_and_leads_to_it(browser, site):
    with browser.open(site) as opened:
        results = opened.type_search("carburettor")
        assert len(results) == 1 and "Declared specification" in results[0]
        opened.page.locator(".finder-out li a").first.click()
        opened.page.wait_for_url("**/specification.html*")
        assert opened.foreign == [] and opened.complaints == []


def test_search_works_from_a_web_server_as_well(browser, site):
    class Quiet(SimpleHTTPRequestHandler):
        def log_message(self, *_: object) -> None:
            pass

    with ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(site))) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        address = f"http://127.0.0.1:{server.server_port}/"
        with browser.open(site) as opened:
            opened.page.goto(address + "index.html")
            assert "Declared specification" in opened.type_search("carburettor")[0]
            assert [asked for asked in opened.foreign if not asked.startswith(address)] == []
            assert opened.complaints == []
        server.shutdown()


def test_what_was_searched_for_is_marked_on_the_sheet_it_leads_to(browser, site):
    with browser.open(site) as opened:
        opened.type_search("carburettor")
        opened.page.locator(".finder-out li a", has_text="Characteristics").click()
        opened.page.locator(".sheet mark").first.wait_for(timeout=20_000)
        assert opened.page.locator(".sheet mark").all_inner_texts() == ["carburettor"]
        assert axe_findings(opened) == []


@pytest.mark.parametrize("typed", ["66.02", "ORW-02 set-up", "d01"])
def test_numbers_and_names_with_hyphens_can_be_searched_for(browser, numbered, typed):
    with browser.open(numbered) as opened:
        assert "Characteristics" in opened.type_search(typed)[0]


def test_search_finds_a_part_of_a_word_and_says_when_there_is_nothing(browser, site):
    with browser.open(site) as opened:
        assert opened.type_search("carbur")
        opened.page.locator("[name=query]").press_sequentially("xyz")
        opened.page.get_by_text("No matching documents").wait_for(timeout=20_000)
        opened.page.get_by_role("button", name="Clear").click()
        assert opened.page.locator("[name=query]").input_value() == ""


@pytest.mark.parametrize("name", ["index.html", "specification.html", "set-up.html"])
@pytest.mark.parametrize("width", [320, 360, 768, 1440, 1600])
def test_no_page_is_wider_than_the_screen_or_asks_anyone_for_anything(browser, site, name, width):
    with browser.open(site, width=width, name=name) as opened:
        assert opened.page.evaluate("document.documentElement.scrollWidth") <= width
        assert opened.foreign == [] and opened.complaints == []


@pytest.mark.parametrize("night", [False, True], ids=["day", "night"])
@pytest.mark.parametrize("width", [360, 1440])
def test_the_frame_passes_axe_by_day_and_night_narrow_and_wide(browser, site, archive, width, night):
    for folder, names in ((site, ("index.html", "specification.html", "set-up.html")), (archive, ("index.html",))):
        for name in names:
            with browser.open(folder, width=width, night=night, name=name) as opened:
                assert axe_findings(opened) == []


@pytest.mark.parametrize("width", [360, 1440])
def test_the_open_search_passes_axe_too(browser, site, width):
    with browser.open(site, width=width) as opened:
        opened.type_search("bore")
        assert axe_findings(opened) == []
        assert opened.page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_word_longer_than_the_screen_is_broken_and_not_run_over_the_edge(browser, tmp_path):
    word = "Kurbelwellenhauptlager" * 6
    body = f'<h2 id="s">{word}</h2>\n<p>{word}</p>\n<figure class="photo"><figcaption>{word}</figcaption></figure>'
    page = Page("index", word, body, heading=word, lead=word, sections=(("s", word),))
    facts = replace(FACTS, title=word, short=word, build=word, builder=word, edition=word, revision=word, revised=word, notice=word)
    site = built(tmp_path, (page,), facts)
    for width in (320, 1440):
        with browser.open(site, width=width) as opened:
            assert opened.page.evaluate("document.documentElement.scrollWidth") <= width


def test_the_first_press_of_tab_offers_to_skip_to_the_sheet(browser, site):
    with browser.open(site) as opened:
        opened.page.keyboard.press("Tab")
        assert opened.page.evaluate("document.activeElement.textContent") == "Skip to the sheet"
        opened.page.keyboard.press("Enter")
        assert opened.page.evaluate("document.activeElement.id") == "sheet"


def paper(opened) -> str:
    return str(opened.page.evaluate("getComputedStyle(document.body).backgroundColor"))


def test_day_and_night_follow_the_system_until_the_button_is_pressed_and_then_stay(browser, site):
    day, night = "rgb(248, 247, 242)", "rgb(23, 25, 22)"
    with browser.open(site, night=True) as opened:
        assert paper(opened) == night
        opened.page.get_by_role("button", name="Day / night").click()
        assert paper(opened) == day
        opened.go("specification.html")
        assert paper(opened) == day
    with browser.open(site) as opened:
        assert paper(opened) == day
        opened.page.get_by_role("button", name="Day / night").click()
        assert paper(opened) == night
        opened.page.get_by_role("button", name="Day / night").click()
        assert paper(opened) == day


def test_the_livery_is_the_machines_own_by_day_and_by_night(browser, site):
    for night, livery in ((False, FACTS.livery_day), (True, FACTS.livery_night)):
        with browser.open(site, night=night) as opened:
            shown = opened.page.evaluate("getComputedStyle(document.querySelector('.folio')).color")
            assert shown == "rgb({}, {}, {})".format(*bytes.fromhex(livery[1:]))


def test_without_scripts_every_sheet_is_complete_and_the_search_is_not_offered(browser, site):
    with browser.open(site, scripts=False, name="specification.html") as opened:
        assert opened.page.get_by_text("The carburettor was jetted at home.").is_visible()
        assert opened.page.get_by_role("navigation", name="Sheets of this dossier").get_by_role("link").count() == 4
        assert not opened.page.locator(".finder").is_visible()
        assert not opened.page.get_by_role("button", name="Day / night").is_visible()


def test_fonts_are_the_ones_that_travel_with_the_site(browser, site):
    with browser.open(site) as opened:
        loaded = opened.page.evaluate("[...document.fonts].filter(face => face.status === 'loaded').map(face => face.family)")
        assert {family.strip('"') for family in loaded} == {"Vollkorn", "Archivo Narrow"}


def test_the_statement_that_it_is_a_replica_is_seen_on_every_sheet(browser, site, archive):
    for folder, label in ((site, "This machine is a"), (archive, "Every machine here is a")):
        for page in sorted(folder.glob("*.html")):
            with browser.open(folder, name=page.name) as opened:
                cell = opened.page.locator(".title-block div", has_text=label).first
                assert cell.is_visible() and cell.inner_text().split("\n")[-1] == "REPLICA"


def test_hostile_text_is_shown_by_the_search_and_never_run(browser, tmp_path):
    sheets = [replace(SHEETS[0], html="<p>front</p>", sections=())]
    for number, text in enumerate(HOSTILE):
        body = f'<h2 id="s">{html.escape(text)}</h2>\n<p>needle {html.escape(text)}</p>'
        sheets.append(Page(f"h{number}", text, body, heading=text, lead=text))
    facts = replace(FACTS, title=HOSTILE[1], short=HOSTILE[1], notice=HOSTILE[0])
    with browser.open(built(tmp_path, tuple(sheets), facts)) as opened:
        opened.page.on("dialog", lambda dialog: opened.complaints.append(f"dialog: {dialog.message}"))
        results = "\n".join(opened.type_search("needle"))
        assert HOSTILE[0] in results
        assert opened.page.locator(".finder-out :is(script, img)").count() == 0
        assert opened.foreign == [] and opened.complaints == []


def test_a_script_planted_in_a_built_page_does_not_run(browser, site):
    page = (site / "index.html").read_text(encoding="utf-8")
    assert '<div class="sheet-body">' in page
    script = '<script>document.title = "run"</script>'
    (site / "planted.html").write_text(page.replace('<div class="sheet-body">', f'<div class="sheet-body">{script}'), encoding="utf-8")
    try:
        with browser.open(site, name="planted.html") as opened:
            assert opened.page.title().startswith("Front sheet")
            assert any("Content Security Policy" in complaint for complaint in opened.complaints)
    finally:
        (site / "planted.html").unlink()


def test_print_is_ink_on_white_even_from_the_night_scheme(browser, site):
    with browser.open(site, night=True) as opened:
        opened.page.emulate_media(media="print")
        assert paper(opened) == "rgb(255, 255, 255)"
        assert opened.page.evaluate("getComputedStyle(document.body).color") == "rgb(0, 0, 0)"
        assert not opened.page.locator(".running").is_visible()


def test_the_set_up_sheet_prints_on_one_a5_leaf_and_other_sheets_on_a4(browser, site):
    pypdf = pytest.importorskip("pypdf", reason="pypdf is not installed")
    for name, millimetres in (("set-up.html", (148, 210)), ("specification.html", (210, 297))):
        with browser.open(site, name=name) as opened:
            leaves = pypdf.PdfReader(io.BytesIO(opened.page.pdf(prefer_css_page_size=True))).pages
        size = tuple(float(side) / 72 * 25.4 for side in leaves[0].mediabox[2:])
        assert len(leaves) == 1
        assert size == pytest.approx(millimetres, abs=0.5)
        printed = " ".join(leaves[0].extract_text().split())
        assert "REPLICA" in printed and "Owner edition, revision B, 3 May 2025" in printed and "leaf 1 of 1" in printed
