"""What a dossier still lacks: the records that must exist before anything is published, and those due because of what the machine is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from dossier.model.build import Build

Asks = Callable[[Build], object]


@dataclass(frozen=True)
class Due:
    """A record that is due: its name in print, whether it is due for this build, and whether it is there."""

    name: str
    there: Asks
    due: Asks = lambda build: True


@dataclass(frozen=True)
class Completeness:
    """Figure 117: how many of the records due are there, and the names of those that are not."""

    due: int
    missing: tuple[str, ...]

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
    return Completeness(len(due), tuple(one.name for one in due if not one.there(build)))


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
    Due("title and replica statement", lambda b: _words(b.machine.title, b.machine.statement)),
    Due("reference configuration", lambda b: _words(b.machine.reference.machine, b.machine.reference.rider, b.machine.reference.meeting)),
    Due("builder’s plate and permanent mark", _plate),
    Due("stampings as found", lambda b: b.machine.stampings),
    Due("intended use and legality", lambda b: b.machine.use.intended),
    Due("class rule", lambda b: b.machine.class_rule, lambda b: b.machine.use.class_or_club),
    Due("declared specification", lambda b: b.specification.items),
    Due("evidence", lambda b: b.evidence.evidence),
    Due(
        "assumption or evidence behind each declared item",
        lambda b: all(
            item.evidence or item.assumption or any(one.item == item.id for one in b.evidence.assumptions)
            for item in b.specification.items if not item.withdrawn
        ),
        lambda b: b.specification.items,
    ),
    Due(
        "criterion for each behaviour declared",
        lambda b: all(_words(item.criterion) for item in b.specification.items if item.kind == "behaviour"),
        _judged_by_words,
    ),
    Due("parts and their origin", lambda b: b.parts.parts),
    Due("instruments", lambda b: b.workshop.instruments),
    Due("torque log", lambda b: b.work.torque_log),
    Due(
        "acceptance criterion of each crack test",
        lambda b: all(_words(one.acceptance) for one in b.work.operations if one.kind == "crack test"),
        lambda b: any(one.kind == "crack test" for one in b.work.operations),
    ),
    Due("cam timing as measured", lambda b: _measured(b, *_VALVE_EVENTS), lambda b: b.machine.engine.strokes == "4"),
    Due("port map as measured", lambda b: _measured(b, "exhaust_port_height"), lambda b: b.machine.engine.strokes == "2"),
    Due("fluids", lambda b: b.work.fluids),
    Due("brakes", lambda b: b.life.brakes),
    Due("tyres", lambda b: b.life.tyres),
    Due("parts with a limited life", lambda b: b.life.lifed),
    Due("custody chain", lambda b: b.custody.custody),
    Due("index of papers", lambda b: b.custody.papers),
    Due("statements and signatures", lambda b: b.custody.statements),
    Due("revision history", lambda b: b.custody.revisions),
)  # fmt: skip
"""Every record that can be due, and how to see that it is there."""
