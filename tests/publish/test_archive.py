"""The archive of several builds: made from published entries alone, whole, for one audience, with its calendar and its search."""

from __future__ import annotations

import dataclasses
import datetime
import json
import re
from pathlib import Path

import icalendar
import pytest

from dossier.model.audience import Audience
from dossier.model.entry import DueEntry, PartEntry
from dossier.pages.page import Page
from dossier.publish.archive import publish_archive
from dossier.publish.dossiers import publish
from dossier.publish.due_calendar import due_calendar
from dossier.publish.entries import EntriesThere
from dossier.publish.entry import NAME, from_bytes
from dossier.publish.laid import MadeBefore, marks_of
from dossier.publish.search_all import found_of
from dossier.publish.staging import StagingError, stage
from tests.pages.archive.made import DAY, entry
from tests.pages.demo import opened
from tests.publish.sheets import ARCHIVE
from tests.publish.test_site import references

PAGES = {"index", "side-by-side", "side-by-side-1", "parts-across", "instruments", "due-soon", "evidence-across"}


def made(audience: Audience, folder: Path) -> Path:
    builds = opened()
    publish([one.edition(audience) for one in builds], [one.path for one in builds], folder / "site", single=False, cache=folder / "cache")
    return folder / "site"


@pytest.fixture(scope="module")
def workshop(tmp_path_factory) -> Path:
    return made(Audience.WORKSHOP, tmp_path_factory.mktemp("workshop"))


@pytest.fixture(scope="module")
def public(tmp_path_factory) -> Path:
    return made(Audience.PUBLIC, tmp_path_factory.mktemp("public"))


def own_files(site: Path) -> dict[str, bytes]:
    """The archive's own files, those of its dossiers left out."""
    names = {path.parent.name for path in site.glob(f"*/{NAME}")}
    files = {path.relative_to(site): path for path in sorted(site.rglob("*")) if path.is_file()}
    return {
        str(name): path.read_bytes() for name, path in files.items() if name.parts[0] not in names and name.name != "written-by-dossier.txt"
    }


def entries_in(site: Path):
    return [from_bytes(path.read_bytes()) for path in sorted(site.glob(f"*/{NAME}"))]


@pytest.mark.parametrize("which", ["workshop", "public"])
def test_an_archive_has_a_page_for_all_it_can_tell_and_every_link_leads_somewhere(which, request):
    site = request.getfixturevalue(which)
    assert {path.stem for path in site.glob("*.html")} == PAGES
    for page, address in references(site):
        path, _, place = address.partition("#")
        target = page.parent / path if path else page
        assert re.match(r"data:|assets/", address) or target.is_file(), f"{page.name}: {address}"
        if place and target.suffix == ".html":
            assert f'id="{place}"' in target.read_text(encoding="utf-8"), f"{page.name}: {address}"


def test_the_published_entries_alone_make_the_same_bytes(workshop, tmp_path):
    assert publish_archive(entries_in(workshop), tmp_path / "again").dead_links == ()
    assert own_files(tmp_path / "again") == own_files(workshop)


def test_dossiers_that_lie_there_already_are_left_as_they_are(workshop, tmp_path):
    (tmp_path / "site" / "talvera-350-gp").mkdir(parents=True)
    (tmp_path / "site" / "talvera-350-gp" / "index.html").write_text("here")
    publish_archive(entries_in(workshop), tmp_path / "site")
    assert (tmp_path / "site" / "talvera-350-gp" / "index.html").read_text() == "here"


@pytest.mark.parametrize("which", ["workshop", "public"])
def test_entries_read_one_at_a_time_give_what_whole_entries_give(which, request, tmp_path):
    site = request.getfixturevalue(which)
    there = EntriesThere(site, [entry.slug for entry in entries_in(site)])
    publish_archive(there, tmp_path / "one at a time")
    publish_archive(entries_in(site), tmp_path / "whole")
    assert own_files(tmp_path / "one at a time") == own_files(tmp_path / "whole")
    assert [there[0], *there[1:]] == entries_in(site) and list(there.heads) == [entry.head for entry in entries_in(site)]


def test_entries_of_two_audiences_or_of_one_slug_are_never_one_archive(workshop, public, tmp_path):
    mine, theirs = entries_in(workshop), entries_in(public)
    for wrong in ([], [mine[0], theirs[1]], [mine[0], mine[0]]):
        with pytest.raises(ValueError, match="one audience"):
            publish_archive(wrong, tmp_path / "site")
    assert not (tmp_path / "site").exists()


def test_no_public_page_over_all_builds_names_a_supplier_or_a_refusal(workshop, public):
    names = ("Ondrell", "Tessick", "Callowen", "Bramwick")  # of the demo's parts.yaml
    said = b" ".join(own_files(workshop).values()).decode(errors="ignore")
    kept = b" ".join(own_files(public).values()).decode(errors="ignore")
    assert all(name in said for name in names) and "pin bores 0.03 out of square" in said
    assert not [name for name in names if name in kept] and "out of square" not in kept


def test_a_dossier_by_itself_names_no_other_build_of_its_workshop(workshop):
    # the demo's workshop.yaml lays the two side by side by the names of their folders
    for path in (workshop / "kestrane-125-r").rglob("*"):
        assert path.is_dir() or b"talvera-350-gp" not in path.read_bytes(), path


