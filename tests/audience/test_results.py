"""Figures, verdicts and notices: nothing is made of what an audience may not see."""

import dataclasses
from dataclasses import fields

import pytest

from dossier.audience import let_out
from dossier.audience.results import PASSES
from dossier.model import codes
from dossier.model.audience import Audience
from dossier.model.forms.evidence import EvidenceFile
from dossier.model.forms.measurements import Measurements, Role, WhatIf
from dossier.model.forms.photos import Photos
from dossier.model.forms.specification import Specification
from dossier.model.forms.workshop import Instrument, Person, WorkshopFile
from dossier.model.notation import quantity
from dossier.model.problems import Place, Problem
from dossier.model.quantity import variable
from dossier.model.results import InputUsed, Judged, Outcome, Value, Verdict, Warned, Worked
from tests.audience.given import build, photo
from tests.conform.small_build import concession, evidence, item
from tests.filled_build import KnownBuild


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


def test_where_an_agreement_is_withheld_the_raw_verdict_stands_without_it():
    spec = Specification(items=(item("D01"),), concessions=(concession("C-01", audience=Audience.OWNER),))

    (shown,) = results(
        Audience.PUBLIC, (), [verdict(concession="C-01", raw=Outcome.FAILS, says="C-01 holds", lapsed="x")], specification=spec
    ).verdicts

    assert (shown.outcome, shown.concession, shown.lapsed) == (Outcome.FAILS, "", "")
    assert shown.says == "An agreement about it is withheld from this edition."


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
