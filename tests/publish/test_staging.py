"""The staged folder: buildable by any mkdocs, and nothing in it read as anything but what was written."""

from __future__ import annotations

import html
import json
import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import html5lib
import pytest
import yaml

from dossier.pages.page import Page
from dossier.publish.staging import SiteFacts, StagingError, stage
from tests.publish.sheets import ARCHIVE, FACTS, FILES, HOSTILE, SHEETS, built

PLAIN = {"html": "http://www.w3.org/1999/xhtml"}


def bare_build(staged: Path) -> None:
    """Run mkdocs itself on the folder, as a stranger would; any warning fails it."""
    subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet"],
        cwd=staged,
        check=True,
        env={**os.environ, "NO_MKDOCS_2_WARNING": "1"},
    )


def read(path: Path):
    return html5lib.parse(path.read_text(encoding="utf-8"), namespaceHTMLElements=False)


def words(element) -> str:
    return "".join(element.itertext())


def test_a_bare_mkdocs_builds_the_staged_folder_as_it_stands(tmp_path):
    stage(SHEETS, FACTS, tmp_path / "staged", FILES)
    bare_build(tmp_path / "staged")
    page = read(tmp_path / "staged/site/specification.html")
    assert "The carburettor was jetted at home." in words(page)
    assert words(page.find(".//h1")) == "Declared specification"


def test_mkdocs_with_its_own_plain_theme_builds_the_staged_folder_too(tmp_path):
    staged = tmp_path / "staged"
    hostile = Page("hostile", HOSTILE[1], f"<p>{html.escape(HOSTILE[1])}</p>")
    stage((*SHEETS, hostile), replace(FACTS, title=HOSTILE[1]), staged, FILES)
    written = yaml.safe_load((staged / "mkdocs.yml").read_text(encoding="utf-8"))
    written["theme"] = {"name": "mkdocs"}
    (staged / "mkdocs.yml").write_text(yaml.safe_dump(written, sort_keys=False), encoding="utf-8")
    bare_build(staged)
    page = read(staged / "site/hostile.html")
    assert HOSTILE[1] in words(page.find(".//p"))
    assert page.findall(".//img[@onerror]") == []
    assert "66.02 mm" in words(read(staged / "site/specification.html"))


@pytest.fixture(scope="module")
def hostile_site(tmp_path_factory) -> Path:
    """One page for each hostile text, with it in every place a text can stand; and all facts hostile."""
    sheets = [replace(SHEETS[0], html="<p>front</p>", sections=())]
    for number, text in enumerate(HOSTILE):
        safe = html.escape(text)
        body = f'<h2 id="s">{safe}</h2>\n<p id="body" title="{safe}">{safe}</p>\n<pre id="pre">\n{safe}</pre>'
        sheets.append(Page(f"h{number}", text, body, heading=text, lead=text, sections=(("s", text),)))
    bad = HOSTILE[1] + HOSTILE[2] + HOSTILE[14]
    facts = replace(FACTS, title=bad, short=bad, build=bad, builder=bad, edition=bad, revision=bad, revised=bad, notice=bad)
    return built(tmp_path_factory.mktemp("hostile"), tuple(sheets), facts)


@pytest.mark.parametrize("number", range(len(HOSTILE)))
def test_text_comes_out_on_the_page_exactly_as_it_was_written(hostile_site, number):
    text, page = HOSTILE[number], read(hostile_site / f"h{number}.html")
    assert words(page.find(".//h1")) == text
    assert words(page.find(".//p[@class='lead']")) == text
    assert words(page.find(".//p[@id='body']")) == text
    assert page.find(".//p[@id='body']").get("title") == text
    assert words(page.find(".//pre[@id='pre']")) == text
    assert words(page.find(".//li[@class='here']/ol//a")) == text
    assert words(page.find(".//a[@aria-current]")) == text
    assert [script.get("src") for script in page.iter("script") if "alert" in words(script)] == []
    assert page.findall(".//img") == []


