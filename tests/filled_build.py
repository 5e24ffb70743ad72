"""A build in which every field of every form holds something, each word telling for whom it is."""

from __future__ import annotations

import datetime
import types
import typing
from dataclasses import dataclass, field, fields, replace
from decimal import Decimal
from typing import Annotated, Any, Literal

from dossier.model.audience import Audience, SeenBy
from dossier.model.build import Build, LogTable, Note
from dossier.model.edition import Edition
from dossier.model.fields import Tri
from dossier.model.forms.measurements import Role
from dossier.model.forms.photos import Photo
from dossier.model.forms.record import Record
from dossier.model.picture import PhotoFacts
from dossier.model.problems import Place, Problem
from dossier.model.quantity import Declared, Limits, Quantity
from dossier.model.results import InputUsed, Judged, Outcome, Value, Verdict, Warned, Worked
from dossier.model.units import UNITS

DAY = datetime.date(2025, 5, 24)


class Filler:
    """Fills forms. What is above `steady` changes with `seed`; all else is the same for every seed."""

    def __init__(self, seed: int = 0, steady: Audience = Audience.PUBLIC) -> None:
        self.seed, self.steady, self.count = seed, steady, 0

    def build(self) -> Build:
        forms = {one.name: typing.get_type_hints(Build)[one.name] for one in fields(Build) if one.name not in ("slug", "logs", "notes")}
        filled = {name: self.form(form, Audience.PUBLIC) for name, form in forms.items()}
        photo: Photo = filled["photos"].photos[0]
        hidden = tuple(self._photo(photo, rung) for rung in (Audience.OWNER, Audience.WORKSHOP))
        filled["photos"] = replace(filled["photos"], photos=(_whole(photo), *hidden))
        logs = tuple(
            LogTable(self.word(rung, "log"), kind, self.word(rung, "title"), (("Torque", "N·m"),), ((self.word(rung, "cell"),),),
                     ((3, self.word(Audience.WORKSHOP, "left out")),), audience=rung)
            for rung, kind in ((Audience.PUBLIC, "dyno_run"), (Audience.OWNER, "data_log"), (Audience.WORKSHOP, "weigh_sheet"))
        )  # fmt: skip
        notes = tuple(Note(self.word(rung, "note"), self.word(rung, "title"), self.word(rung, "text"), rung.word) for rung in Audience)
        return Build(slug="slug", **filled, logs=logs, notes=notes)

    def _photo(self, photo: Photo, rung: Audience) -> Photo:
        words = {name: self.word(rung, name) for name in ("id", "shows", "alt", "pair", "date_said", "by", "credit", "licence", "file")}
        pins = tuple(replace(pin, to=self.word(rung, "to")) for pin in photo.pins)
        return _whole(replace(photo, seen_by=rung, belongs_to=(self.word(rung, "belongs"),), pins=pins, **words))

    def word(self, rung: Audience, what: str) -> str:
        self.count += 1
        changing = f"-{self.seed}" if rung > self.steady else ""
        return f"{rung.word}-{what.replace('_', '-').replace(' ', '-')}-{self.count}{changing}"

    def number(self, rung: Audience) -> int:
        return 11 + (self.seed if rung > self.steady else 0)

    def form(self, form: type[Any], rung: Audience) -> Any:
        hints = typing.get_type_hints(form, include_extras=True)
        given = {one.name: self.field(hints[one.name], rung, one.name) for one in fields(form) if one.name != "audience"}
        return form(**given)

    def field(self, hint: Any, rung: Audience, name: str) -> Any:
        if typing.get_origin(hint) is Annotated:
            marks = [mark.audience for mark in hint.__metadata__ if isinstance(mark, SeenBy)]
            return self.value(typing.get_args(hint)[0], max([rung, *marks]), name)
        return self.value(hint, Audience.WORKSHOP, name)

    def value(self, hint: Any, rung: Audience, name: str) -> Any:
        origin, args = typing.get_origin(hint), typing.get_args(hint)
        if origin is Annotated:
            return self.value(args[0], rung, name)
        if origin in (types.UnionType, typing.Union):
            return self.value(next(one for one in args if one is not types.NoneType), rung, name)
        if origin is tuple:
            return (self.value(args[0], rung, name),)
        if origin is Literal:
            return args[self.number(rung) % len(args)] if rung > self.steady else args[0]
        if isinstance(hint, type) and issubclass(hint, Record):
            return self.form(hint, rung)
        return self.plain(hint, rung, name)

    def plain(self, hint: Any, rung: Audience, name: str) -> Any:
        number = self.number(rung)
        quantity = Quantity(Decimal(number), UNITS["%"], None, self.word(rung, name))
        made = {
            str: lambda: self.word(rung, name), int: lambda: number, bool: lambda: True, datetime.date: lambda: DAY.replace(day=number),
            Tri: lambda: Tri.YES, Audience: lambda: Audience.PUBLIC, Quantity: lambda: quantity,
            Limits: lambda: Limits(Decimal(number), None, UNITS["mm"], self.word(rung, name)),
            Declared: lambda: Declared(self.word(rung, name)), Place: lambda: Place("f.yaml", number, 1, self.word(rung, name)),
            PhotoFacts: lambda: PhotoFacts(self.word(rung, "sha256"), number, number, self.word(rung, "format")),
        }  # fmt: skip
        return made[hint]()


