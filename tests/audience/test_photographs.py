"""Photographs: who sees them, what is destroyed in them, and that their files are named nowhere."""

import pytest

from dossier.model.audience import Audience
from dossier.model.forms.custody import Custody
from dossier.model.forms.evidence import EvidenceFile
from dossier.model.forms.measurements import Entry, Measurements
from dossier.model.forms.photos import Masked, Photos
from dossier.model.forms.work import Operation, Work
from dossier.model.notation import quantity
from dossier.model.picture import Mask, PhotoFacts
from tests.audience.given import DAY, corner, owner, photo, public, released, seen
from tests.conform.small_build import evidence, machine


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


def test_an_area_is_destroyed_for_all_below_whom_it_is_kept_for_and_for_everybody_when_nobody_is_named():
    area = {"left": corner(10), "top": corner(20), "right": corner(30), "bottom": corner(40)}
    masks = (Masked(**area, seen_by=Audience.OWNER), Masked(points=tuple(map(corner, (1, 2, 3, 4, 5, 6)))))
    photos = Photos(photos=(photo(masks=masks, facts=PhotoFacts("sha", 1, 1, "jpeg")),))
    rectangle, polygon = Mask("rectangle", ((10, 20), (30, 40))), Mask("polygon", ((1, 2), (3, 4), (5, 6)))

    assert public(photos=photos).travels[0].masks == (rectangle, polygon)
    assert owner(photos=photos).travels[0].masks == (polygon,)
    assert seen(Audience.WORKSHOP, photos=photos).travels[0].masks == (polygon,)


def test_a_photograph_with_an_area_that_cannot_be_covered_is_withheld():
    photos = Photos(photos=(photo(masks=(Masked(left=corner(10), top=corner(20), right=corner(30)),)),))

    assert public(photos=photos).build.photos.photos == ()
