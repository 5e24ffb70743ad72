"""Cautions, each with the hazard it names and the sheets it stands on; they inform and defer, they never instruct.

Common practice unless a source is named in `source`.
"""

from __future__ import annotations

from dataclasses import dataclass

from dossier.pages.parts.numbers import esc

WORDING = 1
"""Version of the wording; raised when any text changes."""


@dataclass(frozen=True)
class Caution:
    """A caution: its hazard, its text, where it stands, and on what it rests."""

    hazard: str
    text: str
    sheets: tuple[str, ...]
    source: str = "common practice, no source"


CAUTIONS: dict[str, Caution] = {
    one.hazard: one
    for one in (
        Caution(
            "first ride",
            "Walk round before anybody rides: spindles, pinch bolts, brake anchor, throttle snaps shut, kill switch, steering stops, tyres at "
            "pressure, fuel and oil leaks, chain. Two gentle laps; stop; look again.",
            ("set-up", "running"),
        ),
        Caution(
            "drum brakes",
            "Drum brakes fade, grab and can lock when hot. New linings are bedded in; leading edges, oil on the linings and the drum limit are "
            "looked at; both cable ends are captive. A competent person judges them before use.",
            ("differs", "chassis", "care", "set-up"),
        ),
        Caution(
            "old magnesium",
            "Age, corrosion and fatigue do not show in old magnesium, and no test makes it new. It is stripped of paint and crack-tested at "
            "its interval; a thick coating hides cracks. Its swarf and dust burn: dry sand or a class D extinguisher, never "
            "water, foam or carbon dioxide.",
            ("work", "chassis", "care"),
            "fire: DGUV Information 209-090; ageing: a metallurgist’s letter, vintage-race list, October 1996",
        ),
        Caution(
            "wheel tests",
            "A test says how a part was tested and what was found, never that it is safe. ISO 8644 is a type test for new light-alloy wheels in "
            "normal road use; a proof load or a penetrant test does not make an old wheel safe.",
            ("work",),
            "scope of ISO 8644:2006",
        ),
        Caution(
            "asbestos",
            "Old linings and gaskets may hold asbestos. Never blow them out or sand them dry; wet-wipe, bag, and follow local rules. Supply and "
            "fitting are banned in some countries.",
            ("chassis", "care"),
            "Health and Safety Executive (GB), motor vehicle repair: asbestos",
        ),
        Caution(
            "lead, cadmium, chromate",
            "Leaded fuel, lead in old paint, cadmium plate and hexavalent chromate are poisonous: gloves, no food, no flame on cadmium.",
            ("work",),
            "from memory",
        ),
        Caution(
            "fuel",
            "Petrol vapour burns and creeps; ethanol swells old resin, hose and tank liners; methanol burns unseen. The tank is drained for display "
            "and storage.",
            ("set-up", "care"),
            "from memory",
        ),
        Caution(
            "castor oil",
            "Castor oil and mineral oil are not mixed; the engine is flushed when changing from one to the other, and drained before storage.",
            ("care",),
        ),
        Caution(
            "tyre age",
            "Tyres age whether they run or not; the date code says how old they are. An undated tyre is for display only.",
            ("care", "set-up"),
        ),
        Caution(
            "torque values",
            "A torque here is a record of what was done on this build, with its lubricant and thread; the same figure on another thread or another "
            "oil can change the clamping force by a quarter or more.",
            ("work",),
            "torque scatter ± 25 to 30 per cent: VDI 2230 (1986) bands as quoted by a fastener maker",
        ),
        Caution(
            "hot, loud, fumes",
            "On the dynamometer: hearing protection, carbon monoxide indoors, megaphones, spinning chain and open primary; local sound limits hold.",
            ("engine", "running"),
        ),
        Caution("race use only", "Not road legal, and nothing here says that it could be made so.", ("index", "drive-line")),
        Caution(
            "identity",
            "Rules on rebuilt, reconstructed and replica vehicles differ by country. An original maker’s number is never stamped on a replica frame "
            "or case; ask the authority before stamping or registering.",
            ("custody",),
        ),
        Caution("lifed parts", "The limits are this workshop’s own, at this use; they are no maker’s limits and no promise of life.", ("care",)),
        Caution(
            "display",
            "On display: battery out or disconnected, fuel out, a stand that cannot be rocked, and children kept off.",
            ("photographs", "care"),
        ),
        Caution(
            "professional limit",
            "This dossier is no engineering certificate, no certificate of authenticity, no valuation, and no legal or medical advice.",
            ("about",),
        ),
    )
}  # fmt: skip


def caution(hazard: str) -> str:
    """One caution as a short block of HTML. KeyError when there is none of that name."""
    one = CAUTIONS[hazard]
    return f'<p class="caution"><b>Caution, {esc(one.hazard)}.</b> {esc(one.text)}</p>'


def cautions_for(sheet: str) -> str:
    """All cautions of a sheet as HTML."""
    return "".join(caution(one.hazard) for one in CAUTIONS.values() if sheet in one.sheets)
