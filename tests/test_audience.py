"""The gate: what passes to which audience, what is no longer named, what is counted."""

import ast
import dataclasses
import datetime
from dataclasses import dataclass, fields, replace
from decimal import Decimal
from pathlib import Path
from typing import ClassVar

import pytest

from dossier.audience import NothingToShow, let_out
from dossier.audience.forms import Sieve
from dossier.audience.results import PASSES
from dossier.model import codes
from dossier.model.audience import Audience, Public
from dossier.model.build import Build, LogTable, Note
from dossier.model.forms.custody import Custody, Paper, Release
from dossier.model.forms.evidence import EvidenceFile
from dossier.model.forms.machine import Stamping
from dossier.model.forms.measurements import Entry, Measurements, Role, WhatIf
from dossier.model.forms.parts import GoodsIn, Part, Parts, Rejected, Rework, Supplier
from dossier.model.forms.photos import Masked, Photo, Photos, Pin
from dossier.model.forms.record import Record
from dossier.model.forms.running import Dyno, Running
from dossier.model.forms.specification import Specification
from dossier.model.forms.work import Operation, Work
from dossier.model.forms.workshop import Instrument, Person, WorkshopFile
from dossier.model.notation import quantity
from dossier.model.picture import Mask, PhotoFacts
from dossier.model.problems import Place, Problem
from dossier.model.quantity import Quantity, variable
from dossier.model.results import InputUsed, Judged, Outcome, Value, Verdict, Warned, Worked
from dossier.model.units import UNITS
from tests.conform.small_build import concession, evidence, item, machine
from tests.filled_build import KnownBuild

DAY = datetime.date(2025, 5, 24)
ROOT = Path(__file__).parent.parent


def build(**sheets):
    return Build(slug="b", **({"machine": machine(), "workshop": WorkshopFile(form="1", name="W")} | sheets))


def seen(audience, **sheets):
    return let_out(KnownBuild(build(**sheets)), audience)


def public(**sheets):
    return seen(Audience.PUBLIC, **sheets)


def owner(**sheets):
    return seen(Audience.OWNER, **sheets)


def part(id="P05", **more):
    return Part(id=id, group="engine", name="Liners", origin="reproduction", **more)


def photo(id="PH-1", seen_by=Audience.PUBLIC, **more):
    return Photo(**({"id": id, "file": "secret name.jpg", "shows": "s", "seen_by": seen_by} | more))


def released(what, to, **more):
    return Release(what=what, to=to, by="MH", on=DAY, **more)


# ------------------------------------------------------------ fields and records


def test_each_audience_reads_the_fields_marked_for_it():
    parts = Parts(parts=(part(supplier="S-03", price="410", hours=quantity("12 h"), remark="never again"),))

    for audience, supplier, price, remark in (
        (Audience.PUBLIC, None, None, None), (Audience.OWNER, "S-03", None, None), (Audience.WORKSHOP, "S-03", "410", "never again"),
    ):  # fmt: skip
        one = seen(audience, parts=parts).build.parts.parts[0]
        assert (one.supplier, one.price, one.remark) == (supplier, price, remark)


def test_a_record_is_built_anew_and_never_shared():
    parts = Parts(parts=(part(rework=(Rework(what="bored"),)),))

    passed = seen(Audience.WORKSHOP, parts=parts).build.parts

    assert passed == parts
    assert passed is not parts and passed.parts[0] is not parts.parts[0] and passed.parts[0].rework[0] is not parts.parts[0].rework[0]


@dataclass(frozen=True, kw_only=True)
class LaterForm(Record):
    said: Public[str]
    unmarked: str = ""
    inner: tuple[Rework, ...] = ()


