"""A log to a table: header with units first, then rows; a row that cannot be read is left out, counted and listed with its reason."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import PurePosixPath

from dossier.model.build import LogTable
from dossier.model.forms.logs import LogWording
from dossier.model.problems import Place, Problem, did_you_mean
from dossier.model.rows import Rows
from dossier.read.files import Folder
from dossier.read.logs.body import Body, decimal_mark
from dossier.read.logs.header import Header, find_header
from dossier.read.logs.kind import LOG_KINDS, LogKind
from dossier.read.logs.lines import LARGEST, lines_of
from dossier.read.logs.wordings import read_wordings

ENDINGS = (".csv", ".tsv", ".txt", ".xlsx")
TOLD = 20
"""So many rows left out are told one by one; the rest only counted."""
_NAME = re.compile(r"(?P<id>.+)\.(?P<kind>[A-Za-z0-9_]+)\.(?:csv|tsv|txt|xlsx)", re.IGNORECASE)


def read_logs(folder: Folder) -> tuple[list[LogTable], list[Problem]]:
    """Every log in logs/, read as its header and logs.yaml say; and all that is wrong with them."""
    names = [name for ending in ENDINGS for name in folder.names("logs", ending)]
    wordings, problems = read_wordings(folder, names)
    logs = []
    for name in sorted(names):
        log, faults = read_log(folder, name, wordings)
        problems += faults
        logs += [log] if log else []
    return logs, problems


def read_log(folder: Folder, name: str, wordings: Mapping[str, LogWording] | None = None) -> tuple[LogTable | None, list[Problem]]:
    """A log of the build folder as read, None where its name or header says too little; and all that is wrong with it."""
    file = PurePosixPath(name).name
    wording = (wordings or {}).get(file)
    of, kind, problems = _named(file, wording, folder.place(name))
    if kind is None:
        return None, problems
    data, problems = folder.bytes_of(name, largest=LARGEST)
    if data is None:
        return None, problems
    lines, faults = lines_of(data, folder.shown(name), wording)
    del data
    problems += faults
    if lines is None:
        return None, problems
    reading = _Reading(kind, lines, folder.shown(name), wording)
    table = reading.table(of)
    table = table and replace(table, file=file)
    return table, problems + reading.problems


def _named(file: str, wording: LogWording | None, place: Place) -> tuple[str, LogKind | None, list[Problem]]:
    """The record a log belongs to and its kind, from its name or its mapping."""
    found = _NAME.fullmatch(file)
    of = (wording.of if wording else None) or (found["id"] if found else "")
    word = (wording.kind if wording else None) or (found["kind"] if found else "")
    if not (of and word):
        instead = "call it as in DY-1.dyno_run.csv, or give `of` and `kind` in logs.yaml"
        return "", None, [Problem("log-name", f"{file!r} does not say record and kind", place, instead)]
    if word not in LOG_KINDS:
        instead = did_you_mean(word, LOG_KINDS.names(), f"kinds: {', '.join(LOG_KINDS.names())}")
        return "", None, [Problem("log-kind-unknown", f"there is no kind of log {word!r}", place, instead)]
    return of, LOG_KINDS[word], []


class _Reading:
    """One log on its way from lines to a table."""

    def __init__(self, kind: LogKind, lines: list[str], file: str, wording: LogWording | None) -> None:
        self.kind, self.lines, self.file, self.wording = kind, lines, file, wording
        self.problems: list[Problem] = []
        self.left_out: list[tuple[int, str]] = []
        self.said: list[str] = []

    def table(self, of: str) -> LogTable | None:
        """The table, None where the header or the numbers cannot be understood."""
        if not any(line.strip(" \t,;|") for line in self.lines):
            self._whole("log-empty", "there is nothing in this log", "delete it, or put the rows in")
            return None
        header = find_header(self.lines, self.kind, self.wording, self._at)
        if header is None:
            return None
        self._above(header)
        decimal = self._decimal(header)
        if not decimal:
            return None
        body = Body(header, self.lines, decimal, self._leave)
        rows = body.read()
        self._counted(rows, body)
        columns = tuple((head.column.name, head.unit) for head in header.heads)
        id, audience = f"{of}.{self.kind.name}", max(self.kind.audience, (self.wording and self.wording.audience) or self.kind.audience)
        table = LogTable(id, self.kind.name, self.kind.title, columns, rows, tuple(self.left_out), of, tuple(self.said), audience)
        self._look_over(table, body)
        return table

    def _above(self, header: Header) -> None:
        """Lines above the header, and columns that are not read: said, because they were not used."""
        above = [n for n in range(max(header.line, 0)) if self.lines[n].strip(" \t,;|")]
        if above:
            self.left_out += [(n + 1, "above the header") for n in above]
            message = f"{len(above)} lines above the header were left out"
            self._say("log-lines-above", message, Place(self.file, above[0] + 1, 1, self.lines[above[0]][:400]))
        if header.unread:
            known = [column.title for column in self.kind.columns if column.name not in {head.column.name for head in header.heads}]
            near = next((words for title in header.unread if (words := did_you_mean(re.split(r" *[\[(]", title)[0], known))), "")
            instead = near or "nothing need be done where they are of no use here"
            place = Place(self.file, header.line + 1, 1, self.lines[header.line][:400])
            self._say("log-columns", f"these columns were not read: {', '.join(header.unread)}", place, instead)

    def _decimal(self, header: Header) -> str:
        """The decimal mark, as stated or as the file proves; empty where neither does, with the question asked."""
        if self.wording and self.wording.decimal:
            return "," if self.wording.decimal == "comma" else "."
        mark, shown = decimal_mark(header, self.lines)
        if mark == ",":
            self._say("log-comma", f"the numbers were read with decimal commas, as {shown} shows", Place(self.file))
        if not mark:
            message = f"it cannot be told whether commas are decimal marks: {shown}"
            self._whole(
                "log-decimal", message, "say in logs.yaml: decimal: comma (or point); cells parted by commas want semicolons instead"
            )
        return mark

    def _counted(self, rows: Rows, body: Body) -> None:
        told = len(self.left_out) - sum(reason in ("above the header", "it is the header again") for _, reason in self.left_out)
        if told > TOLD:
            self._whole("log-row", f"{told} rows were left out in all, of which {TOLD} are told here")
        if body.again:
            times = "once" if body.again == 1 else f"{body.again} times"
            self._say("log-header-again", f"the header stands {times} more among the rows", Place(self.file))
        if not len(rows):
            self._whole("log-empty", "no row of this log could be read", "put rows below the header")

    def _look_over(self, table: LogTable, body: Body) -> None:
        for look in self.kind.faults:
            for odd in look(table):
                line = None if odd.row is None else body.line_of[odd.row]
                place = Place(self.file) if line is None else Place(self.file, line + 1, 1, self.lines[line][:400])
                self.problems.append(Problem(odd.code, odd.message, place, odd.instead))

    def _leave(self, code: str, n: int, at: int, reason: str, instead: str) -> None:
        self.left_out.append((n + 1, reason))
        if code != "log-header-again" and sum(1 for one in self.problems if one.message.startswith("row left out")) < TOLD:
            self._at(code, f"row left out: {reason}", n, at, instead)

    def _at(self, code: str, message: str, n: int, at: int, instead: str = "") -> None:
        self.problems.append(Problem(code, message, Place(self.file, n + 1, at + 1, self.lines[n][:400]), instead))

    def _say(self, code: str, message: str, place: Place, instead: str = "") -> None:
        self.said.append(message)
        self.problems.append(Problem(code, message, place, instead))

    def _whole(self, code: str, message: str, instead: str = "") -> None:
        self.problems.append(Problem(code, message, Place(self.file), instead))
