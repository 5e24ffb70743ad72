"""Cross checks, each with the case that must be told and the neighbouring case that must not."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from dossier.read.folder import read_build

BASE = Path(__file__).parent.parent / "bad" / "_base"
PART = "parts:\n  - {id: P01, group: cycle, name: Frame, origin: reproduction%s}\n"
ITEM = "items:\n  - {id: D02, title: Bore, kind: numeric, quantity: bore, declared: 62.0 mm%s}\n"
EVIDENCE = "  - {{id: {}, kind: drawing, title: Sheet, subject: type, reliability: B, credibility: 2, says: bore 62 mm{}}}\n"


@pytest.fixture
def told(tmp_path: Path):
    """Codes told for a base build with these files."""

    def read(**files: str) -> list[str]:
        shutil.rmtree(tmp_path / "case", ignore_errors=True)
        shutil.copytree(BASE, tmp_path / "case")
        for name, text in files.items():
            file = tmp_path / "case" / "build" / f"{name}.yaml"
            if name == "machine":
                text = file.read_text(encoding="utf-8") + text
            file.write_text(text, encoding="utf-8")
        return sorted(one.code for one in read_build(tmp_path / "case" / "build")[1])

    return read


@pytest.mark.parametrize(
    ("dates", "codes"),
    [
        ("found: 2025-04-26, fixed: 2025-04-26, verified: 2025-04-26", []),
        ("found: 2025-04-26, fixed: 2025-04-25", ["date-order"]),
        ("found: 2025-04-26, verified: 2025-04-25", ["date-order"]),
        ("found: 2025-04-20, fixed: 2025-04-26, verified: 2025-04-25", ["date-order"]),
        ("found: 2025-04-20, fixed: 2025-04-26, reopened: [2025-05-01]", []),
        ("found: 2025-04-20, fixed: 2025-04-26, reopened: [2025-04-01]", ["date-order"]),
        ("verified: 2025-04-01, verified_on: TS-1", ["date-order"]),
        ("verified: 2025-05-17, verified_on: TS-1", []),
    ],
)
def test_a_snag_is_found_then_fixed_then_verified(told, dates: str, codes: list[str]):
    session = "sessions:\n  - {id: TS-1, date: 2025-05-17, place: Some circuit}\n"
    assert told(running=f"{session}snags:\n  - {{id: SN-01, symptom: slips, {dates}}}\n") == codes


@pytest.mark.parametrize(
    ("dates", "codes"),
    [
        ("ordered: 2024-02-01, arrived: 2024-02-01", []),
        ("ordered: 2024-02-01, arrived: 2024-01-31", ["date-order"]),
        ("arrived: 2024-01-31", []),
    ],
)
def test_goods_arrive_after_they_were_ordered(told, dates: str, codes: list[str]):
    assert told(parts=PART % f", {dates}") == codes


def test_a_concession_cannot_be_older_than_the_revision_it_names(told):
    revisions = "revisions:\n  - {rev: A, date: 2024-01-01, what: first}\n  - {rev: B, date: 2024-06-01, what: second}\n"
    concession = "concessions:\n  - {id: C-01, item: D02, limit: none, reason: worn, agreed_by: [owner], date: 2024-03-01, "
    concession += "revision: %s, reversible: yes}\n"
    assert told(custody=revisions, specification=ITEM % "" + concession % "A") == []
    assert told(custody=revisions, specification=ITEM % "" + concession % "B") == ["date-order"]
    assert told(custody=revisions, specification=ITEM % "" + concession % "C") == ["id-unknown"]


def test_custody_without_a_gap_or_with_a_reason_for_it_is_let_be(told):
    first = "custody:\n  - {since: 2023-11-06, until: 2025-06-21, shown_as: the builder, role: builder}\n"
    link = first + "  - {since: %s, shown_as: owner, role: owner}\n"
    assert told(custody=link % "2025-06-21") == []
    assert told(custody=link % "2025-06-22, gap: at the carrier") == []
    assert told(custody=link % "2025-06-22") == ["custody-gap"]
    assert told(custody=link % "2025-06-20") == ["custody-overlap"]


def test_two_holders_without_an_end_overlap(told):
    link = "  - {since: 2023-11-06, shown_as: the builder, role: builder}\n"
    assert told(custody="custody:\n" + link + link) == ["custody-overlap"]


@pytest.mark.parametrize(
    ("value", "codes"),
    [
        ("62.013 mm", []), ("2.441 in", []), ("2.441 mm", ["unit-odd"]), ("62.0 in", ["unit-odd"]), ("1575 mm", ["unit-odd"]),
        ("66.0 mm", []), ("62.0 kg", ["dimension-wrong"]), ("62.0", ["dimension-wrong"]),
    ],
)  # fmt: skip
def test_a_value_off_by_the_factor_of_two_units_is_told(told, value: str, codes: list[str]):
    assert told(specification=ITEM % "", measurements=f"as_built:\n  - {{what: bore, value: {value}}}\n") == codes


@pytest.mark.parametrize(
    ("rest", "codes"),
    [
        ("value: 62.013 mm", []), ("value: 62.0 mm", ["reading-coarser"]), ("value: 2.4414 in", []),
        ("value: 2.44 in", ["reading-coarser"]),
        ("value: 62.01 mm, u: 0.004 mm", ["reading-coarser"]), ("value: 62.013 mm, u: 0.1 kg", ["dimension-wrong"]),
        ("value: 62.013 mm, u: 4 %", []), ("readings: [62.013 mm, 2.44 kg]", ["dimension-wrong"]),
        ("value: 62.013 mm, on: 2025-09-02", []), ("value: 62.013 mm, on: 2025-09-03", ["calibration-lapsed"]),
        ("value: 62.013 mm, on: 2020-01-01", []),
    ],
)  # fmt: skip
def test_a_reading_fits_its_instrument(told, rest: str, codes: list[str]):
    assert told(measurements=f"as_built:\n  - {{what: bore, with: M1, {rest}}}\n") == codes


def test_the_same_value_in_two_places_is_told_unless_they_are_told_apart(told):
    two = "as_built:\n  - {what: force, value: 150 N%s}\n  - {what: force, value: 205 N%s}\n"
    assert told(measurements=two % ("", "")) == ["entry-twice"]
    assert told(measurements=two % (", state: found", ", state: fixed")) == []
    assert told(measurements="declared:\n  - {what: force, value: 150 N}\nas_built:\n  - {what: force, value: 150 N}\n") == []


def test_left_and_right_that_agree_to_the_last_of_many_digits_are_noted(told):
    two = "as_built:\n  - {what: bore, cylinder: left, value: %s}\n  - {what: bore, cylinder: right, value: %s}\n"
    assert told(measurements=two % ("62.013 mm", "62.013 mm")) == ["readings-identical"]
    assert told(measurements=two % ("62.013 mm", "62.014 mm")) == []
    assert told(measurements=two % ("52 °", "52 °")) == []


def test_a_source_is_used_where_something_rests_on_it_and_not_where_words_mention_it(told):
    sources = "evidence:\n" + EVIDENCE.format("E01", "") + EVIDENCE.format("E02", "")
    assert told(evidence=sources) == ["evidence-unused", "evidence-unused"]
    assert told(evidence=sources, specification=ITEM % ", evidence: [E01], note: scaled after E02") == ["evidence-unused"]
    what_if = "what_if:\n  - {id: W-1, title: Other wheel, instead: [{what: bore, value: 62.5 mm, evidence: [E02]}]}\n"
    assert told(evidence=sources, specification=ITEM % ", evidence: [E01]", measurements=what_if) == []


def test_a_source_cannot_derive_from_itself_however_long_the_way(told):
    circle = [EVIDENCE.format(one, f", derived_from: {other}") for one, other in (("E01", "E02"), ("E02", "E03"), ("E03", "E01"))]
    assert told(evidence="evidence:\n" + "".join(circle)) == ["evidence-circle"] * 3
    assert told(evidence="evidence:\n" + EVIDENCE.format("E01", ", derived_from: E01")) == ["evidence-circle"]


@pytest.mark.parametrize(
    ("dot", "codes"),
    [(', dot: "1423"', []), (", dot: DOT 1423", []), (', dot: "367"', ["tyre-undated"]), (', dot: "6723"', ["tyre-undated"]),
     ("", ["tyre-undated"]),
     (', dot: "1423", fitted: 2023-04-02', ["date-order"]), (', dot: "1423", fitted: 2023-04-03', [])],
)  # fmt: skip
def test_a_tyre_is_dated_by_week_and_year(told, dot: str, codes: list[str]):
    # ISO 8601: week 14 of 2023 begins on Monday, 3 April 2023.
    assert told(life=f"tyres:\n  - {{wheel: front, size: 2.75-18{dot}}}\n") == codes


@pytest.mark.parametrize(
    ("rest", "codes"),
    [
        ("number: RX 41 207, masked: RX •• •••", []), ("number: RX 41 207", ["mask-missing"]), ("masked: RX •• •••", []),
        ("number: RX 41 207, masked: RX 41 ••7", ["mask-missing"]), ("number: RX 41 207, masked: RX 41 207", ["mask-missing"]),
        ("number: RX 41 207, masked: RX 41 2••", ["mask-missing"]), ("number: RX 41 207, masked: RX 4• •••", []),
        ("number: SW01F, found_or_made: as made, masked: SW01F", []), ("number: SW01F, found_or_made: as made", ["mask-missing"]),
    ],
)  # fmt: skip
def test_a_number_found_on_a_part_is_masked_for_the_public(told, rest: str, codes: list[str]):
    assert told(machine=f"stampings:\n  - {{part: frame, {rest}}}\n") == codes


def test_references_into_a_file_that_cannot_be_read_are_not_told_as_unknown(told):
    assert told(specification=ITEM % ", evidence: [E01]") == ["id-unknown"]
    assert told(specification=ITEM % ", evidence: [E01]", evidence="evidence: [\n") == ["yaml-syntax"]


def test_the_id_of_a_record_with_a_fault_is_still_known(told):
    broken = "evidence:\n" + EVIDENCE.format("E01", ", shows: yesterday")
    assert told(specification=ITEM % ", evidence: [E01]", evidence=broken) == ["date-form"]


@pytest.mark.parametrize(("by", "codes"), [("JH", []), ("JX", ["id-unknown"]), ("workshop", []), ("outside test house", [])])
def test_initials_must_be_those_of_a_person_and_words_are_let_be(told, by: str, codes: list[str]):
    assert told(measurements=f"as_built:\n  - {{what: bore, value: 62.013 mm, by: {by}}}\n") == codes


def test_one_id_serves_one_record_in_the_whole_folder(told):
    assert told(parts=PART % "", specification=ITEM % "") == []
    assert told(parts=PART.replace("P01", "D02") % "", specification=ITEM % "") == ["id-twice"]


def test_a_log_belongs_to_a_record_that_is_there(tmp_path: Path):
    shutil.copytree(BASE, tmp_path / "case")
    logs = tmp_path / "case" / "build" / "logs"
    logs.mkdir()
    (logs / "DY-1.dyno_run.csv").write_text("Engine speed [rpm],Torque [lbf·ft]\n6000,24.1\n", encoding="utf-8")
    (logs / "L.bore_readings.csv").write_text("Height,Direction,Diameter [mm]\ntop,along,62.013\n", encoding="utf-8")
    build, problems = read_build(logs.parent, shown="")
    assert [(one.code, one.place.file) for one in problems] == [("id-unknown", "logs/DY-1.dyno_run.csv")]
    assert build is not None
    assert [log.columns[-1] for log in build.logs] == [("torque", "lbf·ft"), ("diameter", "mm")]
    (logs.parent / "running.yaml").write_text("dyno:\n  - {id: DY-1, date: 2025-04-11, at: rear wheel}\n", encoding="utf-8")
    assert read_build(logs.parent)[1] == []
