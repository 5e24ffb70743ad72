"""The strongest test of the gate: change every private value of a whole build, work and judge it anew, and a lesser edition is the same."""

import datetime
from collections import Counter
from dataclasses import fields, replace
from decimal import Decimal
from pathlib import Path

import pytest

from dossier.audience import let_out
from dossier.conform.judge import judge
from dossier.conform.lookup import Lookup
from dossier.figures.figure import FIGURES
from dossier.figures.values import values_of
from dossier.figures.work_out import work_out
from dossier.model.audience import Audience, audiences_of
from dossier.model.forms.custody import Release
from dossier.model.forms.measurements import AXES, Entry
from dossier.model.forms.photos import Masked, Photo
from dossier.model.forms.record import Record
from dossier.model.quantity import Limits, Quantity
from dossier.read.folder import read_build
from tests.filled_build import KnownBuild, without_originals

BUILDS = sorted(path.parent for path in (Path(__file__).parent.parent / "builds").glob("*/machine.yaml"))
LESSER = (Audience.PUBLIC, Audience.OWNER)
# a release speaks of records by their ids, and an area that is destroyed is not a thing to be read
LEFT_ALONE = (Release, Masked)


def other(value):
    """Another value of the same kind."""
    if isinstance(value, Record):
        return value if isinstance(value, LEFT_ALONE) else replace(value, **{one.name: other(getattr(value, one.name)) for one in _told(value)})
    if isinstance(value, tuple):
        return tuple(other(one) for one in value)
    if isinstance(value, Quantity):
        return replace(value, number=value.number * 3 + 7, text="other")
    if isinstance(value, Limits):
        return replace(value, text="other")
    if isinstance(value, datetime.date):
        return value + datetime.timedelta(days=400)
    if isinstance(value, str):
        return f"other-{value}"
    return value + 5 if isinstance(value, (int, Decimal)) and not isinstance(value, (bool, Audience)) else value


def _told(record):
    # which quantity an entry holds is to it what an id is to other records: that there is such a one is said, as a number
    kept = ("what", "unit", *AXES) if isinstance(record, Entry) else ()
    return [one for one in fields(record) if one.name not in ("written", "audience", "id", "seen_by", "facts", *kept)]


def disturbed(record, audience):
    """The record with everything changed that this audience may not read."""
    if (record.audience is not None and record.audience > audience) or (isinstance(record, Photo) and record.seen_by > audience):
        return other(record)
    marks = audiences_of(type(record))
    changed = {}
    for one in _told(record):
        value = getattr(record, one.name)
        if marks[one.name] > audience:
            changed[one.name] = other(value)
        elif isinstance(value, Record):
            changed[one.name] = disturbed(value, audience)
        elif isinstance(value, tuple) and value and isinstance(value[0], Record):
            changed[one.name] = tuple(disturbed(inner, audience) for inner in value)
    return replace(record, **changed)


def whole(build):
    worked = work_out(values_of(build, datetime.date(2025, 10, 4)), FIGURES.gather(), build.machine.engine.strokes)
    return KnownBuild(build, worked, judge(build, Lookup(build, values_of(build, datetime.date(2025, 10, 4)), worked), "E"))


def stirred(build, audience):
    sheets = {one.name: disturbed(sheet, audience) for one in fields(build) if isinstance(sheet := getattr(build, one.name), Record)}
    notes = tuple(note if Audience[note.audience.upper()] <= audience else replace(note, text="other") for note in build.notes)
    return replace(build, **sheets, notes=notes)


@pytest.mark.parametrize("audience", LESSER, ids=lambda one: one.word)
@pytest.mark.parametrize("folder", BUILDS, ids=lambda one: one.name)
def test_no_private_value_of_a_build_changes_what_a_lesser_edition_says(folder, audience):
    build, _ = read_build(folder)
    before, after = (without_originals(let_out(whole(one), audience)) for one in (build, stirred(build, audience)))

    assert stirred(build, audience) != build
    assert before == after


@pytest.mark.parametrize("folder", BUILDS, ids=lambda one: one.name)
def test_narrowing_any_one_record_leaves_no_trace_of_its_words_with_the_public(folder):
    """Each item in turn is kept to the owner, and its title, its verdict and its own readings are gone."""
    build, _ = read_build(folder)
    for item in build.specification.items:
        hidden = tuple(replace(one, audience=Audience.OWNER) if one is item else one for one in build.specification.items)
        narrowed = replace(build, specification=replace(build.specification, items=hidden))

        edition = let_out(whole(narrowed), Audience.PUBLIC)

        assert edition.verdict(item.id) is None
        assert item.id not in {one.id for one in edition.build.specification.items}
        assert not any(one.source == item.id for figure in edition.worked for use in figure.inputs for one in use.values)
        assert all(isinstance(one, Entry) and one.what != item.id for one in edition.build.measurements.as_built)


def test_there_are_builds_to_test_with():
    assert Counter(path.name for path in BUILDS)
