"""A begun build folder reads, never covers what is there, and shows every key of every form with an example that is right."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from dossier.keep.begin import begin, text_of
from dossier.model.forms.machine import Machine
from dossier.model.forms.measurements import Measurements
from dossier.model.forms.workshop import WorkshopFile
from dossier.read.folder import FORMS, read_build
from dossier.read.places import Block, Listing, Node, read_tree
from dossier.read.shapes import is_form, keys_of, listed
from dossier.read.specs import fill_in

ALL = [*FORMS.values(), WorkshopFile]


def opened(form: type[Any]) -> Node:
    """The form with every commented key taken in."""
    text = re.sub(r"^# ", "", text_of(form), flags=re.M)
    root, problems = read_tree(text.encode(), "f.yaml")
    assert problems == []
    assert root is not None
    return root


def test_a_begun_folder_reads_and_only_what_is_still_to_be_filled_in_is_told(tmp_path: Path):
    written = begin(tmp_path / "builds" / "first", "Some Workshop replica of the Other 250 (1966), completed 2025")
    assert sorted(path.name for path in written) == sorted([*(f"{subject}.yaml" for subject in FORMS), "logs.yaml", "workshop.yaml"])
    build, problems = read_build(tmp_path / "builds" / "first")
    assert {one.code for one in problems} == {"file-empty", "still-to-fill"}
    # what the machine is, nobody says but a person: without it there is no build
    assert build is None
    [what] = [one for one in problems if one.field == "this_machine_is"]
    assert "reproduction by another builder" in what.instead


def test_beginning_again_changes_nothing_that_is_there(tmp_path: Path):
    folder = tmp_path / "first"
    folder.mkdir()
    (folder / "parts.yaml").write_text("mine")
    (tmp_path / "workshop.yaml").write_text("mine too")
    written = begin(folder)
    assert folder / "parts.yaml" not in written
    assert (folder / "parts.yaml").read_text() == "mine"
    assert (tmp_path / "workshop.yaml").read_text() == "mine too"
    assert begin(folder) == []


@pytest.mark.parametrize("form", ALL)
def test_every_example_is_one_that_its_form_reads(form: type[Any]):
    sheet = fill_in(form, opened(form), "f.yaml")
    told = {one.code for one in sheet.problems}
    # An entry shows all five ways to give a value, of which a real one has one.
    assert told <= {Measurements: {"entry-ambiguous", "unit-twice", "timing-form"}, Machine: {"still-to-fill"}}.get(form, set())


@pytest.mark.parametrize("form", ALL)
def test_every_key_of_every_form_is_shown(form: type[Any]):
    def shown(node: Node | None, kind: Any) -> None:
        if (inner := listed(kind)) is not None:
            assert isinstance(node, Listing)
            shown(node.items[0], inner)
        elif is_form(kind):
            assert isinstance(node, Block)
            assert set(node.entries) >= set(keys_of(kind)) - {"audience", "remark"}
            for key in set(keys_of(kind)) - {"audience", "remark"}:
                shown(node.get(key), keys_of(kind)[key])

    shown(opened(form), form)


def test_what_a_form_says_of_a_field_stands_beside_it():
    assert "# Year of completion: the machine's date, never the period's." in text_of(FORMS["machine"]).replace("a year · ", "")
    assert re.search(r"^#     price: .*for workshop", text_of(FORMS["parts"]), re.M)
