"""The final chain: its length in links, the centre distance of a whole number of them, wear, and hunting teeth."""

from __future__ import annotations

import math

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, nominal, sqrt
from dossier.model.results import Flag

PITCH = Input("chain_pitch", "p", "mm", "Pitch of the chain", exact=True, also=("pitch",))
DRIVER = Input("final_driver_teeth", "z_1", "", "Teeth of the gearbox sprocket", exact=True, also=("z1", "driver"))
DRIVEN = Input("final_driven_teeth", "z_2", "", "Teeth of the rear sprocket", exact=True, also=("z2",))
_BHANDARI = "Bhandari, Design of Machine Elements, Ex. 14.3 (worked in the FOSSEE Scilab Textbook Companions)"
_LENGTH = "chain length in pitches for two sprockets (ramseychain.com, chain length calculations; Bhandari, Design of Machine Elements)"


def _whole(value: Number) -> int:
    return round(nominal(getattr(value, "magnitude", value)))


@figure(
    title="Chain length in links",
    symbol="X",
    unit="links",
    formula="X = 2 * C / p + (z_1 + z_2) / 2 + ((z_2 - z_1) / (2 * pi))**2 * p / C",
    inputs=(Input("chain_centre", "C", "mm", "Centre distance", also=("centre_distance",)), PITCH, DRIVER, DRIVEN),
    per=("final",),
    source=_LENGTH,
    flag=Flag.SEEN,
    example=Example(
        {"chain_centre": "500 mm", "chain_pitch": "12.7 mm", "final_driver_teeth": "21", "final_driven_teeth": "63"}, "121.875 links",
        _BHANDARI, within=0.001,
    ),
    subject="drive line",
    impossible=(0, None),
    also=("links_exact",),
)  # fmt: skip
def chain_links(chain_centre: Number, chain_pitch: Number, final_driver_teeth: Number, final_driven_teeth: Number) -> Number:
    """Length of the chain that would just reach, in links and parts of a link."""
    wrap = ((final_driven_teeth - final_driver_teeth) / (2 * math.pi)) ** 2
    return 2 * chain_centre / chain_pitch + (final_driver_teeth + final_driven_teeth) / 2 + wrap * chain_pitch / chain_centre


@figure(
    title="Links to fit, next even number",
    symbol="X_e",
    unit="links",
    formula="X_e = 2 * ceil(X / 2)",
    inputs=(Input("chain_links", "X", "links", "Chain length in links"),),
    per=("final",),
    source="an odd number would need a cranked link (common practice, no source)",
    flag=Flag.PRACTICE,
    example=Example({"chain_links": "121.875 links"}, "122 links", _BHANDARI),
    subject="drive line",
    decimals=0,
    also=("links",),
)
def chain_links_even(chain_links: Number) -> Number:
    """The next even number of links."""
    return 2 * math.ceil(nominal(getattr(chain_links, "magnitude", chain_links)) / 2)


@figure(
    title="Centre distance of the links fitted",
    symbol="C_X",
    unit="mm",
    formula="C_X = p / 4 * (X - (z_1 + z_2) / 2 + sqrt((X - (z_1 + z_2) / 2)**2 - 8 * ((z_2 - z_1) / (2 * pi))**2))",
    inputs=(Input("chain_links_fitted", "X", "links", "Links fitted", exact=True), PITCH, DRIVER, DRIVEN),
    per=("final",),
    source=f"{_LENGTH}, solved for the centre distance",
    flag=Flag.SEEN,
    example=Example(
        {"chain_links_fitted": "122 links", "chain_pitch": "12.7 mm", "final_driver_teeth": "21", "final_driven_teeth": "63"},
        "500.805 mm", _BHANDARI, within=0.001,
    ),
    subject="drive line",
    impossible=(0, None),
    decimals=1,
    also=("corrected_centre_distance",),
)  # fmt: skip
def chain_centre_distance(
    chain_links_fitted: Number, chain_pitch: Number, final_driver_teeth: Number, final_driven_teeth: Number
) -> Number:
    """Centre distance at which the fitted chain is just tight; ValueError when it cannot go round."""
    straight = chain_links_fitted - (final_driver_teeth + final_driven_teeth) / 2
    wrap = ((final_driven_teeth - final_driver_teeth) / (2 * math.pi)) ** 2
    return chain_pitch / 4 * (straight + sqrt(straight**2 - 8 * wrap))


