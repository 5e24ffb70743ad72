"""Where the metal comes from: shares of each origin by number and by mass, and what of it is of the period."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.figure import Example, Input, figure
from dossier.figures.mass import SHEET, total
from dossier.model.quantity import Number
from dossier.model.results import Flag

PARTS = Input("fitted_parts", "n", "", "Parts of the origin", exact=True, file=SHEET)
ALL_PARTS = Input("all_fitted_parts", "N", "", "Parts fitted", exact=True, file=SHEET)
MASSES = Input("mass_after", "m", "g", "Masses of the parts of the origin", over="part group cause", optional=True, file=SHEET)
ITEMISED = Input("itemised_mass", "m_A", "g", "All parts as fitted", file=SHEET)
MACHINE = Input("mass", "M", "kg", "Mass of the machine")
PERIOD_MASSES = Input("period_mass", "m", "g", "Masses of the parts of the period", over="part", file=SHEET)
_BY_COUNT = "parts of one origin class over all parts fitted; parts left off do not count"
_BY_MASS = "mass of the parts of one origin class as fitted"
_PERIOD = "of the period: genuine from the reference machine, genuine from another machine, period accessory"
_HAND = "worked by hand"


@figure(
    title="Origin, share by number",
    symbol="o_n",
    unit="%",
    formula="o_n = 100 * n / N",
    inputs=(PARTS, ALL_PARTS),
    per=("origin",),
    source=_BY_COUNT,
    flag=Flag.GEOMETRY,
    example=Example({"fitted_parts": "9", "all_fitted_parts": "29"}, "31.0 %", f"{_HAND}: 9 / 29"),
    subject="provenance",
    decimals=1,
)
def origin_count_share(fitted_parts: Number, all_fitted_parts: Number) -> Number:
    """Share of an origin class among the parts fitted."""
    return fitted_parts / all_fitted_parts


@figure(
    title="Mass of the origin",
    symbol="m_o",
    unit="g",
    formula="m_o = sum(m)",
    inputs=(PARTS, MASSES),
    per=("origin",),
    source=_BY_MASS,
    flag=Flag.GEOMETRY,
    example=Example({"fitted_parts": "2", "mass_after": ("431 g", "874 g")}, "1305 g", f"{_HAND}: 431 + 874"),
    subject="provenance",
    decimals=0,
)
def origin_mass(fitted_parts: Number, mass_after: Sequence[Number] = ()) -> Number:
    """Mass of all parts of an origin class; nought where there are none."""
    return total(mass_after) if mass_after and fitted_parts else 0.0


@figure(
    title="Origin, share by mass of what is itemised",
    symbol="o_m",
    unit="%",
    formula="o_m = 100 * m_o / m_A",
    inputs=(Input("origin_mass", "m_o", "g", "Mass of the origin"), ITEMISED),
    per=("origin",),
    source=f"{_BY_MASS}, over all parts weighed",
    flag=Flag.GEOMETRY,
    example=Example({"origin_mass": "33378 g", "itemised_mass": "92173 g"}, "36.2 %", f"{_HAND}: 33,378 / 92,173"),
    subject="provenance",
    decimals=1,
)
def origin_mass_share(origin_mass: Number, itemised_mass: Number) -> Number:
    """Share of an origin class in the mass of all parts weighed."""
    return origin_mass / itemised_mass


@figure(
    title="Origin, share by mass of the machine",
    symbol="o_M",
    unit="%",
    formula="o_M = m_o / M / 10",
    inputs=(Input("origin_mass", "m_o", "g", "Mass of the origin"), MACHINE),
    per=("origin",),
    source=f"{_BY_MASS}, over the machine as weighed",
    flag=Flag.GEOMETRY,
    example=Example({"origin_mass": "33378 g", "mass": "119.4 kg"}, "28.0 %", f"{_HAND}: 33.378 / 119.4 = 0.2795"),
    subject="provenance",
    basis="what is not itemised counts for no origin",
    decimals=1,
)
def origin_mass_share_of_machine(origin_mass: Number, mass: Number) -> Number:
    """Share of an origin class in the mass of the whole machine."""
    return origin_mass / mass


@figure(
    title="Of the period, share by number",
    symbol="a_n",
    unit="%",
    formula="a_n = 100 * sum(n) / N",
    inputs=(Input("period_parts", "n", "", "Parts of the period", over="origin", exact=True, file=SHEET), ALL_PARTS),
    source=_PERIOD,
    flag=Flag.GEOMETRY,
    example=Example({"period_parts": ("0", "9", "3"), "all_fitted_parts": "29"}, "41.4 %", f"{_HAND}: 12 / 29"),
    subject="provenance",
    decimals=1,
)
def period_count_share(period_parts: Sequence[Number], all_fitted_parts: Number) -> Number:
    """Share of parts of the period among the parts fitted."""
    return total(period_parts) / all_fitted_parts


@figure(
    title="Of the period, share by mass of what is itemised",
    symbol="a_m",
    unit="%",
    formula="a_m = 100 * sum(m) / m_A",
    inputs=(PERIOD_MASSES, ITEMISED),
    source=_PERIOD,
    flag=Flag.GEOMETRY,
    example=Example({"period_mass": ("33378 g", "16596 g"), "itemised_mass": "92173 g"}, "54.2 %", f"{_HAND}: 49,974 / 92,173"),
    subject="provenance",
    decimals=1,
)
def period_mass_share(period_mass: Sequence[Number], itemised_mass: Number) -> Number:
    """Share of parts of the period in the mass of all parts weighed."""
    return total(period_mass) / itemised_mass


@figure(
    title="Of the period, share by mass of the machine",
    symbol="a_M",
    unit="%",
    formula="a_M = sum(m) / M / 10",
    inputs=(PERIOD_MASSES, MACHINE),
    source=_PERIOD,
    flag=Flag.GEOMETRY,
    example=Example({"period_mass": ("33378 g", "16596 g"), "mass": "119.4 kg"}, "41.9 %", f"{_HAND}: 49.974 / 119.4"),
    subject="provenance",
    basis="what is not itemised counts as not of the period",
    decimals=1,
)
def period_mass_share_of_machine(period_mass: Sequence[Number], mass: Number) -> Number:
    """Share of parts of the period in the mass of the whole machine."""
    return total(period_mass) / mass


@figure(
    title="Declared items that a part of the period meets",
    symbol="a_d",
    unit="%",
    formula="a_d = 100 * n_p / n_d",
    inputs=(
        Input("period_items", "n_p", "", "Items met by a part of the period", exact=True, file="specification.yaml"),
        Input("declared_items", "n_d", "", "Declared items", exact=True, file="specification.yaml"),
    ),
    source="items that a fitted part of the period is said to meet, over all declared items",
    flag=Flag.GEOMETRY,
    example=Example({"period_items": "6", "declared_items": "30"}, "20 %", f"{_HAND}: 6 / 30"),
    subject="provenance",
    decimals=0,
)
def period_item_share(period_items: Number, declared_items: Number) -> Number:
    """Share of the declared items that parts of the period meet."""
    return period_items / declared_items
