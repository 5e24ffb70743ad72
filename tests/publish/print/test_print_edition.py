"""The print edition holds every page and every plot of the site, is fit to keep and to be read aloud, and says whose it is on each leaf."""

from __future__ import annotations

import io
import os
import re
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from dossier import cli
from dossier.audience import open_builds
from dossier.model.audience import Audience
from dossier.model.edition import Edition
from dossier.model.picture import PublishedFile, Rendition
from dossier.pages.page import Page, write_pages
from dossier.publish.print_edition import press as sheet_press
from dossier.publish.print_edition.edition import laid_out, print_edition
from tests.publish.pack.packs import BUILDS
from tests.publish.planted import Planter, plant

ROOT = Path(__file__).resolve().parents[3]
CASES = [("talvera-350-gp", Audience.PUBLIC), ("kestrane-125-r", Audience.WORKSHOP)]


@dataclass
class Printed:
    """A print edition beside the pages that the site would have."""

    file: Path
    edition: Edition
    pages: list[Page]
    leaves: list[str]
    read: PdfReader

    @property
    def title(self) -> str:
        return self.edition.build.machine.title


def edition_of(folder: Path, audience: Audience) -> Edition:
    [opened], _ = open_builds(folder)
    return opened.edition(audience)


def pages_of(edition: Edition) -> list[Page]:
    """The pages as the site has them, each photograph by a made-up file."""
    files = {one.photo: Rendition((PublishedFile(f"{one.photo}.jpg", 1200, 800, 1, ""),)) for one in edition.travels}
    return write_pages(replace(edition, renditions=files))


def leaves_of(file: Path) -> list[str]:
    """The words of each leaf, by poppler."""
    done = subprocess.run(["pdftotext", "-layout", str(file), "-"], capture_output=True, check=True)
    return done.stdout.decode("utf-8").replace("\u2060", "").split("\f")[:-1]


def run(*words: object) -> Any:
    return CliRunner().invoke(cli.main, ["print", *map(str, words)])


@pytest.fixture(scope="module", params=CASES, ids=lambda case: f"{case[0]} for {case[1].word}")
def printed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Printed:
    if not shutil.which("pdftotext"):
        pytest.skip("needs Debian's poppler-utils")
    slug, audience = request.param
    folder = tmp_path_factory.mktemp("print")
    done = run(BUILDS / slug, "--for", audience.word, "--out", folder / "edition.pdf", "--no-cache")
    assert done.exit_code == 0, done.output
    edition = edition_of(BUILDS / slug, audience)
    file = folder / "edition.pdf"
    return Printed(file, edition, pages_of(edition), leaves_of(file), PdfReader(file))


def bare(words: str) -> str:
    """Words without blanks, as line breaks and columns fall where they will."""
    return "".join(unescape(re.sub(r"<[^>]*>", "", words)).split())


def test_every_page_and_every_section_of_the_site_is_on_paper(printed: Printed) -> None:
    text = bare(" ".join(printed.leaves))

    for page in printed.pages:
        assert bare(page.title) in text, page.title
        for _, title in page.sections:
            assert bare(title) in text, title
        for heading in re.findall(r"<h[2-6][^>]*>(.*?)</h[2-6]>", page.html):
            assert bare(heading) in text, heading


def test_every_plot_and_every_photograph_of_the_site_is_on_paper_with_words_for_who_cannot_see_it(printed: Printed) -> None:
    alts = [element.get("/Alt", "") for element in elements(printed.read) if element.get("/S") == "/Figure"]
    plots = Counter(
        unescape(f"{title}. {text}").rstrip(".")
        for page in printed.pages
        for title, text in re.findall(r'class="plot only-wide".*?<title[^>]*>(.*?)</title><desc[^>]*>(.*?)</desc>', page.html)
    )
    pictures = Counter(unescape(alt) for page in printed.pages for alt in re.findall(r'<img [^>]*alt="([^"]*)"', page.html))
    on_paper = Counter(str(alt).rstrip(".") for alt in alts)

    assert all(alts)
    assert plots
    assert not plots - on_paper
    assert not Counter({alt.rstrip("."): count for alt, count in pictures.items()}) - on_paper


def elements(read: PdfReader) -> Iterator[DictionaryObject]:
    """Every element of the tree of tags."""
    waiting: list[Any] = [read.trailer["/Root"]["/StructTreeRoot"]]  # type: ignore[index]
    while waiting:
        one = waiting.pop().get_object()
        if isinstance(one, list):
            waiting += one
        elif isinstance(one, DictionaryObject):
            yield one
            waiting += [one["/K"]] if "/K" in one else []


