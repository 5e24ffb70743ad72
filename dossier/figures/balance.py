"""Balance of the crankshaft: masses that go round and up and down, the factor, the bob weight, and the metal to take off."""

from __future__ import annotations

from dossier.figures.figure import Example, Input, figure
from dossier.figures.motion import LIMIT_SPEED
from dossier.figures.travel import ANGLE
from dossier.model.forms.measurements import Role
from dossier.model.quantity import Number, cos, sin, sqrt
from dossier.model.results import Flag

PISTON = Input("piston_assembly_mass", "m_p", "g", "Piston with pin, rings and clips", mean="cylinder")
SMALL_END = Input("rod_small_end_mass", "m_s", "g", "Small-end share of the rod", mean="cylinder")
ROTATING = Input("rod_big_end_mass", "m_b", "g", "Big-end share of the rod", mean="cylinder", also=("rotating",))
RECIPROCATING = Input("reciprocating_mass", "m_r", "g", "Reciprocating mass of one cylinder", also=("reciprocating",))
FACTOR = Input("balance_factor", "k", "", "Balance factor wanted", exact=True)
BOB = Input("bob_weight", "m_w", "g", "Bob weight on each crank pin")
DONOR_BOB = Input("donor_bob_weight", "m_0", "g", "Bob weight that the counterweights were made for", name="bob_weight", role=Role.DONOR)
THROW = Input("crank_throw", "r", "mm", "Crank throw", also=("crank_radius",))
PINS = Input("crank_pins", "n_p", "", "Crank pins", exact=True)
RADIUS = Input("correction_radius", "R_c", "mm", "Radius of the correction holes", also=("balance_radius",))
_SOURCE = "Victory Library, Parallel twin crankshaft balancing"


@figure(
    title="Reciprocating mass",
    symbol="m_r",
    unit="g",
    formula="m_r = m_p + m_s",
    inputs=(PISTON, SMALL_END),
    source=f"sum of what goes up and down: piston, pin, rings, clips and the small-end share of the rod ({_SOURCE})",
    flag=Flag.SEEN,
    example=Example({"piston_assembly_mass": "184 g", "rod_small_end_mass": "85 g"}, "269 g", "worked by hand: 184 + 85"),
    subject="balance",
    impossible=(0, None),
    decimals=1,
)
def reciprocating_mass(piston_assembly_mass: Number, rod_small_end_mass: Number) -> Number:
    """Mass of one cylinder that goes up and down."""
    return piston_assembly_mass + rod_small_end_mass


@figure(
    title="Small-end share of the rod",
    symbol="m_s",
    unit="g",
    formula="m_s = m_rod * a / L",
    inputs=(
        Input("rod_mass", "m_rod", "g", "Mass of the rod"),
        Input("rod_centre_from_big_end", "a", "mm", "Centre of gravity from the big end", also=("CG_from_big_end",)),
        Input("rod_length", "L", "mm", "Rod length between centres"),
    ),
    source="rod laid on two scales: moments about the big end (Khurmi and Gupta, Theory of Machines, Ex. 15.20)",
    flag=Flag.GEOMETRY,
    example=Example(
        {"rod_mass": "1.25 kg", "rod_centre_from_big_end": "75 mm", "rod_length": "250 mm"}, "0.375 kg",
        "Khurmi and Gupta, Theory of Machines (worked in the FOSSEE Python Textbook Companions)", within=0.0005,
    ),
    subject="balance",
    impossible=(0, None),
    decimals=1,
    for_bench=True,
    also=("small_end_mass",),
)  # fmt: skip
def small_end_share(rod_mass: Number, rod_centre_from_big_end: Number, rod_length: Number) -> Number:
    """Part of the rod's mass that is counted with the piston."""
    return rod_mass * rod_centre_from_big_end / rod_length


@figure(
    title="Bob weight on each crank pin",
    symbol="m_w",
    unit="g",
    formula="m_w = m_b + k * m_r",
    inputs=(ROTATING, FACTOR, RECIPROCATING),
    source=f"rotating mass and the balanced share of the reciprocating mass ({_SOURCE})",
    flag=Flag.SEEN,
    example=Example(
        {"rod_big_end_mass": "183 g", "balance_factor": "0.62", "reciprocating_mass": "269 g"}, "349.78 g", "worked by hand: 183 + 166.78"
    ),
    subject="balance",
    impossible=(0, None),
    decimals=1,
)
def bob_weight(rod_big_end_mass: Number, balance_factor: Number, reciprocating_mass: Number) -> Number:
    """Weight hung on each crank pin while the crankshaft is balanced."""
    return rod_big_end_mass + balance_factor * reciprocating_mass


@figure(
    title="Balance factor if the counterweights were left",
    symbol="k_0",
    unit="%",
    formula="k_0 = (m_0 - m_b) / m_r * 100",
    inputs=(DONOR_BOB, ROTATING, RECIPROCATING),
    source=f"counterweight less rotating mass, over reciprocating mass ({_SOURCE})",
    flag=Flag.SEEN,
    example=Example(
        {"donor_bob_weight": "402 g", "rod_big_end_mass": "183 g", "reciprocating_mass": "269 g"}, "81.4 %", "worked by hand: 219 / 269"
    ),
    subject="balance",
    usual=(50, 90),
    usual_source=f"{_SOURCE}: parallel twins of 50 to 90 per cent are seen",
    impossible=(0, None),
    decimals=1,
    quiet=True,
)
def balance_factor_uncorrected(donor_bob_weight: Number, rod_big_end_mass: Number, reciprocating_mass: Number) -> Number:
    """Balance factor that the new pistons and rods would have with the donor's counterweights."""
    return (donor_bob_weight - rod_big_end_mass) / reciprocating_mass