def test_facts_come_out_in_the_title_block_exactly_as_they_were_written(hostile_site):
    page = read(hostile_site / "index.html")
    bad = HOSTILE[1] + HOSTILE[2] + HOSTILE[14]
    cells = [words(cell) for cell in page.findall(".//div[@class='title-block']//dd")]
    assert cells.count(bad) == 6
    assert words(page.find(".//p[@class='tb-line']")).endswith(bad)


def test_facts_cannot_break_out_of_the_printed_margins(hostile_site):
    styles = [words(style) for style in read(hostile_site / "index.html").iter("style")]
    assert len(styles) == 1
    # CSS Syntax Level 3, 4.3.7: a backslash, up to six hexadecimal digits, one white space.
    strings = re.findall(r'content:("(?:[^"\\\n]|\\[0-9a-f]{1,6} )*")', styles[0])
    shown = [re.sub(r"\\([0-9a-f]{1,6}) ", lambda match: chr(int(match[1], 16)), string[1:-1]) for string in strings]
    bad = HOSTILE[1] + HOSTILE[2] + HOSTILE[14]
    assert shown == [f"{bad}   {bad}", "Front sheet", "REPLICA", f"{bad} edition, revision {bad}, {bad}", shown[-1]]


def test_what_the_search_index_holds_is_escaped_once(hostile_site):
    index = json.loads((hostile_site / "search/search_index.json").read_text(encoding="utf-8"))
    found = [entry for entry in index["docs"] if entry["location"] == "h0.html"]
    assert found[0]["title"] == "&lt;script&gt;alert(1)&lt;/script&gt;"
    assert all("<script" not in entry["title"] + entry["text"] and "<img" not in entry["title"] + entry["text"] for entry in index["docs"])


def test_control_characters_are_shown_as_the_replacement_character(tmp_path):
    page = Page("index", "a\x00b\x1bc", "<p>d\x02e\x0bf\ud800g</p>", lead="h\x85i")
    stage((page,), FACTS, tmp_path / "staged", {})
    text = (tmp_path / "staged/docs/index.md").read_text(encoding="utf-8")
    assert "a\ufffdb\ufffdc" in text
    assert "d\ufffde\ufffdf\ufffdg" in text
    assert "h\ufffdi" in text


FRONT = Page("index", "Front sheet", "<p>front</p>")