def test_headings_tables_lists_contents_and_formulas_are_tagged_as_what_they_are(printed: Printed) -> None:
    tags = Counter(str(one.get("/S")) for one in elements(printed.read))
    tables = sum(page.html.count("<table") for page in printed.pages)

    assert tags["/H1"] >= len(printed.pages)
    assert tags["/H2"] == sum(page.html.count("<h2") for page in printed.pages)
    assert tags["/Table"] == tables
    assert tags["/TH"] > tables
    assert tags["/TOC"]
    assert tags["/Link"]
    assert tags["/Formula"] >= sum(page.html.count('class="eq"') for page in printed.pages) * 0.9  # what is too wide is set as words


def test_every_leaf_says_replica_build_edition_revision_and_its_number(printed: Printed) -> None:
    machine, edition = printed.edition.build.machine, printed.edition
    draft = ", DRAFT" if edition.draft else ""
    count = len(printed.leaves)
    assert "REPLICA" in printed.leaves[0]
    assert ("DRAFT" in printed.leaves[0]) is edition.draft
    for number, leaf in enumerate(printed.leaves[1:], start=2):
        foot = " ".join(leaf.strip().splitlines()[-1].split())
        assert foot.startswith(
            f"REPLICA {machine.build_no}. {edition.audience.word.capitalize()} edition{draft}, revision {edition.revision}, "
        )
        assert foot.endswith(f"page {number} of {count}")


def test_the_cover_names_the_machine_and_the_second_leaf_states_what_it_is(printed: Printed) -> None:
    machine = printed.edition.build.machine

    assert bare(machine.title) in bare(printed.leaves[0])
    assert bare(machine.statement) in bare(printed.leaves[1])
    assert bare(machine.this_machine_is) in bare(printed.leaves[1])


def test_the_page_numbers_of_the_contents_are_right(printed: Printed) -> None:
    titles = {title for page in printed.pages for title in (page.title, *(title for _, title in page.sections))}
    first = next(number for number, leaf in enumerate(printed.leaves) if "Contents" in leaf)
    last = next(
        number for number, leaf in enumerate(printed.leaves) if re.search(r"^ *1 +Front sheet", leaf, re.MULTILINE) and number > first
    )
    said = [
        found
        for leaf in printed.leaves[first:last]
        for found in re.findall(r"(?:[\d.]+ +)?(\S[^.]*?(?:\.\d[^.]*?)?) *(?:\. *){3,}(\d+)", leaf)
    ]
    checked = [(title, int(number)) for title, number in said if title in titles]

    assert len(checked) > len(titles) * 0.8
    for title, number in checked:
        assert bare(title) in bare(printed.leaves[number - 1]), (title, number)


def test_each_bookmark_leads_to_the_leaf_that_has_its_heading(printed: Printed) -> None:
    marks = list(flat(printed.read.outline))

    assert len(marks) > len(printed.pages)
    for mark in marks:
        leaf = printed.leaves[printed.read.get_destination_page_number(mark)]
        assert bare(re.sub(r"^[\d.]+ ", "", mark.title)) in bare(leaf), mark.title


def flat(marks: list[Any]) -> Iterator[Any]:
    for one in marks:
        yield from flat(one) if isinstance(one, list) else [one]


def test_a_number_in_the_index_stands_on_the_leaf_said_of_it(printed: Printed) -> None:
    leaf = next(number for number in range(len(printed.leaves) - 1, 0, -1) if "Where each number stands" in printed.leaves[number][:2000])
    said = re.findall(r"\b([A-Z]{1,4}-?\d{1,4}) *[. ]* (\d+)\b", printed.leaves[leaf])

    assert len(said) >= 10
    for id, number in said:
        assert id in printed.leaves[int(number) - 1], (id, number)


def test_photographs_have_two_hundred_dots_an_inch_and_no_alpha(printed: Printed) -> None:
    done = subprocess.run(["pdfimages", "-list", str(printed.file)], capture_output=True, text=True, check=True)
    rows = [line.split() for line in done.stdout.splitlines()[2:]]

    assert rows
    assert {row[2] for row in rows} == {"image"}
    assert {row[8] for row in rows} == {"jpeg"}
    # the site's own are 2400 long, which on the same paper would be 360 to 1130
    assert all(190 <= float(row[12]) <= 212 for row in rows), rows


