"""The file of a log to lines of text: UTF-8, UTF-16 or a stated encoding, or one sheet of an XLSX workbook."""

from __future__ import annotations

import codecs
import datetime
import io
import zipfile
from decimal import Decimal
from typing import Any

from dossier.model.forms.logs import LogWording
from dossier.model.problems import Place, Problem
from dossier.read.text import LINE_END, decoded

LARGEST = 400_000_000
_WIDE = {codecs.BOM_UTF16_LE: "utf-16-le", codecs.BOM_UTF16_BE: "utf-16-be"}
_CODECS = {"utf-16": "utf-16", "windows-1252": "cp1252"}


def lines_of(data: bytes, file: str, wording: LogWording | None) -> tuple[list[str] | None, list[Problem]]:
    """The lines of a log's bytes, None where it is no text; and what is wrong with them. A workbook's cells are parted by tabs."""
    if data.startswith(b"PK\x03\x04") or file.lower().endswith(".xlsx"):
        return _of_workbook(data, file, wording.sheet if wording else None)
    text, problems = _text(data, file, wording.encoding if wording else None)
    if text is None:
        return None, problems
    # the common ends first: splitting by pattern takes ten times as long, and a log may have a million lines
    plain = text.replace("\r\n", "\n")
    return (LINE_END.split(plain) if any(end in plain for end in "\r\x85\u2028\u2029") else plain.split("\n")), problems


def _text(data: bytes, file: str, encoding: str | None) -> tuple[str | None, list[Problem]]:
    said: list[Problem] = []
    codec = _CODECS.get(encoding or "")
    if codec is None and (mark := data[:2]) in _WIDE and not data.startswith(codecs.BOM_UTF32_LE):
        codec, data = _WIDE[mark], data[2:]
        said = [Problem("log-encoding", "the log is UTF-16 and was read as such", Place(file), "nothing need be done")]
    if codec is not None:
        try:
            data = data.decode(codec).encode()
        except UnicodeDecodeError as fault:
            message = f"the log is not {encoding or 'UTF-16'} text: {fault.reason}"
            return None, [Problem("file-encoding", message, Place(file), "save it as UTF-8")]
    text, problems = decoded(data, file, LARGEST)
    return text, said + [_with_way_out(one) for one in problems]


def _with_way_out(problem: Problem) -> Problem:
    """A log is often not ours to save anew, so its encoding may be stated instead."""
    if problem.code not in ("file-encoding", "file-nul"):
        return problem
    way = "windows-1252" if problem.code == "file-encoding" else "utf-16"
    return Problem(problem.code, problem.message, problem.place, f"save it as UTF-8, or state its encoding in logs.yaml: encoding: {way}")


def _of_workbook(data: bytes, file: str, sheet: str | None) -> tuple[list[str] | None, list[Problem]]:
    import openpyxl

    place = Place(file)
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            if sum(one.file_size for one in packed.infolist()) > LARGEST:
                return None, [Problem("file-too-large", "the workbook unpacks to far too much", place, "save the sheet as CSV")]
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
        sheets = {one.title: one for one in book.worksheets}
        if sheet is not None and sheet not in sheets:
            return None, [Problem("log-sheet", f"the workbook has no sheet {sheet!r}", place, f"sheets: {', '.join(sheets)}")]
        filled = {title: one for title, one in sheets.items() if title == sheet or (sheet is None and any(any(row) for row in one.values))}
        if len(filled) > 1:
            instead = f"say which in logs.yaml: sheet: and one of: {'; '.join(filled)}"
            return None, [Problem("log-sheet", f"the workbook has {len(filled)} sheets with something on them", place, instead)]
        lines = ["\t".join(_cell(cell) for cell in row) for one in filled.values() for row in one.iter_rows()]
        return lines, []
    except (zipfile.BadZipFile, KeyError, ValueError, TypeError, OSError, AttributeError, IndexError, SyntaxError) as fault:
        message = f"the workbook cannot be opened ({type(fault).__name__})"
        return None, [Problem("log-workbook", message, place, "save the sheet as CSV, and put that in its place")]


def _cell(cell: Any) -> str:
    """A cell as it would stand in a CSV file; a per cent is a hundred times what the workbook keeps."""
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        number = Decimal(repr(value)) * (100 if str(cell.number_format).endswith("%") else 1)
        return format(number.normalize(), "f")
    if isinstance(value, datetime.datetime) and value.time() == datetime.time(0):
        value = value.date()
    if isinstance(value, datetime.timedelta):
        return format(Decimal(repr(value.total_seconds())).normalize(), "f")
    return " ".join(str(value).split())
