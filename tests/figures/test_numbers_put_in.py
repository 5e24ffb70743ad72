"""Every formula of a build can be printed with the numbers put in: no symbol is left without one."""

import re

import pytest

from dossier.model import formula
from dossier.record import make_record
from tests.publish.planted import BUILDS


@pytest.mark.parametrize("build", ["talvera-350-gp", "kestrane-125-r"])
def test_no_number_is_missing_where_a_formula_is_shown_with_its_numbers(build: str) -> None:
    record, _ = make_record(BUILDS / build)
    bare = [one.id for one in record.worked if one.value is not None and re.search(r"\(\s*\)", formula.plain(one.formula, one.numbers))]

    assert bare == []


def test_readings_in_pairs_are_put_in_along_and_across() -> None:
    """By hand from the demo's bore readings: 62.013 - 62.011 and so on."""
    record, _ = make_record(BUILDS / "talvera-350-gp")
    ovality, taper = (next(one for one in record.worked if one.id == name) for name in ("bore_ovality.left", "bore_taper.left"))

    assert "62.013 − 62.011" in formula.plain(ovality.formula, ovality.numbers)
    assert "62.012, 62.013, 62.011" in formula.plain(taper.formula, taper.numbers)