def test_a_sheet_that_continues_another_bears_its_number_and_is_not_listed(workshop):
    page = (workshop / "side-by-side-1.html").read_text(encoding="utf-8")
    listed = page.split('aria-label="Sheets of this archive"')[1].split("</nav>")[0]
    assert "Sheet 2 of 6" in listed and "side-by-side-1.html" not in listed
    assert re.search(r'<li class="here"><a href="side-by-side.html"', listed)


def test_a_sheet_cannot_continue_one_that_is_not_listed(tmp_path):
    pages = [Page("index", "All builds", ""), Page("more", "More", "", under="parts"), Page("yet-more", "Yet more", "", under="more")]
    with pytest.raises(StagingError, match="'parts', which is no listed page"):
        stage(pages, ARCHIVE, tmp_path / "staged", {})


# ---------------------------------------------------------------- the calendar


def events(data: bytes) -> list[icalendar.Event]:
    return list(icalendar.Calendar.from_ical(data).walk("VEVENT"))


def test_the_calendar_is_read_by_another_s_reader_and_holds_every_limit_with_a_day(workshop):
    data = (workshop / "due.ics").read_bytes()
    calendar = icalendar.Calendar.from_ical(data)
    assert (calendar["VERSION"], calendar["METHOD"]) == ("2.0", "PUBLISH")
    hub = next(one for one in events(data) if "hub" in one["SUMMARY"])
    assert hub.decoded("DTSTART") == datetime.date(2026, 5, 24) and hub.decoded("DTEND") == datetime.date(2026, 5, 25)
    assert "A replica" in hub["DESCRIPTION"]
    assert len(events(data)) == sum(one.until is not None for entry in entries_in(workshop) for one in entry.due) == 5
    assert len({one["UID"] for one in events(data)}) == 5


def test_no_line_of_the_calendar_is_longer_than_75_octets_and_every_word_comes_back():
    words = "Übung; Größe, 50 % \\ of\nlimit " * 20 + "£"
    data = due_calendar([entry("one", title="Ø" * 80, due=(DueEntry("L1", words, until=DAY("2026-01-02")),))])
    lines = data.split(b"\r\n")
    assert max(map(len, lines)) <= 75 and lines[-1] == b"" and b"\n" not in data.replace(b"\r\n", b"")  # RFC 5545, 3.1
    assert events(data)[0]["SUMMARY"] == f"ONE: {words} due"


def test_a_limit_that_moves_keeps_its_event():
    limit = DueEntry("L1", "hub", until=DAY("2026-01-02"))
    before, after = (
        events(due_calendar([entry("one", due=(dataclasses.replace(limit, until=DAY(day)),))]))[0] for day in ("2026-01-02", "2027-01-02")
    )
    assert before["UID"] == after["UID"] and before.decoded("DTSTART") != after.decoded("DTSTART")


def test_without_a_day_there_is_no_calendar():
    assert due_calendar([entry("one", due=(DueEntry("L1", "rods", used=20.0),))]) == b""


# ---------------------------------------------------------------- made again


TWO = (entry("one", parts=(PartEntry("P01", "Selector drum", "gearbox", "unknown"),)), entry("two"))
LATER = dataclasses.replace(TWO[1], revised=DAY("2025-09-01"))
DUE = dataclasses.replace(TWO[1], due=(DueEntry("L1", "hub", used=90.0, until=DAY("2025-09-01")),))
CLASS = dataclasses.replace(TWO[1], class_="350 cc class")


@pytest.mark.parametrize(
    ("after", "taken_over"),
    [
        (TWO, {"index", "parts-across", "side-by-side", "side-by-side-1"}),
        ((TWO[0], CLASS), {"parts-across", "side-by-side", "side-by-side-1"}),
        ((TWO[0], LATER), set()),  # its day stands on every sheet
        ((TWO[0], DUE), set()),  # a sheet more is listed on every sheet
        ((TWO[0],), set()),  # one less
    ],
)
def test_pages_over_all_are_taken_over_where_all_that_they_show_is_what_it_was(tmp_path, after, taken_over):
    old, new, cold = tmp_path / "old", tmp_path / "new", tmp_path / "cold"
    before = publish_archive(TWO, old)
    made = publish_archive(after, new, MadeBefore(old, marks_of(old), before.digests))
    assert made == publish_archive(after, cold) and own_files(new) == own_files(cold)
    assert {path.stem for path in new.glob("*.html") if path.stat().st_nlink == 2} == taken_over


# ---------------------------------------------------------------- the search


def test_the_search_of_the_archive_leads_to_sheets_of_dossiers_that_are_there(workshop):
    index = json.loads((workshop / "search" / "search_index.json").read_text(encoding="utf-8"))
    assert (
        (workshop / "search" / "search_index.js")
        .read_text(encoding="utf-8")
        .endswith(json.dumps(index, ensure_ascii=False, separators=(",", ":")))
    )
    inside = [doc["location"] for doc in index["docs"] if "/" in doc["location"]]
    assert {"talvera-350-gp/specification.html", "talvera-350-gp/evidence.html", "kestrane-125-r/index.html"} <= set(inside)
    assert all((workshop / location).is_file() for location in inside)


def test_what_is_searched_grows_by_less_than_four_kilobytes_a_dossier(workshop):
    for one in entries_in(workshop):
        assert len(json.dumps(list(found_of(one)), ensure_ascii=False).encode()) < 4000


def test_words_that_look_like_markup_are_searched_as_words():
    one = entry("one", title="<img src=x onerror=alert(1)>")
    assert all("<" not in doc["text"] + doc["title"] for doc in found_of(one))
