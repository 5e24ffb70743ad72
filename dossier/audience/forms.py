"""A build as one audience may see it: every form built anew from the fields whose mark lets that audience see them."""

from __future__ import annotations

import datetime
import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import MISSING, Field, fields, replace
from decimal import Decimal
from enum import Enum
from functools import cache
from typing import Any, get_type_hints

from dossier.audience.logs import BY_WHOM, log_for
from dossier.model.audience import Audience, audiences_of
from dossier.model.build import Build, LogTable, Note
from dossier.model.edition import Travelling
from dossier.model.forms.measurements import AXES, Entry
from dossier.model.forms.parts import Supplier
from dossier.model.forms.photos import Masked, Photo
from dossier.model.forms.record import Record
from dossier.model.forms.workshop import Person
from dossier.model.picture import Mask, PhotoFacts
from dossier.model.problems import Place
from dossier.model.quantity import Declared, Limits, Quantity

SECTIONS = {
    "machine": "machine", "workshop": "workshop", "specification": "specification", "evidence": "evidence",
    "measurements": "measurements", "parts": "parts", "work": "work", "running": "running", "life": "life", "custody": "custody",
    "photos": "photographs", "logs": "logs", "notes": "notes",
}  # fmt: skip
"""Parts of a Build, and the word under which what is withheld of each is counted."""
WITHHELD = "[withheld]"
"""What stands in free text where it named a withheld record by its id."""
_WORD = re.compile(r"[A-Za-z][A-Za-z0-9]*(?:[-.][A-Za-z0-9]+)*")
NEVER_RELEASED = {"written", "audience", "remark"}
"""Fields of every record that no release opens: they are the workshop's own."""
NEVER_RELEASED_OF_PHOTOS = {"file", "facts", "masks"}
_NOT_COUNTED = {"written", "audience", "file", "facts"}
_LEAVES = (str, int, float, Decimal, datetime.date, Enum, Quantity, Limits, Declared, PhotoFacts, Place)


class NothingToShow(ValueError):
    """The machine itself is kept from this audience, so there is no edition for it."""


def sieved(build: Build, audience: Audience) -> Sieve:
    """Withholding a record withholds what cannot stand without it, and so on until nothing more falls away."""
    hidden: frozenset[str] = frozenset()
    while True:
        sieve = Sieve(build, audience, hidden)
        found = hidden | (sieve.withheld_ids - sieve.shown_ids)
        if found == hidden:
            return sieve
        hidden = found


@cache
def _literals(form: Any) -> frozenset[str]:
    """Fields that hold one of a few words: never a reference."""
    return frozenset(name for name, hint in get_type_hints(form).items() if "Literal[" in str(hint))


