"""Side by side: who is laid beside whom, and what is said of each number."""

from __future__ import annotations

import re

from dossier.model.entry import Entry, FigureEntry, ItemEntry, Moment, Taken
from dossier.model.results import Outcome
from dossier.pages.archive.side_by_side import ACROSS, groups_of, side_by_side
from tests.pages.archive.made import DAY, by_slug, entry
from tests.pages.demo import plain, row


def machine(slug: str, bore: float, u: float | None, instrument: str, unit: str = "mm", **more) -> Entry:
    item = ItemEntry(
        "D02", "Bore", "62.00 mm", Outcome.CONFORMS, unit, 3, quantity="bore", readings=(Taken("left", bore, u, (instrument,)),)
    )
    figure = FigureEntry("swept_volume", "Swept volume", "cc", 2, "engine", (Taken("", 5 * bore, u, (instrument,)),))
    return entry(slug, items=(item,), figures=(figure,), **more)


def sheet(*machines: Entry) -> str:
    return by_slug(side_by_side(machines))["side-by-side-1"].html


def test_the_difference_its_uncertainty_and_the_word_stand_under_each_number():
    # 62.012 against 62.021: 0.009 against hypot(0.003, 0.004) = 0.005
    cells = row(sheet(machine("one", 62.012, 0.003, "M1"), machine("two", 62.021, 0.004, "M2")), "Bore, left")
    assert cells[0] == "62.012 ± 0.003 mmConforms"
    assert cells[1] == "62.021 ± 0.004 mmConforms+0.009 ± 0.005 mm (independent): real"


def test_with_one_gauge_the_same_numbers_show_less():
    # 0.0065 against 0.003 + 0.004 = 0.007, where hypot would be 0.005
    cells = row(sheet(machine("one", 62.012, 0.003, "M1"), machine("two", 62.0185, 0.004, "M1")), "Bore, left")
    assert cells[1].endswith("± 0.007 mm: not shown")


def test_a_number_without_uncertainty_says_so():
    cells = row(sheet(machine("one", 62.012, 0.003, "M1"), machine("two", 62.5, None, "M2")), "Bore, left")
    assert cells[1].count("no uncertainty stated") == 2 and "real" not in cells[1]


def test_another_unit_is_carried_over():
    # 2.4417 in is 62.01918 mm
    cells = row(sheet(machine("one", 62.012, 0.003, "M1"), machine("two", 2.4417, 0.0001, "M1", unit="in")), "Bore, left")
    assert "+0.007 ± 0.006 mm: real" in cells[1]


def test_figures_stand_under_their_subject_and_lead_to_their_working():
    html = sheet(machine("one", 62.012, 0.003, "M1"), machine("two", 62.021, 0.004, "M2"))
    assert 'href="two/figures.html#f-swept_volume"' in html and 'href="two/specification.html#D02"' in html
    assert ">Engine</h2>" in html


def test_machines_are_laid_together_that_copy_one_machine_or_bear_one_group_s_name():
    other = Moment("Sellian 500", "Ilse Tarn", "Corvane Park", DAY("1961-06-04"))
    one, two = entry("one"), entry("two", copies=other, groups=("Twins",))
    three, four = entry("three", groups=("Twins",)), entry("four", copies=other, groups=("Alone",))
    found = {group.name: [member.slug for _, member in group.members] for group in groups_of([one, two, three, four])}
    assert found == {"Brennock 250, machine no. 2": ["one", "three"], "Sellian 500": ["two", "four"], "Twins": ["two", "three"]}


def test_no_table_has_more_machines_than_it_can_hold_and_each_stands_beside_the_first():
    machines = [machine(f"m{n}", 62.0 + n / 1000, 0.001, "M1") for n in range(20)]
    pages = by_slug(side_by_side(machines))
    tables = [re.findall(r'scope="col"[^>]*>([^<]+)', pages[f"side-by-side-{n}"].html.split("</thead>")[0])[1:] for n in (1, 2, 3)]
    assert all(len(names) <= ACROSS and names[0] == "M0" for names in tables)
    assert sorted({name for names in tables for name in names}) == sorted(f"M{n}" for n in range(20))


def test_the_sheets_grow_in_step_with_the_machines():
    sizes = [
        sum(len(page.html) for page in side_by_side([machine(f"m{n:03d}", 62.0, 0.001, "M1") for n in range(count)]))
        for count in (50, 100, 200)
    ]
    assert sizes[2] - sizes[1] < 2.2 * (sizes[1] - sizes[0])


def test_the_rule_is_stated_and_that_some_are_called_real_by_chance():
    page = plain(by_slug(side_by_side([machine("one", 62.0, 0.1, "M1"), machine("two", 62.0, 0.1, "M1")]))["side-by-side"].html)
    assert "are not independent" in page and "real by chance" in page
