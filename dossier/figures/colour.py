"""Colour difference of a part from the sample it is to match, CIEDE2000, from readings in CIELAB."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.figure import Example, Input, NoVerdict, figure
from dossier.model.quantity import Number, implicit, mean
from dossier.model.results import Flag

FILE = "logs"


def _of(side: str, words: str) -> tuple[Input, ...]:
    names = (("lightness", "L", "L*"), ("red_green", "a", "a*"), ("yellow_blue", "b", "b*"))
    return tuple(
        Input(f"{side}_{name}", f"{symbol}_{side[0]}", "", f"{sign} of the {words}", over="reading", file=FILE) for name, symbol, sign in names
    )


@figure(
    title="Colour difference from the sample",
    symbol="Delta_E",
    unit="dE00",
    formula="Delta_E = CIEDE2000(mean(L_p), mean(a_p), mean(b_p), mean(L_r), mean(a_r), mean(b_r))",
    inputs=(*_of("part", "part"), *_of("reference", "sample")),
    per=("part",),
    source="CIEDE2000 (ISO/CIE 11664-6), k_L = k_C = k_H = 1, worked by the library ColorAide; one gauge and one illuminant for both",
    flag=Flag.SEEN,
    example=Example(
        {"part_lightness": ("50",), "part_red_green": ("2.6772",), "part_yellow_blue": ("-79.7751",),
         "reference_lightness": ("50",), "reference_red_green": ("0",), "reference_yellow_blue": ("-82.7485",)},
        "2.0425 dE00", "G. Sharma, W. Wu and E. N. Dalal, Color Research and Application 30 (2005) 21, table 1, pair 1",
    ),
    subject="finish",
    closed=False,
    impossible=(-1e-9, None),
    decimals=1,
    quiet=True,
)  # fmt: skip
def colour_difference_by_readings(
    part_lightness: Sequence[Number], part_red_green: Sequence[Number], part_yellow_blue: Sequence[Number],
    reference_lightness: Sequence[Number], reference_red_green: Sequence[Number], reference_yellow_blue: Sequence[Number],
) -> Number:  # fmt: skip
    """Colour difference dE00 of the mean readings. NoVerdict where the sample was not read."""
    if not reference_lightness:
        raise NoVerdict("the sample to match was not read")
    return implicit(
        ciede2000, mean(part_lightness), mean(part_red_green), mean(part_yellow_blue),
        mean(reference_lightness), mean(reference_red_green), mean(reference_yellow_blue),
    )  # fmt: skip


def ciede2000(
    lightness: float, red_green: float, yellow_blue: float, other_lightness: float, other_red_green: float, other_yellow_blue: float
) -> float:  # fmt: skip
    """CIEDE2000 of two colours in CIELAB (L*, a*, b* of each), all weights one."""
    from coloraide import Color

    one = Color("lab-d65", [lightness, red_green, yellow_blue])
    return float(one.delta_e(Color("lab-d65", [other_lightness, other_red_green, other_yellow_blue]), method="2000", space="lab-d65"))
