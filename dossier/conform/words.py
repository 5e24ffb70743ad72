"""Words against words: choices, presence, counts, finishes, materials, behaviour."""

from __future__ import annotations

import re

from dossier.conform.rules import BY_EYE, COUNT, CRITERION, WORDS, Rule
from dossier.model.forms.specification import Item
from dossier.model.results import Outcome

_RESERVATION = re.compile(r"\b(not|except|but|apart from|nearly|almost|roughly|only)\b")


def plain(text: str) -> str:
    """Words as they are compared: letter case and surplus blanks do not count."""
    return " ".join(text.casefold().split())


def rule_for(item: Item) -> Rule:
    """The rule for an item that is judged by words."""
    return {"finish": BY_EYE, "behaviour": CRITERION, "count": COUNT}.get(item.kind, WORDS)


def compare_words(item: Item, found: str) -> Outcome:
    """The raw verdict on words found. `equivalent` is a different word: it needs a concession (common practice, no source)."""
    if item.declared is None or not item.declared.text.strip():
        return Outcome.NO_TOLERANCE
    if plain(found) == plain(item.declared.text):
        return Outcome.CONFORMS
    if item.kind == "finish" and re.match(r"matches\b", plain(found)):
        return Outcome.UNDECIDED if _RESERVATION.search(plain(found)) else Outcome.CONFORMS
    return Outcome.FAILS


def unlisted(item: Item, found: str) -> bool:
    """Whether the item lists its alternatives and the words found are none of them."""
    return bool(item.options) and plain(found) not in {plain(one) for one in item.options}