@pytest.mark.parametrize(
    ("pages", "said"),
    [
        ((), "the first page must be the front sheet"),
        ((replace(FRONT, slug="parts"),), "the first page must be the front sheet"),
        ((FRONT, FRONT), "page 'index' comes twice"),
        ((FRONT, Page("Parts", "Parts", "<p>a</p>")), "page 'Parts': not a usable slug"),
        ((FRONT, Page("../parts", "Parts", "<p>a</p>")), "not a usable slug"),
        ((FRONT, Page("aux", "Parts", "<p>a</p>")), "not a usable slug"),
        ((FRONT, Page("search", "Search", "<p>a</p>")), "not a usable slug"),
        ((replace(FRONT, title=" "),), "has no title"),
        ((replace(FRONT, kind="x' onload="),), "is not a class name"),
        ((replace(FRONT, sections=(("gone", "Gone"),)),), "section 'gone' has no such id"),
        ((replace(FRONT, html="<p>open"),), "<p> is never closed"),
        ((replace(FRONT, html="<p>a</p></div>"),), "</div> comes where nothing is open"),
        ((replace(FRONT, html="<ul><li>a</ul>"),), "<li> of line 1 is still open"),
        ((replace(FRONT, html="<div/>"),), "<div/> does not close itself"),
        ((replace(FRONT, html="<p>a<!-- price paid --></p>"),), "it would be published"),
        ((replace(FRONT, html="<p>a</p><!DOCTYPE html>"),), "has no place in a sheet"),
        ((replace(FRONT, html="<p>a</p><?php 1 ?>"),), "has no place in a sheet"),
        ((replace(FRONT, html="<p>a<![CDATA[b]]></p>"),), "has no place in a sheet"),
        ((replace(FRONT, html="<script>1</script>"),), "<script> has no place in a sheet"),
        ((replace(FRONT, html='<p onclick="x()">a</p>'),), "onclick on <p>"),
        ((replace(FRONT, html='<p id="a">a</p><p id="a">b</p>'),), "id 'a' twice"),
        ((replace(FRONT, html='<img src="https://example.org/a.png" alt="">'),), "leaves the site"),
        ((replace(FRONT, html='<img src="//example.org/a.png" alt="">'),), "leaves the site"),
        ((replace(FRONT, html='<img srcset="a.webp 1x, //example.org/a.webp 2x" alt="">'),), "leaves the site"),
        ((replace(FRONT, html='<a href="javascript:alert(1)">a</a>'),), "leaves the site"),
        ((replace(FRONT, html='<p style="background:url(//example.org/a)">a</p>'),), "style on <p> asks for a file"),
        ((replace(FRONT, html='<p style="background:u\\72l(//example.org/a)">a</p>'),), "style on <p> asks for a file"),
        ((replace(FRONT, html='<svg><path fill="url( https://example.org/#a)"></path></svg>'),), "fill on <path> asks for a file"),
        ((replace(FRONT, html='<svg cursor="url(https://example.org/a), auto"></svg>'),), "cursor on <svg> asks for a file"),
        ((replace(FRONT, html='<svg marker="url(https://example.org/#a)"></svg>'),), "marker on <svg> asks for a file"),
        ((replace(FRONT, html="<p style=\"background:src('https://example.org/a')\">a</p>"),), "style on <p> asks for a file"),
        ((replace(FRONT, html='<img src="/\\example.org/a.png" alt="">'),), "leaves the site"),
        ((replace(FRONT, html='<IMG SRC="h&#9;ttps://example.org/a.png" alt="">'),), "leaves the site"),
        ((replace(FRONT, html='<a href="java&#10;script:alert(1)">a</a>'),), "leaves the site"),
        ((replace(FRONT, html='<img src="http://[y" alt="">'),), "leaves the site"),
        ((replace(FRONT, html='<title><a title="</title><img src=x>">x</a></title>'),), "<title> has no place in a sheet"),
        ((replace(FRONT, html='<svg><image><set attributeName="href" to="https://example.org/a"></set></image></svg>'),), "<set> has no place"),
        ((replace(FRONT, html='<svg><foreignObject><p>a</p></foreignObject></svg>'),), "<foreignobject> has no place"),
        ((replace(FRONT, html='<a href="a.html" ping="https://example.org/">a</a>'),), "ping on <a> has no place"),
        ((replace(FRONT, html='<p>a < b</p>'),), "is no tag; a less-than sign is written &lt;"),
        ((replace(FRONT, html='<p class=a>b</p>'),), "is no tag"),
    ],
)
def test_pages_that_must_not_be_published_are_refused_in_words(tmp_path, pages, said):
    with pytest.raises(StagingError, match=re.escape(said)):
        stage(pages, FACTS, tmp_path / "staged", {})
    assert not (tmp_path / "staged").exists()


@pytest.mark.parametrize(
    "name",
    [
        "../out.txt",
        "/etc/x",
        "a/../b",
        ".hidden",
        "a/.b",
        "index.html",
        "a.MD",
        "assets/x.css",
        "Search/x",
        "a\\b",
        "ä.png",
        "",
        "a.",
        "img/nul.webp",
        "Com1",
    ],
)
def test_a_file_is_refused_a_name_that_is_not_its_own(tmp_path, name):
    with pytest.raises(StagingError, match="file "):
        stage((FRONT,), FACTS, tmp_path / "staged", {name: b"x"})


