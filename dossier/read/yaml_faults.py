"""The YAML parser's complaints, told again in words that say what to do."""

from __future__ import annotations

from collections.abc import Sequence

import yaml

Told = tuple[str, str, str, int, int]
"""Code, sentence, what to write instead, line and column from 0."""

_SENTENCES = (
    ("mapping values are not allowed", "a second colon stands in this line", 'put the text in quotes, as in title: "Sheet 3: brakes"'),
    ("could not find expected ':'", "this line has no colon after its key", "write key: value, with a blank after the colon"),
    (
        "did not find expected key",
        "this line does not fit the lines above it",
        "mend the indentation, or put a text with quotes inside it into outer quotes",
    ),
    ("did not find expected ',' or", "a bracket opened here is not closed, or a comma is missing", "close it, or put the text in quotes"),
    ("expected ',' or", "a bracket opened here is not closed, or a comma is missing", "close it, or put the text in quotes"),
    ("unexpected end of stream", "a quotation mark opened here is never closed", "close it, or delete it"),
    ("document separator", "a quotation mark or bracket opened here is never closed", "close it, or delete it"),
    ("unknown escape character", "a backslash has a meaning of its own in double quotes", "use single quotes around the text"),
    ("did not find expected hexdecimal", "a backslash has a meaning of its own in double quotes", "use single quotes around the text"),
    (
        "block sequence entries are not allowed",
        "a hyphen begins a list here, where none can stand",
        "put the text in quotes, or the list on lines of its own",
    ),
    (
        "block collections are not allowed",
        "a list or block begins here, where none can stand",
        "put it on a line of its own, or use brackets",
    ),
    (
        "did not find expected '-'",
        "this line does not fit the list above it",
        "mend the indentation: entries of one list begin in one column",
    ),
    ("did not find expected node", "a value is missing or begins with a sign that cannot begin one", "put the text in quotes"),
    ("unexpected document", "the text goes on after its end", "delete the line with --- or ..."),
    (
        "did not find expected <document start>",
        "this line does not belong to what stands before it",
        "mend the indentation, or delete the line",
    ),
    ("alphabetic or numeric character", "& and * cannot begin a text", "put the text in quotes"),
)


def told(fault: yaml.YAMLError, lines: Sequence[str]) -> Told:
    """Code, sentence, advice and place (line, column from 0) of a parser's complaint."""
    mark = getattr(fault, "problem_mark", None)
    context = getattr(fault, "context_mark", None)
    line, column = (mark.line, mark.column) if mark else (0, 0)
    said = f"{getattr(fault, 'problem', '') or ''} {getattr(fault, 'context', '') or ''}".strip()
    for where in {line, context.line if context else line}:
        shown = lines[where] if where < len(lines) else ""
        if "\t" in shown[: len(shown) - len(shown.lstrip())]:
            return "yaml-tab", "a tab stands in the indentation", "put blanks in its place", where, shown.index("\t")
    if line < len(lines) and "mapping values are not allowed" in said and lines[line].count(":") == 1:
        shown = lines[line]
        start = len(shown) - len(shown.lstrip())
        return (
            "yaml-syntax",
            "this line is set in too far, or the line above has no colon",
            "mend the indentation, or the line above",
            line,
            start,
        )
    if "while increasing flow level" in said or "exceeded" in said:
        return "yaml-depth", "brackets lie too deep within each other", "close the brackets", line, column
    if "while scanning a directive" in said or "%" in said:
        return "yaml-directive", "a directive stands here", "delete the line that begins with %", line, 0
    if "tag" in said:
        return "yaml-tag", "an exclamation mark begins a tag here", "put the whole text in quotes", line, column
    if "cannot start any token" in said:
        sign = lines[line][column : column + 1] if line < len(lines) else ""
        if sign == "\t":
            return "yaml-tab", "a tab stands where blanks are wanted", "put blanks in its place", line, column
        return "yaml-syntax", f"a text cannot begin with {sign!r}", "put the text in quotes", line, column
    for part, sentence, instead in _SENTENCES:
        if part in said:
            if context and ("opened here" in sentence):
                line, column = context.line, context.column
            return "yaml-syntax", sentence, instead, min(line, max(0, len(lines) - 1)), column
    return "yaml-syntax", "this line cannot be read as key and value", "look at colons, quotes, brackets and indentation", line, column