def test_a_field_without_a_mark_goes_to_the_workshop_alone():
    later = LaterForm(said="said", unmarked="unmarked", inner=(Rework(what="w"),))

    for audience in (Audience.PUBLIC, Audience.OWNER):
        assert Sieve(build(), audience, frozenset()).record(later) == LaterForm(said="said")
    assert Sieve(build(), Audience.WORKSHOP, frozenset()).record(later) == later


@dataclass(frozen=True, kw_only=True)
class OddForm(Record):
    odd: Public[dict[str, str]]
    id: ClassVar[str] = "odd"


def test_a_value_of_a_kind_the_gate_does_not_know_is_refused():
    with pytest.raises(TypeError, match="does not know what a dict"):
        Sieve(build(), Audience.PUBLIC, frozenset()).record(OddForm(odd={"a": "b"}))


def test_a_record_kept_to_fewer_eyes_is_gone_for_the_others_and_counted():
    parts = Parts(parts=(part("P01"), part("P02", audience=Audience.OWNER), part("P03", audience=Audience.WORKSHOP)))

    assert [one.id for one in public(parts=parts).build.parts.parts] == ["P01"]
    assert public(parts=parts).withheld["parts"] == 2
    assert [one.id for one in owner(parts=parts).build.parts.parts] == ["P01", "P02"]
    assert owner(parts=parts).withheld["parts"] == 1


def test_narrowing_never_widens():
    parts = Parts(parts=(part(price="410", audience=Audience.PUBLIC),))

    assert public(parts=parts).build.parts.parts[0].price is None


def test_what_is_withheld_is_counted_by_record_and_by_field_that_holds_something():
    one = part(price="410", goods_in=GoodsIn(condition="poor", outcome="use"))
    parts = Parts(parts=(one, part("P06")), suppliers=(Supplier(id="S-1"),))
    custody = Custody(papers=(Paper(id="DOC-1"), Paper(id="DOC-2")))

    assert public(parts=parts, custody=custody).withheld == {"custody": 2, "parts": 3}


def test_a_sheet_kept_from_an_audience_is_empty_and_the_machine_itself_is_refused():
    assert public(running=Running(rev_limit_note="n", audience=Audience.OWNER)).build.running == Running()
    with pytest.raises(NothingToShow, match="machine"):
        public(machine=machine(audience=Audience.OWNER))


def test_a_machine_whose_copied_moment_is_kept_back_has_no_edition():
    hidden = replace(machine().reference, audience=Audience.WORKSHOP)

    with pytest.raises(NothingToShow):
        public(machine=machine(reference=hidden))


def test_a_stamped_number_is_shown_masked_to_the_public():
    stamping = Stamping(part="crankcases", number="RX 41 207", masked="RX •• •••")

    one = public(machine=machine(stampings=(stamping,))).build.machine.stampings[0]

    assert (one.number, one.masked) == (None, "RX •• •••")
    assert owner(machine=machine(stampings=(stamping,))).build.machine.stampings[0].number == "RX 41 207"


# ------------------------------------------------------------ releases


def test_a_release_opens_one_field_to_one_audience_and_those_above():
    parts = Parts(parts=(part(supplier="S-03", price="410"), part("P06", price="99")))
    to_owner = Custody(releases=(released("P05.price", Audience.OWNER),))
    to_public = Custody(releases=(released("P05.supplier", Audience.PUBLIC),))

    assert [one.price for one in owner(parts=parts, custody=to_owner).build.parts.parts] == ["410", None]
    assert public(parts=parts, custody=to_owner).build.parts.parts[0].price is None
    assert public(parts=parts, custody=to_public).build.parts.parts[0].supplier == "S-03"


def test_a_release_of_a_record_opens_what_is_for_the_owner_but_not_what_is_for_the_workshop():
    parts = Parts(parts=(part(supplier="S-03", price="410", remark="r", goods_in=GoodsIn(condition="poor")),))
    custody = Custody(releases=(released("P05", Audience.PUBLIC),))

    one = public(parts=parts, custody=custody).build.parts.parts[0]

    assert (one.supplier, one.goods_in.condition, one.price, one.remark) == ("S-03", "poor", None, None)


