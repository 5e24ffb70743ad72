"""A build folder as a whole: what is read, and that every fault is told with its place."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from dossier.model.problems import Problem
from dossier.read.files import fingerprint, input_files
from dossier.read.folder import find_builds, read_build, read_workshop

WORKSHOP = """form: 1
name: Some Workshop
instruments:
  - {id: M1, name: bore gauge, u: 0.004 mm, calibrated: 2024-09-02}
people:
  - {id: JH, shown_as: J. H.}
"""
MACHINE = """form: 1
this_machine_is: reproduction by another builder, called a replica in the trade
title: Some replica of another, completed 2025
short: Some replica
statement: This is a replica.
builder: Some Workshop
build_no: SW-01
completed: 2025
reference: {machine: Another, rider: R. Ider, meeting: Some Prix, date: 1967-06-11}
use: {intended: [parade], road_legal: no}
engine: {strokes: 4, cylinders: 2}
livery: {day: "#14513b", night: "#93c7aa"}
"""


@pytest.fixture
def build(tmp_path: Path) -> Path:
    (tmp_path / "workshop.yaml").write_text(WORKSHOP, encoding="utf-8")
    folder = tmp_path / "some-replica"
    folder.mkdir()
    (folder / "machine.yaml").write_text(MACHINE, encoding="utf-8")
    return folder


def codes(problems: list[Problem]) -> list[tuple[str, str, int]]:
    return [(one.code, one.place.file, one.place.line) for one in problems]


def test_a_folder_with_machine_and_workshop_is_a_build_without_a_fault(build: Path):
    read, problems = read_build(build)
    assert problems == []
    assert read is not None
    assert (read.slug, read.machine.completed, read.workshop.name) == ("some-replica", 2025, "Some Workshop")


def test_readings_take_the_common_unit_and_a_timing_card_becomes_four_values(build: Path):
    (build / "measurements.yaml").write_text(
        "as_built:\n"
        "  - {what: bore, cylinder: left, readings: [62.013, 62.011], unit: mm, with: M1, by: JH, on: 2024-11-19}\n"
        "  - {what: valve_timing, timing: 51-77 / 78-46, u: 1.0 °, cylinder: left}\n",
        encoding="utf-8",
    )
    read, problems = read_build(build)
    assert problems == []
    assert read is not None
    bore, *events = read.measurements.as_built
    assert [str(one) for one in bore.quantities] == ["62.013 mm", "62.011 mm"]
    assert [(one.what, str(one.value), str(one.u)) for one in events] == [
        ("inlet_opens", "51 °", "1.0 °"),
        ("inlet_closes", "77 °", "1.0 °"),
        ("exhaust_opens", "78 °", "1.0 °"),
        ("exhaust_closes", "46 °", "1.0 °"),
    ]
    assert {one.tags for one in events} == {(("cylinder", "left"),)}


def test_faults_of_all_files_are_told_in_one_run_under_the_names_the_user_would_use(build: Path):
    (build / "parts.yaml").write_text("parts:\n  - id: P01\n    nmae: Frame\n", encoding="utf-8")
    (build / "life.yaml").write_text("tyres:\n  - {wheel: front, size: 2.75-18, fitted: 2025-02-30}\n", encoding="utf-8")
    _, problems = read_build(build, shown="builds/some")
    assert codes(problems) == [
        ("date-form", "builds/some/life.yaml", 2),
        ("key-missing", "builds/some/parts.yaml", 2),
        ("key-missing", "builds/some/parts.yaml", 2),
        ("key-missing", "builds/some/parts.yaml", 2),
        ("key-unknown", "builds/some/parts.yaml", 3),
    ]
    assert problems[-1].instead == "did you mean name?"


def test_a_log_is_read_with_its_units_and_rows_left_out_are_listed(build: Path):
    (build / "logs").mkdir()
    (build / "logs" / "DY-1.dyno_run.csv").write_text(
        "\ufeffEngine speed [rpm];Torque [N·m]\r\n6000;24.1\r\n7000;28,0\r\n\r\n8000;30.6\r\n", encoding="utf-8"
    )
    (build / "running.yaml").write_text("dyno:\n  - {id: DY-1, date: 2025-04-11, at: rear wheel, log: DY-1.dyno_run}\n", encoding="utf-8")
    read, problems = read_build(build)
    assert [one.code for one in problems] == ["file-bom", "log-number"]
    assert (problems[1].place.line, problems[1].place.column) == (3, 6)
    assert read is not None
    (log,) = read.logs
    assert (log.id, log.kind, log.belongs_to) == ("DY-1.dyno_run", "dyno_run", "DY-1")
    assert log.columns == (("rpm", "rpm"), ("torque", "N·m"))
    assert log.rows == ((6000.0, 24.1), (8000.0, 30.6))
    assert [line for line, _ in log.left_out] == [3]


def test_a_path_is_a_build_or_a_folder_of_builds(build: Path):
    assert find_builds(build) == [build]
    assert find_builds(build.parent) == [build]
    assert find_builds(build / "nothing") == []


def test_a_missing_folder_or_workshop_is_a_problem_not_an_error(build: Path):
    read, problems = read_build(build / "nothing")
    assert (read, [one.code for one in problems]) == (None, ["build-missing"])
    (build.parent / "workshop.yaml").unlink()
    read, problems = read_build(build)
    assert (read, [one.code for one in problems]) == (None, ["file-missing"])
    assert read_workshop(build.parent / "workshop.yaml")[0] is None


def test_the_fingerprint_changes_with_any_input_and_with_nothing_else(build: Path):
    before = fingerprint(build)
    assert input_files(build) == ["machine.yaml", "../workshop.yaml"]
    (build / ".hidden").write_text("x")
    assert fingerprint(build) == before
    (build.parent / "workshop.yaml").write_text(WORKSHOP + "address: Somewhere\n", encoding="utf-8")
    assert fingerprint(build) != before


def test_a_file_that_changes_without_changing_its_size_changes_the_fingerprint(build: Path):
    before = fingerprint(build)
    (build / "machine.yaml").write_text(MACHINE.replace("2025", "2024"), encoding="utf-8")
    assert fingerprint(build) != before


def test_a_fault_in_an_optional_key_leaves_the_rest_of_the_machine_to_be_read(build: Path):
    (build / "machine.yaml").write_text(MACHINE + "made_up: perhaps\nplate: {text: X}\n", encoding="utf-8")
    read, problems = read_build(build)
    assert [one.code for one in problems] == ["yes-or-no", "key-missing"]
    assert read is not None
    assert (read.machine.build_no, read.machine.plate) == ("SW-01", None)


def test_a_fault_in_a_needed_key_leaves_no_build_and_the_other_files_are_told_of_all_the_same(build: Path):
    (build / "machine.yaml").write_text(MACHINE.replace("completed: 2025", "completed: soon"), encoding="utf-8")
    (build / "parts.yaml").write_text("parts:\n  - {nmae: Frame}\n", encoding="utf-8")
    read, problems = read_build(build, shown="")
    assert read is None
    assert {(one.code, one.place.file) for one in problems} >= {("number-form", "machine.yaml"), ("key-unknown", "parts.yaml")}


def test_without_the_statement_of_what_the_machine_is_there_is_no_build(build: Path):
    (build / "machine.yaml").write_text(MACHINE.replace("this_machine_is: rep", "# rep"), encoding="utf-8")
    read, (problem,) = read_build(build)
    assert read is None
    assert (problem.code, problem.field) == ("key-missing", "this_machine_is")
    assert "reproduction by another builder" in problem.instead


@pytest.mark.parametrize(
    ("text", "audience", "title", "rest"),
    [
        ("# For the next mechanic\n\nMind the seal.\n", "workshop", "For the next mechanic", "# For the next mechanic\n\nMind the seal.\n"),
        ("audience: owner\n# Seal\n", "owner", "Seal", "# Seal\n"),
        ("audience: public\r\nMind the seal.\r\n", "public", "first ride", "Mind the seal.\n"),
        ("", "workshop", "first ride", "\n"),
        ("Text before\naudience: public\n", "workshop", "first ride", "Text before\naudience: public\n"),
    ],
)
def test_a_note_is_for_the_workshop_unless_its_first_line_says_otherwise(text: str, audience: str, title: str, rest: str, build: Path):
    (build / "notes").mkdir()
    (build / "notes" / "first-ride.md").write_bytes(text.encode())
    read, problems = read_build(build)
    assert problems == []
    assert read is not None
    (note,) = read.notes
    assert (note.id, note.audience, note.title, note.text) == ("first-ride", audience, title, rest)


def test_a_note_for_an_audience_that_does_not_exist_is_not_read_at_all(build: Path):
    (build / "notes").mkdir()
    for audience in ("Public", "everyone", ""):
        (build / "notes" / "a.md").write_text(f"audience: {audience}\nsecret\n", encoding="utf-8")
        read, problems = read_build(build)
        assert [one.code for one in problems] == ["note-audience"]
        assert read is not None
        assert read.notes == ()


def test_a_photograph_that_is_not_there_is_told_with_near_names_and_others_keep_their_facts(build: Path):
    (build / "photos").mkdir()
    Image.new("RGB", (16, 12)).save(build / "photos" / "frame.jpg")
    photo = "  - {{id: {}, file: {}, shows: The frame bare, date: 2025-01-10, seen_by: public}}\n"
    wanted = photo.format("PH-1", "frame.jpg") + photo.format("PH-2", "Frame.jpg") + photo.format("PH-3", "../machine.yaml")
    (build / "photos.yaml").write_text("photos:\n" + wanted, encoding="utf-8")
    read, problems = read_build(build)
    assert [(one.code, one.place.line) for one in problems] == [("photo-missing", 3), ("photo-missing", 4)]
    assert problems[0].instead == "did you mean frame.jpg?"
    assert read is not None
    first, second, _ = read.photos.photos
    assert first.facts is not None
    assert (first.facts.width, first.facts.height, first.facts.format) == (16, 12, "jpeg")
    assert second.facts is None
