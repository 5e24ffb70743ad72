"""Logs: each belongs to a record that is there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from dossier.model.build import LogTable
from dossier.model.problems import Place, Problem, did_you_mean
from dossier.read.checks.ids import FILE_OF
from dossier.read.checks.subject import Subject, text_of
from dossier.read.logs.kind import LOG_KINDS


def log_faults(subject: Subject) -> Iterator[Problem]:
    """Logs named after a record that does not exist."""
    for log in subject.build.logs:
        wanted = LOG_KINDS[log.kind].belongs_to
        if wanted == "machine" or subject.broken(FILE_OF[wanted]):
            continue
        ids = [text for node in subject.nodes(FILE_OF[wanted], wanted) if (text := text_of(node.get("id")))]
        if log.belongs_to not in ids:
            message = f"{FILE_OF[wanted]}.yaml has no {wanted} entry {log.belongs_to!r}, after which this log is named"
            instead = did_you_mean(log.belongs_to, ids, f"known: {', '.join(ids[:12]) or 'none'}")
            yield Problem("id-unknown", message, _place(subject, log), instead)


def _place(subject: Subject, log: LogTable) -> Place:
    whole = subject.log_place(log.id)
    return replace(whole, file=f"{whole.file.rpartition('/')[0]}/{log.file}") if log.file else whole
