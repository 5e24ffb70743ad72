"""What pages are made of becomes what sheets are set from: nothing dropped, nothing that runs out of the paper."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from dossier.pages.parts.plots.lettering import width_of
from dossier.pages.parts.plots.paper import Inks
from dossier.publish.print_edition.columns import widths
from dossier.publish.print_edition.equation import equation
from dossier.publish.print_edition.marked import WHOLE, UnsetError, tree_of, words_of
from dossier.publish.print_edition.matter import Matter
from dossier.publish.print_edition.plates import Plate
from dossier.publish.print_edition.words import Places, Speller, lines_of, tidy


def nodes(
    html: str, sheet: str = "engine", places: tuple[str, ...] = (), plates: Mapping[str, Plate] | None = None
) -> list[dict[str, Any]]:
    return Matter(sheet, Places(frozenset(places)), plates or {}, "", Inks("#14513b")).body(html)


def spoken(words: list[Any]) -> str:
    return "".join(one if isinstance(one, str) else spoken(one.get("in", [])) for one in words)


@pytest.mark.parametrize(
    "html",
    [
        "<video></video>", "<p><input></p>", "<p>a", "<p><b>a</p></b>", "<iframe></iframe>", '<svg class="plot only-wide"><use href="#a"/></svg>',
        "<p><table></table></p>", "<svg></svg>", '<p><svg class="mark"></svg></p>', "<math><mtable></mtable></math>", '<img src="x.jpg">',
        "<table><tr><td>a</td></tr></table>", "<table><tbody><tr><td colspan='2'>a</td></tr></tbody></table>",
        "<table><tbody><tr><td>a</td></tr><tr><td>a</td><td>b</td></tr></tbody></table>", "<math><mfrac><mn>1</mn></mfrac></math>",
        '<figure class="photo"><a class="large" href="photographs/unknown.jpg"><img src="s" alt="a"></a></figure>',
        '<p><span class="verdict v-conforms"><video></video></span></p>',
    ],
)  # fmt: skip
def test_what_nobody_taught_the_press_is_refused(html: str) -> None:
    with pytest.raises(UnsetError):
        nodes(html)


def test_every_word_of_a_page_is_in_what_is_set() -> None:
    html = (
        '<h2 id="a">One</h2><p class="after">Two <b>three</b> <i>four</i></p>five<dl class="particulars"><div><dt>six</dt><dd>seven</dd></div></dl>'
        "<ul><li>eight</li></ul><ol><li><p>nine</p></li></ol><blockquote><p>ten</p></blockquote><pre>eleven\n twelve</pre>"
        "<table><caption>thirteen.</caption><thead><tr><th>fourteen</th></tr></thead><tbody><tr><th>fifteen</th></tr></tbody>"
        "<tfoot><tr><th>sixteen</th></tr></tfoot></table><section><h3>seventeen</h3><p>eighteen</p></section>"
    )

    text = str(nodes(html))

    for word in ("One", "Two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven\\n twelve", "thirteen.", "fourteen",
                 "fifteen", "sixteen", "seventeen", "eighteen"):  # fmt: skip
        assert f"'{word}" in text or f" {word}'" in text, word


def test_a_working_that_opens_on_the_screen_is_open_on_paper() -> None:
    html = (
        '<details class="worked"><summary><h3 id="f-a-h">Bore</h3><span class="value">62 mm</span></summary>'
        '<div class="working" id="f-a"><p class="result">62.0</p></div></details>'
    )

    [working] = nodes(html, "figures", ("figures#f-a",))

    assert working["at"] == "figures#f-a"
    assert spoken(working["heading"]["in"]) == "Bore"
    assert spoken(working["beside"]) == "62 mm"
    assert spoken(working["in"][0]["in"]) == "62.0"


def test_only_words_about_the_screen_are_left_out() -> None:
    assert nodes('<p class="after on-screen">Each opens large.</p>') == []
    assert nodes('<p class="after">Each opens large.</p>') != []


def test_a_number_says_the_page_of_its_working_a_sheet_its_page_and_an_item_neither() -> None:
    html = (
        '<p><a href="figures.html#f-a">62 mm</a> <a href="mass.html">the rest</a> <a href="specification.html#D01">D01</a> '
        '<a href="#x">below</a> <a href="gone.html#y">gone</a> <a href="dossier.json">copy</a></p>'
    )
    [paragraph] = nodes(html, "engine", ("figures#f-a", "mass#", "specification#D01", "engine#x"))

    links = [one for one in paragraph["in"] if isinstance(one, dict)]
    assert [(one["k"], one.get("page")) for one in links] == [
        ("to", "door"), ("to", "sheet"), ("to", ""), ("to", ""), ("plain", None), ("plain", None),
    ]  # fmt: skip
    assert spoken(paragraph["in"]) == "62 mm the rest D01 below gone copy"


def test_the_address_of_a_link_that_leaves_the_dossier_is_printed_behind_its_words() -> None:
    [paragraph] = nodes('<p><a href="https://example.org/a">a page</a></p>')

    assert spoken(paragraph["in"]) == "a page (https://example.org/a)"


def test_blanks_between_words_stay_one_blank_and_none_stands_at_an_end() -> None:
    [paragraph] = nodes("<p> a  <b> b</b> c<br> d </p>")

    assert spoken(paragraph["in"]) == "a b cd"
    assert tidy([" ", {"k": "b", "in": [" x"]}, " ", {"k": "br"}]) == [{"k": "b", "in": ["x"]}]
    table = "<table><tbody><tr><th>a</th><td><div><span>Conforms</span> <a href='#a'>D01</a></div></td></tr></tbody></table>"
    [made] = nodes(table)
    assert spoken(made["rows"][0]["cells"][1]) == "Conforms D01"


def test_a_heading_never_leaves_out_a_level() -> None:
    made = nodes("<h2>a</h2><h5>b</h5><h6>c</h6><h3>d</h3>")

    assert [one["level"] for one in made] == [2, 3, 4, 3]


# Presentation MathML and what it says in one line, read by hand
EQUATIONS = {
    "<mi>a</mi><mo>=</mo><mfrac><mrow><mi>b</mi><mo>+</mo><mn>1</mn></mrow><mn>2</mn></mfrac>": "a = (b + 1)/2",
    "<msup><mi>x</mi><mn>2</mn></msup><mo>−</mo><msqrt><mn>3</mn></msqrt>": "x² − √(3)",
    "<msub><mi>V</mi><mtext>max</mtext></msub><mo>·</mo><mn>4</mn>": "V_max·4",
    "<msup><mrow><mi>a</mi><mo>+</mo><mi>b</mi></mrow><mn>4</mn></msup>": "(a + b)^4",
}


@pytest.mark.parametrize("mathml", EQUATIONS)
def test_a_formula_is_said_in_one_line_with_brackets_where_the_stroke_was(mathml: str) -> None:
    [element] = tree_of(f"<math><mrow>{mathml}</mrow></math>", WHOLE)

    assert equation(element)["alt"] == EQUATIONS[mathml]


def test_brackets_that_belong_together_grow_together_and_a_minus_is_a_sign_or_an_operator() -> None:
    [element] = tree_of("<math><mrow><mo>−</mo><mi>a</mi><mo>−</mo><mrow><mo>(</mo><mn>1</mn><mo>)</mo></mrow></mrow></math>", WHOLE)
    [row] = equation(element)["body"]

    assert [one.get("class", one["m"]) for one in row["of"]] == ["unary", "i", "binary", "row"]
    assert row["of"][3]["of"][0]["m"] == "fence"


def test_columns_fill_no_more_than_the_paper_and_hold_their_longest_word() -> None:
    rows = [
        [
            ["D01"],
            ["a very long account of what was done to this part and why it was done at all, in one breath"] * 2,
            ["349.09\u00a0±\u00a00.13\u00a0cc"],
        ]
    ]
    wide, short = widths(rows, 100.0, 8.4)

    assert short == 0
    assert sum(wide) <= 100.001
    assert wide[0] >= width_of("D01", 8.4) * 25.4 / 72
    assert wide[2] >= width_of("349.09 ± 0.13 cc", 8.4) * 25.4 / 72
    assert widths([[["W" * 100]]], 50.0, 8.4)[1] > 0


def test_a_table_too_wide_at_any_size_of_letters_is_laid_across() -> None:
    cell = "<td>" + "W" * 24 + "</td>"
    narrow, wide = (nodes(f"<table><tbody><tr>{cell * count}</tr></tbody></table>")[0] for count in (2, 5))

    assert not narrow["across"]
    assert wide["across"]
    assert 170 < sum(wide["widths"]) <= 257


def test_a_verdict_keeps_mark_and_words_and_an_agreement_laid_over_it_stands_on_its_own_line() -> None:
    html = (
        '<p><span class="verdict v-fails"><svg class="mark"><path d="M0 0"/></svg><span>Does not conform</span></span>'
        '<span class="over"><svg class="mark"><path d="M0 0"/></svg><span>By agreement</span></span></p>'
    )
    [paragraph] = nodes(html)

    assert [(one["k"], one.get("of")) for one in paragraph["in"]] == [("verdict", "fails"), ("br", None), ("verdict", "agreed")]
    assert [line.strip("\u00a0") for line in lines_of(paragraph["in"])] == ["Does not conform", "By agreement"]


def test_a_pinned_photograph_keeps_its_pins_and_what_they_point_at() -> None:
    html = (
        '<figure class="photo wide"><div class="pinned"><a class="large" href="photographs/big.jpg"><img src="s.jpg" alt="The machine"></a>'
        '<a class="pin" href="#D01" style="left:25%;top:50%" aria-label="1: D01">1</a></div><figcaption>Whole.</figcaption>'
        '<ol class="pins"><li><a href="#D01">D01 Capacity</a></li></ol></figure>'
    )
    [photo] = nodes(html, plates={"big.jpg": Plate({54.0: "s.jpg", 82.0: "m.jpg", 160.0: "big.jpg"}, 1200, 800)})

    assert photo["alt"] == "The machine"
    assert photo["pins"] == [[25.0, 50.0, "1"]]
    assert photo["files"]["54"] == "/s.jpg"
    assert [spoken(line) for line in photo["legend"]] == ["D01 Capacity"]
    assert spoken(photo["caption"]) == "Whole."


def test_a_plot_for_a_telephone_is_not_set_a_second_time_and_the_one_for_the_screen_is_named() -> None:
    drawn = '<svg class="plot only-{0}" viewBox="0 0 10 10" role="img"><title id="t">A &amp; B</title><desc id="d">It rises.</desc></svg>'
    [plot] = nodes(f'<figure class="plotfig wide">{drawn.format("wide")}{drawn.format("narrow")}<figcaption>Said.</figcaption></figure>')

    assert plot["alt"] == "A & B. It rises."
    assert spoken(plot["caption"]) == "Said."


def test_words_of_a_tree_are_in_one_line() -> None:
    assert words_of(tree_of("<p>a <b>b</b>\nc</p>")) == "a b c"
    assert Speller("engine", Places()).words(["a"]) == ["a"]
