"""Chain and sprockets by their pitch circles: pitch from a sprocket, and the length of chain by the cosecant formula of textbooks."""

from __future__ import annotations

from math import pi

from dossier.figures.chain import DRIVEN, DRIVER, PITCH, chain_centre_distance
from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, sin
from dossier.model.results import Flag

CIRCLE = Input("driven_pitch_diameter", "D", "mm", "Pitch diameter of the driven sprocket")
_KHURMI = "Khurmi and Gupta, Theory of Machines, Ex. 11.23 p. 376 (FOSSEE Python Textbook Companions)"


@figure(
    title="Pitch from a sprocket",
    symbol="p",
    unit="mm",
    formula="p = D * sin(180*deg / z_2)",
    inputs=(CIRCLE, DRIVEN),
    source="links are the sides of a polygon with its corners on the pitch circle",
    flag=Flag.GEOMETRY,
    example=Example({"driven_pitch_diameter": "600 mm", "final_driven_teeth": "40"}, "47.1 mm", _KHURMI),
    subject="drive line",
    for_bench=True,
    also=("pitch",),
)
def pitch_of_sprocket(driven_pitch_diameter: Number, final_driven_teeth: Number) -> Number:
    """Pitch of the chain that a sprocket is made for."""
    return driven_pitch_diameter * sin(pi / final_driven_teeth)


@figure(
    title="Chain length by pitch circles",
    symbol="L_c",
    unit="m",
    formula="L_c = p / 1000 * ((z_1 + z_2) / 2 + 2*C/p + (1/sin(180*deg / z_1) - 1/sin(180*deg / z_2))**2 * p / (4*C))",
    inputs=(
        DRIVER,
        DRIVEN,
        Input("pitch_of_sprocket", "p", "mm", "Pitch", also=("pitch",)),
        Input("centre", "C", "mm", "Centre distance", also=("centre_distance",)),
    ),
    source=f"cosecant formula ({_KHURMI}); an eighth of a millimetre longer there than by the formula of the chain makers",
    flag=Flag.SEEN,
    example=Example(
        {"final_driver_teeth": "20", "final_driven_teeth": "40", "pitch_of_sprocket": "47.075457 mm", "centre": "800 mm"},
        "3.0402 m",
        _KHURMI,
    ),
    subject="drive line",
    for_bench=True,
    decimals=4,
    also=("length",),
)
def chain_length_by_circles(final_driver_teeth: Number, final_driven_teeth: Number, pitch_of_sprocket: Number, centre: Number) -> Number:
    """Length of chain round two sprockets, by their pitch circles."""
    wrap = 1 / sin(pi / final_driver_teeth) - 1 / sin(pi / final_driven_teeth)
    p = pitch_of_sprocket
    return p * ((final_driver_teeth + final_driven_teeth) / 2 + 2 * centre / p + wrap**2 * p / (4 * centre))


@figure(
    title="Centre distance of the next even number of links",
    symbol="C_e",
    unit="mm",
    formula="C_e = p / 4 * (X_e - (z_1 + z_2) / 2 + sqrt((X_e - (z_1 + z_2) / 2)**2 - 8 * ((z_2 - z_1) / (2 * pi))**2))",
    inputs=(Input("chain_links_even", "X_e", "links", "Next even number of links"), PITCH, DRIVER, DRIVEN),
    per=("final",),
    source="the chain makers' formula for the length, solved for the centre distance",
    flag=Flag.GEOMETRY,
    example=Example(
        {"chain_links_even": "122 links", "chain_pitch": "12.7 mm", "final_driver_teeth": "21", "final_driven_teeth": "63"},
        "500.805 mm",
        "Bhandari, Machine Design (FOSSEE Scilab textbook companions)",
        within=0.001,
    ),
    subject="drive line",
    for_bench=True,
    decimals=1,
    also=("corrected_centre_distance",),
)
def centre_of_even_links(chain_links_even: Number, chain_pitch: Number, final_driver_teeth: Number, final_driven_teeth: Number) -> Number:
    """Centre distance at which a chain of the next even number of links is just tight."""
    return chain_centre_distance(chain_links_even, chain_pitch, final_driver_teeth, final_driven_teeth)
