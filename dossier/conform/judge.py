"""Judging: one verdict for each declared item, in the order withdrawn, conflicting, not measured, comparison, agreement."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, replace

from dossier.conform import numeric, saying, warned, words
from dossier.conform.concessions import Overlay, overlay
from dossier.conform.numeric import Band
from dossier.conform.readings import Reading, ValueLookup, standing
from dossier.conform.rules import Rule, numeric_rule, rule_named
from dossier.model.audience import Audience
from dossier.model.build import Build
from dossier.model.forms.evidence import Conflict, Evidence
from dossier.model.forms.measurements import Entry
from dossier.model.forms.record import Record
from dossier.model.forms.specification import Item
from dossier.model.results import WORST_FIRST, Judged, Outcome, Verdict, Warned, tags_id
from dossier.model.units import UNITS


def judge(build: Build, values: ValueLookup, revision: str) -> tuple[Verdict, ...]:
    """A verdict on every declared item, in the order of the specification, against the revision named."""
    narrowed = _narrowed(build)
    return tuple(_Case(build, values, revision, item, narrowed).verdict() for item in build.specification.items)


@dataclass(frozen=True)
class _One:
    """A judged reading with what its sentence needs: the single value that decided, and how it is said."""

    judged: Judged
    past: float = -float("inf")
    """How far the deciding single reading lies past the nearer limit, for ties."""
    says: str = ""


class _Case:
    """One item before the bench."""

    def __init__(self, build: Build, values: ValueLookup, revision: str, item: Item, narrowed: Mapping[str, Audience]) -> None:
        self.build, self.values, self.revision, self.item, self.narrowed = build, values, revision, item, narrowed
        self.readings = standing(values.readings_of(item))
        self.band: Band | None = numeric.band_of(item) or next((Band(UNITS[one.unit]) for one in self.readings), None)
        self.entries = [one for one in build.measurements.as_built if one.what in {item.id, item.quantity} - {None}]
        self.by_words = self._by_words()
        self.rule: Rule = words.rule_for(item) if self.by_words else numeric_rule(rule_named(build, item))
        self.warnings: list[Warned] = []

    def _by_words(self) -> bool:
        if self.item.kind == "numeric" or (self.band is not None and self.band.limited):
            return False
        return self.item.kind != "count" or not self.readings or any(one.found for one in self.entries)

    # ------------------------------------------------------------ the verdict

    def verdict(self) -> Verdict:
        ones = self._words() if self.by_words else self._numbers()
        worst = self._worst(ones)
        conflict = self._open_conflict()
        if self.item.withdrawn:
            raw = Outcome.WITHDRAWN
        elif conflict:
            raw = Outcome.CONFLICTING
        else:
            raw = Outcome.NOT_MEASURED if worst is None else ones[worst].judged.outcome
        laid = overlay(self.item, raw, self.readings, self.build, self.values)
        judged = tuple(one.judged for one in ones)
        deviation, deviation_u = self._deviation(None if worst is None else judged[worst])
        item, band = self.item, self.band
        sources = len(warned.roots(item.evidence, self._evidence()))
        return Verdict(
            item=item.id, title=item.title, raw=raw, rule=self.rule.words, source=self.rule.source, revision=self.revision,
            unit=band.unit.sign if band else "", lower=band.lower if band else None, upper=band.upper if band else None,
            nominal=band.nominal if band else None, judged=judged, worst=worst, deviation=deviation, deviation_u=deviation_u,
            concession=laid.holds.id if laid.holds else "", lapsed=laid.lapsed, conflict=conflict.id if conflict else item.conflict or "",
            assumption=self._assumption(), safety=item.safety,
            says=self._says(raw, None if worst is None else ones[worst], conflict, laid),
            warnings=(*self.warnings, *self._warnings(judged, sources), *laid.warnings),
            independent_sources=sources, audience=self._audience(conflict), agreement=self._of_agreement(laid),
        )  # fmt: skip

    def _worst(self, ones: list[_One]) -> int | None:
        if not ones:
            return None
        return min(range(len(ones)), key=lambda n: (WORST_FIRST.index(ones[n].judged.outcome), -ones[n].past, n))

    def _deviation(self, worst: Judged | None) -> tuple[float | None, float | None]:
        # a declared nominal is exact, so the deviation is as uncertain as the reading
        if worst is None or worst.value is None or self.band is None or self.band.nominal is None:
            return None, None
        return worst.value - self.band.nominal, worst.u

    # ------------------------------------------------------------ numbers

    def _numbers(self) -> list[_One]:
        ones = [self._number(reading) for reading in self.readings]
        ones += [
            self._nothing(_label(entry), entry.not_measured or "")
            for entry in self.entries if entry.not_measured and not self._read(entry)
        ]  # fmt: skip
        if not ones:
            only_words = next((entry.found for entry in self.entries if entry.found), None)
            if only_words:
                ones.append(self._nothing("", f"so far only judged in words: {only_words}", only_words))
        return ones + [self._nothing(name, f"nobody has read the {name} one") for name in self._unread_cylinders()]

    def _read(self, entry: Entry) -> bool:
        return any(one.tags == entry.tags and one.number is not None for one in self.readings)

    def _unread_cylinders(self) -> list[str]:
        """Cylinders stay separate: where one was read and its fellow was not, the fellow is not measured."""
        names = self.build.machine.engine.cylinder_names
        read = {tag for one in self.readings for axis, tag in one.tags if axis == "cylinder"}
        said = {entry.cylinder for entry in self.entries if entry.not_measured}
        return [name for name in names if name not in read | said] if read and read <= set(names) else []

    def _number(self, reading: Reading) -> _One:
        band = self.band
        if band is None or reading.number is None or reading.assumed or reading.kind != band.unit.kind:
            return self._nothing(reading.label, self._unusable(reading))
        u = 0.0 if reading.u is None and self.item.kind == "count" else reading.u
        u = None if u is None else u / band.unit.scale
        shown, singles = numeric.in_unit(reading.number, band.unit), [numeric.in_unit(one, band.unit) for one in reading.singles]
        if self.item.kind == "count" and not band.limited:
            band = replace(band, lower=band.nominal, upper=band.nominal)
        known = None if reading.unstated else u
        outcomes = {y: numeric.compare(y, known, band, self.rule) for y in singles}
        y = min(singles, key=lambda one: (WORST_FIRST.index(outcomes[one]), -numeric.overshoot(one, band)))
        chances = [chance for one in singles if (chance := numeric.probability(one, known, band)) is not None]
        judged = Judged(
            label=reading.label, value=shown, u=u, outcome=outcomes[y], place=numeric.place(shown, band),
            probability=min(chances, default=None), figure=reading.figure, mean_of=reading.mean_of,
            least=min(singles) if reading.each else None, most=max(singles) if reading.each else None,
            as_measured=reading.written if reading.unit != band.unit.sign else "",
        )  # fmt: skip
        return _One(judged, numeric.overshoot(y, band), self._of_number(y, known, judged, reading.unstated, band))

    def _unusable(self, reading: Reading) -> str:
        if reading.assumed:
            return f"assumed, not measured: {reading.assumed}"
        if reading.number is None:
            return reading.why
        wanted = self.band.unit.kind if self.band else "number"
        self.warnings.append(Warned("dimension-wrong", f"the reading is a {reading.kind}; a {wanted} is declared"))
        return f"the reading is a {reading.kind}, but a {wanted} is declared"

    def _of_number(self, y: float, u: float | None, one: Judged, unstated: tuple[str, ...], band: Band) -> str:
        several = len(self.readings) > 1
        if one.outcome is Outcome.FAILS:
            return saying.outside(y, u, band, one, several)
        if one.outcome is Outcome.UNDECIDED and u is not None:
            head = f"{saying.sentence(one.label)[:-1]}: " if several and one.label else ""
            said = saying.undecided(y, u, band)
            return head + (said[0].lower() + said[1:] if head else said)
        return saying.unstated(y, band, one, unstated, several) if one.outcome is Outcome.UNSTATED else ""

    def _nothing(self, label: str, why: str, found: str = "") -> _One:
        band = self.band if self.band and self.band.limited else None
        head = f"{label}: " if label and why and label not in why else ""
        said = saying.not_measured(f"{head}{why}", band)
        return _One(Judged(label, None, None, Outcome.NOT_MEASURED, words=found or why), says=said)

    # ------------------------------------------------------------ words

    def _words(self) -> list[_One]:
        return [self._word(entry) for entry in self.entries if entry.found] or [
            self._nothing(_label(entry), entry.not_measured) for entry in self.entries if entry.not_measured
        ]

    def _word(self, entry: Entry) -> _One:
        found = entry.found or ""
        outcome = words.compare_words(self.item, found)
        if words.unlisted(self.item, found):
            self.warnings.append(Warned("choice-unlisted", f"{found!r} is none of the alternatives listed"))
        if self.item.kind == "finish" and not entry.by:
            self.warnings.append(Warned("eye-unnamed", "judged by eye, and nobody is named who looked"))
        says = saying.words_differ(self.item, found, outcome) if outcome in (Outcome.FAILS, Outcome.UNDECIDED) else ""
        return _One(Judged(_label(entry), None, None, outcome, words=found), says=says)

    # ------------------------------------------------------------ what is said, and to whom

    def _says(self, raw: Outcome, worst: _One | None, conflict: Conflict | None, laid: Overlay) -> str:
        if raw is Outcome.WITHDRAWN:
            return f"Withdrawn at revision {self.item.withdrawn}."
        if conflict:
            return saying.conflicting(conflict, self._evidence())
        if laid.holds:
            return saying.by_agreement(laid.holds, self.item)
        if raw is Outcome.NOT_MEASURED:
            return worst.says if worst else saying.not_measured("", self.band if self.band and self.band.limited else None)
        if raw is Outcome.NO_TOLERANCE:
            return saying.no_tolerance(*self._deviation(worst.judged if worst else None), self.band)
        if raw is Outcome.CONFORMS or worst is None:
            return ""
        alarm = "Safety item: treated as not conforming until decided." if raw is Outcome.UNDECIDED else "Safety item."
        parts = [alarm if self.item.safety else "", worst.says, laid.lapsed, saying.sentence(self.item.plan or "")]
        if raw is Outcome.FAILS and not laid.lapsed:
            parts.insert(2, saying.NOBODY)
        return " ".join(part for part in parts if part)

    def _warnings(self, judged: tuple[Judged, ...], sources: int) -> list[Warned]:
        instruments = {one.id: one for one in self.build.workshop.instruments}
        return [
            *warned.about_method(self.band, judged), *warned.about_evidence(self.item, self.band),
            *warned.about_sources(self.item, sources), *([] if self.by_words else warned.about_rule(self.rule, judged)),
            *warned.about_calibration(self.readings, instruments),
        ]  # fmt: skip

    def _open_conflict(self) -> Conflict | None:
        conflicts = self.build.evidence.conflicts
        return next((one for one in conflicts if one.status == "open" and (one.id == self.item.conflict or one.item == self.item.id)), None)

    def _assumption(self) -> str:
        return self.item.assumption or next((one.id for one in self.build.evidence.assumptions if one.item == self.item.id), "")

    def _evidence(self) -> dict[str, Evidence]:
        return {one.id: one for one in self.build.evidence.evidence}

    def _audience(self, conflict: Conflict | None) -> Audience:
        """The strictest of all that the raw verdict was made from; a verdict would give the rest away."""
        return self._strictest(self.readings, [self.item, *self.entries, conflict], conflict)

    def _of_agreement(self, laid: Overlay) -> Audience:
        """The strictest of what was looked at to see whether an agreement holds over it."""
        return self._strictest(laid.readings, list(laid.looked_at), None)

    def _strictest(self, readings: Iterable[Reading], records: list[Record | None], conflict: Conflict | None) -> Audience:
        kept = [one.audience for one in records if one is not None and one.audience is not None]
        named = {name for one in readings for name, _ in one.taken} | {tag for one in readings for _, tag in one.tags}
        kept += [self.narrowed[name] for name in named | set(conflict.between if conflict else ()) if name in self.narrowed]
        return max([Audience.PUBLIC, *kept, *(one.audience for one in readings)])


def _narrowed(build: Build) -> dict[str, Audience]:
    """Every record with an id that is kept to fewer eyes, and to whose."""
    sheets = (build.workshop, build.specification, build.evidence, build.parts, build.work, build.running, build.life, build.custody)
    tables = (getattr(sheet, one.name) for sheet in sheets for one in fields(sheet))
    records = (record for table in tables if isinstance(table, tuple) for record in table if isinstance(record, Record))
    return {name: one.audience for one in records if one.audience is not None and (name := getattr(one, "id", None))}


def _label(entry: Entry) -> str:
    return tags_id("", entry.tags).strip(".").replace(".", " ")
