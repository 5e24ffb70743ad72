"""edition.json: what edition this is, what was withheld, which it supersedes, and the lines that may only grow; canonical by RFC 8785."""

from __future__ import annotations

import datetime
import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import rfc8785

from dossier.model.edition import Edition

FORM = 1
_CUSTODY = ("since", "until", "holder", "shown_as", "role", "evidence", "gap")
_REVISIONS = ("rev", "date", "what", "by", "frozen")
_STATEMENTS = ("role", "text", "signed", "name", "paper")


def edition_record(
    edition: Edition, number: int, supersedes: Mapping[str, Any] | None, keys: Mapping[str, str], manifests: Mapping[str, bytes]
) -> bytes:
    """The record of one edition: digests (SHA-256) of its payload lists by name, the keys that sign it by who, and its place in the chain.

    Only what the gate let out is in it, so that no digest of a line tells more than the line beside it.
    """
    machine, kept = edition.build.machine, edition.build.custody
    record: dict[str, Any] = {
        "form": FORM, "this machine is a": "replica", "title": machine.title, "build": machine.build_no, "builder": machine.builder,
        "audience": edition.audience.word, "revision": edition.revision, "date": edition.revised.isoformat(),
        "draft": edition.draft, "missing records": list(edition.missing_records), "withheld": dict(edition.withheld),
        "number": number, "supersedes": dict(supersedes) if supersedes else None, "keys": dict(keys),
        "manifests": {name: hashlib.sha256(data).hexdigest() for name, data in manifests.items()},
        "custody": _lines(kept.custody, _CUSTODY), "statements": _lines(kept.statements, _STATEMENTS),
        "revisions": _chained(_lines(kept.revisions, _REVISIONS)),
    }  # fmt: skip
    return rfc8785.dumps(record)


def read_record(data: bytes) -> dict[str, Any]:
    """The record back. ValueError where it is not canonical, or not a record of this form."""
    try:
        record = json.loads(data)
        again = rfc8785.dumps(record)
    except (ValueError, RecursionError) as fault:
        raise ValueError("it is not JSON that can be read") from fault
    if again != data:
        raise ValueError("it is not in canonical form (RFC 8785)")
    if not isinstance(record, dict) or record.get("form") != FORM:
        raise ValueError(f"it is not a record of form {FORM}")
    wanted = {
        "number": int, "keys": dict, "manifests": dict, "custody": list, "statements": list, "revisions": list, "build": str,
        "audience": str, "revision": str, "date": str, "withheld": dict,
    }  # fmt: skip
    wrong = [name for name, kind in wanted.items() if not isinstance(record.get(name), kind)]
    lines = [line for name in ("custody", "statements", "revisions") if name not in wrong for line in record[name]]
    if wrong or not all(isinstance(line, dict) for line in lines) or not isinstance(record.get("supersedes") or {}, dict):
        raise ValueError("it lacks " + ", ".join(wrong or ["lines that can be read"]))
    if record["revisions"] != _chained([{key: line[key] for key in line if key != "sha256"} for line in record["revisions"]]):
        raise ValueError("the digests of its revisions do not follow from their lines")
    return record


def rewritten(earlier: Mapping[str, Any], later: Mapping[str, Any]) -> list[str]:
    """What a later record says otherwise than the one before it: lines gone, put in between, in another order, or changed.

    A later record may add lines at the end and fields to a line, as the day on which a holder's time ended; it never takes back.
    """
    out = [f"{name} was {earlier[name]!r} and is {later[name]!r}" for name in ("build", "audience") if earlier[name] != later[name]]
    if later["date"] < earlier["date"]:
        out.append(f"its date {later['date']} lies before {earlier['date']}, the date of the edition before")
    for name in ("custody", "statements", "revisions"):
        out += _taken_back(name, earlier[name], later[name])
    return out


def _taken_back(name: str, earlier: Sequence[Mapping[str, Any]], later: Sequence[Mapping[str, Any]]) -> Iterable[str]:
    for number, line in enumerate(earlier, 1):
        if number > len(later):
            yield f"{name}, line {number}: it is gone"
            continue
        for key, value in line.items():
            # a revision's digest changes with its line, which is told already
            if key != "sha256" and later[number - 1].get(key) != value:
                yield f"{name}, line {number}: {key} was {value!r} and is {later[number - 1].get(key)!r}"


def _lines(records: Iterable[object], names: Sequence[str]) -> list[dict[str, Any]]:
    return [{name: _plain(value) for name in names if (value := getattr(one, name)) not in (None, "")} for one in records]


def _plain(value: object) -> str:
    return value.isoformat() if isinstance(value, datetime.date) else str(value)


def _chained(lines: Iterable[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Each line with the digest of itself and of all before it."""
    out, before = [], ""
    for line in lines:
        before = hashlib.sha256(rfc8785.dumps([before, dict(line)])).hexdigest()
        out.append({**line, "sha256": before})
    return out
