"""Release lines: each opens a record, a field of it, a measured quantity, a log or a note that is there; a slip would open nothing in silence."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields

from dossier.model.forms.record import Record
from dossier.model.problems import Problem, did_you_mean
from dossier.read.checks.ids import SPACES
from dossier.read.checks.subject import Subject, text_of


def release_faults(subject: Subject) -> Iterator[Problem]:
    """Release lines that name nothing."""
    if any(subject.broken(file) for file in subject.sheets):
        return
    known = _known(subject)
    for line in subject.build.custody.releases:
        if line.what in known or (line.what.partition(".")[0] in known and _field_there(subject, line.what)):
            continue
        advice = did_you_mean(
            line.what, known, "name a record by its id, a field of it as in P05.supplier, a measured quantity, a log or a note"
        )
        yield Problem("release-unknown", f"there is nothing called {line.what!r} to release", subject.at(line, "what"), advice, "what")


def _known(subject: Subject) -> set[str]:
    build = subject.build
    ids = {text for where in SPACES.values() for node in subject.nodes(*where) if (text := text_of(node.get("id")))}
    measured = build.measurements
    quantities = {one.what for some in (measured.declared, measured.donor, measured.as_built, measured.noted) for one in some}
    logs = {log.id for log in build.logs} | subject.log_names
    return ids | quantities | logs | {note.id for note in build.notes} | set(subject.sheets)


def _field_there(subject: Subject, what: str) -> bool:
    """Whether the part after the point is a field of some form; `P05.price`, `machine.storage`."""
    head, _, name = what.partition(".")
    sheet = subject.sheets.get(head)
    forms: list[type[Record]] = [type(sheet.form)] if sheet is not None else [type(one) for one in _records(subject, head)]
    return any(name == field.name.rstrip("_") for form in forms for field in fields(form))


def _records(subject: Subject, id: str) -> list[Record]:
    found = [one for file, inner in SPACES.values() for one in getattr(getattr(subject.build, file), inner)]
    return [one for one in found if getattr(one, "id", None) == id]
