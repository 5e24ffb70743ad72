"""The as-built values of a build as judging asks for them: what somebody wrote down first, else the figure of that name."""

from __future__ import annotations

import datetime
from collections.abc import Iterable

from dossier.conform.readings import Reading
from dossier.model.build import Build
from dossier.model.forms.measurements import Entry, Role
from dossier.model.forms.specification import Item
from dossier.model.quantity import nominal
from dossier.model.results import Tags, Value, Worked
from dossier.model.units import UNITS


class Lookup:
    """Readings from values and figures; keeps to the protocol ValueLookup."""

    def __init__(self, build: Build, values: Iterable[Value], worked: Iterable[Worked]) -> None:
        """`values` as written down (worked-out ones among them are passed over), `worked` the figures, of any role."""
        self._entries = {(one.what, one.tags): one for one in build.measurements.as_built if one.quantities}
        self._values = [one for one in values if one.role is Role.AS_BUILT and not one.of]
        self._all = {(one.role, one.id): one for one in worked}
        self._worked = [one for one in self._all.values() if one.role is Role.AS_BUILT]

    def readings_of(self, item: Item) -> tuple[Reading, ...]:
        """Values written under the item's id or its quantity; where there are none, the figure of that name."""
        return self._under({item.id, item.quantity or item.id})

    def readings_named(self, quantity: str) -> tuple[Reading, ...]:
        """Values written under that name; where there are none, the figure of that name."""
        return self._under({quantity})

    def _under(self, names: set[str]) -> tuple[Reading, ...]:
        written = tuple(_of_value(one, self._entries.get((one.name, one.tags))) for one in self._values if one.name in names)
        return written or tuple(_of_figure(one, self._declared(one)) for one in self._worked if one.name in names)

    def _declared(self, one: Worked, path: tuple[str, ...] = ()) -> tuple[str, ...]:
        """Titles of the declared values a figure rests on, directly or through other figures, for want of measured ones."""
        found: dict[str, None] = {}
        for value in (value for use in one.inputs for value in use.values):
            if value.role is Role.DECLARED:
                found[value.title or value.name] = None
            elif value.of and value.of not in path:
                behind = self._all.get((value.role, value.of))
                found |= dict.fromkeys(self._declared(behind, (*path, value.of)) if behind else ())
        return tuple(found)


def _label(tags: Tags) -> str:
    return " ".join(tag for _, tag in tags)


def _of_value(one: Value, entry: Entry | None) -> Reading:
    unit = UNITS[one.unit]
    return Reading(
        label=_label(one.tags), number=nominal(one.number), u=None if one.u is None else one.u * unit.scale, kind=unit.kind, unit=unit.sign,
        mean_of=one.count, each=tuple(single.si for single in entry.readings) if entry and not entry.repeats else (), tags=one.tags,
        assumed=one.assumed, unstated=one.unstated, taken=((one.with_, one.on),) if one.with_ else (), audience=one.audience,
        written=" / ".join(map(str, entry.quantities)) if entry else "",
    )  # fmt: skip


def _of_figure(one: Worked, declared: tuple[str, ...] = ()) -> Reading:
    unit = UNITS[one.unit]
    absent = ", ".join(f"{missing.title} ({missing.file})" for missing in one.missing)
    taken: list[tuple[str, datetime.date | None]] = [(value.with_, value.on) for use in one.inputs for value in use.values if value.with_]
    return Reading(
        label=_label(one.tags),
        number=None if one.value is None or one.missing or declared else (one.value + float(unit.offset / unit.factor)) * unit.scale,
        u=None if one.u is None else one.u * unit.scale, kind=unit.kind, unit=unit.sign, figure=one.id, tags=one.tags,
        why=f"not written down: {absent}" if absent else one.no_verdict or _rests_on(declared), unstated=one.unstated,
        taken=tuple(dict.fromkeys(taken)), audience=one.audience,
    )  # fmt: skip


def _rests_on(declared: tuple[str, ...]) -> str:
    return f"it rests on declared values, not measured: {', '.join(declared).lower()}" if declared else ""
