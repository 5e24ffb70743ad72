"""Sources: none derives from itself, and each supports something."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.model.problems import Problem, Severity
from dossier.read.checks.subject import Subject


def source_faults(subject: Subject) -> Iterator[Problem]:
    """Circles of derivation, and sources that nothing names."""
    sources = subject.build.evidence.evidence
    parents = {source.id: source.derived_from for source in sources}
    for source in sources:
        line, step = [source.id], source.derived_from
        while step and step in parents and step not in line:
            line.append(step)
            step = parents[step]
        if step == source.id:
            message = f"{' derives from '.join([*line, source.id])}"
            instead = "leave the first source without derived_from"
            yield Problem("evidence-circle", message, subject.at(source, "derived_from"), instead, "derived_from")
    # While a record with a fault is left out, nobody knows what it rests on.
    if any(fault.severity is Severity.ERROR for sheet in subject.sheets.values() for fault in sheet.problems):
        return
    rests = _rests_on(subject)
    for source in sources:
        if source.id not in rests:
            advice = "name it where it is used, or say why it is kept"
            yield Problem("evidence-unused", f"nothing rests on {source.id}", source.written, advice)


def _rests_on(subject: Subject) -> set[str]:
    """Every source that an item, a conflict, a value, a photo reading, the fate of the original or another source names as its ground."""
    build = subject.build
    measured = build.measurements
    instead = (entry for block in measured.what_if for entry in block.instead)
    named = [id for item in build.specification.items for id in item.evidence]
    for entry in (*measured.declared, *measured.donor, *measured.as_built, *measured.noted, *instead):
        named += entry.evidence
    named += [id for conflict in build.evidence.conflicts for id in conflict.between]
    named += [reading.evidence for reading in build.evidence.photo_readings if reading.evidence]
    named += [source.derived_from for source in build.evidence.evidence if source.derived_from]
    return {*named, *build.machine.reference.fate_evidence}
