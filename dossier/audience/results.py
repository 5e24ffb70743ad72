"""Figures and verdicts as one audience may see them: made of nothing that is kept from it, and only the fields listed here."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from typing import Any, TypeVar

from dossier.audience.forms import Sieve
from dossier.model.forms.measurements import Role
from dossier.model.quantity import nominal
from dossier.model.results import InputUsed, Judged, Missing, Outcome, Share, Value, Verdict, Warned, Worked

T = TypeVar("T")
Key = tuple[Role, str]
"""Role and id of a figure."""
PASSES: Mapping[type[Any], tuple[str, ...]] = {
    Value: (
        "name", "tags", "role", "number", "unit", "shown", "u", "decimals", "unstated", "title", "by", "with_", "on", "where", "count",
        "assumed", "photo", "audience", "of", "source", "dof", "parts",
    ),
    InputUsed: ("symbol", "title", "unit", "values", "mean"),
    Missing: ("name", "title", "file"),
    Share: ("title", "u", "share"),
    Warned: ("code", "text"),
    Worked: (
        "id", "name", "title", "symbol", "unit", "role", "tags", "value", "u", "decimals", "formula", "inputs", "shares", "missing",
        "unstated", "warnings", "no_verdict", "source", "flag", "usual", "usual_source", "impossible", "basis", "method", "dof",
        "k95", "subject", "strokes", "audience",
    ),
    Judged: ("label", "value", "u", "outcome", "place", "probability", "figure", "words", "mean_of", "least", "most", "as_measured"),
    Verdict: (
        "item", "title", "raw", "rule", "source", "revision", "unit", "lower", "upper", "nominal", "judged", "worst", "deviation",
        "deviation_u", "concession", "lapsed", "conflict", "assumption", "safety", "says", "warnings", "independent_sources", "audience",
        "agreement",
    ),
}  # fmt: skip
"""Of results, the fields that pass. A field named nowhere here keeps its default."""


WITHHELD_AGREEMENT = "An agreement about it is withheld from this edition."


class Results:
    """Figures and verdicts for the audience of a sieve."""

    def __init__(self, sieve: Sieve, worked: tuple[Worked, ...], verdicts: tuple[Verdict, ...]) -> None:
        self.sieve = sieve
        self.withheld: Counter[str] = Counter()
        self.gone = self._gone(worked, frozenset())
        self.worked = self._figures(worked, self.gone)
        self.shown = {one.id for one in self.worked}
        self.verdicts = tuple(self._verdict(one) for one in verdicts if self._may_see(one))
        self.withheld["verdicts"] += len(verdicts) - len(self.verdicts)

    def changed(self, worked: tuple[Worked, ...]) -> tuple[Worked, ...]:
        """The figures of a what-if block that pass."""
        return self._figures(worked, self._gone(worked, self.gone))

    def _figures(self, worked: tuple[Worked, ...], gone: frozenset[Key]) -> tuple[Worked, ...]:
        kept = tuple(self._figure(one) for one in worked if (one.role, one.id) not in gone)
        self.withheld["figures"] += len(worked) - len(kept)
        return kept

    def _gone(self, worked: tuple[Worked, ...], gone: frozenset[Key]) -> frozenset[Key]:
        """Figures made of something withheld, directly or through other figures; beside those gone already."""
        while more := {(one.role, one.id) for one in worked if (one.role, one.id) not in gone and self._made_of_hidden(one, gone)}:
            gone |= more
        return gone

    def _made_of_hidden(self, one: Worked, gone: frozenset[Key]) -> bool:
        values = [value for use in one.inputs for value in use.values]
        tags = [tag for pairs in (one.tags, *(value.tags for value in values)) for _, tag in pairs]
        names = [*tags, *(name for value in values for name in (value.name, value.source, value.with_) if name)]
        return (
            not all(self.sieve.sees(mark) for mark in (one.audience, *(value.audience for value in values)))
            or any(name in self.sieve.hidden for name in names)
            or any((value.role, value.of) in gone for value in values)
        )

    def _figure(self, one: Worked) -> Worked:
        return _listed(
            one, inputs=tuple(_listed(use, values=tuple(self._value(value) for value in use.values)) for use in one.inputs),
            missing=tuple(_listed(gap) for gap in one.missing), shares=tuple(_listed(share) for share in one.shares),
            warnings=tuple(_listed(warning) for warning in one.warnings),
        )  # fmt: skip

    def _value(self, one: Value) -> Value:
        # the number loses its variables: they remember inputs of other figures
        photo = "" if one.photo in self.sieve.hidden else one.photo
        number = one.number if isinstance(one.number, str) else nominal(one.number)
        where, assumed = self.sieve.unnamed(one.where), self.sieve.unnamed(one.assumed)
        parts = tuple(_listed(part) for part in one.parts)
        return _listed(
            one, number=number, by=self.sieve.person(one.by), photo=photo, where=where, assumed=assumed, parts=parts,
        )  # fmt: skip

    def _may_see(self, one: Verdict) -> bool:
        leans_on = [one.item, one.conflict if one.raw is Outcome.CONFLICTING else ""]
        worked_out = any((Role.AS_BUILT, judged.figure) in self.gone for judged in one.judged)
        return self.sieve.sees(one.audience) and not worked_out and not any(name in self.sieve.hidden for name in leans_on)

    def _verdict(self, one: Verdict) -> Verdict:
        hidden = self.sieve.hidden
        passed = _listed(
            one, judged=tuple(_listed(judged, figure=judged.figure if judged.figure in self.shown else "") for judged in one.judged),
            warnings=tuple(_listed(warning) for warning in one.warnings), conflict="" if one.conflict in hidden else one.conflict,
            assumption="" if one.assumption in hidden else one.assumption,
            says=self.sieve.unnamed(one.says), lapsed=self.sieve.unnamed(one.lapsed),
        )  # fmt: skip
        if one.concession in hidden or not self.sieve.sees(one.agreement):
            # the raw verdict stands for ever; only the agreement over it is kept back
            warnings = tuple(w for w in passed.warnings if not w.code.startswith("concession-"))
            passed = replace(passed, concession="", lapsed="", says=WITHHELD_AGREEMENT, warnings=warnings)
        if not self._rests_on_hidden(one.item):
            return passed
        # how many sources there are would tell of those withheld
        return replace(passed, independent_sources=0, warnings=tuple(w for w in passed.warnings if w.code != "single-source"))

    def _rests_on_hidden(self, item: str) -> bool:
        derived = {one.id: one.derived_from for one in self.sieve.source.evidence.evidence}
        behind = [name for one in self.sieve.source.specification.items if one.id == item for name in one.evidence]
        for name in behind:
            if (source := derived.get(name)) and source not in behind:
                behind.append(source)
        return any(name in self.sieve.hidden for name in behind)


def _listed(one: T, **changed: Any) -> T:
    """A new value with only the fields that pass."""
    return type(one)(**({name: getattr(one, name) for name in PASSES[type(one)]} | changed))
