"""What the dossier rests on: independent sources, their distance from the day, what is open, custody, pictures, completeness."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.figure import Example, Input, figure
from dossier.figures.mass import total
from dossier.model.quantity import Number
from dossier.model.results import Flag

SHEET = "evidence.yaml"
_HAND = "counted by hand"


@figure(
    title="Independent sources of the item",
    symbol="n_s",
    unit="",
    formula="n_s = sum(s)",
    inputs=(Input("source_of_item", "s", "", "Source, 1 for each root", over="source", exact=True, file=SHEET),),
    per=("item",),
    source="each source followed to what it was derived from; two papers copying one sheet are one source",
    flag=Flag.GEOMETRY,
    example=Example({"source_of_item": ("1", "1", "1")}, "3", _HAND),
    subject="provenance",
    decimals=0,
)
def independent_sources(source_of_item: Sequence[Number]) -> Number:
    """How many sources of an item are independent of one another."""
    return total(source_of_item)


@figure(
    title="Items that rest on one source alone",
    symbol="n_1",
    unit="",
    formula="n_1 = number_of_ones(n_s)",
    inputs=(Input("independent_sources", "n_s", "", "Independent sources of each item", over="item", exact=True, file=SHEET),),
    source="number of items with exactly one independent source",
    flag=Flag.GEOMETRY,
    example=Example({"independent_sources": ("1", "2", "1", "3", "1")}, "3", _HAND),
    subject="provenance",
    closed=False,
    decimals=0,
)
def items_on_one_source(independent_sources: Sequence[Number]) -> Number:
    """How many declared items rest on a single independent source."""
    return sum(1 for one in independent_sources if one == 1)


@figure(
    title="Distance of the source from the day",
    symbol="Delta_d",
    unit="days",
    formula="Delta_d = d_s - d_r",
    inputs=(
        Input("evidence_day", "d_s", "days", "Day that the source shows, from 1 January 1900", exact=True, file=SHEET),
        Input("reference_day", "d_r", "days", "Day of the reference meeting, from 1 January 1900", exact=True, file="machine.yaml"),
    ),
    per=("evidence",),
    source="days from the reference meeting to the day that the source shows; negative: before it",
    flag=Flag.GEOMETRY,
    example=Example(
        {"evidence_day": "24716 days", "reference_day": "24632 days"}, "84 days",
        "counted on the calendar: 11 June to 3 September 1967 is 19 + 31 + 31 + 3 days",
    ),
    subject="provenance",
    decimals=0,
)  # fmt: skip
def evidence_distance(evidence_day: Number, reference_day: Number) -> Number:
    """How long before (negative) or after the reference meeting a source shows its subject."""
    return evidence_day - reference_day


@figure(
    title="Uncertainty of the evidence over half the tolerance",
    symbol="q_e",
    unit="",
    formula="q_e = U_e / t",
    inputs=(
        Input("item_evidence_uncertainty", "U_e", "", "Uncertainty of the evidence", exact=True, file="specification.yaml"),
        Input("item_half_tolerance", "t", "", "Half the tolerance", exact=True, file="specification.yaml"),
    ),
    per=("item",),
    source="a tolerance may not be finer than the evidence for its middle (common practice, no source)",
    flag=Flag.PRACTICE,
    example=Example({"item_evidence_uncertainty": "15", "item_half_tolerance": "5"}, "3.0", "worked by hand: 15 mm against 5 mm"),
    subject="provenance",
    usual=(None, 1),
    usual_source="by definition",
    says="the tolerance is finer than the evidence",
    basis="both in the item's own unit",
    quiet=True,
)  # fmt: skip
def evidence_fineness(item_evidence_uncertainty: Number, item_half_tolerance: Number) -> Number:
    """How the uncertainty of the evidence compares with half the tolerance."""
    return item_evidence_uncertainty / item_half_tolerance


@figure(
    title="Open conflicts",
    symbol="n_k",
    unit="",
    formula="n_k = sum(k)",
    inputs=(Input("conflict_open", "k", "", "Conflict, 1 where it is open", over="conflict", exact=True, file=SHEET),),
    source="number of conflicts that are not resolved",
    flag=Flag.GEOMETRY,
    example=Example({"conflict_open": ("0", "1", "0")}, "1", _HAND),
    subject="provenance",
    decimals=0,
)
def open_conflicts(conflict_open: Sequence[Number]) -> Number:
    """How many conflicts of evidence are open."""
    return total(conflict_open)


@figure(
    title="Sources that nothing cites",
    symbol="n_u",
    unit="",
    formula="n_u = sum(e)",
    inputs=(Input("evidence_unused", "e", "", "Source, 1 where nothing cites it", over="evidence", exact=True, file=SHEET),),
    source="number of sources that no declared item and no conflict cites",
    flag=Flag.GEOMETRY,
    example=Example({"evidence_unused": ("0", "1", "1", "0")}, "2", _HAND),
    subject="provenance",
    decimals=0,
)
def unused_evidence(evidence_unused: Sequence[Number]) -> Number:
    """How many sources are cited by no item and no conflict."""
    return total(evidence_unused)


@figure(
    title="Gap in the custody",
    symbol="Delta_c",
    unit="days",
    formula="Delta_c = d_n - d_p",
    inputs=(
        Input("custody_since", "d_n", "days", "Day the holder began, from 1 January 1900", exact=True, file="custody.yaml"),
        Input("custody_until", "d_p", "days", "Day the holder before ended, from 1 January 1900", exact=True, file="custody.yaml"),
    ),
    per=("link",),
    source="a machine has one holder on every day",
    flag=Flag.GEOMETRY,
    example=Example({"custody_since": "45827 days", "custody_until": "45820 days"}, "7 days", "counted by hand: a week"),
    subject="provenance",
    usual=(0, 0),
    usual_source="by definition",
    says="nobody held the machine on these days",
    impossible=(-0.5, None),
    decimals=0,
)
def custody_gap(custody_since: Number, custody_until: Number) -> Number:
    """Days between two holders; two at once is impossible."""
    return custody_since - custody_until


@figure(
    title="Changed parts shown before and after",
    symbol="c_p",
    unit="%",
    formula="c_p = 100 * mean(f)",
    inputs=(Input("pictured_part", "f", "", "Changed part, 1 where it is shown so", over="part", exact=True, file="photos.yaml"),),
    source="parts with photographs before and after, over parts changed",
    flag=Flag.GEOMETRY,
    example=Example({"pictured_part": ("1", "0", "0", "1")}, "50 %", _HAND),
    subject="provenance",
    decimals=0,
)
def picture_coverage(pictured_part: Sequence[Number]) -> Number:
    """Share of the changed parts that photographs show before and after."""
    return total(pictured_part) / len(pictured_part)


@figure(
    title="Mandatory records that are there",
    symbol="c_r",
    unit="%",
    formula="c_r = 100 * n_r / n_m",
    inputs=(
        Input("records_present", "n_r", "", "Mandatory records there", exact=True),
        Input("records_due", "n_m", "", "Mandatory records", exact=True),
    ),
    source="mandatory records that are there, over those that are due",
    flag=Flag.GEOMETRY,
    example=Example({"records_present": "18", "records_due": "20"}, "90 %", "worked by hand: 18 / 20"),
    subject="provenance",
    usual=(100, None),
    usual_source="by definition",
    says="this dossier is a draft",
    decimals=0,
)
def dossier_completeness(records_present: Number, records_due: Number) -> Number:
    """Share of the mandatory records that are there."""
    return records_present / records_due
