"""That title and statement say what this machine is: a replica, named by its builder and dated by its own completion."""

from __future__ import annotations

import re
from collections.abc import Iterator

from dossier.model.problems import Problem
from dossier.read.checks.subject import Subject
from dossier.read.shapes import TO_DO

_WHAT = re.compile(r"\b(replica|reproduction|copy)\b", re.IGNORECASE)


def naming_faults(subject: Subject) -> Iterator[Problem]:
    """A title without the word or the year of completion, and a statement without the word."""
    machine = subject.build.machine
    title, statement = machine.title, machine.statement
    if title != TO_DO and not (_WHAT.search(title) and str(machine.completed) in title):
        advice = f"write (Builder) replica of (maker, model, year), completed {machine.completed}"
        yield Problem("title-pattern", f"the title {title!r} does not say both", subject.at(machine, "title"), advice, "title")
    if statement != TO_DO and not _WHAT.search(statement):
        advice = "begin it with: This machine is a replica."
        yield Problem("statement-silent", "the statement does not say so", subject.at(machine, "statement"), advice, "statement")