def test_two_files_that_differ_only_in_case_are_refused(tmp_path):
    with pytest.raises(StagingError, match="nothing but case"):
        stage((FRONT,), FACTS, tmp_path / "staged", {"a.png": b"x", "A.png": b"y"})


@pytest.mark.parametrize(
    ("field", "value"),
    [("livery_day", "red"), ("livery_night", "#fff}"), ("livery_day", "#14513B"), ("language", "../en"), ("epoch", -1)],
)
def test_facts_that_would_spoil_the_frame_are_refused(tmp_path, field, value):
    with pytest.raises(StagingError, match=field):
        stage((FRONT,), replace(FACTS, **{field: value}), tmp_path / "staged", {})


def test_a_folder_that_holds_anything_is_not_staged_into(tmp_path):
    (tmp_path / "kept.txt").write_text("kept")
    with pytest.raises(StagingError, match="not an empty folder"):
        stage((FRONT,), FACTS, tmp_path, {})
    assert [path.name for path in tmp_path.iterdir()] == ["kept.txt"]


def test_files_are_copied_from_bytes_and_from_disc(tmp_path):
    source = tmp_path / "source.webp"
    source.write_bytes(b"picture")
    stage((FRONT,), FACTS, tmp_path / "staged", {"img/a.webp": source, "dossier.json": b"{}"})
    assert (tmp_path / "staged/docs/img/a.webp").read_bytes() == b"picture"
    assert (tmp_path / "staged/docs/dossier.json").read_bytes() == b"{}"


def test_a_drawing_may_use_its_own_patterns(tmp_path):
    svg = '<svg><defs><pattern id="h"><path d="M0 0V4"/></pattern></defs><rect fill="url(#h)" style="mask:url(\'#h\')"/></svg>'
    assert stage((replace(FRONT, html=svg),), FACTS, tmp_path / "staged", {}) == ()


def test_links_that_lead_nowhere_are_told(tmp_path):
    page = replace(
        FRONT,
        html='<p id="here"><a href="#here">a</a><a href="#sheet">b</a><a href="parts.html">c</a><a href="index.html#gone">d</a>'
        '<a href="img/a.webp">e</a><a href="img/b.webp">f</a><a href="https://example.org/">g</a><a href="index">h</a>'
        '<a href="img/%61.webp">i</a><a href="#%68ere">j</a></p>',
    )
    assert stage((page,), FACTS, tmp_path / "staged", {"img/a.webp": b""}) == (
        "index: parts.html, no such page or file",
        "index: index.html#gone, no such place on that page",
        "index: img/b.webp, no such page or file",
        "index: index, no such page or file",
    )


def test_an_archive_has_a_title_block_without_build_and_revision(tmp_path):
    page = read(built(tmp_path, (replace(SHEETS[0], html="<p>Every machine here is a replica.</p>", sections=()),), ARCHIVE) / "index.html")
    labels = [words(label) for label in page.findall(".//div[@class='title-block']//dt")]
    assert labels == ["Every machine here is a", "Archive", "Built by", "Edition", "Dated", "Sheet", "Title"]
    assert words(page.find(".//title")) == "Front sheet · Orrisdale Works, all builds"


def test_the_livery_of_an_archive_is_legible_on_its_papers():
    def luminance(colour: str) -> float:  # WCAG 2.2, definition of relative luminance
        parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    def contrast(one: str, other: str) -> float:  # WCAG 2.2, success criterion 1.4.3: at least 4.5
        high, low = sorted((luminance(one), luminance(other)), reverse=True)
        return (high + 0.05) / (low + 0.05)

    sheet = (Path(__file__).parents[2] / "site_template/assets/paper.css").read_text(encoding="utf-8")
    papers = tuple(re.findall(rf"--{name}:(#[0-9a-f]{{6}})", sheet) for name in ("paper", "sunk"))
    livery = SiteFacts("", "", "", "", "", "", "")
    assert all(contrast(livery.livery_day, ground[0]) >= 4.5 and contrast(livery.livery_night, ground[1]) >= 4.5 for ground in papers)