def test_a_release_brings_one_record_out_of_a_table_that_is_closed():
    custody = Custody(papers=(Paper(id="DOC-1", title="t"), Paper(id="DOC-2")), releases=(released("DOC-1", Audience.PUBLIC),))

    assert [(one.id, one.title) for one in public(custody=custody).build.custody.papers] == [("DOC-1", "t")]


def test_a_release_undoes_a_narrowing():
    parts = Parts(parts=(part(audience=Audience.WORKSHOP),))
    custody = Custody(releases=(released("P05", Audience.OWNER),))

    assert len(owner(parts=parts, custody=custody).build.parts.parts) == 1
    assert public(parts=parts, custody=custody).build.parts.parts == ()


def test_a_release_may_name_a_field_of_a_sheet_but_no_whole_sheet():
    kept = machine(storage="behind the mill")

    assert owner(machine=kept, custody=Custody(releases=(released("machine.storage", Audience.OWNER),))).build.machine.storage
    contact = WorkshopFile(form="1", name="W", contact="c")
    whole, field = (Custody(releases=(released(what, Audience.PUBLIC),)) for what in ("workshop", "workshop.contact"))
    assert public(workshop=contact, custody=whole).build.workshop.contact is None
    assert public(workshop=contact, custody=field).build.workshop.contact == "c"


@pytest.mark.parametrize("field", ["remark", "written", "audience"])
def test_no_release_opens_what_is_the_workshops_own(field):
    parts = Parts(parts=(part(remark="r", written=Place("parts.yaml", 3), audience=None),))

    one = public(parts=parts, custody=Custody(releases=(released(f"P05.{field}", Audience.PUBLIC),))).build.parts.parts[0]

    assert one == part()


def test_release_lines_are_listed_for_the_workshop_only():
    custody = Custody(releases=(released("P05.price", Audience.OWNER, why="asked"),))

    assert seen(Audience.WORKSHOP, custody=custody).released == ("P05.price to owner, by MH, 2025-05-24: asked",)
    assert owner(custody=custody).released == ()


# ------------------------------------------------------------ photographs


def test_photographs_pass_by_who_may_see_them_and_their_file_names_never():
    photos = Photos(photos=(photo("PH-1"), photo("PH-2", Audience.OWNER), photo("PH-3", Audience.WORKSHOP)))

    assert [one.id for one in public(photos=photos).build.photos.photos] == ["PH-1"]
    assert [one.id for one in owner(photos=photos).build.photos.photos] == ["PH-1", "PH-2"]
    assert {one.file for one in owner(photos=photos).build.photos.photos} == {""}
    assert {one.file for one in seen(Audience.WORKSHOP, photos=photos).build.photos.photos} == {"secret name.jpg"}


@pytest.mark.parametrize("field", ["file", "facts", "masks"])
def test_no_release_opens_the_name_of_an_original(field):
    photos = Photos(photos=(photo(facts=PhotoFacts("sha", 1, 1, "jpeg")),))
    custody = Custody(releases=(released(f"PH-1.{field}", Audience.PUBLIC), released("PH-1", Audience.PUBLIC)))

    one = public(photos=photos, custody=custody).build.photos.photos[0]

    assert (one.file, one.facts, one.masks) == ("", None, ())


def test_a_withheld_photograph_is_named_nowhere():
    photos = Photos(photos=(photo("PH-9", Audience.OWNER),))
    work = Work(operations=(Operation(id="OP-1", kind="paint", date=DAY, photo="PH-9"),))
    entry = Entry(what="bore", value=quantity("62 mm"), photo="PH-9")

    edition = public(photos=photos, work=work, machine=machine(hero="PH-9"), measurements=Measurements(as_built=(entry,)))

    assert "PH-9" not in repr(edition)
    assert edition.build.work.operations[0].id == "OP-1"
    assert owner(photos=photos, machine=machine(hero="PH-9")).build.machine.hero == "PH-9"


