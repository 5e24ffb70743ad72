"""Release lines: what they open, to whom, and what no line opens."""

import pytest

from dossier.model.audience import Audience
from dossier.model.forms.custody import Custody, Paper
from dossier.model.forms.parts import GoodsIn, Parts
from dossier.model.forms.workshop import WorkshopFile
from dossier.model.problems import Place
from tests.audience.given import owner, part, public, released, seen
from tests.conform.small_build import machine


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
