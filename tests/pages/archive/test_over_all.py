"""All builds, parts, what is due, evidence: each page's facts; and that no sheet grows without end."""

from __future__ import annotations

import re
from dataclasses import replace

from dossier.model.entry import DueEntry, Entry, ItemEntry, OpenEntry, PartEntry, RefusedEntry, SourceEntry, SpareEntry
from dossier.model.results import Outcome
from dossier.pages.archive.all_builds import all_builds
from dossier.pages.archive.due_soon import due_soon
from dossier.pages.archive.evidence_across import evidence_across
from dossier.pages.archive.many_rows import Long, on_sheets
from dossier.pages.archive.over_all import write_over_all
from dossier.pages.archive.parts_across import parts_across
from dossier.pages.parts.tables import Column, Row
from tests.pages.archive.made import DAY, PLAIN, entry, html_of
from tests.pages.demo import plain, row


def test_all_builds_says_what_each_machine_is_copies_has_open_and_its_verdicts():
    items = tuple(
        ItemEntry(f"D{n:02d}", "Bore", "", outcome) for n, outcome in enumerate([Outcome.FAILS, Outcome.CONFORMS, Outcome.CONFORMS])
    )
    one = replace(PLAIN, items=(*items, ItemEntry("D09", "Rim", "", Outcome.FAILS, concession="C-01")), class_="350 cc class", draft=True,
                  open=(OpenEntry("snag", "S1", "leaks"), OpenEntry("record", "", "mass"), OpenEntry("record", "", "hours")))  # fmt: skip
    html = html_of(all_builds([one]))
    cells = row(html, "ORW-02")
    assert cells[0].startswith("Orrisdale replica of the Brennock 250 (1961), completed 2024 Draft.This machine is a replica.")
    assert cells[1:4] == ["Brennock 250, machine no. 2, Ilse TarnCorvane Park, 4 June 1961", "350 cc class", "2024"]
    assert cells[4] == "Does not conform 1Deviates by agreement 1Conforms 2of 4"
    assert cells[5] == "one snag, two missing records"
    assert 'href="brennock/index.html"' in html


def test_a_folder_may_be_called_anything():
    html = html_of(all_builds([replace(PLAIN, slug="all builds #2, 50 % Müller")]))
    assert 'href="all%20builds%20%232%2C%2050%20%25%20M%C3%BCller/index.html"' in html
    assert " " not in re.findall(r'<tr role="row" id="([^"]+)"', html)[0]


def test_what_is_withheld_is_not_called_none():
    assert row(html_of(all_builds([replace(PLAIN, withheld=(("snags", 2),))])), "ORW-02")[-1] == "none shown; two withheld"


def parted(slug: str, **more) -> Entry:
    return entry(slug, parts=(PartEntry("P01", "Selector drum", "gearbox", "newly made in house", "Ondrell Frame"),), **more)


def test_who_has_another_selector_drum_is_told_by_its_name_fitted_or_spare():
    pages = parts_across([parted("one"), parted("two"), entry("three", spares=(SpareEntry("selector  Drum", "new"),)), entry("four")])
    cells = row(html_of(pages), "Selector drum")
    assert cells == ["gearbox", "2", "ONE, TWO newly made in house", "THREE new"]


def test_a_supplier_s_parts_are_counted_with_what_was_refused_and_why():
    gone = RefusedEntry("R01", "Piston set", "pin bores 0.03 out of square", "returned", "Bramwick")
    page = html_of(
        parts_across([parted("one", refused=(gone,)), parted("two", refused=(gone, RefusedEntry("R02", "Liner", "soft", "scrapped")))])
    )
    assert row(page, "Bramwick") == ["0", "2", "Piston set: pin bores 0.03 out of square ONE, TWO"]
    assert row(page, "Ondrell Frame") == ["2", "0", "nothing"]
    assert row(page, "supplier not recorded") == ["0", "1", "Liner: soft TWO"]
    assert row(page, "Liner R02")[:2] == ["TWO", "supplier not recorded"]


def test_where_no_supplier_may_be_known_no_supplier_and_no_refusal_is_spoken_of():
    page = html_of(
        parts_across([entry("one", audience="public", parts=(PartEntry("P01", "Selector drum", "gearbox", "unknown"),))])
    ).lower()
    assert "selector drum" in page and "supplier" not in page and "refused" not in page