def test_a_photograph_of_a_source_that_may_not_be_published_is_not_public():
    sources = EvidenceFile(evidence=(evidence("E03", photo="PH-1", may_be_published=False), evidence("E04", may_be_published=False)))
    photos = Photos(photos=(photo("PH-1"), photo("PH-2", belongs_to=("E04",)), photo("PH-3")))

    assert [one.id for one in public(photos=photos, evidence=sources).build.photos.photos] == ["PH-3"]
    assert len(owner(photos=photos, evidence=sources).build.photos.photos) == 3


def _corner(percent):
    return Quantity(Decimal(percent), UNITS["%"])


def test_an_area_is_destroyed_for_all_below_whom_it_is_kept_for_and_for_everybody_when_nobody_is_named():
    area = {"left": _corner(10), "top": _corner(20), "right": _corner(30), "bottom": _corner(40)}
    masks = (Masked(**area, seen_by=Audience.OWNER), Masked(points=tuple(map(_corner, (1, 2, 3, 4, 5, 6)))))
    photos = Photos(photos=(photo(masks=masks, facts=PhotoFacts("sha", 1, 1, "jpeg")),))
    rectangle, polygon = Mask("rectangle", ((10, 20), (30, 40))), Mask("polygon", ((1, 2), (3, 4), (5, 6)))

    assert public(photos=photos).travels[0].masks == (rectangle, polygon)
    assert owner(photos=photos).travels[0].masks == (polygon,)
    assert seen(Audience.WORKSHOP, photos=photos).travels[0].masks == (polygon,)


def test_a_photograph_with_an_area_that_cannot_be_covered_is_withheld():
    photos = Photos(photos=(photo(masks=(Masked(left=_corner(10), top=_corner(20), right=_corner(30)),)),))

    assert public(photos=photos).build.photos.photos == ()


# ------------------------------------------------------------ what is withheld is no longer named


def test_what_cannot_stand_without_a_withheld_record_falls_with_it():
    spec = Specification(items=(item("D01", audience=Audience.OWNER), item("D02")), concessions=(concession("C-01", item="D01", remark="r"),))
    entries = Measurements(as_built=(Entry(what="D01", found="x"), Entry(what="D02", found="y")))
    photos = Photos(photos=(photo(pins=(Pin(x=_corner(1), y=_corner(1), to="D01"), Pin(x=_corner(1), y=_corner(1), to="D02"))),))

    edition = public(specification=spec, measurements=entries, photos=photos)

    assert "D01" not in repr(edition) and "C-01" not in repr(edition)
    assert edition.withheld == {"measurements": 1, "photographs": 1, "specification": 2}


def test_what_falls_takes_with_it_what_names_it_in_turn():
    spec = Specification(items=(item("D01", audience=Audience.OWNER),), concessions=(concession("C-01", item="D01"),))
    photos = Photos(photos=(photo(belongs_to=("C-01", "D07")),))

    assert public(specification=spec, photos=photos).build.photos.photos[0].belongs_to == ("D07",)


def test_a_value_of_a_withheld_session_falls_rather_than_losing_its_tag():
    entry = Entry(what="logged_speed", session="TS-1", value=quantity("158 km/h"))
    running = Running(dyno=(Dyno(id="TS-1", date=DAY, at="rear wheel", audience=Audience.OWNER),))

    assert public(running=running, measurements=Measurements(as_built=(entry,))).build.measurements.as_built == ()


def test_a_word_of_a_closed_list_is_never_taken_for_a_reference():
    parts = Parts(parts=(part("reproduction", audience=Audience.OWNER), part("P06")))

    assert public(parts=parts).build.parts.parts[0].origin == "reproduction"