class Sieve:
    """Builds one audience's Build from nothing, and remembers what did not pass."""

    def __init__(self, build: Build, audience: Audience, hidden: frozenset[str]) -> None:
        self.source, self.audience, self.hidden = build, audience, hidden
        self.all_seen = audience is Audience.WORKSHOP
        self.withheld: Counter[str] = Counter()
        self.left_out: Counter[str] = Counter()
        self.withheld_ids: set[str] = set()
        self.shown_ids: set[str] = set()
        self.releases: dict[str, Audience] = {}
        for one in build.custody.releases:
            self.releases[one.what] = min(one.to, self.releases.get(one.what, one.to))
        self.people = {one.id: one.shown_as for one in build.workshop.people}
        self.unpublished = _unpublished(build)
        self.section = ""
        self.passed = self._build()

    def sees(self, mark: Audience) -> bool:
        """The ladder: whoever stands as high as the mark, or higher, sees."""
        return self.audience >= mark

    def released(self, what: str) -> bool:
        """Whether a release line opens this record or field to the audience."""
        return what in self.releases and self.sees(self.releases[what])

    def _build(self) -> Build:
        passed = {name: self._sheet(name) for name in SECTIONS if name not in ("logs", "notes")}
        return Build(slug=self.source.slug, **passed, logs=tuple(self._logs()), notes=tuple(self._notes()))

    def _sheet(self, name: str) -> Any:
        self.section = SECTIONS[name]
        sheet = getattr(self.source, name)
        kept = self.record(sheet, sheet=name)
        if kept is not None:
            return kept
        if name in ("machine", "workshop"):
            raise NothingToShow(f"{name}.yaml is kept from the audience {self.audience.word!r}")
        return type(sheet)()

    def record(self, one: Record, sheet: str = "", lifted: bool = False) -> Record | None:
        """A new record of what this audience may see; None where the record is kept from it.

        `lifted` says that what holds it was released: then its fields for the owner are open too. What is for the
        workshop alone is released field by field only, and so are the fields of a whole sheet, as in `machine.storage`.
        """
        name = sheet or getattr(one, "id", None) or ""
        released = not sheet and self.released(name)
        if self._kept_back(one, released):
            self._withhold(one)
            return None
        before = self.withheld.copy(), set(self.withheld_ids), set(self.shown_ids)
        given: dict[str, Any] = {}
        form = _form(one)
        marks = audiences_of(form)
        for field in fields(one):
            opened = self.released(f"{name}.{field.name}")
            if self._open(one, field.name, marks[field.name], opened, lifted or released):
                kept = self._value(one, field, lifted or released or opened)
            else:
                kept = self._closed(one, field)
            if kept is not MISSING:
                given[field.name] = kept
            elif _required(one, field):
                # what it cannot stand without is withheld, so it is too
                self.withheld, self.withheld_ids, self.shown_ids = before
                self._withhold(one)
                return None
        if getattr(one, "id", None):
            self.shown_ids.add(one.id)  # type: ignore[attr-defined]
        return form(**given)  # type: ignore[no-any-return]

    def _kept_back(self, one: Record, released: bool) -> bool:
        if isinstance(one, Photo):
            if self.masks_of(one) is None:
                return True  # an area that cannot be covered
            if not released and (not self.sees(one.seen_by) or (self.audience is Audience.PUBLIC and one.id in self.unpublished)):
                return True
        return not released and one.audience is not None and not self.sees(one.audience)

    def _withhold(self, one: Record, counted: bool = True) -> None:
        self.withheld[self.section] += counted
        # a supplier's id is only a code, which the owner may read without the name
        if isinstance(getattr(one, "id", None), str) and not isinstance(one, Supplier):
            self.withheld_ids.add(one.id)  # type: ignore[attr-defined]
        for field in fields(one):
            for inner in _records(getattr(one, field.name)):
                self._withhold(inner, counted=False)

    def _open(self, one: Record, name: str, mark: Audience, opened: bool, lifted: bool) -> bool:
        if self.sees(mark):
            return True
        if name in NEVER_RELEASED or (isinstance(one, Photo) and name in NEVER_RELEASED_OF_PHOTOS):
            return False
        return opened or (lifted and mark is not Audience.WORKSHOP)

    def _closed(self, one: Record, field: Field[Any]) -> Any:
        value = getattr(one, field.name)
        records = _records(value)
        for inner in records:
            if not self.released(getattr(inner, "id", None) or ""):
                self._withhold(inner)
        if records and isinstance(value, tuple):
            self.left_out[field.name] += sum(not self.released(getattr(inner, "id", None) or "") for inner in records)
            return tuple(kept for inner in records if self.released(getattr(inner, "id", None) or "") and (kept := self.record(inner)))
        if not records and field.name not in _NOT_COUNTED and value not in (None, "", (), field.default):
            self.withheld[self.section] += 1
        return "" if isinstance(value, str) and field.default is MISSING else MISSING

    def _value(self, one: Record, field: Field[Any], lifted: bool) -> Any:
        value = getattr(one, field.name)
        if isinstance(value, Record):
            return self.record(value, lifted=lifted) or MISSING
        if isinstance(value, tuple):
            kept = [self.record(inner, lifted=lifted) if isinstance(inner, Record) else self._leaf(one, field, inner) for inner in value]
            self.left_out[field.name] += sum(inner is None for inner in kept)
            return tuple(inner for inner in kept if inner is not None and inner is not MISSING)
        return self._leaf(one, field, value)

    def _leaf(self, one: Record, field: Field[Any], value: Any) -> Any:
        if value is not None and not isinstance(value, _LEAVES):
            raise TypeError(f"the gate does not know what a {type(value).__name__} in {type(one).__name__}.{field.name} may give away")
        if isinstance(value, Declared):
            return replace(value, text=self.unnamed(value.text))
        if not isinstance(value, str) or field.name in _literals(_form(one)):
            return value
        if field.name == "id":
            return self.person(value) if isinstance(one, Person) else value
        if self.names_hidden(field.name, value):
            return MISSING
        return self.person(value) if field.name in BY_WHOM or field.name.endswith("_by") else self.unnamed(value)

    def unnamed(self, text: str) -> str:
        """Free text without the ids of what is withheld. What else it tells of it is its author's care."""
        return _WORD.sub(lambda found: WITHHELD if found[0] in self.hidden and any(map(str.isdigit, found[0])) else found[0], text)

    def names_hidden(self, field: str, text: str) -> bool:
        """Whether a field names something by its id that is withheld. Ids of logs and notes are names of files, a world of their own."""
        if field in ("log", "logs"):
            return f"log:{text}" in self.hidden
        return text in self.hidden or (field in ("belongs_to", "to") and f"note:{text}" in self.hidden)

    def person(self, who: str) -> str:
        """Below the workshop a person is called as the person is shown."""
        return who if self.all_seen else self.people.get(who, who)

    def _logs(self) -> Iterable[LogTable]:
        for log in self.source.logs:
            passes = self.all_seen or (self.sees(log.audience) and log.belongs_to not in self.hidden)
            self._tell("logs", f"log:{log.id}", passes)
            if passes:
                yield log if self.all_seen else log_for(log, self.hidden, self.person, self.unnamed)

    def _notes(self) -> Iterable[Note]:
        for note in self.source.notes:
            passes = self.released(note.id) or self.sees(_rung(note.audience))
            self._tell("notes", f"note:{note.id}", passes)
            if passes:
                yield Note(note.id, self.unnamed(note.title), self.unnamed(note.text), note.audience)

    def _tell(self, section: str, name: str, passes: bool) -> None:
        (self.shown_ids if passes else self.withheld_ids).add(name)
        self.withheld[SECTIONS[section]] += not passes

    # ------------------------------------------------------------ photographs on their way

    def masks_of(self, photo: Photo) -> tuple[Mask, ...] | None:
        """What must be destroyed in a photograph for this audience; None where an area is not fully given."""
        try:
            return tuple(_mask(one) for one in photo.masks if one.seen_by is None or not self.sees(one.seen_by))
        except ValueError:
            return None

    def travels(self) -> Iterable[Travelling]:
        """The originals of the photographs shown, for publishing to work from."""
        shown = {one.id for one in self.passed.photos.photos}
        for photo in self.source.photos.photos:
            if photo.id in shown and photo.facts is not None:
                yield Travelling(photo.id, photo.file, photo.facts.sha256, self.masks_of(photo) or (), photo.facts.mark)


