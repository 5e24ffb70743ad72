"""The table of problem codes is complete and readable, and every code that is used is in it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import dossier
from dossier.model.codes import CODES
from dossier.model.problems import Severity

SOURCE = Path(dossier.__file__).parent


@pytest.mark.parametrize("code", sorted(CODES))
def test_a_code_is_two_plain_words_or_more_with_a_severity_a_title_and_a_paragraph(code: str):
    severity, title, explanation = CODES[code]
    assert re.fullmatch(r"[a-z]+(-[a-z]+)+", code)
    assert severity in {one.value for one in Severity}
    assert title[0].islower() or title.startswith("NUL")
    assert not title.endswith(".")
    assert len(explanation.split()) >= 10
    assert explanation.endswith(".")
    assert "  " not in explanation


def test_every_code_raised_anywhere_in_the_package_is_in_the_table():
    raised = re.compile(r"(?:Problem|Unreadable|photo_fault|_refused|_order)\(\s*\"([a-z]+(?:-[a-z]+)+)\"")
    used = {code for file in SOURCE.rglob("*.py") for code in raised.findall(file.read_text(encoding="utf-8"))}
    assert len(used) > 40
    assert used <= set(CODES)