def test_the_owner_reads_a_suppliers_code_without_the_name():
    parts = Parts(
        rejected=(Rejected(id="R1", name="n", origin="unknown", found="f", outcome="o", supplier="S-03"),),
        suppliers=(Supplier(id="S-03", name="Invented Ltd"),),
    )

    edition = owner(parts=parts)

    assert edition.build.parts.rejected[0].supplier == "S-03"
    assert "Invented" not in repr(edition)


def test_persons_are_called_as_they_are_shown_below_the_workshop():
    workshop = WorkshopFile(form="1", name="W", people=(Person(id="MH", shown_as="the builder", name="M. H."),))
    work = Work(operations=(Operation(id="OP-1", kind="paint", date=DAY, by="MH"),))
    spec = Specification(items=(item(),), concessions=(concession(agreed_by=("MH", "owner")),))

    edition = owner(workshop=workshop, work=work, specification=spec)

    assert edition.build.work.operations[0].by == "the builder"
    assert edition.build.specification.concessions[0].agreed_by == ("the builder", "owner")
    assert "MH" not in repr(edition)
    assert seen(Audience.WORKSHOP, workshop=workshop, work=work).build.work.operations[0].by == "MH"


# ------------------------------------------------------------ logs and notes


def test_of_logs_only_the_kinds_listed_pass_and_only_with_their_record():
    logs = tuple(LogTable(id, kind, "t", (), (), ((3, "what stood there"),), belongs) for id, kind, belongs in (
        ("DY-1", "dyno_run", "DY-1"), ("DY-2", "dyno_run", "DY-2"), ("left", "bore_readings", ""),
    ))  # fmt: skip
    dyno = tuple(Dyno(id=id, date=DAY, at="rear wheel", audience=kept) for id, kept in (("DY-1", None), ("DY-2", Audience.OWNER)))

    edition = public(logs=logs, running=Running(dyno=dyno))

    assert [(one.id, one.left_out) for one in edition.build.logs] == [("DY-1", ((3, ""),))]
    assert edition.withheld["logs"] == 2
    assert len(seen(Audience.WORKSHOP, logs=logs).build.logs) == 3


def test_the_name_of_a_log_file_is_no_reference_outside_log_fields():
    logs = (LogTable("left", "bore_readings", "t", (), ()),)
    entries = Measurements(as_built=(Entry(what="bore", cylinder="left", value=quantity("62 mm"), log="left"),))

    one = public(logs=logs, measurements=entries).build.measurements.as_built[0]

    assert (one.cylinder, one.log) == ("left", None)


def test_notes_pass_by_their_audience_and_an_unknown_word_means_the_workshop():
    notes = tuple(Note(word, "t", "x", word) for word in ("public", "owner", "workshop", "everybody"))

    assert [one.id for one in public(notes=notes).build.notes] == ["public"]
    assert [one.id for one in owner(notes=notes).build.notes] == ["public", "owner"]
    assert owner(notes=notes).withheld["notes"] == 2


# ------------------------------------------------------------ figures and verdicts


def value(name="bore", audience=Audience.PUBLIC, **more):
    plain = {"tags": (), "role": Role.AS_BUILT, "number": variable(0.062, 4e-6, name), "unit": "mm", "shown": 62.0}
    return Value(**(plain | {"name": name, "audience": audience} | more))


def figure(id="swept_volume", *values, audience=Audience.PUBLIC, **more):
    plain = {
        "title": "t", "symbol": "V", "unit": "cc", "role": Role.AS_BUILT, "tags": (), "value": 349.0, "u": 0.1, "decimals": 2,
        "formula": "",
    }  # fmt: skip
    return Worked(id=id, name=id, audience=audience, inputs=(InputUsed("B", "b", "mm", values),), **(plain | more))


def verdict(item="D01", **more):
    return Verdict(**({"item": item, "title": "t", "raw": Outcome.FAILS, "rule": "", "source": "", "revision": "E",
                       "audience": Audience.PUBLIC} | more))  # fmt: skip