def _form(one: Record) -> Any:
    return type(one)


def _rung(word: str) -> Audience:
    return next((one for one in Audience if one.word == word), Audience.WORKSHOP)


def _records(value: Any) -> list[Record]:
    return [one for one in (value if isinstance(value, tuple) else (value,)) if isinstance(one, Record)]


def _required(one: Record, field: Field[Any]) -> bool:
    """Without a default a field must be given; a value is nothing without all of its tags."""
    bare = field.default is MISSING and field.default_factory is MISSING
    return bare or (isinstance(one, Entry) and field.name in AXES and getattr(one, field.name) is not None)


def _unpublished(build: Build) -> frozenset[str]:
    """Photographs of sources that may not be published."""
    closed = {one.id: one.photo for one in build.evidence.evidence if not one.may_be_published}
    of = {one.id for one in build.photos.photos if not closed.keys().isdisjoint(one.belongs_to)}
    return frozenset({photo for photo in closed.values() if photo} | of)


def _mask(one: Masked) -> Mask:
    """An area as given, in per cent. ValueError where a corner is missing."""
    if one.points:
        flat = [_per_cent(point) for point in one.points]
        if len(flat) % 2:
            raise ValueError("a polygon has pairs of x and y")
        return Mask("polygon", tuple(zip(flat[::2], flat[1::2], strict=True)))
    left, top, right, bottom = (_per_cent(side) for side in (one.left, one.top, one.right, one.bottom))
    return Mask("rectangle", ((left, top), (right, bottom)))


def _per_cent(number: Quantity | None) -> float:
    if number is None:
        raise ValueError("a side of the area is missing")
    return float(number.number) if number.unit.sign in ("", "%") else number.si * 100
