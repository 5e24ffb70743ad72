"""What changed between two editions of a dossier, as text and as a page; worked out from their machine copies."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from dossier.model.forms.measurements import AXES
from dossier.pages.page import Page
from dossier.pages.parts.numbers import capital, counted, esc
from dossier.pages.parts.tables import Column, Row, Sheet, table

Copy = Mapping[str, Any]
"""An edition as its machine copy says it: the content of dossier.json."""


@dataclass(frozen=True)
class _Section:
    """One kind of record: its title, where it lies in the machine copy, which fields name one, which fields are compared (none: all)."""

    title: str
    path: tuple[str, ...]
    named: tuple[str, ...]
    fields: tuple[str, ...] = ()


_READING = ("what", *AXES, "where")
_SECTIONS = (
    _Section("Holders", ("build", "custody", "custody"), ("since",)),
    _Section("Statements", ("build", "custody", "statements"), ("role", "signed")),
    _Section("Declared items and their limits", ("build", "specification", "items"), ("id", "title")),
    _Section("Agreements", ("build", "specification", "concessions"), ("id",)),
    _Section("Verdicts", ("verdicts",), ("item", "title"), ("raw", "concession", "lapsed", "lower", "nominal", "upper", "deviation", "unit")),
    _Section("Readings as built", ("build", "measurements", "as_built"), _READING),
    _Section("Values declared", ("build", "measurements", "declared"), _READING),
    _Section("Readings of the donor", ("build", "measurements", "donor"), _READING),
    _Section("Values noted", ("build", "measurements", "noted"), _READING),
    _Section("Figures", ("worked",), ("title", "id", "role"), ("value", "u", "unit", "no_verdict")),
    _Section("Parts", ("build", "parts", "parts"), ("id", "name")),
    _Section("Parts refused", ("build", "parts", "rejected"), ("id", "name")),
    _Section("Operations", ("build", "work", "operations"), ("id", "kind")),
    _Section("Limits of life", ("build", "life", "lifed"), ("id", "part")),
    _Section("Tyres", ("build", "life", "tyres"), ("wheel",)),
    _Section("Wheels", ("build", "life", "wheels"), ("wheel",)),
    _Section("Brakes", ("build", "life", "brakes"), ("wheel",)),
    _Section("Sessions", ("build", "running", "sessions"), ("id",)),
    _Section("Snags", ("build", "running", "snags"), ("id",)),
    _Section("Papers", ("build", "custody", "papers"), ("id", "title")),
)
_WHO = ("by", "agreed_by", "welder", "verified_by")
_WHEN = ("on", "date", "fixed", "signed")


@dataclass(frozen=True)
class Change:
    """One record that is new, gone or changed: in which section, its name, each field as it was and is, by whom."""

    section: str
    name: str
    how: str
    fields: tuple[tuple[str, str, str], ...]
    by: str


class NotComparable(ValueError):
    """Two editions that are not of one machine for one audience: what is withheld from one would look like a change."""


def changes_between(older: Copy, newer: Copy) -> list[Change]:
    """All changes, section by section. NotComparable where the two are not of one build and one audience."""
    for word, path in (("build", ("build", "machine", "build_no")), ("audience", ("audience",))):
        one, other = _at(older, path), _at(newer, path)
        if one != other:
            raise NotComparable(f"the {word} of the one is {one}, of the other {other}")
    between = _by_revisions(older, newer)
    return [change for section in _SECTIONS for change in _in_section(section, older, newer, between)]


def difference_text(older: Copy, newer: Copy) -> str:
    """The changes as plain text, one line a record and one a field."""
    lines = [_lead(older, newer), ""]
    lines += [f"revision {_revision(one)}" for one in _new_revisions(older, newer)]
    section = ""
    for change in changes_between(older, newer):
        if change.section != section:
            section = change.section
            lines += ["", section]
        lines.append(f"  {change.name}: {change.how} ({change.by})")
        lines += [f"    {name}: {_said(was)} -> {_said(is_now)}" for name, was, is_now in change.fields]
    return "\n".join(lines) + "\n"


def difference_page(older: Copy, newer: Copy) -> Page:
    """The changes as a page."""
    changes, sheet = changes_between(older, newer), Sheet()
    revisions = _new_revisions(older, newer)
    if revisions:
        sheet.section("Revisions between")
        sheet.add("<ul>" + "".join(f"<li>{esc(_revision(one))}</li>" for one in revisions) + "</ul>")
    counts = Counter(change.section for change in changes)
    for section in dict.fromkeys(change.section for change in changes):
        sheet.section(section)
        columns = [Column("Record"), Column("Field", "c-why"), Column("It was", "c-why"), Column("It is", "c-why"), Column("By whom", "c-why")]
        rows = [row for change in changes if change.section == section for row in _rows(change)]
        sheet.add(table(f"{capital(counted(counts[section], 'record'))} new, gone or changed", columns, rows))
    title = f"What changed from revision {older.get('revision')} to {newer.get('revision')}"
    return Page("index", "What changed", sheet.html, heading=title, lead=_lead(older, newer), sections=tuple(sheet.sections))


def _in_section(section: _Section, older: Copy, newer: Copy, between: str) -> Iterator[Change]:
    before, after = (_named(_at(one, section.path) or (), section.named) for one in (older, newer))
    for name in [*before, *(name for name in after if name not in before)]:
        was, is_now = before.get(name, {}), after.get(name, {})
        fields = tuple(_fields(was, is_now, section.fields))
        if fields:
            how = "new" if name not in before else "gone" if name not in after else "changed"
            by = "worked out anew" if section.path[0] != "build" else _by(is_now if name in after else {}, between)
            yield Change(section.title, name, how, fields, by)


def _fields(was: Copy, is_now: Copy, only: Sequence[str]) -> Iterator[tuple[str, str, str]]:
    for name in only or sorted({*was, *is_now}):
        if was.get(name) != is_now.get(name) and name != "audience":
            yield name.replace("_", " "), _plain(was.get(name)), _plain(is_now.get(name))


def _named(records: Iterable[Copy], named: Sequence[str]) -> dict[str, Copy]:
    """Records by name; of several of one name each has its number."""
    out: dict[str, Copy] = {}
    seen: Counter[str] = Counter()
    for record in records:
        name = ", ".join(_plain(record[one]) for one in named if record.get(one) not in (None, ""))
        seen[name] += 1
        out[name if seen[name] == 1 else f"{name} ({seen[name]})"] = record
    return out


def _by(record: Copy, between: str) -> str:
    who = next((_plain(record[one]) for one in _WHO if record.get(one)), "")
    when = next((_plain(record[one]) for one in _WHEN if record.get(one)), "")
    return ", ".join(filter(None, [f"by {who}" if who else f"by whom is not said{between}", when]))


def _by_revisions(older: Copy, newer: Copy) -> str:
    names = [str(one.get("rev")) for one in _new_revisions(older, newer)]
    return f"; with revision {' or '.join(names)}" if names else ""


def _new_revisions(older: Copy, newer: Copy) -> list[Copy]:
    path = ("build", "custody", "revisions")
    known = {one.get("rev") for one in _at(older, path) or ()}
    return [one for one in _at(newer, path) or () if one.get("rev") not in known]


def _revision(one: Copy) -> str:
    by = f", by {one['by']}" if one.get("by") else ""
    return f"{one.get('rev')}, {one.get('date')}: {one.get('what')}{by}"


def _lead(older: Copy, newer: Copy) -> str:
    title = _at(newer, ("build", "machine", "title"))
    counts = Counter(change.how for change in changes_between(older, newer))
    said = ", ".join(f"{counts[how]} {how}" for how in ("new", "gone", "changed") if counts[how]) or "nothing changed"
    was, is_now = (f"{one.get('revision')} of {one.get('revised')}" for one in (older, newer))
    return f"{title}. A replica; {newer.get('audience')} edition, revision {was} to {is_now}. Records: {said}."


def _rows(change: Change) -> list[Row]:
    name = f"{esc(change.name)}<br><b>{change.how}</b>"
    return [Row([name, esc(field), esc(_said(was)), esc(_said(now)), esc(change.by)]) for field, was, now in change.fields]


def _said(text: str) -> str:
    return text or "nothing"


def _at(copy: Any, path: Sequence[str]) -> Any:
    for step in path:
        copy = copy.get(step) if isinstance(copy, Mapping) else None
    return copy


def _plain(value: Any) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case float():
            return f"{value:.6g}"
        case list():
            return ", ".join(_plain(one) for one in value)
        case Mapping():
            return str(value["text"]) if "text" in value else ", ".join(f"{key.replace('_', ' ')} {_plain(value[key])}" for key in sorted(value))
    return str(value)
