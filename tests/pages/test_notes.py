"""Free text of a note: what a reader sees, and nothing that asks another host or hides whither it leads."""

from __future__ import annotations

import pytest

from dossier.model.links import may_lead
from dossier.pages.about import free_text
from dossier.publish.markup import look_over


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("See [figures](figures.html#a).", '<p>See <a href="figures.html#a">figures</a>.</p>'),
        ("By [a maker](https://example.org/?a=1&b=2).", '<p>By <a href="https://example.org/?a=1&amp;b=2">a maker</a>.</p>'),
        ("[words](javascript:alert(1))", "<p><span>words</span></p>"),
        (r"[words](\\\\example.org/x)", "<p><span>words</span></p>"),
        ("[words](//example.org/x)", "<p><span>words</span></p>"),
        ("[words](http://[y)", "<p><span>words</span></p>"),
        ("[words](data:text/html,x)", "<p><span>words</span></p>"),
        ("<script>x</script> 1 < 2", "<p>&lt;script&gt;x&lt;/script&gt; 1 &lt; 2</p>"),
    ],
)
def test_a_link_leads_openly_or_is_words(text, html):
    assert free_text(text) == html and look_over(html).faults == ()


@pytest.mark.parametrize(
    "text",
    [r"![a](/\\example.org/x.png)", "![a](https://example.org/x.png)", "![a][1]\n\n[1]: https://example.org/x.png", "![a]\n\n[a]: x.png"],
)
def test_no_picture_comes_in_by_a_note(text):
    html = free_text(text)
    assert html == "<p><span>a</span></p>" and look_over(html).faults == ()


@pytest.mark.parametrize("address", ["", "/x", "//x", "\\\\x", "java\tscript:x", "ftp://x", "http://[", "file:///x", " x"])
def test_such_an_address_is_no_way(address):
    assert not may_lead(address)
