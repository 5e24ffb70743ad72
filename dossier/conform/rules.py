"""The decision rules by which a declared item is judged: how each is named in print, and where it comes from."""

from __future__ import annotations

from typing import NamedTuple

from dossier.model.build import Build
from dossier.model.forms.specification import Item


class Rule(NamedTuple):
    """A decision rule: its name in an item, the words printed beside a verdict, and its source with how well that is known."""

    name: str
    words: str
    source: str


GUARD_BAND = Rule(
    "guard band",
    "guard band equal to U: it conforms when it lies inside the limits by at least its expanded uncertainty (k = 2), "
    "does not conform when it lies outside by more, and cannot be decided in between",
    "ILAC-G8:09/2019, decision rule with guard band w = U (risk of wrongly accepting below 2.5 %; seen where laboratories quote it). "
    "ISO 14253-1 puts the uncertainty on whoever is proving (secondary pages only; from memory its 2017 edition starts from 95 %, "
    "w = 1.65 u, which is a narrower band)",
)
SIMPLE = Rule(
    "simple acceptance",
    "simple acceptance: it conforms when the reading lies inside the limits, whatever its uncertainty; "
    "at the very limit the risk of being wrong is 50 per cent",
    "ILAC-G8:09/2019, simple acceptance, w = 0 (risk up to 50 %; seen where laboratories quote it); JCGM 106:2012, 8.2 (from memory)",
)
WORDS = Rule("equal", "equal, letter case and blanks aside", "common practice, no source")
BY_EYE = Rule("by eye", "judged by eye", "common practice, no source")
CRITERION = Rule("criterion", "by the criterion stated beside it", "common practice, no source")
COUNT = Rule("equal", "equal: a count is exact", "common practice, no source")

PROBABILITY_SOURCE = "JCGM 106:2012, 7.2 to 7.4: normal distribution about the reading, u = U / 2"
"""Of the probability of conformity printed beside a reading."""
RATIO_WANTED = 4.0
"""Tolerance over uncertainty, T / 2U, from which a method is called good: common practice, no source."""


def rule_named(build: Build, item: Item) -> str:
    """Name of the rule an item is judged by: its own, else the house rule, else the guard band."""
    house = build.workshop.house_rules
    return item.rule or (house.decision_rule if house is not None else GUARD_BAND.name)


def numeric_rule(name: str) -> Rule:
    """The rule an item names, for comparisons of numbers."""
    return SIMPLE if name == SIMPLE.name else GUARD_BAND
