"""Timing of valves or ports, as declared and as built: the diagram, and the lines of its table."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.findings import line
from dossier.pages.parts.measured import reading, tags_of, value_of
from dossier.pages.parts.numbers import esc
from dossier.pages.parts.plots import timing as drawn

VALVES = (
    ("Inlet", "inlet_opens", "inlet_closes", drawn.Opening.inlet_valve),
    ("Exhaust", "exhaust_opens", "exhaust_closes", drawn.Opening.exhaust_valve),
)
PORTS = (
    ("Exhaust port", "exhaust_duration", drawn.Opening.about_bdc),
    ("Transfer ports", "transfer_duration", drawn.Opening.about_bdc),
    ("Inlet port", "inlet_port_duration", drawn.Opening.about_tdc),
)
LINES = (
    line("inlet_opens", title="Inlet opens, before top dead centre"), line("inlet_closes", title="Inlet closes, after bottom dead centre"),
    line("exhaust_opens", title="Exhaust opens, before bottom dead centre"),
    line("exhaust_closes", title="Exhaust closes, after top dead centre"),
    line("inlet_opening_error"), line("inlet_closing_error"), line("exhaust_opening_error"), line("exhaust_closing_error"),
    line("inlet_duration"), line("exhaust_valve_duration"), line("inlet_lobe_centre"), line("exhaust_lobe_centre"), line("lobe_separation"),
    line("overlap"), line("exhaust_port_height"), line("exhaust_duration"), line("transfer_port_height"), line("transfer_duration"),
    line("blowdown"),
    line("inlet_opens_before_tdc", title="Inlet port opens, before top dead centre"), line("inlet_port_duration"),
    line("exhaust_time_area"), line("transfer_time_area"),
)  # fmt: skip


def caption(edition: Edition) -> str:
    """Caption of the table: what the angles are and at which lift they were taken."""
    shown = reading(edition, "valve_lift_at_check", (), "noted")
    if edition.build.machine.engine.strokes == "2":
        return "Crank degrees; port heights from the crown at top dead centre to the top edge of the port"
    return "Crank degrees" + (f", at {shown.text} of valve lift" if shown else "; the lift at the check is not recorded")


def timing_figure(edition: Edition) -> str:
    """The diagram with its caption; empty where no valve or port has an angle."""
    rings = [*_valve_rings(edition), *_port_rings(edition)]
    if not rings:
        return ""
    ports = edition.build.machine.engine.strokes == "2"
    title = "Port timing, declared and as built" if ports else "Valve timing, declared and as built"
    diagram = drawn.TimingDiagram(tuple(rings), _note(edition), title)
    return plot_figure(drawn.timing_diagram(diagram, stamp(edition)), f"{esc(drawn.KEY)} The table holds every number.")


def photos(edition: Edition) -> list[str]:
    """Photographs that the timing entries themselves name."""
    return [one.photo for one in edition.build.measurements.as_built if one.what == "valve_timing" and one.photo]


def _note(edition: Edition) -> str:
    shown = reading(edition, "valve_lift_at_check", (), "noted")
    return f"at {shown.text} lift" if shown else ""


def _angle(edition: Edition, name: str, tags: tuple[str, ...], role: str) -> float | None:
    value = value_of(edition, name, tags, role)
    if value is not None:
        return value.shown
    items = edition.build.specification.items if role == "declared" and not tags else ()
    nominal = next((one.declared.nominal for one in items if one.quantity == name and one.declared), None)
    return float(nominal.number) if nominal is not None else None


def _valve_rings(edition: Edition) -> list[drawn.TimingRing]:
    rings = []
    for name, opens, closes, opening in VALVES:
        found = []
        for side in (*tags_of(edition, "cylinder", "inlet_duration", "exhaust_valve_duration"), ""):
            tags = (side,) if side else ()
            ends = (_angle(edition, opens, tags, "as built"), _angle(edition, closes, tags, "as built"))
            if ends[0] is not None and ends[1] is not None:
                found.append((side, opening(ends[0], ends[1])))
        first, last = _angle(edition, opens, (), "declared"), _angle(edition, closes, (), "declared")
        declared = opening(first, last) if first is not None and last is not None else None
        if declared or found:
            rings.append(drawn.TimingRing(name, declared, tuple(found)))
    return rings


def _port_rings(edition: Edition) -> list[drawn.TimingRing]:
    rings = []
    for name, figure, opening in PORTS:
        found = edition.figure(figure)
        said = edition.figure(figure, role="declared")
        declared = said.value if said is not None and said.value is not None else _angle(edition, figure, (), "declared")
        built = (("", opening(found.value)),) if found is not None and found.value is not None else ()
        if declared is not None or built:
            rings.append(drawn.TimingRing(name, opening(declared) if declared is not None else None, built))
    return rings
