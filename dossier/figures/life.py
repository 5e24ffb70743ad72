"""Life used and left of lifed parts, and the age of tyres."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.figure import Example, Input, NoVerdict, figure
from dossier.figures.mass import total
from dossier.model.quantity import Number, largest
from dossier.model.results import Flag

SHEET = "life.yaml"
RUN_HOURS = Input("running_hours", "t_r", "h", "Running hours", file="running.yaml")
BEGAN = Input("life_hours_at_start", "t_0", "h", "Running hours when the count began", exact=True, file=SHEET)
HOURS = Input("life_hours_limit", "t_L", "h", "Limit", exact=True, file=SHEET)
TODAY = Input("day_of_record", "d", "days", "Day of this record, from 1 January 1900", exact=True, file="custody.yaml")
SINCE = Input("life_since", "d_0", "days", "Day the count began, from 1 January 1900", exact=True, file=SHEET)
YEARS = Input("life_years_limit", "T_L", "years", "Limit", exact=True, file=SHEET)
_LIMIT = "used over the limit; whose limit it is stands beside it"
_WARN = "common practice, no source: above 80 % it is soon due, above 100 % it must not be used"
_HAND = "worked by hand"


@figure(
    title="Running hours",
    symbol="t_r",
    unit="h",
    formula="t_r = sum(t)",
    inputs=(Input("run_hours", "t", "h", "Hours of each line of the run log", over="entry", exact=True, file="running.yaml"),),
    source="lines of the run log added up, to the day of this record",
    flag=Flag.GEOMETRY,
    example=Example({"run_hours": ("0.8 h", "0.6 h", "0.46 h", "0.5 h", "0.62 h", "0.92 h")}, "3.90 h", f"{_HAND}: 0.8 + 0.6 + …"),
    subject="life",
)
def running_hours(run_hours: Sequence[Number]) -> Number:
    """Hours that the engine has run."""
    return total(run_hours)


@figure(
    title="Life used, by hours",
    symbol="u_h",
    unit="%",
    formula="u_h = 100 * (t_r - t_0) / t_L",
    inputs=(RUN_HOURS, BEGAN, HOURS),
    per=("life",),
    source=_LIMIT,
    flag=Flag.GEOMETRY,
    example=Example({"running_hours": "3.90 h", "life_hours_at_start": "0 h", "life_hours_limit": "10 h"}, "39.0 %", f"{_HAND}: 3.9 / 10"),
    subject="life",
    impossible=(-1e-9, None),
    decimals=1,
    quiet=True,
)
def life_used_by_hours(running_hours: Number, life_hours_at_start: Number, life_hours_limit: Number) -> Number:
    """Share of the limit in running hours that is used."""
    return (running_hours - life_hours_at_start) / life_hours_limit


@figure(
    title="Life left, in hours",
    symbol="r_h",
    unit="h",
    formula="r_h = t_L - (t_r - t_0)",
    inputs=(RUN_HOURS, BEGAN, HOURS),
    per=("life",),
    source="limit less used; whose limit it is stands beside it",
    flag=Flag.GEOMETRY,
    example=Example({"running_hours": "3.90 h", "life_hours_at_start": "0 h", "life_hours_limit": "10 h"}, "6.1 h", f"{_HAND}: 10 - 3.9"),
    subject="life",
    usual=(0, None),
    usual_source="by definition",
    says="past due, not to be used",
    decimals=1,
    quiet=True,
)
def life_left_in_hours(running_hours: Number, life_hours_at_start: Number, life_hours_limit: Number) -> Number:
    """Running hours left to the limit; negative: past due."""
    return life_hours_limit - (running_hours - life_hours_at_start)


@figure(
    title="Life used, by age",
    symbol="u_a",
    unit="%",
    formula="u_a = 100 * (d - d_0) / (365.25 * T_L)",
    inputs=(TODAY, SINCE, YEARS),
    per=("life",),
    source=_LIMIT,
    flag=Flag.GEOMETRY,
    example=Example(
        {"day_of_record": "45826 days", "life_since": "45433 days", "life_years_limit": "2 years"}, "53.8 %", f"{_HAND}: 393 / 730.5"
    ),
    subject="life",
    impossible=(-1e-9, None),
    decimals=1,
    quiet=True,
)
def life_used_by_age(day_of_record: Number, life_since: Number, life_years_limit: Number) -> Number:
    """Share of the limit in years that is used."""
    return (day_of_record - life_since) / life_years_limit


@figure(
    title="Life left, in days",
    symbol="r_a",
    unit="days",
    formula="r_a = 365.25 * T_L - (d - d_0)",
    inputs=(TODAY, SINCE, YEARS),
    per=("life",),
    source="limit less age; whose limit it is stands beside it",
    flag=Flag.GEOMETRY,
    example=Example(
        {"day_of_record": "45826 days", "life_since": "45433 days", "life_years_limit": "2 years"}, "337.5 days", f"{_HAND}: 730.5 - 393"
    ),
    subject="life",
    usual=(0, None),
    usual_source="by definition",
    says="past due, not to be used",
    decimals=0,
    quiet=True,
)
def life_left_in_days(day_of_record: Number, life_since: Number, life_years_limit: Number) -> Number:
    """Days left to the limit in years; negative: past due."""
    return life_years_limit - (day_of_record - life_since)


@figure(
    title="Life used, by laps",
    symbol="u_l",
    unit="%",
    formula="u_l = 100 * n / n_L",
    inputs=(
        Input("life_laps", "n", "laps", "Laps since the count began", exact=True, file="running.yaml"),
        Input("life_laps_limit", "n_L", "laps", "Limit", exact=True, file=SHEET),
    ),
    per=("life",),
    source=_LIMIT,
    flag=Flag.GEOMETRY,
    example=Example({"life_laps": "70 laps", "life_laps_limit": "200 laps"}, "35.0 %", f"{_HAND}: 70 / 200"),
    subject="life",
    decimals=1,
    quiet=True,
)  # fmt: skip
def life_used_by_laps(life_laps: Number, life_laps_limit: Number) -> Number:
    """Share of the limit in laps that is used."""
    return life_laps / life_laps_limit


@figure(
    title="Life used, by distance",
    symbol="u_d",
    unit="%",
    formula="u_d = 100 * s / s_L",
    inputs=(
        Input("life_distance", "s", "km", "Distance since the count began", exact=True, file="running.yaml"),
        Input("life_distance_limit", "s_L", "km", "Limit", exact=True, file=SHEET),
    ),
    per=("life",),
    source=_LIMIT,
    flag=Flag.GEOMETRY,
    example=Example({"life_distance": "194 km", "life_distance_limit": "1000 km"}, "19.4 %", f"{_HAND}: 194 / 1000"),
    subject="life",
    decimals=1,
    quiet=True,
)  # fmt: skip
def life_used_by_distance(life_distance: Number, life_distance_limit: Number) -> Number:
    """Share of the limit in distance that is used."""
    return life_distance / life_distance_limit


@figure(
    title="Life used, by starts",
    symbol="u_s",
    unit="%",
    formula="u_s = 100 * n / n_L",
    inputs=(
        Input("life_starts", "n", "starts", "Starts since the count began", exact=True, file="running.yaml"),
        Input("life_starts_limit", "n_L", "starts", "Limit", exact=True, file=SHEET),
    ),
    per=("life",),
    source=_LIMIT,
    flag=Flag.GEOMETRY,
    example=Example({"life_starts": "30 starts", "life_starts_limit": "100 starts"}, "30.0 %", f"{_HAND}: 30 / 100"),
    subject="life",
    decimals=1,
)  # fmt: skip
def life_used_by_starts(life_starts: Number, life_starts_limit: Number) -> Number:
    """Share of the limit in starts that is used."""
    return life_starts / life_starts_limit


def _share(kind: str, symbol: str) -> Input:
    return Input(f"life_used_by_{kind}", symbol, "%", f"Life used, by {kind}", optional=True, file=SHEET)


@figure(
    title="Life used",
    symbol="u",
    unit="%",
    formula="u = max(u_h, u_a, u_l, u_d, u_s)",
    inputs=(_share("hours", "u_h"), _share("age", "u_a"), _share("laps", "u_l"), _share("distance", "u_d"), _share("starts", "u_s")),
    per=("life",),
    source="whichever limit comes first",
    flag=Flag.GEOMETRY,
    example=Example(
        {
            "life_used_by_hours": "19.5 %", "life_used_by_age": "53.8 %", "life_used_by_laps": "35 %", "life_used_by_distance": "19.4 %",
            "life_used_by_starts": "30 %",
        },
        "53.8 %", "read off by eye",
    ),
    subject="life",
    usual=(None, 80),
    usual_source=_WARN,
    says="soon due, and past 100 % not to be used",
    decimals=1,
)  # fmt: skip
def life_used(**shares: Number) -> Number:
    """The largest of the shares that there are, each of its own limit."""
    if not shares:
        raise NoVerdict("no limit was worked out")
    return largest(list(shares.values()))


@figure(
    title="Age of the tyre",
    symbol="A_t",
    unit="years",
    formula="A_t = (d - d_m) / 365.25",
    inputs=(
        TODAY,
        Input("tyre_code_digits", "c", "", "Digits of the date code", exact=True, file=SHEET),
        Input("tyre_made", "d_m", "days", "Monday of the date code, from 1 January 1900", exact=True, optional=True, file=SHEET),
    ),
    per=("wheel",),
    source="week and year of the date code, four digits; three digits are from before 2000, decade unknown "
    "(burgmanusa.com, thread 68274; utires.com)",
    flag=Flag.SEEN,
    example=Example(
        {"day_of_record": "45826 days", "tyre_code_digits": "4", "tyre_made": "45016 days"}, "2.22 years",
        f"{_HAND}: 3 April 2023 to 21 June 2025 is 810 days; 810 / 365.25 = 2.2177",
    ),
    subject="life",
    usual=(0, 5),
    usual_source="five years look hard, seven off (burgmanusa.com, thread 68274)",
    says="look hard at this tyre; above seven years it comes off",
    decimals=1,
    quiet=True,
)  # fmt: skip
def tyre_age(day_of_record: Number, tyre_code_digits: Number, tyre_made: Number | None = None) -> Number:
    """Age of a tyre by its date code; no verdict for a tyre without a code of four digits, which is for display only."""
    if tyre_code_digits == 3:
        raise NoVerdict("three digits: made before 2000, the decade unknown; for display only")
    if tyre_made is None:
        raise NoVerdict("undated: no date code of week and year; for display only")
    return day_of_record - tyre_made
