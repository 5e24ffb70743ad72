"""The table of all problem codes: severity, one sentence, and the paragraph that `dossier explain` prints."""

from __future__ import annotations

from typing import NamedTuple


class Code(NamedTuple):
    """Severity (`error`, `warning`, `note`), a title, and what it means and what to do about it."""

    severity: str
    title: str
    explanation: str


CODES: dict[str, Code] = {}


def _code(code: str, severity: str, title: str, explanation: str) -> None:
    CODES[code] = Code(severity, title, " ".join(explanation.split()))