def _whole(photo: Photo) -> Photo:
    # one point is no polygon: leave the rectangle
    return replace(photo, masks=tuple(replace(mask, points=(), seen_by=None) for mask in photo.masks))


@dataclass(frozen=True)
class KnownBuild:
    """All that is known of a build, as the gate takes it in."""

    build: Build
    worked: tuple[Worked, ...] = ()
    verdicts: tuple[Verdict, ...] = ()
    problems: tuple[Problem, ...] = ()
    missing_records: tuple[str, ...] = ()
    what_if: tuple[tuple[str, tuple[Worked, ...]], ...] = ()
    revision: str = "E"
    revised: datetime.date = field(default=DAY)


def value(filler: Filler, rung: Audience, **more: Any) -> Value:
    plain = {one: filler.word(rung, one) for one in ("name", "title", "by", "with_", "where", "assumed", "photo", "source")}
    return Value(**(plain | {
        "tags": (("cylinder", filler.word(rung, "tag")),), "role": Role.AS_BUILT, "number": float(filler.number(rung)), "unit": "mm",
        "shown": float(filler.number(rung)), "audience": rung,
    } | more))  # fmt: skip


def worked(filler: Filler, rung: Audience, *values: Value, **more: Any) -> Worked:
    words = {one: filler.word(rung, one) for one in ("id", "name", "title", "symbol", "formula", "no_verdict", "basis", "subject")}
    use = InputUsed(filler.word(rung, "symbol"), filler.word(rung, "title"), "mm", values or (value(filler, rung),))
    return Worked(**(words | {
        "unit": "mm", "role": Role.AS_BUILT, "tags": (), "value": float(filler.number(rung)), "u": 0.1, "decimals": 2, "inputs": (use,),
        "warnings": (Warned("code", filler.word(rung, "warned")),), "audience": rung,
    } | more))  # fmt: skip


def verdict(filler: Filler, rung: Audience, **more: Any) -> Verdict:
    words = {one: filler.word(rung, one) for one in ("item", "title", "rule", "source", "says", "lapsed", "assumption")}
    judged = Judged(filler.word(rung, "label"), float(filler.number(rung)), 0.1, Outcome.FAILS, words=filler.word(rung, "words"))
    return Verdict(**(words | {
        "raw": Outcome.FAILS, "revision": "E", "judged": (judged,), "warnings": (Warned("code", filler.word(rung, "warned")),),
        "audience": rung,
    } | more))  # fmt: skip


def everything(seed: int = 0, steady: Audience = Audience.PUBLIC) -> KnownBuild:
    """Every form filled, and a figure and a verdict for each audience."""
    filler = Filler(seed, steady)
    build = filler.build()
    block = build.measurements.what_if[0].id
    return KnownBuild(
        build, tuple(worked(filler, rung) for rung in Audience), tuple(verdict(filler, rung) for rung in Audience),
        what_if=((block, tuple(worked(filler, rung) for rung in Audience)),),
    )  # fmt: skip


def without_originals(edition: Edition) -> Edition:
    """The edition as pages see it: what travels to publishing names the files of the originals, and pages never do."""
    return replace(edition, travels=())
