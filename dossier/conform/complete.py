"""What a dossier still lacks: the records that must exist before anything is published, and those due because of what the machine is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from dossier.model.build import Build

Asks = Callable[[Build], object]


@dataclass(frozen=True)
class Due:
    """A record that is due: its name in print, where it is written, whether it is due for this build, and whether it is there."""

    name: str
    where: str
    there: Asks
    due: Asks = lambda build: True


@dataclass(frozen=True)
class Completeness:
    """Figure 117: how many of the records due are there, and the names of those that are not."""

    due: int
    missing: tuple[str, ...]
    where: tuple[str, ...] = ()
    """For each that is missing, its file and field."""

    @property
    def per_cent(self) -> float:
        """Records present over records due, in per cent; below 100 every page says draft."""
        return 100.0 * (self.due - len(self.missing)) / self.due

    @property
    def draft(self) -> bool:
        """Whether a record is missing."""
        return bool(self.missing)


def completeness(build: Build) -> Completeness:
    """What is due and what is missing, in the order of the table. Common practice, no source."""
    due = [one for one in RECORDS if one.due(build)]
    missing = [one for one in due if not one.there(build)]
    return Completeness(len(due), tuple(one.name for one in missing), tuple(one.where for one in missing))


def _words(*texts: str | None) -> bool:
    return all(text is not None and text.strip() for text in texts)


def _measured(build: Build, *names: str) -> bool:
    return {one.what for one in build.measurements.as_built if one.not_measured is None} >= set(names)


def _plate(build: Build) -> bool:
    plate = build.machine.plate
    return plate is not None and _words(plate.text, plate.where, plate.permanent_mark)


def _judged_by_words(build: Build) -> bool:
    return any(item.kind == "behaviour" for item in build.specification.items)


_VALVE_EVENTS = ("inlet_opens", "inlet_closes", "exhaust_opens", "exhaust_closes")

# A register of things that turn up (conflicts, snags, rejected parts, damage) may honestly be empty, so none of them is due by itself.
# The cautions are put on the pages by the program.
RECORDS: tuple[Due, ...] = (
    Due("title and replica statement", "machine.yaml, title and statement", lambda b: _words(b.machine.title, b.machine.statement)),
    Due(
        "reference configuration", "machine.yaml, reference",
        lambda b: _words(b.machine.reference.machine, b.machine.reference.rider, b.machine.reference.meeting),
    ),
    Due("builder’s plate and permanent mark", "machine.yaml, plate with text, where and permanent_mark", _plate),
    Due("stampings as found", "machine.yaml, stampings", lambda b: b.machine.stampings),
    Due("intended use and legality", "machine.yaml, use with intended", lambda b: b.machine.use.intended),
    Due("class rule", "machine.yaml, class_rule", lambda b: b.machine.class_rule, lambda b: b.machine.use.class_or_club),
    Due("declared specification", "specification.yaml, items", lambda b: b.specification.items),
    Due("evidence", "evidence.yaml, evidence", lambda b: b.evidence.evidence),
    Due(
        "assumption or evidence behind each declared item",
        "specification.yaml, evidence or assumption of each item",
        lambda b: all(
            item.evidence or item.assumption or any(one.item == item.id for one in b.evidence.assumptions)
            for item in b.specification.items if not item.withdrawn
        ),
        lambda b: b.specification.items,
    ),
    Due(
        "criterion for each behaviour declared",
        "specification.yaml, criterion of each item of kind behaviour",
        lambda b: all(_words(item.criterion) for item in b.specification.items if item.kind == "behaviour"),
        _judged_by_words,
    ),
    Due("parts and their origin", "parts.yaml, parts", lambda b: b.parts.parts),
    Due("instruments", "../workshop.yaml, instruments", lambda b: b.workshop.instruments),
    Due("torque log", "work.yaml, torque_log", lambda b: b.work.torque_log),
    Due(
        "acceptance criterion of each crack test",
        "work.yaml, acceptance of each crack test",
        lambda b: all(_words(one.acceptance) for one in b.work.operations if one.kind == "crack test"),
        lambda b: any(one.kind == "crack test" for one in b.work.operations),
    ),
    Due(
        "cam timing as measured", "measurements.yaml, as_built with what: valve_timing",
        lambda b: _measured(b, *_VALVE_EVENTS), lambda b: b.machine.engine.strokes == "4",
    ),
    Due(
        "port map as measured", "measurements.yaml, as_built with what: exhaust_port_height",
        lambda b: _measured(b, "exhaust_port_height"), lambda b: b.machine.engine.strokes == "2",
    ),
    Due("fluids", "work.yaml, fluids", lambda b: b.work.fluids),
    Due("brakes", "life.yaml, brakes", lambda b: b.life.brakes),
    Due("tyres", "life.yaml, tyres", lambda b: b.life.tyres),
    Due("parts with a limited life", "life.yaml, lifed", lambda b: b.life.lifed),
    Due("custody chain", "custody.yaml, custody", lambda b: b.custody.custody),
    Due("index of papers", "custody.yaml, papers", lambda b: b.custody.papers),
    Due("statements and signatures", "custody.yaml, statements", lambda b: b.custody.statements),
    Due("revision history", "custody.yaml, revisions", lambda b: b.custody.revisions),
)  # fmt: skip
"""Every record that can be due, and how to see that it is there."""
