"""What the search hears of a page: the words it would have found there, read by the search's own parser, and nothing kept from it."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from material.plugins.search.plugin import Parser

from dossier.publish.heard import heard

WORDS = st.sampled_from(["Bore", " 66.02", "&lt;mm&gt;", "\n", " gauge "])
INLINE = st.sampled_from(["span", "a", "b", "sub", "code", "abbr"])
BLOCKS = st.sampled_from(["div", "section", "details", "dl"])
SHOWN = st.sampled_from(["p", "ul", "pre"])


def element(name: str, inside: str) -> str:
    return f'<{name} class="{name}">{inside}</{name}>'


TEXT = st.recursive(WORDS, lambda inner: st.builds(element, INLINE, st.lists(inner, max_size=3).map("".join)), max_leaves=8)
ROW = st.lists(st.builds(element, st.just("td"), TEXT), max_size=3).map("".join)
TABLE = st.lists(st.builds(element, st.just("tr"), ROW), max_size=3).map(lambda rows: f"<table><tbody>{''.join(rows)}</tbody></table>")
HEADING = st.builds(lambda number, text: f'<h2 id="s{number}">{text}</h2>', st.integers(0, 99), TEXT)
BODY = st.recursive(
    st.one_of(TEXT, TABLE, HEADING, st.builds(element, SHOWN, TEXT), st.just('<img src="a.webp" alt="b"><br>')),
    lambda inner: st.builds(element, BLOCKS, st.lists(inner, max_size=4).map("".join)),
    max_leaves=12,
).map(lambda body: f"<div>{body}</div>")


def parsed(body: str) -> Parser:
    """The search's own reading of a page."""
    parser = Parser()
    parser.feed(body)
    parser.close()
    return parser


def sections(body: str) -> list[tuple[str | None, str, str]]:
    """Id, title and text of every section that the search would list, blanks apart."""
    parser = parsed(body)
    plain = [(one.id, "".join(one.title), "".join(one.text)) for one in parser.data if not one.is_excluded()]
    return [(id, "".join(title.split()), "".join(text.split())) for id, title, text in plain]


@given(BODY)
def test_the_search_finds_the_same_sections_and_words_in_what_it_hears(body):
    assert sections(heard(body)) == sections(body)


@pytest.mark.parametrize(
    "kept_apart",
    [
        '<svg data-search-exclude=""><text>12</text><g><path d="M0 0"/></g></svg>',
        '<section data-search-exclude=""><section><p>inner</p></section><p>still within</p></section>',
        '<div data-search-exclude=""><br>words</div>',
        "<svg><text>a tick</text></svg>",
        "<math><mfrac><mi>a</mi><mn>2</mn></mfrac></math>",
    ],
)
def test_what_is_kept_from_the_search_and_what_is_drawn_is_not_heard(kept_apart):
    assert heard(f"<p>before</p>{kept_apart}<p>after</p>").replace(" ", "") == "<p>before</p><p>after</p>"


def test_a_heading_kept_from_the_search_keeps_what_follows_it_from_the_search_too():
    body = '<h2 id="a">One</h2><p>heard</p><h2 id="b" data-search-exclude="">Two</h2><p>unheard</p><h2 id="c">Three</h2>'
    assert [id for id, *_ in sections(heard(body))] == [None, "a", "c"] == [id for id, *_ in sections(body)]
    assert "unheard" not in "".join(text for *_, text in sections(heard(body)))


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("<table><tr><td>Bore</td><td><b>66.02</b> <span>mm</span></td></tr></table>", ["Bore", "66.02", "mm"]),
        ("<table><tr><th>S-04</th><td>Callowen</td></tr></table>", ["S-04", "Callowen"]),
        ("<div>No. 7<br>brazed</div>", ["No.", "7", "brazed"]),
        ("<dl><dt>Role</dt><dd>customer</dd><dt>Held</dt></dl>", ["Role", "customer", "Held"]),
        ("<p><span>Conforms</span><span>23</span></p>", ["Conforms", "23"]),
        ("<p><b>66</b>.0<i><b>2</b></i></p>", ["66.02"]),
    ],
)
def test_words_of_two_cells_or_lines_stay_two_and_a_word_in_two_weights_one(body, words):
    [(_, _, text)] = [(one.id, one.title, "".join(one.text)) for one in parsed(heard(f"<div>{body}</div>")).data]
    assert re.sub(r"<[^>]*>", " ", text).split() == words
