"""The set-up sheet on paper: one leaf of A5 with what the page says, for keeping, the same bytes every time."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from dossier.audience import let_out, open_builds
from dossier.model.audience import Audience
from dossier.model.edition import Edition
from dossier.pages.set_up import set_up
from dossier.publish.print_edition.marked import UnsetError, tree_of
from dossier.publish.print_edition.press import press
from dossier.publish.print_edition.set_up_sheet import set_up_sheet
from tests.filled_build import everything
from tests.publish.pack.packs import BUILDS


def edition(slug: str, audience: Audience = Audience.OWNER) -> Edition:
    [opened], _ = open_builds(BUILDS / slug)
    return opened.edition(audience)


def made(one: Edition) -> bytes:
    sheet = set_up_sheet(one)
    assert sheet is not None
    return sheet


def words_of(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages).split())


@pytest.mark.parametrize("slug", ["talvera-350-gp", "kestrane-125-r"])
def test_each_demo_build_has_it_on_one_leaf_of_a5_with_every_value_of_the_page(slug: str) -> None:
    one = edition(slug)
    pdf = made(one)
    [leaf] = PdfReader(io.BytesIO(pdf)).pages
    page = set_up(one)
    assert page is not None
    values = [re.sub(r"<[^>]*>", " ", value) for value in re.findall(r"<dd[^>]*>(.*?)(?:<small>|</dd>)", page.html)]

    # ISO 216: A5 is 148 × 210 mm
    assert [float(side) * 25.4 / 72 for side in leaf.mediabox[2:]] == pytest.approx([148, 210], abs=0.01)
    assert values
    for value in values:
        assert " ".join(value.split()) in words_of(pdf)


def test_its_foot_says_replica_edition_and_revision_and_a_draft_says_draft() -> None:
    assert "REPLICA. HFW-07. Owner edition, revision E, 4 October 2025" in words_of(made(edition("talvera-350-gp")))
    draft = words_of(made(edition("kestrane-125-r")))
    assert "Owner edition, DRAFT, revision A" in draft
    assert "REPLICA DRAFT" in draft


def test_it_says_that_it_is_a_record_and_no_instruction() -> None:
    assert "not an instruction; local law, club rules and a competent person come first" in words_of(made(edition("talvera-350-gp")))


@pytest.mark.skipif(not shutil.which("qpdf"), reason="needs Debian's qpdf")
def test_qpdf_finds_nothing_wrong(tmp_path: Path) -> None:
    (tmp_path / "sheet.pdf").write_bytes(made(edition("talvera-350-gp")))

    assert subprocess.run(["qpdf", "--check", "sheet.pdf"], cwd=tmp_path, check=False, capture_output=True).returncode == 0


def test_the_same_edition_gives_the_same_bytes() -> None:
    assert made(edition("talvera-350-gp")) == made(edition("talvera-350-gp"))


@pytest.mark.parametrize("audience", [Audience.PUBLIC, Audience.OWNER])
def test_changing_every_private_word_changes_no_byte(audience: Audience) -> None:
    one, other = (set_up_sheet(let_out(everything(seed, steady=audience), audience)) for seed in (1, 2))

    assert one is not None
    assert one == other


def test_a_letter_that_no_font_has_is_told_by_its_number_and_other_letters_stay() -> None:
    source = '#set document(title: "x")\n#let d = json(bytes(sys.inputs.data))\n#d.text'

    assert "Łódź Ω Ж" in words_of(press(source, {"text": "Łódź Ω Ж"}, 0))
    assert "bore 中".replace("中", "[U+4E2D]") in words_of(press(source, {"text": "bore 中"}, 0))
    assert "a[U+0000]b" in words_of(press(source, {"text": "a\0b"}, 0))


def test_words_that_look_like_typst_stay_words() -> None:
    one = edition("kestrane-125-r")
    machine = replace(one.build.machine, title='#panic("x") $x$ *bold* \\ [b] // c')

    assert '#panic("x") $x$ *bold* \\ [b] // c' in words_of(made(replace(one, build=replace(one.build, machine=machine))))


@pytest.mark.parametrize("html", ["<table></table>", "<svg></svg>", "<p>a", "<p><b>a</p></b>"])
def test_mark_up_that_nobody_taught_the_press_is_refused_never_dropped(html: str) -> None:
    with pytest.raises(UnsetError):
        tree_of(html)
