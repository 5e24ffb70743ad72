"""The label bears the edition's digest in full, as digits and as a code that a reader reads; its bytes depend on the pack alone."""

from __future__ import annotations

import io
import shutil
import subprocess
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pypdf import PdfReader

from dossier import cli
from dossier.publish.print_edition.label import LabelError, label
from tests.publish.pack.packs import kestrane, new_key, small

ADDRESS = "https://example.org/k125"


def run(*words: object) -> Result:
    return CliRunner().invoke(cli.main, ["label", *map(str, words)])


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A pack and its label, in a folder with the pack's key."""
    folder = tmp_path_factory.mktemp("label")
    with pytest.MonkeyPatch.context() as monkeypatch:
        small(monkeypatch, kestrane(), new_key(folder, "key"), folder / "pack")
    done = run(folder / "pack", "--out", folder / "label.pdf", "--address", ADDRESS)
    assert done.exit_code == 0, done.output
    return folder


def digest_by_sha256sum(folder: Path) -> str:
    done = subprocess.run(["sha256sum", "pack/tagmanifest-sha512.txt"], cwd=folder, capture_output=True, text=True, check=True)
    return done.stdout.split()[0]


def test_it_is_one_sheet_of_a6_that_says_replica_edition_and_the_whole_digest(made: Path) -> None:
    [page] = PdfReader(made / "label.pdf").pages
    text = page.extract_text()

    # ISO 216: A6 is 105 × 148 mm
    assert [float(side) * 25.4 / 72 for side in page.mediabox[2:]] == pytest.approx([105, 148], abs=0.01)
    assert "REPLICA" in text
    assert "Owner edition 1, revision A, 2025-05-10." in text
    assert digest_by_sha256sum(made) in "".join(text.split())


@pytest.mark.skipif(not (shutil.which("zbarimg") and shutil.which("pdftoppm")), reason="needs Debian's zbar-tools and poppler-utils")
def test_a_reader_of_codes_reads_digest_and_address_from_the_printed_sheet(made: Path) -> None:
    subprocess.run(["pdftoppm", "-r", "150", "-png", "label.pdf", "label"], cwd=made, check=True)
    done = subprocess.run(["zbarimg", "-q", "--raw", "label-1.png"], cwd=made, capture_output=True, text=True, check=True)

    assert set(done.stdout.split()) == {digest_by_sha256sum(made), ADDRESS}


@pytest.mark.skipif(not shutil.which("qpdf"), reason="needs Debian's qpdf")
def test_qpdf_finds_nothing_wrong(made: Path) -> None:
    assert subprocess.run(["qpdf", "--check", str(made / "label.pdf")], check=False, capture_output=True).returncode == 0


def test_it_is_tagged_and_claims_pdf_a_2a_and_ua_1_with_every_font_inside(made: Path) -> None:
    read = PdfReader(made / "label.pdf")
    metadata = read.trailer["/Root"]["/Metadata"].get_data().decode()  # type: ignore[index]

    assert "<pdfaid:part>2</pdfaid:part>" in metadata
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in metadata
    assert "<pdfuaid:part>1</pdfuaid:part>" in metadata
    assert read.trailer["/Root"]["/MarkInfo"]["/Marked"]  # type: ignore[index]
    [page] = read.pages
    fonts = page["/Resources"]["/Font"]  # type: ignore[index]
    assert all("/FontFile2" in font.get_object()["/DescendantFonts"][0]["/FontDescriptor"] for font in fonts.values())


def test_the_same_pack_gives_the_same_bytes_with_the_editions_own_date_and_no_path(made: Path) -> None:
    shutil.copytree(made / "pack", made / "elsewhere" / "pack")
    again = label(made / "elsewhere" / "pack", ADDRESS)

    assert again == (made / "label.pdf").read_bytes()
    assert str(PdfReader(io.BytesIO(again)).metadata["/CreationDate"]).startswith("D:20250510")  # type: ignore[index]
    assert str(made).encode() not in again


def test_words_of_a_pack_that_look_like_typst_stay_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from dataclasses import replace

    edition = kestrane()
    machine = replace(edition.build.machine, title='#panic("x") $x$ *bold* \\ "quoted"')
    small(monkeypatch, replace(edition, build=replace(edition.build, machine=machine)), new_key(tmp_path, "key"), tmp_path / "pack")
    [page] = PdfReader(io.BytesIO(label(tmp_path / "pack"))).pages

    assert '#panic("x") $x$ *bold* \\ "quoted"' in page.extract_text()


def test_a_pack_that_is_not_whole_gets_no_label(made: Path, tmp_path: Path) -> None:
    shutil.copytree(made / "pack", tmp_path / "pack")
    (tmp_path / "pack/data/dossier.json").unlink()
    done = run(tmp_path / "pack", "--out", tmp_path / "label.pdf")

    assert done.exit_code == 1
    assert "data/dossier.json: missing" in done.output
    assert not (tmp_path / "label.pdf").exists()


def test_an_address_too_long_for_its_line_is_refused(made: Path) -> None:
    with pytest.raises(LabelError, match="at most 40"):
        label(made / "pack", "https://example.org/" + "x" * 21)
