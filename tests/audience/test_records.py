"""Which records and fields each audience reads."""

from dataclasses import dataclass, replace
from typing import ClassVar

import pytest

from dossier.audience import NothingToShow
from dossier.audience.forms import Sieve
from dossier.model.audience import Audience, Public
from dossier.model.forms.custody import Custody, Paper
from dossier.model.forms.machine import Stamping
from dossier.model.forms.parts import GoodsIn, Parts, Rework, Supplier
from dossier.model.forms.record import Record
from dossier.model.forms.running import Running
from dossier.model.notation import quantity
from tests.audience.given import build, owner, part, public, seen
from tests.conform.small_build import machine


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