def results(audience, worked=(), verdicts=(), what_if=(), **sheets):
    return let_out(KnownBuild(build(**sheets), tuple(worked), tuple(verdicts), what_if=what_if), audience)


def test_a_figure_made_of_something_private_is_withheld_though_it_claims_to_be_public():
    leaky = figure("a", value(audience=Audience.OWNER))

    assert results(Audience.PUBLIC, [leaky]).worked == ()
    assert results(Audience.PUBLIC, [leaky]).withheld == {"figures": 1}
    assert len(results(Audience.OWNER, [leaky]).worked) == 1


def test_a_figure_made_of_a_withheld_figure_is_withheld():
    chain = [figure("c", value("b", of="b")), figure("a", value(audience=Audience.WORKSHOP)), figure("b", value("a", of="a")), figure("d")]

    assert [one.id for one in results(Audience.PUBLIC, chain).worked] == ["d"]


@pytest.mark.parametrize("link", [{"source": "D01"}, {"with_": "M1"}, {"tags": (("session", "D01"),)}])
def test_a_figure_is_withheld_with_the_record_its_value_comes_from(link):
    spec = Specification(items=(item("D01", audience=Audience.OWNER),))
    workshop = WorkshopFile(form="1", name="W", instruments=(Instrument(id="M1", name="n", u=quantity("1 mm"), audience=Audience.OWNER),))

    assert results(Audience.PUBLIC, [figure("a", value(**link))], specification=spec, workshop=workshop).worked == ()


def test_a_value_goes_out_without_its_history():
    workshop = WorkshopFile(form="1", name="W", people=(Person(id="MH", shown_as="the builder"),))
    photos = Photos(photos=(photo("PH-9", Audience.OWNER),))

    edition = results(Audience.PUBLIC, [figure("a", value(by="MH", photo="PH-9"))], workshop=workshop, photos=photos)

    one = edition.worked[0].inputs[0].values[0]
    assert (type(one.number), one.by, one.photo, edition.worked[0].number) == (float, "the builder", "", None)


def test_every_field_of_a_result_was_decided_on():
    left_out = {(form.__name__, one.name) for form, listed in PASSES.items() for one in fields(form) if one.name not in listed}

    # the number of a figure remembers its variables
    assert left_out == {("Worked", "number")}
    assert all(dataclasses.is_dataclass(form) for form in PASSES)


def test_verdicts_pass_by_audience_and_with_their_item():
    spec = Specification(items=(item("D01", audience=Audience.OWNER), item("D02")))

    edition = results(Audience.PUBLIC, (), [verdict("D01"), verdict("D02"), verdict("D03", audience=Audience.OWNER)], specification=spec)

    assert [one.item for one in edition.verdicts] == ["D02"]
    assert edition.withheld["verdicts"] == 2


def test_a_verdict_does_not_stand_without_the_agreement_that_makes_it():
    spec = Specification(items=(item("D01"),), concessions=(concession("C-01", audience=Audience.OWNER),))

    assert results(Audience.PUBLIC, (), [verdict(concession="C-01")], specification=spec).verdicts == ()


def test_a_verdict_falls_with_the_figure_it_judges():
    judged = (Judged("", 1.0, 0.1, Outcome.FAILS, figure="a"),)

    edition = results(Audience.PUBLIC, [figure("a", value(audience=Audience.OWNER)), figure("b")], [verdict(judged=judged), verdict("D02")])

    assert [one.item for one in edition.verdicts] == ["D02"]


def test_a_verdict_leads_to_no_figure_that_is_not_there():
    edition = results(Audience.PUBLIC, (), [verdict(judged=(Judged("", 1.0, 0.1, Outcome.FAILS, figure="a"),))])

    assert edition.verdicts[0].judged[0].figure == ""


