"""Test days: distance covered, lap speeds, and how long a snag found on them stayed open."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.figure import Example, Input, figure
from dossier.figures.mass import total
from dossier.model.quantity import Number
from dossier.model.results import Flag

SHEET = "running.yaml"
LAP = Input("lap_length", "s_l", "km", "Length of a lap", exact=True, file=SHEET)
LAPS = Input("laps", "n_l", "", "Laps", exact=True, file=SHEET)
_HAND = "worked by hand"


@figure(
    title="Distance of the test day",
    symbol="s",
    unit="km",
    formula="s = n_l * s_l",
    inputs=(LAPS, LAP),
    per=("session",),
    source="laps times the length of one",
    flag=Flag.GEOMETRY,
    example=Example({"laps": "14", "lap_length": "3.10 km"}, "43.4 km", f"{_HAND}: 14 x 3.10"),
    subject="life",
    decimals=1,
)
def session_distance(laps: Number, lap_length: Number) -> Number:
    """Distance covered on a test day."""
    return laps * lap_length


@figure(
    title="Distance on the track",
    symbol="s_t",
    unit="km",
    formula="s_t = sum(s)",
    inputs=(Input("session_distance", "s", "km", "Distance of each test day", over="session", file=SHEET),),
    source="test days added up",
    flag=Flag.GEOMETRY,
    example=Example({"session_distance": ("43.4 km", "62.0 km", "88.56 km")}, "193.96 km", f"{_HAND}: 43.4 + 62.0 + 88.56"),
    subject="life",
    decimals=0,
)
def track_distance(session_distance: Sequence[Number]) -> Number:
    """Distance covered on all test days."""
    return total(session_distance)


@figure(
    title="Speed of the best lap",
    symbol="v_b",
    unit="km/h",
    formula="v_b = 3600 * s_l / t_b",
    inputs=(LAP, Input("best_lap", "t_b", "s", "Best lap", exact=True, file=SHEET)),
    per=("session",),
    source="length of the lap over its time",
    flag=Flag.GEOMETRY,
    example=Example({"lap_length": "3.10 km", "best_lap": "101.8 s"}, "109.6 km/h", f"{_HAND}: 11,160 / 101.8 = 109.63"),
    subject="life",
    impossible=(0, None),
    decimals=1,
    quiet=True,
)
def best_lap_speed(lap_length: Number, best_lap: Number) -> Number:
    """Mean speed over the best lap."""
    return lap_length / best_lap


@figure(
    title="Mean lap speed",
    symbol="v_m",
    unit="km/h",
    formula="v_m = 3600 * s_l / t_m",
    inputs=(LAP, Input("mean_lap", "t_m", "s", "Mean lap", exact=True, file=SHEET)),
    per=("session",),
    source="length of the lap over its mean time",
    flag=Flag.GEOMETRY,
    example=Example({"lap_length": "2.46 km", "mean_lap": "90 s"}, "98.4 km/h", f"{_HAND}: 8856 / 90"),
    subject="life",
    impossible=(0, None),
    decimals=1,
    quiet=True,
)
def mean_lap_speed(lap_length: Number, mean_lap: Number) -> Number:
    """Mean speed over all laps of a test day."""
    return lap_length / mean_lap


@figure(
    title="Mean lap over best lap",
    symbol="q_l",
    unit="",
    formula="q_l = t_m / t_b",
    inputs=(
        Input("mean_lap", "t_m", "s", "Mean lap", exact=True, file=SHEET),
        Input("best_lap", "t_b", "s", "Best lap", exact=True, file=SHEET),
    ),
    per=("session",),
    source="no mean is better than the best",
    flag=Flag.GEOMETRY,
    example=Example({"mean_lap": "90 s", "best_lap": "82.6 s"}, "1.090", f"{_HAND}: 90 / 82.6 = 1.0896"),
    subject="life",
    impossible=(1 - 1e-9, None),
    decimals=3,
    quiet=True,
)  # fmt: skip
def mean_over_best_lap(mean_lap: Number, best_lap: Number) -> Number:
    """How the mean lap time compares with the best; below one is impossible."""
    return mean_lap / best_lap


@figure(
    title="Snag open for",
    symbol="Delta_s",
    unit="days",
    formula="Delta_s = d_v - d_f",
    inputs=(
        Input("snag_found", "d_f", "days", "Day it was found, from 1 January 1900", exact=True, file=SHEET),
        Input("snag_verified", "d_v", "days", "Day the cure was verified, from 1 January 1900", exact=True, file=SHEET),
    ),
    per=("snag",),
    source="days from finding the fault to proving the cure",
    flag=Flag.GEOMETRY,
    example=Example({"snag_found": "45770 days", "snag_verified": "45805 days"}, "35 days", "counted on the calendar: 26 April to 31 May"),
    subject="life",
    impossible=(-0.5, None),
    decimals=0,
    quiet=True,
)
def snag_closure(snag_found: Number, snag_verified: Number) -> Number:
    """Days until the cure of a snag was verified; an earlier proof than the fault is impossible."""
    return snag_verified - snag_found


@figure(
    title="Snags open",
    symbol="n_o",
    unit="",
    formula="n_o = sum(o)",
    inputs=(Input("snag_open", "o", "", "Snag, 1 where it is open", over="snag", exact=True, file=SHEET),),
    source="number of snags that are not verified, or came back",
    flag=Flag.GEOMETRY,
    example=Example({"snag_open": ("0", "0", "1")}, "1", "counted by hand"),
    subject="life",
    decimals=0,
)
def snags_open(snag_open: Sequence[Number]) -> Number:
    """How many snags are open."""
    return total(snag_open)


@figure(
    title="Snags that came back",
    symbol="n_r",
    unit="",
    formula="n_r = sum(r)",
    inputs=(Input("snag_reopened", "r", "", "How often a snag came back", over="snag", exact=True, file=SHEET),),
    source="times that snags came back, added up",
    flag=Flag.GEOMETRY,
    example=Example({"snag_reopened": ("0", "2", "0")}, "2", "counted by hand"),
    subject="life",
    decimals=0,
)
def snags_reopened(snag_reopened: Sequence[Number]) -> Number:
    """How many times snags came back."""
    return total(snag_reopened)
