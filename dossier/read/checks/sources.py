"""Sources: none derives from itself, and each supports something."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from dossier.model.problems import Place, Problem
from dossier.read.checks.subject import Subject, texts_of

_WORD = re.compile(r"[A-Za-z][A-Za-z0-9]*(?:[-.][A-Za-z0-9]+)*")


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
    named = _named(subject)
    for source in sources:
        if named[source.id] <= _own(subject, source.written)[source.id]:
            yield Problem(
                "evidence-unused", f"nothing rests on {source.id}", source.written, "name it where it is used, or say why it is kept"
            )


def _named(subject: Subject) -> Counter[str]:
    """How often each word with the look of an id stands in any text of the folder."""
    return Counter(word for sheet in subject.sheets.values() for text in texts_of(sheet.root) for word in _WORD.findall(text))


def _own(subject: Subject, place: Place) -> Counter[str]:
    """The same within one record."""
    block = subject.blocks.get(place)
    return Counter(word for text in (texts_of(block) if block else ()) for word in _WORD.findall(text))