def due(*limits: DueEntry) -> str:
    return plain(html_of(due_soon([entry("one", due=limits)])))


def test_what_is_past_due_stands_before_what_is_soon_due_and_the_rest_is_counted():
    page = due(
        DueEntry("L1", "rods", "the workshop’s", used=102.0, left=-0.4, left_unit="h", left_decimals=1),
        DueEntry("L2", "hoses", used=20.0, left=100.0, left_unit="days", until=DAY("2025-08-11")),
        DueEntry("L3", "wiring", used=5.0, left=3000.0, left_unit="days", until=DAY("2033-07-20")),
        DueEntry("L4", "chain", used=85.0, left=1.5, left_unit="h", left_decimals=1),
        DueEntry("L5", "tyres"),
    )
    assert re.search(r"Past due on 3 May 2025: one limit", page) and "One limit is further off" in page
    assert (
        page.index("Rods")
        < page.index("Soon due\n")
        < page.index("Chain")
        < page.index("Hoses")
        < page.index("Cannot be told\n")
        < page.index("Tyres")
    )
    assert "Wiring" not in page and "past due by 0.4 h" in page and "102.0 %" in page


def test_a_day_that_has_passed_since_the_dossier_was_written_is_past_due():
    old = entry("old", due=(DueEntry("L1", "hub", used=90.0, left=60.0, left_unit="days", until=DAY("2025-07-02")),))
    new = entry("new", revised=DAY("2025-09-01"))
    page = plain(html_of(due_soon([old, new])))
    assert "Past due on 1 September 2025: one limit" in page and "has passed since" in page


def source(title: str, kind: str = "photograph", **more) -> SourceEntry:
    return SourceEntry("E01", title, kind, DAY("1961-06-04"), "B2", **more)


def test_one_source_in_two_dossiers_stands_in_one_row_with_what_rests_on_it_in_each():
    one = entry("one", sources=(source("Grid, left side", items=("D15", "D22")), source("Only here")))
    two = entry("two", sources=(source("grid,  Left side", conflicts=("K02",)), source("Grid, left side", kind="film")))
    page = html_of(evidence_across([one, two]))
    assert row(page, "Grid, left side")[1:] == ["2", "ONE E01, believed B2: items D15, D22TWO E01, believed B2: in conflict K02"]
    assert "One source of three used in more than one dossier" in plain(page)
    assert 'href="two/evidence.html#K02"' in page


def test_a_link_leads_only_to_a_sheet_that_the_dossier_has():
    one = replace(entry("one", sources=(source("Grid", items=("D15",)),)), sheets=(("index", "Front"), ("evidence", "Evidence")))
    page = html_of(evidence_across([one]))
    assert 'href="one/evidence.html#E01"' in page and "specification.html" not in page and "D15" in page


def test_a_long_table_goes_on_over_the_page_whole_and_in_order():
    rows = [Row([f"row {n}", "x" * 200]) for n in range(100)]
    pages = on_sheets("long", "Long", "lead", [Long("Rows", "A hundred rows", [Column("A"), Column("B")], rows)], most=5000)
    assert [page.slug for page in pages] == ["long", *(f"long-{n + 1}" for n in range(1, len(pages)))] and len(pages) > 3
    assert [page.under for page in pages] == ["", *["long"] * (len(pages) - 1)]
    assert re.findall(r">(row \d+)<", html_of(pages)) == [f"row {n}" for n in range(100)]
    assert all(len(page.html) < 9000 for page in pages) and 'href="long-2.html"' in pages[0].html


def test_no_sheet_but_the_list_of_all_builds_grows_beyond_its_size():
    many = [
        parted(f"m{n:04d}", due=(DueEntry("L1", "hub", used=90.0),), sources=(source("Grid", items=("D15",)), source(f"own {n}")))
        for n in range(3000)
    ]
    listed, more = write_over_all(many)
    sizes = {page.slug: len(page.html) for page in (*listed[1:], *more)}
    assert max(sizes.values()) < 400_000 and len(sizes) > 6
