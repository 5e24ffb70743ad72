"""The small drawings in the text."""

import re
import xml.etree.ElementTree as ElementTree

import pytest

from dossier.pages.parts import marks

OUTCOMES = ("conforms", "fails", "undecided", "agreed", "conflicting", "unmeasured")


@pytest.mark.parametrize("outcome", OUTCOMES)
def test_a_mark_is_well_formed_hidden_from_screen_readers_and_without_colour(outcome):
    node = ElementTree.fromstring(marks.verdict_mark(outcome))
    assert node.get("aria-hidden") == "true" and node.get("viewBox") == "0 0 28 14"
    assert not re.search(r"#|rgb|style", marks.verdict_mark(outcome))


def test_all_marks_differ():
    assert len({marks.verdict_mark(outcome) for outcome in OUTCOMES}) == len(OUTCOMES)


def test_the_dot_lies_between_the_limits_only_where_it_conforms():
    places = {o: [float(x) for x in re.findall(r'cx="([\d.]+)"', marks.verdict_mark(o))] for o in OUTCOMES}
    assert [8 < x < 18 for x in places["conforms"]] == [True]
    assert [x > 18 for x in places["fails"]] == [True]
    assert places["undecided"] == [18] and places["unmeasured"] == places["conflicting"] == []


def test_an_outcome_without_a_mark_is_refused():
    with pytest.raises(ValueError, match="no mark"):
        marks.verdict_mark("splendid")


def test_the_words_of_a_verdict_are_always_there_and_never_markup():
    words = marks.verdict("fails", "Does not <b>conform</b>")
    assert "Does not &lt;b&gt;conform&lt;/b&gt;" in words and 'class="verdict v-fails"' in words


@pytest.mark.parametrize(
    ("share", "of", "width"),
    [(50, 100, "50.0"), (25, 50, "50.0"), (130, 100, "100.0"), (-3, 100, "0.0"), (5, 0, "0.0")],
)
def test_a_bar_is_as_long_as_its_share_and_never_longer_than_its_room(share, of, width):
    assert f"width:{width}%" in marks.share_bar(share, of)


def test_a_bar_says_its_share_to_screen_readers():
    assert 'aria-label="36.2 per cent"' in marks.share_bar(36.2)
    assert 'aria-label="&quot;none&quot;"' in marks.share_bar(0, words='"none"')
