"""The archive in a real browser, opened from a disc: its rows sifted and put in order, by mouse and by keys; and whole without scripts."""

from __future__ import annotations

from pathlib import Path

import pytest

from dossier.model.entry import DueEntry, Entry, FigureEntry, ItemEntry, OpenEntry, PartEntry, RefusedEntry, SourceEntry, SpareEntry, Taken
from dossier.model.results import Outcome
from dossier.publish.archive import publish_archive
from tests.pages.archive.made import DAY, entry
from tests.pages.archive.test_instruments import item, used
from tests.publish.test_browser_shell import axe_findings

pytestmark = pytest.mark.browser
PAGES = ("index", "side-by-side", "side-by-side-1", "parts-across", "instruments", "due-soon", "evidence-across")
NAMES = ("alder #1 große", "birch", "cedar", "dogwood", "elm")


def machine(n: int) -> Entry:
    """One of five machines whose completion, verdicts and days run in different orders."""
    outcome = (Outcome.CONFORMS, Outcome.FAILS, Outcome.UNDECIDED, Outcome.CONFORMS, Outcome.FAILS)[n]
    bore = ItemEntry(
        "D02", "Bore", "62.00 mm", outcome, "mm", 3, quantity="bore", readings=(Taken("left", 62 + n / 100, 0.004, (f"M{n % 2}",)),)
    )
    return entry(
        NAMES[n], completed=(2024, 2019, 2021, 2005, 2011)[n], items=(bore, item("D03", "M1")), class_=("single", "Zweizylinder, große")[n % 2],
        figures=(FigureEntry("swept_volume", "Swept volume", "cc", 2, "engine", (Taken("", 349.0 + n, 0.13, ("?",)),)),),
        open=(OpenEntry("snag", "S1", "leaks"),) * n, parts=(PartEntry("P01", "Selector drum", "gearbox", "unknown", "Ondrell"),),
        refused=(RefusedEntry("R01", "Piston set", "out of square", "returned", "Bramwick"),), spares=(SpareEntry("Clutch cable", "new"),),
        instruments=(used("D03", "2025-03-01", "2025-06-01 failed"),),
        due=(DueEntry("L1", "hub", "the works’", "strip", 80.0 + n, 100.0 - n, "days", 0, DAY(f"2025-0{9 - n}-01") if n < 4 else None),
             DueEntry("L2", "rods")),
        sources=(SourceEntry("E01", "Grid, left side", "photograph", DAY("1961-06-04"), "B2", ("D02",)),),
    )  # fmt: skip


@pytest.fixture(scope="module")
def archive(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("stick") / "Archiv, Blatt 1 & 2 #3"
    machines = [machine(n) for n in range(len(NAMES))]
    publish_archive(machines, folder)
    for one in machines:  # sheets for the links to lead to
        for sheet, title in one.sheets:
            (folder / one.slug).mkdir(exist_ok=True)
            (folder / one.slug / f"{sheet}.html").write_text(f"<!doctype html><title>{title}</title>", encoding="utf-8")
    return folder


def shown(opened) -> list[str]:
    return [text.strip() for text in opened.page.locator("table.builds tbody tr:visible th").all_inner_texts()]


@pytest.mark.parametrize("width, night", [(360, True), (1440, False)], ids=["narrow, by night", "wide, by day"])
@pytest.mark.parametrize("name", PAGES)
def test_no_page_of_the_archive_is_barred_to_anybody_or_runs_off_the_side(browser, archive, name, width, night):
    with browser.open(archive, width=width, night=night, name=f"{name}.html") as opened:
        assert opened.page.evaluate("document.documentElement.scrollWidth") <= width
        assert opened.foreign == [] and opened.complaints == []
        assert axe_findings(opened) == []


def test_rows_with_all_the_words_typed_are_shown_and_counted_aloud(browser, archive):
    with browser.open(archive) as opened:
        count = opened.page.locator(".sifter output")
        assert count.inner_text() == "5 rows" and count.get_attribute("role") == "status"
        opened.page.get_by_label("Only rows with").press_sequentially("ZWEIZYL  corvane")
        assert shown(opened) == ["BIRCH", "DOGWOOD"] and count.inner_text() == "2 of 5 rows"
        opened.page.get_by_label("Only rows with").press_sequentially(" nowhere")
        assert shown(opened) == [] and count.inner_text() == "none of 5 rows"
        opened.page.get_by_label("Only rows with").fill("")
        assert len(shown(opened)) == 5


def test_a_column_is_put_in_order_from_the_keyboard_and_turned_round(browser, archive):
    with browser.open(archive) as opened:
        button = opened.page.get_by_role("button", name="Completed")
        head = opened.page.get_by_role("columnheader", name="Completed")
        button.focus()
        opened.page.keyboard.press("Enter")
        # completed 2005, 2011, 2019, 2021, 2024
        assert shown(opened) == ["DOGWOOD", "ELM", "BIRCH", "CEDAR", "ALDER #1 GROSSE"] and head.get_attribute("aria-sort") == "ascending"
        opened.page.keyboard.press("Space")
        assert shown(opened) == ["ALDER #1 GROSSE", "CEDAR", "BIRCH", "ELM", "DOGWOOD"] and head.get_attribute("aria-sort") == "descending"
        opened.page.get_by_role("button", name="Open").click()
        assert shown(opened) == ["ALDER #1 GROSSE", "BIRCH", "CEDAR", "DOGWOOD", "ELM"] and head.get_attribute("aria-sort") is None


def test_days_are_put_in_order_as_days_and_what_has_none_comes_last(browser, archive):
    with browser.open(archive, name="due-soon.html") as opened:
        table = opened.page.locator("table.soon")
        table.get_by_role("button", name="Due on").click()
        days = [text.split()[1] for text in table.locator("tbody tr td:nth-child(6)").all_inner_texts()]
        assert days == ["June", "July", "August", "September", "day"]


def test_on_a_narrow_screen_the_order_is_chosen_from_a_list_and_hidden_heads_take_no_focus(browser, archive):
    with browser.open(archive, width=360) as opened:
        assert opened.page.locator("thead button").count() == 0
        opened.page.get_by_label("In the order of").select_option(label="Completed, last first")
        assert shown(opened)[0] == "ALDER #1 GROSSE" and shown(opened)[-1] == "DOGWOOD"
        opened.page.get_by_label("Only rows with").press_sequentially("zweizyl")
        assert shown(opened) == ["BIRCH", "DOGWOOD"]
        opened.page.get_by_label("In the order of").select_option(label="the page")
        assert shown(opened) == ["BIRCH", "DOGWOOD"]


def test_the_side_by_side_rows_are_sifted_for_what_is_real(browser, archive):
    with browser.open(archive, name="side-by-side-1.html") as opened:
        assert opened.page.locator("thead button").count() == 0
        assert "real" in opened.page.locator("table.sides").first.inner_text()


def test_typed_search_finds_a_word_of_a_dossier_and_leads_into_it(browser, archive):
    with browser.open(archive) as opened:
        results = opened.type_search("selector")
        assert len(results) == 5 and "ALDER #1 GROSSE: Parts" in results[0]
        opened.page.locator(".finder-out li a").first.click()
        opened.page.wait_for_url("**/alder*/parts.html*")
        assert opened.foreign == []


@pytest.mark.parametrize("name", PAGES)
def test_without_scripts_every_table_is_whole_and_plain(browser, archive, name):
    with browser.open(archive, scripts=False, name=f"{name}.html") as opened:
        page = opened.page
        assert page.locator(".sifter, thead button").count() == 0
        assert page.locator("tbody tr:visible").count() == page.locator("tbody tr").count() > 0
