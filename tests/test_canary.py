"""A distinct word in every field of every form: none of them may turn up in an edition it is not for."""

import json
import re
from dataclasses import asdict

import pytest

from dossier.audience import let_out
from dossier.model.audience import Audience
from tests.filled_build import everything, without_originals

LESSER = (Audience.PUBLIC, Audience.OWNER)
_WORD = re.compile(r"\b(?:public|owner|workshop)-[A-Za-z0-9-]+-[0-9]+")


def _text(edition):
    return repr(edition) + json.dumps(asdict(edition), default=str, ensure_ascii=False)


def _words(text, *rungs):
    return {word for word in _WORD.findall(text) if word.split("-")[0] in {rung.word for rung in rungs}}


@pytest.mark.parametrize("audience", LESSER, ids=lambda one: one.word)
def test_no_word_of_a_higher_rung_is_anywhere_in_an_edition(audience):
    text = _text(without_originals(let_out(everything(), audience)))

    assert _words(text, *(rung for rung in Audience if rung > audience)) == set()


@pytest.mark.parametrize("audience", Audience, ids=lambda one: one.word)
def test_every_word_an_audience_may_see_is_in_its_edition(audience):
    known = everything()
    mine = tuple(rung for rung in Audience if rung <= audience)

    missing = _words(repr(known), *mine) - _words(repr(let_out(known, audience)), *mine)

    # below the workshop a person goes by how the person is shown
    assert missing == (set() if audience is Audience.WORKSHOP else {one.id for one in known.build.workshop.people})


@pytest.mark.parametrize("audience", LESSER, ids=lambda one: one.word)
def test_changing_every_private_value_leaves_an_edition_as_it_was(audience):
    one, other = (without_originals(let_out(everything(seed, steady=audience), audience)) for seed in (0, 7))

    assert one == other
    assert _text(one) == _text(other)


def test_changing_every_private_value_does_change_the_workshop_edition():
    one, other = (let_out(everything(seed), Audience.WORKSHOP) for seed in (0, 7))

    assert one != other


@pytest.mark.parametrize("audience", LESSER, ids=lambda one: one.word)
def test_the_file_names_of_the_originals_are_only_where_publishing_finds_them(audience):
    edition = let_out(everything(), audience)

    shown = [one.id for one in edition.build.photos.photos]
    assert [one.photo for one in edition.travels] == shown
    assert all(one.file == "" and one.facts is None and one.masks == () for one in edition.build.photos.photos)
    assert all(one.masks for one in edition.travels)


def test_the_workshop_sees_the_whole_build():
    known = everything()

    assert let_out(known, Audience.WORKSHOP).build == known.build
    assert let_out(known, Audience.WORKSHOP).withheld == {}
