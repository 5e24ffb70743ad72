"""Values that the declared items hold: their nominals, how wide their tolerances are, and on how many sources they rest."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from dossier.figures.value import count, of_quantity, seen_by, uncertainty_of, width_in
from dossier.model.audience import Audience
from dossier.model.build import Build
from dossier.model.forms.evidence import Evidence
from dossier.model.forms.measurements import Role
from dossier.model.forms.parts import Part
from dossier.model.forms.specification import Item
from dossier.model.quantity import Quantity
from dossier.model.results import Tags, Value

PERIOD = ("genuine, from the reference machine", "genuine, from another machine", "period accessory")
"""Origin classes of metal that is of the period."""


def values_of_items(build: Build) -> Iterator[Value]:
    """Values of each item that is not withdrawn, and counts over all of them."""
    items = [item for item in build.specification.items if item.withdrawn is None]
    for item in items:
        if item.quantity and item.declared is not None and item.declared.nominal is not None:
            audience = seen_by("declared", build.specification, item)
            yield of_quantity(item.quantity, item.declared.nominal, Role.DECLARED, source=item.id, exact=True, audience=audience)
        yield from _tolerance(build, item)
        yield from _sources(build, item)
    yield from _counts(build, items)


def _tolerance(build: Build, item: Item) -> Iterator[Value]:
    """Half the tolerance, the widest uncertainty of its readings and that of its evidence, as bare numbers in the item's own unit."""
    limits = item.limits or (item.declared.limits if item.declared else None)
    if limits is None or limits.lower is None or limits.upper is None:
        return
    tags: Tags = (("item", item.id),)
    audience = max(seen_by("limits", build.specification, item), seen_by("declared", build.specification, item))
    half = (limits.upper - limits.lower) / 2
    nominal = item.declared.nominal if item.declared and item.declared.nominal else Quantity(limits.upper, limits.unit)
    unit = Quantity(nominal.number, limits.unit)
    yield count("item_half_tolerance", half, tags=tags, source=item.id, audience=audience, title=f"Half the tolerance of {item.id}")
    widths = list(_uncertainties(build, item, unit))
    if widths:
        u, seen = max(widths)
        yield count(
            "item_uncertainty", u, tags=tags, source=item.id, audience=max(audience, seen), title=f"Uncertainty of the reading of {item.id}"
        )
    if item.evidence_uncertainty is not None and (u_e := width_in(item.evidence_uncertainty, unit)) is not None:
        seen = max(audience, seen_by("evidence_uncertainty", build.specification, item))
        yield count(
            "item_evidence_uncertainty", u_e, tags=tags, source=item.id, audience=seen, title=f"Uncertainty of the evidence for {item.id}"
        )


def _uncertainties(build: Build, item: Item, unit: Quantity) -> Iterator[tuple[float, Audience]]:
    instruments = {one.id: one for one in build.workshop.instruments}
    for entry in build.measurements.as_built:
        if entry.what in (item.quantity, item.id) and entry.quantities and entry.quantities[0].unit.dimension == unit.unit.dimension:
            u = uncertainty_of(entry, instruments.get(entry.with_ or ""))
            if u:
                yield u * entry.quantities[0].unit.scale / unit.unit.scale, seen_by("value", build.measurements, entry)


def roots(ids: tuple[str, ...], sources: Mapping[str, Evidence]) -> tuple[str, ...]:
    """The independent sources behind the evidence named by `ids`: each followed to what it was derived from, each root once, sorted.

    Two papers that copy one press sheet are one source. Ids that nobody knows are left out; a ring ends where it closes.
    """
    found = set()
    for one in ids:
        seen: set[str] = set()
        while one in sources and one not in seen:
            seen.add(one)
            above = sources[one].derived_from
            if above is None or above not in sources:
                break
            one = above
        if one in sources:
            found.add(one)
    return tuple(sorted(found))


def _sources(build: Build, item: Item) -> Iterator[Value]:
    sources = {one.id: one for one in build.evidence.evidence}
    audience = seen_by("evidence", build.specification, item)
    behind = roots(item.evidence, sources)
    if not behind:
        yield count("source_of_item", 0, tags=(("item", item.id), ("source", "none")), source=item.id, audience=audience, title="No source")
    for one in behind:
        seen = max(audience, seen_by("derived_from", build.evidence, sources[one]))
        yield count("source_of_item", 1, tags=(("item", item.id), ("source", one)), source=one, audience=seen, title=f"Source {one}")


def _counts(build: Build, items: list[Item]) -> Iterator[Value]:
    if not items:
        return
    yield count("declared_items", len(items), title="Declared items")
    met = {one for part in build.parts.parts if is_fitted(part) and part.origin in PERIOD for one in part.meets}
    known = [item.id for item in items if item.id in met]
    audience = max((seen_by("meets", build.parts, part) for part in build.parts.parts), default=Audience.PUBLIC)
    yield count("period_items", len(known), audience=audience, title="Declared items that a part of the period meets")


def is_fitted(part: Part) -> bool:
    """Whether the part is on the machine: all but those left off, whose mass after is nought."""
    return part.after is None or part.after.number > 0
