"""What is withheld is no longer named: records that fall, ids, persons, logs and notes."""

from dossier.model.audience import Audience
from dossier.model.build import LogTable, Note
from dossier.model.forms.measurements import Entry, Measurements
from dossier.model.forms.parts import Part, Parts, Rejected, Supplier
from dossier.model.forms.photos import Photos, Pin
from dossier.model.forms.running import Dyno, Running
from dossier.model.forms.specification import Specification
from dossier.model.forms.work import Operation, Work
from dossier.model.forms.workshop import Person, WorkshopFile
from dossier.model.notation import quantity
from tests.audience.given import DAY, corner, owner, part, photo, public, seen
from tests.conform.small_build import concession, item


def test_what_cannot_stand_without_a_withheld_record_falls_with_it():
    spec = Specification(
        items=(item("D01", audience=Audience.OWNER), item("D02")), concessions=(concession("C-01", item="D01", remark="r"),)
    )
    entries = Measurements(as_built=(Entry(what="D01", found="x"), Entry(what="D02", found="y")))
    photos = Photos(photos=(photo(pins=(Pin(x=corner(1), y=corner(1), to="D01"), Pin(x=corner(1), y=corner(1), to="D02"))),))

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


def test_logs_pass_by_their_audience_and_only_with_their_record():
    logs = tuple(LogTable(id, kind, "t", (), (), ((3, "what stood there"),), belongs, audience=rung) for id, kind, belongs, rung in (
        ("DY-1", "dyno_run", "DY-1", Audience.PUBLIC), ("DY-2", "dyno_run", "DY-2", Audience.PUBLIC), ("left", "bore_readings", "", Audience.OWNER),
    ))  # fmt: skip
    dyno = tuple(Dyno(id=id, date=DAY, at="rear wheel", audience=kept) for id, kept in (("DY-1", None), ("DY-2", Audience.OWNER)))

    edition = public(logs=logs, running=Running(dyno=dyno))

    assert [(one.id, one.left_out) for one in edition.build.logs] == [("DY-1", ((3, ""),))]
    assert edition.withheld["logs"] == 2
    assert len(seen(Audience.WORKSHOP, logs=logs).build.logs) == 3


def test_rows_of_a_log_that_name_what_is_withheld_fall_away_and_persons_go_as_they_are_shown():
    columns = (("part", ""), ("mass", "g"), ("by", ""))
    log = LogTable("sheet", "weigh_sheet", "t", columns, (("P05", 7.0, "VR"), ("P06", 8.0, "VR")), audience=Audience.PUBLIC)
    parts = Parts(parts=(Part(id="P05", name="a", group="g", origin="unknown", audience=Audience.OWNER),))
    people = (Person(id="VR", shown_as="the workshop"),)

    rows = public(logs=(log,), parts=parts, workshop=WorkshopFile(form=1, name="w", people=people)).build.logs[0].rows

    assert list(rows) == [("P06", 8.0, "the workshop")]


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


def test_words_in_a_log_of_a_wider_audience_reach_no_narrower_edition():
    logs = (LogTable("a.torque_log", "torque_log", "t", (("joint", ""),), (("ZYXQ",),), audience=Audience.OWNER),)

    assert "ZYXQ" not in repr(public(logs=logs))
    assert "ZYXQ" in repr(owner(logs=logs).build.logs)
