"""The mass ledger: what each part gained or lost and why, sums that close, and how much of the machine the ledger covers."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag

SHEET = "parts.yaml"
_HAND = "worked by hand"
_LEDGER = (
    "sum of the masses after less the sum of those before: reworked is the same part as received, replaced the donor's part "
    "changed for another, deleted the donor's part left off, added a part the donor had not"
)


def _before(over: str = "", mean: str = "") -> Input:
    return Input("mass_before", "m_b", "g", "Mass before", over=over, mean=mean, file=SHEET)


def _after(over: str = "", mean: str = "") -> Input:
    return Input("mass_after", "m_a", "g", "Mass after", over=over, mean=mean, file=SHEET)


@figure(
    title="Change of mass of the part",
    symbol="Delta_m",
    unit="g",
    formula="Delta_m = m_a - m_b",
    inputs=(_before(mean="group origin cause"), _after(mean="group origin cause")),
    per=("part",),
    source="mass after less mass before; what lay on the scale before is said beside it",
    flag=Flag.GEOMETRY,
    example=Example({"mass_before": "618 g", "mass_after": "431 g"}, "-187 g", f"{_HAND}: 431 - 618"),
    subject="mass",
    decimals=0,
)
def mass_change(mass_before: Number, mass_after: Number) -> Number:
    """What the part gained; negative: lost."""
    return mass_after - mass_before


_EXAMPLE = Example({"mass_before": ("618 g", "1142 g"), "mass_after": ("431 g", "874 g")}, "-455 g", f"{_HAND}: -187 - 268")


def _change(before: Sequence[Number], after: Sequence[Number]) -> Number:
    return total(after) - total(before)


def total(values: Sequence[Number]) -> Number:
    """Sum of a tuple of numbers, correlation kept; ValueError when there is none."""
    if not values:
        raise ValueError("nothing to add up")
    return sum(values[1:], values[0])


@figure(
    title="Mass ledger, by cause",
    symbol="Delta_m",
    unit="g",
    formula="Delta_m = sum(m_a) - sum(m_b)",
    inputs=(_before("part group origin"), _after("part group origin")),
    per=("cause",),
    source=_LEDGER,
    flag=Flag.GEOMETRY,
    example=_EXAMPLE,
    subject="mass",
    decimals=0,
)
def mass_by_cause(mass_before: Sequence[Number], mass_after: Sequence[Number]) -> Number:
    """Change of mass of all parts of one cause."""
    return _change(mass_before, mass_after)


@figure(
    title="Mass ledger, by assembly",
    symbol="Delta_m",
    unit="g",
    formula="Delta_m = sum(m_a) - sum(m_b)",
    inputs=(_before("part origin cause"), _after("part origin cause")),
    per=("group",),
    source=_LEDGER,
    flag=Flag.GEOMETRY,
    example=_EXAMPLE,
    subject="mass",
    decimals=0,
)
def mass_by_assembly(mass_before: Sequence[Number], mass_after: Sequence[Number]) -> Number:
    """Change of mass of all parts of one assembly."""
    return _change(mass_before, mass_after)


@figure(
    title="Parts before, together",
    symbol="m_B",
    unit="g",
    formula="m_B = sum(m_b)",
    inputs=(_before("part group origin cause"),),
    source="sum of the parts as they were before",
    flag=Flag.GEOMETRY,
    example=Example({"mass_before": ("618 g", "1142 g")}, "1760 g", f"{_HAND}: 618 + 1142"),
    subject="mass",
    decimals=0,
)
def itemised_mass_before(mass_before: Sequence[Number]) -> Number:
    """Mass of all itemised parts before."""
    return total(mass_before)


@figure(
    title="Parts fitted, together",
    symbol="m_A",
    unit="g",
    formula="m_A = sum(m_a)",
    inputs=(_after("part group origin cause"),),
    source="sum of the parts as fitted",
    flag=Flag.GEOMETRY,
    example=Example({"mass_after": ("431 g", "874 g")}, "1305 g", f"{_HAND}: 431 + 874"),
    subject="mass",
    decimals=0,
)
def itemised_mass(mass_after: Sequence[Number]) -> Number:
    """Mass of all itemised parts as fitted."""
    return total(mass_after)


@figure(
    title="Change of mass, all parts",
    symbol="Delta_m",
    unit="g",
    formula="Delta_m = m_A - m_B",
    inputs=(Input("itemised_mass", "m_A", "g", "Parts fitted"), Input("itemised_mass_before", "m_B", "g", "Parts before")),
    source=_LEDGER,
    flag=Flag.GEOMETRY,
    example=Example({"itemised_mass": "92173 g", "itemised_mass_before": "108752 g"}, "-16579 g", f"{_HAND}: 92,173 - 108,752"),
    subject="mass",
    decimals=0,
)
def itemised_mass_change(itemised_mass: Number, itemised_mass_before: Number) -> Number:
    """What all itemised parts together gained; negative: lost."""
    return itemised_mass - itemised_mass_before


def _cause(cause: str, symbol: str) -> Input:
    return Input(cause, symbol, "g", f"Mass ledger, {cause}", name="mass_by_cause", at=(("cause", cause),), constant="0 g")


@figure(
    title="What the ledger leaves open",
    symbol="Delta_o",
    unit="g",
    formula="Delta_o = Delta_m - Delta_r - Delta_p - Delta_d - Delta_a",
    inputs=(
        Input("itemised_mass_change", "Delta_m", "g", "Change of mass, all parts"),
        _cause("reworked", "Delta_r"), _cause("replaced", "Delta_p"), _cause("deleted", "Delta_d"), _cause("added", "Delta_a"),
    ),
    source="the causes must add up to the whole; what is left is a part of which nobody said what was weighed before",
    flag=Flag.GEOMETRY,
    example=Example(
        {"itemised_mass_change": "-16579 g", "reworked": "-2917 g", "replaced": "-16777 g", "deleted": "-1265 g", "added": "0 g"}, "4380 g",
        f"{_HAND}: -2917 - 16,777 - 1265 = -20,959; of a part that weighs 4380 g nobody said that it was added",
    ),
    subject="mass",
    usual=(0, 0),
    usual_source="addition",
    says="the ledger does not close",
    decimals=0,
)  # fmt: skip
def ledger_gap(itemised_mass_change: Number, reworked: Number, replaced: Number, deleted: Number, added: Number) -> Number:
    """Change of mass that no cause explains; nought when the ledger closes."""
    return itemised_mass_change - reworked - replaced - deleted - added


@figure(
    title="Share of the machine that the ledger covers",
    symbol="c_m",
    unit="%",
    formula="c_m = m_A / m / 10",
    inputs=(Input("itemised_mass", "m_A", "g", "Parts fitted"), Input("mass", "m", "kg", "Mass of the machine")),
    source="parts weighed over the machine as weighed",
    flag=Flag.GEOMETRY,
    example=Example({"itemised_mass": "92173 g", "mass": "119.4 kg"}, "77.2 %", f"{_HAND}: 92.173 / 119.4"),
    subject="mass",
    usual=(0, 100),
    usual_source="addition",
    impossible=(0, None),
    decimals=1,
)
def ledger_coverage(itemised_mass: Number, mass: Number) -> Number:
    """Share of the machine's mass that the itemised parts make up."""
    return itemised_mass / mass