def test_the_count_of_sources_is_not_told_where_one_of_them_is_withheld():
    spec = Specification(items=(item("D01", evidence=("E17",)), item("D02", evidence=("E01",))))
    sources = (evidence("E01"), evidence("E17", derived_from="E06"), evidence("E06", audience=Audience.OWNER))
    both = [verdict(one, independent_sources=1, warnings=(Warned("single-source", "w"),)) for one in ("D01", "D02")]

    edition = results(Audience.PUBLIC, (), both, specification=spec, evidence=EvidenceFile(evidence=sources))

    assert [(one.independent_sources, len(one.warnings)) for one in edition.verdicts] == [(0, 0), (1, 1)]


def test_a_what_if_passes_with_its_block_and_only_what_is_made_of_what_is_shown():
    blocks = tuple(WhatIf(id=id, title="t", instead=(), audience=kept) for id, kept in (("wheel", None), ("secret", Audience.OWNER)))
    changed = (figure("trail"), figure("a", value(audience=Audience.OWNER)))

    edition = results(
        Audience.PUBLIC, what_if=(("wheel", changed), ("secret", changed)), measurements=Measurements(what_if=blocks)
    )  # fmt: skip

    assert [(name, [one.id for one in worked]) for name, worked in edition.what_if] == [("wheel", ["trail"])]


def test_notices_are_the_warnings_of_what_is_shown_and_problems_stay_in_the_workshop(monkeypatch):
    monkeypatch.setitem(codes.CODES, "probe", codes.Code("warning", "t", "e"))
    warned = figure("a", warnings=(Warned("figure-unusual", "out of the usual"),))
    problem = Problem("probe", "price '410' is odd", Place("parts.yaml", 3, 1))
    known = KnownBuild(build(), (warned,), (verdict(warnings=(Warned("single-source", "one"),)),), (problem,))

    assert [(one.code, one.about) for one in let_out(known, Audience.PUBLIC).notices] == [("figure-unusual", "a"), ("single-source", "D01")]
    assert let_out(known, Audience.WORKSHOP).notices[-1].about == "parts.yaml, line 3"


def test_a_problem_that_only_repeats_a_warning_is_said_once(monkeypatch):
    monkeypatch.setitem(codes.CODES, "single-source", codes.Code("note", "t", "e"))
    repeated = Problem("single-source", "item D01: one", Place("specification.yaml", 3, 1))
    known = KnownBuild(build(), (), (verdict(warnings=(Warned("single-source", "one"),)),), (repeated,))

    assert [one.about for one in let_out(known, Audience.WORKSHOP).notices] == ["D01"]


def test_a_missing_mandatory_record_makes_a_draft_for_every_audience():
    known = KnownBuild(build(), missing_records=("snags",))

    for audience in Audience:
        assert (let_out(known, audience).draft, let_out(known, audience).missing_records) == (True, ("snags",))
    assert not let_out(KnownBuild(build()), Audience.PUBLIC).draft


# ------------------------------------------------------------ the only place


def _orders_audiences(node):
    ordering = (ast.Lt, ast.LtE, ast.Gt, ast.GtE)
    words = ("audience", "seen_by", "rung")
    return (
        isinstance(node, ast.Compare)
        and any(isinstance(op, ordering) for op in node.ops)
        and any(word in ast.unparse(node).lower() for word in words)
    )


def test_no_other_room_orders_audiences():
    found = [
        f"{path.relative_to(ROOT)}:{node.lineno}"
        for path in sorted((ROOT / "dossier").rglob("*.py"))
        if "audience" not in path.relative_to(ROOT / "dossier").parts[0]
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if _orders_audiences(node)
    ]

    assert found == []


def test_the_search_for_orderings_would_find_one():
    assert _orders_audiences(ast.parse("mark <= edition.audience", mode="eval").body)
    assert not _orders_audiences(ast.parse("edition.audience is Audience.PUBLIC", mode="eval").body)
