"""The difference of two editions names every record that is new, gone or changed, as text and as a page, and nothing else."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from dossier import cli
from dossier.audience import open_builds
from dossier.model.audience import Audience
from dossier.pages.difference import NotComparable, changes_between, difference_page, difference_text
from dossier.publish.machine_copy import machine_copy
from tests.publish.pack.packs import BUILDS, talvera_as_handed_over


def run(*words: object) -> Result:
    return CliRunner().invoke(cli.main, ["difference", *map(str, words)])


def copy_of(build: Path, audience: Audience = Audience.OWNER) -> dict[str, Any]:
    [opened], _ = open_builds(build)
    read: dict[str, Any] = json.loads(machine_copy(opened.edition(audience)))
    return read


@pytest.fixture(scope="module")
def newer() -> dict[str, Any]:
    return copy_of(BUILDS / "talvera-350-gp")


@pytest.fixture
def older(newer: dict[str, Any]) -> dict[str, Any]:
    return copy.deepcopy(newer)


def record(edition: dict[str, Any], *path: str, **named: object) -> dict[str, Any]:
    found: Any = edition
    for step in path:
        found = found[step]
    return next(one for one in found if all(one.get(key) == value for key, value in named.items()))


def test_an_edition_does_not_differ_from_itself(newer: dict[str, Any], older: dict[str, Any]) -> None:
    assert changes_between(older, newer) == []
    assert "nothing changed" in difference_text(older, newer)


def test_the_demos_change_of_owner_is_told_as_it_was_written(tmp_path: Path, newer: dict[str, Any]) -> None:
    older = copy_of(talvera_as_handed_over(tmp_path / "builds"))
    changes = [one for one in changes_between(older, newer) if one.section != "Figures"]

    assert [(one.section, one.how) for one in changes] == [("Holders", "changed"), ("Holders", "new"), ("Papers", "new")]
    assert changes[0].fields == (("until", "", "2025-10-04"),)
    assert ("shown as", "", "second owner (name private)") in changes[1].fields
    assert "revision E, 2025-10-04: change of owner; tyres and hub dates rechecked" in difference_text(older, newer)


def test_a_changed_limit_verdict_reading_part_and_life_limit_are_each_told_with_both_values(
    newer: dict[str, Any], older: dict[str, Any]
) -> None:
    record(older, "build", "specification", "items", id="D01")["limits"]["text"] = "340.0 to 350.0 cc"
    record(older, "verdicts", item="D01")["raw"] = "cannot be decided"
    record(older, "build", "measurements", "as_built", what="bore", cylinder="left")["readings"][0]["text"] = "62.020 mm"
    record(older, "build", "parts", "parts", id="P01")["origin"] = "reproduction"
    record(older, "build", "life", "lifed", id="L-01")["limit_hours"]["text"] = "25 h"
    told = {(one.section, one.name.split(",")[0]): one.fields for one in changes_between(older, newer)}

    assert told[("Declared items and their limits", "D01")] == (("limits", "340.0 to 350.0 cc", "348.0 to 350.0 cc"),)
    assert told[("Verdicts", "D01")] == (("raw", "cannot be decided", "conforms"),)
    assert told[("Readings as built", "bore")][0][1].startswith("62.020 mm, 62.011 mm")
    assert told[("Parts", "P01")] == (("origin", "reproduction", "genuine, from another machine"),)
    assert told[("Limits of life", "L-01")] == (("limit hours", "25 h", "20 h"),)
    assert len(told) == 5


def test_who_did_it_is_told_where_it_is_recorded(newer: dict[str, Any], older: dict[str, Any]) -> None:
    record(older, "build", "specification", "concessions", id="C-01")["limit"] = "drum not above 200.8 mm"
    [change] = changes_between(older, newer)

    assert change.by == "by Harrowfen Workshop, the owner, 2025-05-24"


def test_a_part_taken_out_is_told_as_gone(newer: dict[str, Any], older: dict[str, Any]) -> None:
    changes = changes_between(older, {**newer, "build": {**newer["build"], "parts": {"parts": newer["build"]["parts"]["parts"][1:]}}})

    assert [(one.section, one.name, one.how) for one in changes if one.section == "Parts"] == [("Parts", "P01, Crankcases", "gone")]


def test_editions_for_two_audiences_or_of_two_machines_are_not_compared(newer: dict[str, Any]) -> None:
    for other in (copy_of(BUILDS / "talvera-350-gp", Audience.PUBLIC), copy_of(BUILDS / "kestrane-125-r")):
        with pytest.raises(NotComparable):
            changes_between(other, newer)


def test_words_written_to_be_misread_stay_words_on_the_page(newer: dict[str, Any], older: dict[str, Any]) -> None:
    record(older, "build", "parts", "parts", id="P01")["name"] = "<script>alert(1)</script>"

    page = difference_page(older, newer)

    assert "<script>" not in page.html
    assert "&lt;script&gt;" in page.html


def test_the_command_prints_the_text_and_publishes_the_page(tmp_path: Path, newer: dict[str, Any], older: dict[str, Any]) -> None:
    record(older, "build", "parts", "parts", id="P01")["origin"] = "reproduction"
    for name, one in (("older.json", older), ("newer.json", newer)):
        (tmp_path / name).write_text(json.dumps(one), encoding="utf-8")
    done = run(tmp_path / "older.json", tmp_path / "newer.json", "--out", tmp_path / "page")

    assert done.exit_code == 0, done.output
    assert "    origin: reproduction -> genuine, from another machine\n" in done.output
    html = (tmp_path / "page/index.html").read_text(encoding="utf-8")
    assert "What changed from revision E to E" in html
    assert "genuine, from another machine" in html


def test_what_is_no_edition_is_refused_in_words(tmp_path: Path) -> None:
    (tmp_path / "a.json").write_text('{"form": 1}', encoding="utf-8")
    for path in (tmp_path, tmp_path / "a.json"):
        done = run(path, path, "--out", tmp_path / "page")
        assert done.exit_code == 1, done.output
        assert done.output.startswith("Error: ")