@figure(
    title="Wear of the chain",
    symbol="Delta_L",
    unit="%",
    formula="Delta_L = 100 * (L_20 / (20 * p) - 1)",
    inputs=(Input("chain_twenty_links", "L_20", "mm", "Length over twenty links, pulled straight"), PITCH),
    source="length over twenty links against twenty pitches; replace at 3 % (Diamond Chain, frequently asked questions; Regal Rexnord, KA-01616, "
    "ANSI B29.1; motorcyclechain.top, quoting JIS B 1801)",
    flag=Flag.SEEN,
    example=Example({"chain_twenty_links": "318.1 mm", "chain_pitch": "15.875 mm"}, "0.19 %", "worked by hand: 318.1 / 317.5"),
    subject="drive line",
    usual=(None, 1),
    usual_source="1 % for racing: common practice, no source; 1.5 % with fixed centres, else 3 % (Diamond Chain)",
    impossible=(-1, None),
)
def chain_wear(chain_twenty_links: Number, chain_pitch: Number) -> Number:
    """Lengthening of the chain."""
    return chain_twenty_links / (20 * chain_pitch) - 1


@figure(
    title="Teeth passed until the same pair meets",
    symbol="z_h",
    unit="teeth",
    formula="z_h = least_common_multiple(z_1, z_2)",
    inputs=(DRIVER, DRIVEN),
    per=("final",),
    source="least common multiple of the numbers of teeth",
    flag=Flag.GEOMETRY,
    example=Example({"final_driver_teeth": "17", "final_driven_teeth": "40"}, "680 teeth", "worked by hand: 17 is prime; 17 x 40"),
    subject="drive line",
    closed=False,
    decimals=0,
)
def hunting_teeth(final_driver_teeth: Number, final_driven_teeth: Number) -> Number:
    """How many teeth pass until the same two teeth stand to each other as before; a whole number."""
    return math.lcm(_whole(final_driver_teeth), _whole(final_driven_teeth))


@figure(
    title="Chain length",
    symbol="L_c",
    unit="mm",
    formula="L_c = X * p",
    inputs=(Input("chain_links", "X", "links", "Chain length in links"), PITCH),
    per=("final",),
    source="links times pitch",
    flag=Flag.GEOMETRY,
    example=Example(
        {"chain_links": "131.7237 links", "chain_pitch": "9.52 mm"}, "1254.01 mm",
        "Jindal, Machine Design, Ex. 30-3 p. 779 (FOSSEE Python Textbook Companions): 21 and 42 teeth, fifty pitches apart",
    ),
    subject="drive line",
    decimals=0,
    also=("length",),
)  # fmt: skip
def chain_length(chain_links: Number, chain_pitch: Number) -> Number:
    """Length of the chain that would just reach."""
    return chain_links * chain_pitch


@figure(
    title="Speed of the chain",
    symbol="v_c",
    unit="m/s",
    formula="v_c = z_1 * p * n / 60000",
    inputs=(DRIVER, PITCH, Input("driver_speed", "n", "rpm", "Speed of the driver")),
    per=("final",),
    source="each tooth brings on one pitch",
    flag=Flag.GEOMETRY,
    example=Example(
        {"final_driver_teeth": "12", "chain_pitch": "0.5 in", "driver_speed": "1800 rpm"}, "900 ft/min",
        "Wentzell, Machine Design, Ex. 14.4 p. 321 (FOSSEE Python Textbook Companions)",
    ),
    subject="drive line",
    decimals=1,
    quiet=True,
)  # fmt: skip
def chain_speed(final_driver_teeth: Number, chain_pitch: Number, driver_speed: Number) -> Number:
    """Speed at which the chain runs."""
    return final_driver_teeth * chain_pitch * driver_speed / (2 * math.pi)
