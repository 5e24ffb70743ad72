"""Readings as somebody wrote them down, found by name and tags: the value with its uncertainty, and who took it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from dossier.model.edition import Edition
from dossier.model.forms.measurements import Entry
from dossier.model.results import Value
from dossier.pages.parts.links import ByIdentity, link
from dossier.pages.parts.numbers import day, esc, number, plus_minus, with_unit

_GROUP = {"declared": "declared", "donor": "donor", "as built": "as_built", "noted": "noted"}


@dataclass(frozen=True)
class Reading:
    """A value that was written down: HTML with unit and U, the same as plain text, a short remark (HTML), the photograph it names."""

    html: str
    text: str = ""
    remark: str = ""
    photo: str = ""
    assumed: bool = False


def reading(edition: Edition, name: str, tags: tuple[str, ...] = (), role: str = "as built") -> Reading | None:
    """The reading of that name and exactly those tags; with the role as built, one merely noted will do."""
    value = value_of(edition, name, tags, role)
    entry = entry_of(edition, name, tags, role)
    if value is not None:
        note = _remark(entry) if entry is not None else ""
        assumed = "<b>assumed</b>" if value.assumed else ""
        shown = plus_minus(value.shown, value.u, value.decimals, value.unit)
        plain = f"{number(value.shown, value.decimals)} {value.unit}".strip()
        return Reading(shown, plain, "; ".join(filter(None, [assumed, note])), value.photo, bool(value.assumed))
    if entry is not None and entry.quantities:
        return Reading(_written(edition, entry), str(entry.quantities[0]), _remark(entry), entry.photo or "", bool(entry.assumed))
    item = next((one for one in edition.build.specification.items if one.quantity == name), None)
    if role == "declared" and not tags and item is not None and item.declared is not None and item.declared.nominal is not None:
        nominal = item.declared.nominal
        return Reading(with_unit(number(float(nominal.number), nominal.decimals), nominal.unit.sign), str(nominal))
    return reading(edition, name, tags, "noted") if role == "as built" else None


def value_of(edition: Edition, name: str, tags: tuple[str, ...] = (), role: str = "as built") -> Value | None:
    """The value of that name, tags and role as it went into a figure, if any figure took it in."""
    return _values(ByIdentity(edition)).get((name, frozenset(tags), role))


def entry_of(edition: Edition, name: str, tags: tuple[str, ...] = (), role: str = "as built") -> Entry | None:
    """The entry of that name, tags and role in the measurements, if any."""
    some: tuple[Entry, ...] = getattr(edition.build.measurements, _GROUP[role])
    return next((one for one in some if one.what == name and {tag for _, tag in one.tags} == set(tags)), None)


def tags_of(edition: Edition, axis: str, *names: str) -> list[str]:
    """The tags along an axis that figures or measurements of those names bear, in the order they are met."""
    found: dict[str, None] = {}
    for one in edition.worked:
        if one.name in names and axis in dict(one.tags):
            found[dict(one.tags)[axis]] = None
    for entry in edition.build.measurements.as_built:
        if entry.what in names and axis in dict(entry.tags):
            found[dict(entry.tags)[axis]] = None
    return list(found)


def taken(edition: Edition, entry: Entry) -> str:
    """Where, with what, by whom and when a reading was taken, as HTML; empty where nobody said."""
    instrument = next((one for one in edition.build.workshop.instruments if one.id == entry.with_), None)
    bits = [
        esc(entry.where or ""), esc(entry.method or ""),
        f"with {link(edition, instrument.id)}, {esc(instrument.name)}" if instrument else "",
        f"by {esc(entry.by)}" if entry.by else "",
        f"at {with_unit(str(entry.at.number), entry.at.unit.sign)}" if entry.at else "", day(entry.on) if entry.on else "",
    ]  # fmt: skip
    return "; ".join(filter(None, bits))


def _remark(entry: Entry) -> str:
    bits = [entry.note, entry.method, entry.where] if len(entry.quantities) == 1 else [entry.note]
    return "; ".join(esc(bit) for bit in bits if bit)


def _written(edition: Edition, entry: Entry) -> str:
    """The first reading with the uncertainty stated beside it, else the instrument's where it is in the same unit."""
    first = entry.quantities[0]
    instrument = next((one for one in edition.build.workshop.instruments if one.id == entry.with_), None)
    stated = entry.u or (instrument.u if instrument else None)
    u = float(first.u) if first.u is not None else float(stated.number) if stated and stated.unit.sign == first.unit.sign else None
    return plus_minus(float(first.number), u, first.decimals, first.unit.sign)


@lru_cache(maxsize=4)
def _values(known: ByIdentity) -> dict[tuple[str, frozenset[str], str], Value]:
    found: dict[tuple[str, frozenset[str], str], Value] = {}
    for one in known.edition.worked:
        for used in one.inputs:
            for value in used.values:
                if not value.of:
                    found.setdefault((value.name, frozenset(tag for _, tag in value.tags), value.role.value), value)
    return found
