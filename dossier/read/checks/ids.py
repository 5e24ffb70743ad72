"""Ids: none stands twice, and whatever is named by its id is there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

from dossier.model.forms.record import Record
from dossier.model.problems import Place, Problem, did_you_mean
from dossier.read.checks.subject import Subject, text_of

SPACES: dict[str, tuple[str, str]] = {
    "instrument": ("workshop", "instruments"), "person": ("workshop", "people"), "evidence": ("evidence", "evidence"),
    "conflict": ("evidence", "conflicts"), "assumption": ("evidence", "assumptions"), "item": ("specification", "items"),
    "concession": ("specification", "concessions"), "part": ("parts", "parts"), "rejected part": ("parts", "rejected"),
    "interchange": ("parts", "interchange"), "matched set": ("parts", "matched_sets"), "supplier": ("parts", "suppliers"),
    "operation": ("work", "operations"), "dyno run": ("running", "dyno"), "session": ("running", "sessions"), "snag": ("running", "snags"),
    "lifed part": ("life", "lifed"), "paper": ("custody", "papers"), "photograph": ("photos", "photos"),
    "what-if": ("measurements", "what_if"),
}  # fmt: skip
"""For each kind of record with an id: its file and its list there."""

FILE_OF = {inner: file for file, inner in SPACES.values()}
"""For each list of records with an id, its file."""

APART = frozenset({"instrument", "person", "supplier", "revision"})
"""Kinds whose ids may be those of other kinds as well; all others share one set, because photographs and releases name any of them."""

Reference = tuple[str, str, str, tuple[str, ...]]
REFERENCES: tuple[Reference, ...] = (
    ("machine", "reference", "fate_evidence", ("evidence",)),
    ("machine", "plate", "photo", ("photograph",)),
    ("machine", "stampings", "photo", ("photograph",)),
    ("machine", "", "hero", ("photograph",)),
    ("specification", "items", "evidence", ("evidence",)),
    ("specification", "items", "conflict", ("conflict",)),
    ("specification", "items", "photo", ("photograph",)),
    ("specification", "items", "withdrawn", ("revision",)),
    ("specification", "items.history", "rev", ("revision",)),
    ("specification", "concessions", "item", ("item",)),
    ("specification", "concessions", "revision", ("revision",)),
    ("evidence", "evidence", "derived_from", ("evidence",)),
    ("evidence", "evidence", "photo", ("photograph",)),
    ("evidence", "photo_readings", "photo", ("photograph",)),
    ("evidence", "photo_readings", "evidence", ("evidence",)),
    ("evidence", "conflicts", "item", ("item",)),
    ("evidence", "conflicts", "between", ("evidence",)),
    ("evidence", "assumptions", "item", ("item",)),
    *(
        ("measurements", f"{entries}", field, spaces)
        for entries in ("declared", "donor", "as_built", "noted", "what_if.instead")
        for field, spaces in (
            ("with_", ("instrument",)), ("evidence", ("evidence",)), ("photo", ("photograph",)), ("session", ("session",)),
            ("item", ("item",)), ("log", ("log",)),
        )
    ),
    ("parts", "parts", "meets", ("item",)),
    ("parts", "parts", "matched_set", ("matched set",)),
    ("parts", "parts", "supplier", ("supplier",)),
    ("parts", "parts.goods_in", "photo", ("photograph",)),
    ("parts", "rejected", "supplier", ("supplier",)),
    ("parts", "rejected", "photo", ("photograph",)),
    ("parts", "matched_sets", "parts", ("part",)),
    ("work", "operations", "part", ("part", "rejected part")),
    ("work", "operations", "photo", ("photograph",)),
    ("work", "torque_log", "wrench", ("instrument",)),
    ("running", "dyno", "log", ("log",)),
    ("running", "sessions", "logs", ("log",)),
    ("running", "sessions", "photo", ("photograph",)),
    ("running", "snags", "concession", ("concession",)),
    ("running", "snags", "verified_on", ("session", "dyno run")),
    ("running", "snags", "photo", ("photograph",)),
    ("photos", "photos", "belongs_to", ("any",)),
)  # fmt: skip
"""File, list (and list within its records), field, and the kinds of record the field may name."""

LOOSE: tuple[tuple[str, str, str], ...] = (
    ("measurements", "as_built", "document"), ("measurements", "noted", "document"), ("measurements", "donor", "document"),
    ("parts", "parts.papers", "certificate"), ("parts", "rejected", "replaced_by"), ("work", "operations", "certificate"),
    ("specification", "concessions", "signature"), ("specification", "concessions", "opinion"), ("running", "snags", "where"),
    ("running", "snags", "parts"), ("custody", "custody", "evidence"), ("custody", "statements", "paper"),
)  # fmt: skip
"""Fields that hold words or an id: what has the look of an id must be one."""

PEOPLE: tuple[tuple[str, str, str], ...] = (
    *(("measurements", entries, "by") for entries in ("declared", "donor", "as_built", "noted")),
    ("evidence", "conflicts", "by"), ("work", "operations", "by"), ("work", "torque_log", "by"), ("running", "snags", "verified_by"),
    ("custody", "revisions", "by"), ("custody", "releases", "by"), ("photos", "photos", "by"),
)  # fmt: skip
"""Fields that hold words or the initials of a person."""

_LOOKS_LIKE_ID = re.compile(r"[A-Z]{1,4}-?[0-9]{1,6}")
_INITIALS = re.compile(r"[A-Z]{1,4}")


def id_faults(subject: Subject) -> Iterator[Problem]:
    """Ids that stand twice, and names of records that are not there."""
    known = _known(subject)
    yield from _twice(subject)
    for file, path, field, spaces in REFERENCES:
        yield from _unknown(subject, (file, path, field), spaces, known)
    for where in LOOSE:
        yield from _unknown(subject, where, ("any",), known, _LOOKS_LIKE_ID)
    if known["person"]:
        for where in PEOPLE:
            yield from _unknown(subject, where, ("person",), known, _INITIALS)


def _known(subject: Subject) -> dict[str, set[str]]:
    """The ids of each kind of record, records with faults included."""
    known = {space: {text for node in subject.nodes(*where) if (text := text_of(node.get("id")))} for space, where in SPACES.items()}
    known["revision"] = {text for node in subject.nodes("custody", "revisions") if (text := text_of(node.get("rev")))}
    known["log"] = {log.id for log in subject.build.logs} | subject.log_names
    known["any"] = set().union(*(ids for space, ids in known.items() if space not in APART))
    return known


def _twice(subject: Subject) -> Iterator[Problem]:
    first: dict[str, tuple[str, Place]] = {}
    for space, where in SPACES.items():
        own: dict[str, tuple[str, Place]] = {} if space in APART else first
        for node in subject.nodes(*where):
            text = text_of(node.get("id"))
            if text is None:
                continue
            place = node.entries["id"][1].place
            if text in own:
                kind, before = own[text]
                message = f"{text} is the id of {'an' if kind[0] in 'aeio' else 'a'} {kind} already, in {before}"
                yield Problem("id-twice", message, place, "give this one an id of its own", "id")
            own.setdefault(text, (space, place))


def _unknown(
    subject: Subject, where: tuple[str, str, str], spaces: tuple[str, ...], known: dict[str, set[str]], only: re.Pattern[str] | None = None
) -> Iterator[Problem]:
    """Ids in one field of all records of one list that name nothing."""
    if any(_unreadable(subject, space) for space in spaces):
        return
    ids = set().union(*(known[space] for space in spaces))
    file, path, field = where
    for record in records_at(getattr(subject.build, file), path):
        said = getattr(record, field)
        for index, text in enumerate(said if isinstance(said, tuple) else (said,)):
            if text is None or text in ids or (only and not only.fullmatch(text)):
                continue
            if spaces == ("log",):
                yield _no_log(text, subject.at(record, field, index), ids, field)
                continue
            what = "record" if spaces == ("any",) else " or ".join(spaces)
            instead = did_you_mean(text, ids, f"known: {', '.join(sorted(ids)[:12]) or 'none'}")
            yield Problem("id-unknown", f"there is no {what} {text!r}", subject.at(record, field, index), instead, field)


def _no_log(text: str, place: Place, ids: Iterable[str], field: str) -> Problem:
    instead = did_you_mean(text, ids, "put it in logs/, named as in DY-1.dyno_run.csv")
    return Problem("log-missing", f"there is no log {text!r} in logs/", place, instead, field)


def _unreadable(subject: Subject, space: str) -> bool:
    if space == "any":
        return any(subject.broken(file) for file, _ in SPACES.values())
    file = {"revision": "custody", "log": "machine"}.get(space) or SPACES[space][0]
    return subject.broken(file)


def records_at(form: Any, path: str) -> Iterator[Record]:
    """The records at a path of field names, lists laid open; the form itself where the path is empty."""
    found: list[Any] = [form]
    for step in path.split(".") if path else ():
        inner = [getattr(one, step) for one in found]
        found = [record for one in inner if one is not None for record in (one if isinstance(one, tuple) else (one,))]
    yield from found
