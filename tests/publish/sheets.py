"""A few sheets of an invented machine, enough to see the frame round them; and text written to be misread."""

from __future__ import annotations

from pathlib import Path

from dossier.pages.page import Page
from dossier.publish.site import build_site
from dossier.publish.staging import SiteFacts, stage

FACTS = SiteFacts(
    title="Orrisdale replica of the Brennock 250 (1961), completed 2024",
    short="Brennock 250 replica",
    build="ORW-02",
    builder="Orrisdale Works",
    edition="Owner",
    revision="B",
    revised="3 May 2025",
    livery_day="#14513b",
    livery_night="#93c7aa",
    notice="Invented demonstration data.",
    epoch=1_746_230_400,
)
ARCHIVE = SiteFacts(
    title="Orrisdale Works, all builds",
    short="All builds",
    build="",
    builder="Orrisdale Works",
    edition="Public",
    revision="",
    revised="3 May 2025",
    epoch=1_746_230_400,
)
DOT = (  # a single transparent pixel, GIF89a
    b"GIF89a\x01\x00\x01\x00\x80\x00\x00\x00\x00\x00\xff\xff\xff!\xf9\x04\x01\x00\x00\x00\x00,\x00\x00\x00\x00\x01\x00\x01\x00"
    b"\x00\x02\x02D\x01\x00;"
)
TABLE = """<table class="fold" role="table"><caption>Two characteristics. </caption>
<thead role="rowgroup"><tr role="row"><th scope="col" role="columnheader">Characteristic</th>
<th scope="col" class="num" role="columnheader">Value</th></tr></thead>
<tbody role="rowgroup"><tr role="row" id="D01"><th scope="row" role="rowheader" data-l="Characteristic">Bore</th>
<td role="cell" class="num" data-l="Value"><div>66.02 mm</div></td></tr>
<tr role="row"><th scope="row" role="rowheader" data-l="Characteristic">Stroke</th>
<td role="cell" class="num" data-l="Value"><div>72.00 mm</div></td></tr></tbody></table>"""
SHEETS = (
    Page(
        "index",
        "Front sheet",
        '<div class="statement"><p>This machine is a replica.</p></div>\n<h2 id="wrong">What is not right</h2>\n'
        '<p>The <a href="specification.html#D01">bore</a> is 66.02&nbsp;mm.</p>\n'
        '<figure class="photo"><a href="img/dot.gif"><img src="img/dot.gif" alt="The machine from the left."></a>'
        "<figcaption>Complete.</figcaption></figure>",
        heading=FACTS.title,
        kind="front",
        sections=(("wrong", "What is not right"),),
    ),
    Page(
        "specification",
        "Declared specification",
        f'<h2 id="all">Characteristics</h2>\n{TABLE}\n<p class="after">The carburettor was jetted at <a href="#all">home</a>.</p>',
        lead="What was declared and what was measured.",
        sections=(("all", "Characteristics"),),
    ),
    Page("set-up", "Set-up sheet", '<dl class="big"><div><dt>Tyre, front</dt><dd>1.85 bar</dd></div></dl>', kind="setup"),
)
FILES: dict[str, Path | bytes] = {"img/dot.gif": DOT, "dossier.json": b"{}\n"}

# Each is read as something else by Markdown, HTML, Jinja, YAML or CSS when let through.
HOSTILE = (
    "<script>alert(1)</script>",
    "</title></style><img src=x onerror=alert(2)>",
    "{{ 7 * 7 }}{% raw %}{# note #}",
    "**bold** _it_ `code` [a](b) ![i](j)",
    "# head\n\n    indented\n\n- item\n\n> quote",
    "```\nfenced\n```\n~~~\nother\n~~~",
    "---\ntitle: other\n---",
    "&amp; &lt; &nbsp; &#65; &copy",
    "!!python/name:os.system *alias &anchor",
    "yes",
    "0123",
    "12:30",
    "2026-02-29",
    "~",
    "\"quoted\" 'single' \\ back \\22 slash",
    "</div></div> stray",
    "{: #id .class }",
    "klzzwxh:0001 wzxhzdk:0",
    "[TOC]",
    "*[abbr]: x\n\n[ref]: http://example.org",
    "a\u2028b",
    "$(x) ${HOME} !ENV HOME",
)


def built(folder: Path, sheets: tuple[Page, ...] = SHEETS, facts: SiteFacts = FACTS) -> Path:
    """The sheets published below `folder`; the site's folder."""
    assert stage(sheets, facts, folder / "staged", FILES) == ()
    build_site(folder / "staged", folder / "site")
    return folder / "site"