@figure(
    title="Balance factor from the counterweight",
    symbol="k_c",
    unit="%",
    formula="k_c = (m_c - m_b) / m_r * 100",
    inputs=(Input("counterweight", "m_c", "g", "Counterweight, as a mass on the crank pin"), ROTATING, RECIPROCATING),
    source=f"counterweight less rotating mass, over reciprocating mass ({_SOURCE})",
    flag=Flag.SEEN,
    example=Example(
        {"counterweight": "349.78 g", "rod_big_end_mass": "183 g", "reciprocating_mass": "269 g"}, "62.0 %", "worked by hand: 166.78 / 269"
    ),
    subject="balance",
    usual=(50, 85),
    usual_source=f"{_SOURCE}: singles and twins",
    impossible=(0, None),
    decimals=1,
    quiet=True,
)
def balance_factor_found(counterweight: Number, rod_big_end_mass: Number, reciprocating_mass: Number) -> Number:
    """Balance factor that a counterweight found on the machine amounts to."""
    return (counterweight - rod_big_end_mass) / reciprocating_mass


@figure(
    title="Metal to take off the counterweights",
    symbol="m_off",
    unit="g",
    formula="m_off = (m_0 - m_w) * r / R_c * n_p + m_t",
    inputs=(
        DONOR_BOB,
        BOB,
        THROW,
        RADIUS,
        PINS,
        Input("trim_drilling_mass", "m_t", "g", "Taken off while trimming", constant="0 g"),
    ),
    source="moments about the crank's axis: what is taken off at the holes' radius equals the change on the crank pin",
    flag=Flag.GEOMETRY,
    example=Example(
        {"donor_bob_weight": "402 g", "bob_weight": "349.78 g", "crank_throw": "28.9 mm", "correction_radius": "45 mm", "crank_pins": "2",
         "trim_drilling_mass": "6 g"},
        "73.07 g", "worked by hand: 52.22 times 28.9 / 45 is 33.537; twice that and 6",
    ),
    subject="balance",
    decimals=1,
    quiet=True,
)  # fmt: skip
def balance_metal_removed(
    donor_bob_weight: Number, bob_weight: Number, crank_throw: Number, correction_radius: Number, crank_pins: Number,
    trim_drilling_mass: Number,
) -> Number:  # fmt: skip
    """Mass to take off the counterweights for the new bob weight, trimming included; equals what the crankshaft loses on the scale."""
    return (donor_bob_weight - bob_weight) * crank_throw / correction_radius * crank_pins + trim_drilling_mass


@figure(
    title="Balance mass for one crank",
    symbol="m_B",
    unit="kg",
    formula="m_B = (m_b + k*m_r) * r / R_c",
    inputs=(
        Input("rod_big_end_mass", "m_b", "kg", "Rotating mass on the crank pin", also=("rotating",)),
        FACTOR,
        Input("reciprocating_mass", "m_r", "kg", "Reciprocating mass", also=("reciprocating",)),
        THROW,
        RADIUS,
    ),
    source="moments about the crank's axis (Sarkar, Theory of Machines, Ill. 12.1; Bevan, Theory of Machines)",
    flag=Flag.SEEN,
    example=Example(
        {"rod_big_end_mass": "70 kg", "balance_factor": "0.666666666667", "reciprocating_mass": "120 kg", "crank_throw": "0.09 m",
         "correction_radius": "0.15 m"},
        "90.0 kg", "Sarkar, Theory of Machines, Ill. 12.1 p. 310 (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="balance",
    impossible=(0, None),
    decimals=3,
    for_bench=True,
    also=("balance_mass", "balance_weight"),
)  # fmt: skip
def counterweight_at_radius(
    rod_big_end_mass: Number, balance_factor: Number, reciprocating_mass: Number, crank_throw: Number, correction_radius: Number
) -> Number:
    """Mass at the correction radius that balances the rotating mass and the wanted share of the reciprocating."""
    return (rod_big_end_mass + balance_factor * reciprocating_mass) * crank_throw / correction_radius


@figure(
    title="Primary force left unbalanced",
    symbol="F_1",
    unit="N",
    formula="F_1 = m_r/1000 * (pi*N/30)**2 * r/1000 * sqrt(((1 - k)*cos(theta))**2 + (k*sin(theta))**2)",
    inputs=(RECIPROCATING, FACTOR, THROW, LIMIT_SPEED, ANGLE),
    source="share of the reciprocating force left along the bore, and that which the counterweight brings across it (Sarkar, Ill. 12.1)",
    flag=Flag.SEEN,
    example=Example(
        {"reciprocating_mass": "120 kg", "balance_factor": "0.666666666667", "crank_throw": "0.09 m", "rpm_limit": "250 rpm",
         "crank_angle": "30°"},
        "3263.97 N", "Sarkar, Theory of Machines, Ill. 12.1 p. 310 (worked in the FOSSEE Python Textbook Companions)", within=0.5,
    ),
    subject="balance",
    impossible=(0, None),
    decimals=0,
    for_bench=True,
    also=("residual_force",),
)  # fmt: skip
def residual_primary_force(
    reciprocating_mass: Number, balance_factor: Number, crank_throw: Number, rpm_limit: Number, crank_angle: Number
) -> Number:
    """First-order force of one cylinder that the counterweight leaves, at a crank angle."""
    along, across = (1 - balance_factor) * cos(crank_angle), balance_factor * sin(crank_angle)
    return reciprocating_mass * rpm_limit**2 * crank_throw * sqrt(along**2 + across**2)
