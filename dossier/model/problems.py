"""Place and Problem: what is wrong with a user's file, where, and what to write instead; and the table of all codes."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from dossier.model.codes import CODES


class Severity(Enum):
    """How bad: an error stops publishing; a warning is published beside the value; a note is only said."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, order=True)
class Place:
    """Where something stands: file as the user would name it, line and column from 1 (0: the file as a whole), and the line itself."""

    file: str = ""
    line: int = 0
    column: int = 0
    text: str = ""

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


NOWHERE = Place()


@dataclass(frozen=True)
class Problem:
    """One fault: its code, one sentence (lower case, no full stop), its place, and what to write instead."""

    code: str
    message: str
    place: Place = NOWHERE
    instead: str = ""
    field: str = ""

    def __post_init__(self) -> None:
        """A code that is not in the table is our own fault."""
        if self.code not in CODES:
            raise KeyError(f"problem code {self.code!r} is not in the table")

    @property
    def severity(self) -> Severity:
        """As the table of codes says."""
        return Severity(CODES[self.code].severity)

    def lines(self) -> list[str]:
        """As printed: place, code and sentence, the line with a caret, what to write instead."""
        out = [f"{self.place}: {self.severity.value} {self.code}: {self.message}"]
        if self.place.text:
            out.append(f"    {self.place.text}")
            out.append("    " + "".join("\t" if c == "\t" else " " for c in self.place.text[: self.place.column - 1]) + "^")
        if self.instead:
            out.append(f"    instead: {self.instead}")
        return out

    def as_dict(self) -> dict[str, object]:
        """For machines: code, severity, file, line, column, field, message, instead."""
        return {
            "code": self.code, "severity": self.severity.value, "file": self.place.file, "line": self.place.line,
            "column": self.place.column, "field": self.field, "message": self.message, "instead": self.instead,
        }  # fmt: skip


def near(word: str, known: Iterable[str]) -> list[str]:
    """Up to three known words that resemble `word`, nearest first."""
    return difflib.get_close_matches(word, list(known), n=3, cutoff=0.6)


def did_you_mean(word: str, known: Iterable[str], otherwise: str = "") -> str:
    """A sentence that offers near names, or `otherwise`."""
    names = near(word, known)
    return f"did you mean {' or '.join(names)}?" if names else otherwise


def in_order(problems: Iterable[Problem]) -> list[Problem]:
    """Problems as a person would read them: by file, line, column, code; the same one never twice."""
    unique = {(p.code, p.place, p.message): p for p in problems}
    return sorted(unique.values(), key=lambda p: (p.place.file, p.place.line, p.place.column, p.code, p.message))