@pytest.mark.skipif(not shutil.which("qpdf"), reason="needs Debian's qpdf")
def test_qpdf_finds_nothing_wrong(printed: Printed) -> None:
    assert subprocess.run(["qpdf", "--check", str(printed.file)], check=False, capture_output=True).returncode == 0


def test_it_claims_pdf_a_2a_and_ua_1_with_every_font_inside(printed: Printed) -> None:
    metadata = printed.read.trailer["/Root"]["/Metadata"].get_data().decode()  # type: ignore[index]

    assert "<pdfaid:part>2</pdfaid:part>" in metadata
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in metadata
    assert "<pdfuaid:part>1</pdfuaid:part>" in metadata
    fonts = subprocess.run(["pdffonts", str(printed.file)], capture_output=True, text=True, check=True).stdout.splitlines()[2:]
    assert all(line.split()[-5:-2] == ["yes", "yes", "yes"] for line in fonts)  # embedded, of the letters used, with their Unicode


JARS = [
    f"/usr/share/java/{name}.jar"
    for name in ("preflight", "pdfbox2", "fontbox2", "xmpbox", "commons-logging", "javax.activation", "jaxb-api")
]


@pytest.mark.skipif(
    not shutil.which("java") or not all(Path(jar).exists() for jar in JARS),
    reason="needs Debian's default-jre-headless, libpdfbox2-java, libactivation-java and libjaxb-api-java",
)
def test_a_validator_of_others_finds_nothing_wrong_in_the_same_sheets_set_as_a_1b(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # Preflight of PDFBox 2 rates PDF/A-1b alone: fonts, colours, pictures and structure of the file are rated, tags are not.
    monkeypatch.setattr(sheet_press, "STANDARDS", ["a-1b"])
    file = tmp_path / "edition.pdf"
    file.write_bytes(print_edition(edition_of(BUILDS / "kestrane-125-r", Audience.PUBLIC), BUILDS / "kestrane-125-r"))
    command = ["java", "-cp", ":".join(JARS), "org.apache.pdfbox.preflight.Validator_A1b", str(file)]
    said = subprocess.run(command, capture_output=True, text=True, check=False).stdout.splitlines()
    # it does not follow a destination that is an object of its own, which ISO 32000-1, 7.3.10, allows anywhere
    wrong = [line for line in said if re.match(r"\S+ : ", line) and "can't convert to Destination COSObject" not in line]

    assert any("valid PDF/A-1b file" in line for line in said), said
    assert not wrong


@pytest.mark.skipif(not shutil.which("exiftool"), reason="needs Debian's libimage-exiftool-perl")
def test_it_tells_nothing_of_the_machine_that_made_it(printed: Printed) -> None:
    done = subprocess.run(["exiftool", "-a", "-G1", "-s", "-u", str(printed.file)], capture_output=True, text=True, check=True)
    said = [line for line in done.stdout.splitlines() if not line.startswith(("[System]", "[ExifTool]"))]
    dates = [line for line in said if re.search(r"\d{4}:\d\d:\d\d", line)]

    assert dates
    assert all(printed.edition.revised.strftime("%Y:%m:%d 00:00:00") in line for line in dates)
    for word in (str(printed.file.parent), str(ROOT), str(Path.home()), os.uname().nodename):
        assert word not in "\n".join(said)
    for word in (str(printed.file.parent), str(ROOT), "dossier-print-", "dossier-fonts-"):
        assert word.encode() not in printed.file.read_bytes()


def test_the_same_build_gives_the_same_bytes_under_another_path_zone_locale_and_hash_seed(tmp_path: Path) -> None:
    other = tmp_path / "another place, with blanks" / "machines"
    shutil.copytree(BUILDS, other)

    def made(folder: Path, **surroundings: str) -> bytes:
        out = tmp_path / f"{len(list(tmp_path.iterdir()))}.pdf"
        command = [
            sys.executable,
            "-m",
            "dossier.cli",
            "print",
            str(folder / "kestrane-125-r"),
            "--for",
            "owner",
            "--out",
            str(out),
            "--no-cache",
        ]
        subprocess.run(command, env={**os.environ, "PYTHONPATH": str(ROOT), **surroundings}, check=True, capture_output=True, cwd=tmp_path)
        return out.read_bytes()

    here = made(BUILDS, TZ="UTC", LC_ALL="C.UTF-8", PYTHONHASHSEED="1")
    assert here == made(other, TZ="Pacific/Kiritimati", LC_ALL="C", PYTHONHASHSEED="99", HOME=str(tmp_path))


def test_no_planted_word_is_in_the_print_edition_of_the_public_and_the_workshops_has_them(tmp_path: Path) -> None:
    planter = Planter("Zyxq", above=Audience.PUBLIC)
    folder = plant("talvera-350-gp", tmp_path / "builds", planter)
    found = {}
    for audience in (Audience.PUBLIC, Audience.WORKSHOP):
        pdf = print_edition(edition_of(folder, audience), folder)
        (tmp_path / "edition.pdf").write_bytes(pdf)
        alts = " ".join(str(one.get("/Alt", "")) for one in elements(PdfReader(io.BytesIO(pdf))))
        found[audience] = len(set(re.findall(r"Zyxq\d{4}", bare(" ".join(leaves_of(tmp_path / "edition.pdf"))) + alts)))
        assert audience is Audience.WORKSHOP or b"Zyxq" not in pdf

    assert planter.planted > 150
    assert found[Audience.PUBLIC] == 0
    assert found[Audience.WORKSHOP] > 100


def test_changing_every_private_word_changes_no_byte_of_the_public_print_edition(tmp_path: Path) -> None:
    def made(word: str) -> bytes:
        folder = plant("kestrane-125-r", tmp_path / word, Planter(word, above=Audience.PUBLIC))
        return print_edition(edition_of(folder, Audience.PUBLIC), folder)

    assert made("Zyxq") == made("Wvut")


def test_plots_are_set_in_fixed_inks_and_the_livery_of_the_day() -> None:
    edition = replace(edition_of(BUILDS / "talvera-350-gp", Audience.WORKSHOP), travels=())
    plots = [node["of"] for node in nodes(laid_out(edition, {})["sheets"]) if node.get("k") == "plot"]

    assert len(plots) == sum(page.html.count("plot only-wide") for page in write_pages(edition))
    assert not [plot for plot in plots if "var(" in plot or "currentColor" in plot]
    assert all(edition.build.machine.livery.day in plot for plot in plots)


def nodes(tree: Any) -> Iterator[dict[str, Any]]:
    if isinstance(tree, dict):
        yield tree
        tree = list(tree.values())
    if isinstance(tree, list):
        for one in tree:
            yield from nodes(one)


def test_a_letter_that_no_font_has_is_told_by_its_number_and_every_formula_stays_set() -> None:
    edition = replace(edition_of(BUILDS / "kestrane-125-r", Audience.PUBLIC), travels=())
    machine = replace(edition.build.machine, notice="Given by 中 of the club.")
    pdf = print_edition(replace(edition, build=replace(edition.build, machine=machine)), BUILDS / "kestrane-125-r")
    read = PdfReader(io.BytesIO(pdf))
    text = bare(" ".join(page.extract_text() for page in read.pages))

    assert bare("Given by [U+4E2D] of the club.") in text
    assert set(re.findall(r"\[U\+[0-9A-F]+\]", text)) == {"[U+4E2D]"}


def test_a_changed_photograph_stops_the_press_and_is_named(tmp_path: Path) -> None:
    shutil.copytree(BUILDS, tmp_path / "builds")
    folder = tmp_path / "builds" / "kestrane-125-r"
    edition = edition_of(folder, Audience.PUBLIC)
    spoilt = edition.travels[0]
    (folder / "photos" / spoilt.file).write_bytes(b"no picture")

    with pytest.raises(Exception, match=spoilt.photo):
        print_edition(edition, folder)


def test_the_command_refuses_a_folder_of_many_builds_and_a_build_with_errors(tmp_path: Path) -> None:
    many = run(BUILDS, "--for", "public", "--out", tmp_path / "many.pdf")
    shutil.copytree(BUILDS, tmp_path / "builds")
    (tmp_path / "builds" / "kestrane-125-r" / "machine.yaml").write_text("form: 1\n", encoding="utf-8")
    bad = run(tmp_path / "builds" / "kestrane-125-r", "--for", "public", "--out", tmp_path / "bad.pdf")

    assert (many.exit_code, bad.exit_code) == (1, 1)
    assert "one build is printed at a time; nothing was printed" in many.output
    assert "nothing was printed" in bad.output
    assert not list(tmp_path.glob("*.pdf"))
