"""A machine with nothing but what a test of judging puts into it."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, replace
from typing import Any

from dossier.conform.judge import judge
from dossier.conform.readings import Reading
from dossier.model.audience import Audience
from dossier.model.build import Build
from dossier.model.fields import Tri
from dossier.model.forms.custody import Custody, Revision
from dossier.model.forms.evidence import Assumption, Conflict, Evidence, EvidenceFile
from dossier.model.forms.machine import EngineKind, Livery, Machine, Reference, Use
from dossier.model.forms.measurements import Entry, Measurements
from dossier.model.forms.specification import Concession, Item, Specification
from dossier.model.forms.workshop import Instrument, WorkshopFile
from dossier.model.notation import declared, limits, quantity
from dossier.model.results import Verdict

DAY = datetime.date(2025, 5, 24)


def machine(**more: Any) -> Machine:
    plain: dict[str, Any] = {
        "form": "1", "this_machine_is": "reproduction by another builder, called a replica in the trade", "title": "T", "short": "t",
        "statement": "This machine is a replica.", "builder": "B", "build_no": "B-1", "completed": 2025,
        "reference": Reference(machine="M", rider="R", meeting="G", date=datetime.date(1967, 6, 11)), "use": Use(road_legal=Tri.NO),
        "engine": EngineKind(strokes="4", cylinders=2, cylinder_names=("left", "right")), "livery": Livery(day="#14513b", night="#93c7aa"),
    }  # fmt: skip
    return Machine(**(plain | more))


def build(*items: Item, entries: tuple[Entry, ...] = (), concessions: tuple[Concession, ...] = (), conflicts: tuple[Conflict, ...] = (),
          evidence: tuple[Evidence, ...] = (), assumptions: tuple[Assumption, ...] = (), instruments: tuple[Instrument, ...] = (),
          revisions: str = "ABCDE") -> Build:  # fmt: skip
    return Build(
        slug="b", machine=machine(), workshop=WorkshopFile(form="1", name="W", instruments=instruments),
        specification=Specification(items=items, concessions=concessions),
        evidence=EvidenceFile(evidence=evidence, conflicts=conflicts, assumptions=assumptions),
        measurements=Measurements(as_built=entries),
        custody=Custody(revisions=tuple(Revision(rev=rev, date=DAY, what="w") for rev in revisions)),
    )  # fmt: skip


def item(
    id: str = "D01", said: str | None = "30.00 mm", allowed: str | None = "29.90 to 30.10 mm", kind: str = "numeric", **more: Any
) -> Item:  # fmt: skip
    return Item(id=id, title=f"title of {id}", kind=kind, declared=declared(said) if said else None,  # type: ignore[arg-type]
                limits=limits(allowed) if allowed else None, **more)  # fmt: skip


def reading(text: str, label: str = "", each: tuple[str, ...] = (), tags: tuple[tuple[str, str], ...] = (), **more: Any) -> Reading:
    one = quantity(text)
    singles = tuple(quantity(single).si for single in each)
    plain: dict[str, Any] = {
        "number": one.si, "u": one.u_si, "kind": one.kind, "unit": one.unit.sign, "mean_of": max(1, len(each)),
        "each": singles, "tags": tags,
        "audience": Audience.PUBLIC,
    }  # fmt: skip
    return Reading(label=label, **(plain | more))


def concession(id: str = "C-01", item: str = "D01", holds: str | None = None, **more: Any) -> Concession:
    plain: dict[str, Any] = {
        "limit": "not above it", "reason": "r", "agreed_by": ("workshop", "owner"), "date": DAY, "revision": "C", "reversible": True,
        "holds": limits(holds) if holds else None,
    }  # fmt: skip
    return Concession(id=id, item=item, **(plain | more))


@dataclass(frozen=True)
class Held:
    """Readings by item id or quantity name."""

    by_name: dict[str, tuple[Reading, ...]]

    def readings_of(self, item: Item) -> tuple[Reading, ...]:
        return self.by_name.get(item.id, ())

    def readings_named(self, quantity: str) -> tuple[Reading, ...]:
        return self.by_name.get(quantity, ())


def verdict(one: Item, *readings: Reading, named: dict[str, tuple[Reading, ...]] | None = None, **parts: Any) -> Verdict:
    """The verdict on one item from its readings, in a build that holds those parts besides."""
    return judge(build(one, **parts), Held({one.id: readings, **(named or {})}), "E")[0]


def evidence(id: str, **more: Any) -> Evidence:
    plain: dict[str, Any] = {
        "kind": "photograph", "title": "t", "subject": "this machine", "reliability": "A", "credibility": "1", "says": "s",
    }  # fmt: skip
    return Evidence(id=id, **(plain | more))


def narrowed(record: Any, audience: Audience) -> Any:
    return replace(record, audience=audience)
