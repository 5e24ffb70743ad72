"""What a dossier still lacks before it is more than a draft."""

from dataclasses import replace

import pytest

from dossier.conform.complete import RECORDS, completeness
from dossier.model.fields import Tri
from dossier.model.forms.evidence import Assumption
from dossier.model.forms.machine import Use
from dossier.model.forms.measurements import Entry, Measurements
from dossier.model.forms.specification import Specification
from dossier.model.forms.work import Operation
from dossier.model.notation import quantity
from tests.conform.small_build import DAY, build, item
from tests.filled_build import Filler

EVENTS = ("inlet_opens", "inlet_closes", "exhaust_opens", "exhaust_closes")


def filled():
    """Every form filled, of a four-stroke (the first choice of a closed list is two strokes)."""
    one = Filler().build()
    engine = replace(one.machine.engine, strokes="4")
    entries = tuple(Entry(what=name, value=quantity("50°")) for name in EVENTS)
    return replace(one, machine=replace(one.machine, engine=engine), measurements=Measurements(as_built=entries))


def test_a_build_in_which_every_form_is_filled_lacks_nothing():
    found = completeness(filled())

    assert (found.missing, found.per_cent, found.draft) == ((), 100.0, False)


def test_a_begun_build_lacks_nearly_everything_and_is_a_draft():
    found = completeness(build())

    assert found.draft
    assert {"stampings as found", "torque log", "tyres", "custody chain", "cam timing as measured"} <= set(found.missing)
    assert "class rule" not in found.missing
    assert found.per_cent == pytest.approx(100 * (found.due - len(found.missing)) / found.due)


@pytest.mark.parametrize(("sheet", "field", "name"), [
    ("machine", "stampings", "stampings as found"), ("specification", "items", "declared specification"),
    ("evidence", "evidence", "evidence"), ("parts", "parts", "parts and their origin"), ("workshop", "instruments", "instruments"),
    ("work", "torque_log", "torque log"), ("work", "fluids", "fluids"), ("life", "brakes", "brakes"), ("life", "tyres", "tyres"),
    ("life", "lifed", "parts with a limited life"), ("custody", "custody", "custody chain"), ("custody", "papers", "index of papers"),
    ("custody", "statements", "statements and signatures"), ("custody", "revisions", "revision history"),
])  # fmt: skip
def test_a_mandatory_table_left_empty_is_missing(sheet, field, name):
    whole = filled()

    emptied = replace(whole, **{sheet: replace(getattr(whole, sheet), **{field: ()})})

    assert completeness(emptied).missing == (name,)


def test_registers_of_things_that_turn_up_may_be_empty():
    whole = filled()
    calm = replace(
        whole, running=replace(whole.running, snags=(), damage=()), evidence=replace(whole.evidence, conflicts=()),
        parts=replace(whole.parts, rejected=()),
    )  # fmt: skip

    assert completeness(calm).missing == ()


def test_a_statement_of_blanks_is_no_statement():
    whole = filled()

    assert completeness(replace(whole, machine=replace(whole.machine, statement="  "))).missing == ("title and replica statement",)


def test_a_plate_without_a_permanent_mark_is_not_enough():
    whole = filled()
    bare = replace(whole.machine, plate=replace(whole.machine.plate, permanent_mark=None))

    assert completeness(replace(whole, machine=bare)).missing == ("builder’s plate and permanent mark",)


def test_a_class_rule_is_due_only_where_a_class_or_club_is_named():
    whole = filled()
    without = replace(whole.machine, class_rule=None)

    assert completeness(replace(whole, machine=without)).missing == ("class rule",)
    nowhere = replace(without, use=Use(intended=("parade",), road_legal=Tri.NO))
    assert completeness(replace(whole, machine=nowhere)).missing == ()


def test_a_two_stroke_owes_a_port_map_and_no_cam_timing():
    whole = filled()
    two = replace(whole.machine, engine=replace(whole.machine.engine, strokes="2"))

    assert completeness(replace(whole, machine=two)).missing == ("port map as measured",)
    port = Measurements(as_built=(Entry(what="exhaust_port_height", value=quantity("27 mm")),))
    assert completeness(replace(whole, machine=two, measurements=port)).missing == ()


def test_a_timing_said_to_be_not_measured_is_missing():
    whole = filled()
    entries = (*whole.measurements.as_built[:3], Entry(what="exhaust_closes", not_measured="later"))

    assert completeness(replace(whole, measurements=Measurements(as_built=entries))).missing == ("cam timing as measured",)


def test_each_item_rests_on_evidence_or_on_an_assumption_that_is_written_down():
    name = "assumption or evidence behind each declared item"
    bare, stated = build(item("D01")), build(item("D01"), assumptions=(Assumption(id="A1", item="D01", assumed="a", why="w"),))

    assert name in completeness(bare).missing
    assert name not in completeness(stated).missing
    assert name not in completeness(build(item("D01", evidence=("E01",)), item("D02", assumption="A1"), item("D03", withdrawn="D"))).missing


def test_a_crack_test_owes_its_acceptance_criterion():
    test = Operation(id="OP-1", kind="crack test", date=DAY)
    whole = filled()

    assert completeness(replace(whole, work=replace(whole.work, operations=(test,)))).missing == ("acceptance criterion of each crack test",)
    assert completeness(replace(whole, work=replace(whole.work, operations=(replace(test, acceptance="none"),)))).missing == ()


def test_a_behaviour_owes_its_criterion():
    whole = filled()
    holds = item("D40", said="holds in all gears", allowed=None, kind="behaviour", evidence=("E01",))

    assert completeness(replace(whole, specification=Specification(items=(holds,)))).missing == ("criterion for each behaviour declared",)


def test_every_record_has_a_name_of_its_own():
    assert len({one.name for one in RECORDS}) == len(RECORDS)
