"""Bytes of a text file to text, and all that can be wrong with them before a word is understood."""

from __future__ import annotations

import codecs
import re

from dossier.model.problems import Place, Problem

LARGEST = 8_000_000
LINE_END = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
"""What ends a line in YAML 1.1 (section 5.4 there), so that our lines are the parser's lines."""

CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\u202a-\u202e\u2066-\u2069\ufffe\uffff]")
"""What no text may hold: control characters, and those that turn the direction of writing and so hide what is written."""

_WIDE = (codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def decoded(data: bytes, file: str, largest: int = LARGEST) -> tuple[str | None, list[Problem]]:
    """The text of a file that should be UTF-8, or None where it is not; and what is wrong with its bytes. Never raises."""
    if len(data) > largest:
        return None, [Problem("file-too-large", f"the file has {len(data) / 1e6:.0f} MB, which no one wrote by hand", Place(file))]
    problems: list[Problem] = []
    if any(data.startswith(mark) for mark in _WIDE):
        return None, [Problem("file-encoding", "the file is UTF-16 or UTF-32, not UTF-8", Place(file), "save it as UTF-8")]
    if data.startswith(codecs.BOM_UTF8):
        problems.append(
            Problem("file-bom", "the file begins with a byte-order mark, which was skipped", Place(file), "save it as UTF-8 without BOM")
        )
        data = data[len(codecs.BOM_UTF8) :]
    if (at := data.find(0)) >= 0:
        rest = LINE_END.split(data[at : at + 200].decode("utf-8", "replace"))[0]
        place = _place(data[:at].decode("utf-8", "replace"), rest, file)
        return None, [*problems, Problem("file-nul", "a byte of value nought stands in the text", place, "restore the file from a copy")]
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as fault:
        before = data[: fault.start].decode("utf-8")
        rest = LINE_END.split(data[fault.start : fault.start + 200].decode("cp1252", "replace"))[0]
        message = f"the byte {data[fault.start]:#04x} is not UTF-8 (in Windows-1252 it would be {rest[:1]!r})"
        return None, [*problems, Problem("file-encoding", message, _place(before, rest, file), "save the file as UTF-8")]
    if found := CONTROL.search(text):
        place = _place(text[: found.start()], LINE_END.split(text[found.start() :][:200])[0], file)
        return None, [*problems, Problem("file-control", f"the control character {found[0]!r} stands here", place, "delete it")]
    if ({"\r\n"} != (ends := set(LINE_END.findall(text))) and len(ends) > 1) or "\r" in ends:
        problems.append(
            Problem("file-crlf", "the lines of this file end in different ways, or in an unusual one", Place(file), "save it anew")
        )
    return text, problems


def _place(before: str, after: str, file: str) -> Place:
    """The place after the text `before`; control characters of the line are shown as one sign each, lest they act on a terminal."""
    lines = LINE_END.split(before)
    return Place(file, len(lines), len(lines[-1]) + 1, CONTROL.sub("\ufffd", (lines[-1] + after)[:400]))
