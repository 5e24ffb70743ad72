"""YAML text to a tree: every place is right, no looks decide a value, and nothing a file may hold makes reading fail."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from dossier.read.places import Block, Listing, Node, Scalar, read_tree


def tree(text: str) -> Node | None:
    root, problems = read_tree(text.encode(), "f.yaml")
    assert problems == []
    return root


def faults(data: str | bytes) -> list[tuple[str, int, int]]:
    _, problems = read_tree(data if isinstance(data, bytes) else data.encode(), "f.yaml")
    return [(one.code, one.place.line, one.place.column) for one in problems]


def plain(node: Node | None) -> object:
    if isinstance(node, Block):
        return {key: plain(value) for key, (_, value) in node.entries.items()}
    if isinstance(node, Listing):
        return [plain(item) for item in node.items]
    return node.text if node else None


@pytest.mark.parametrize(
    "text",
    ["no", "yes", "on", "off", "y", "true", "12:30", "1e3", "0123", "0x1F", "0b1", ".nan", ".inf", "2026-02-29", "1_000", "3.10", "+5",
     "NULL", "Null", "=", "<<", "62.000 +0.020/-0 mm", "52-76 / 78-46", "1:41.8", "2.75-18", "5/8 in", "27.2°", "1" * 5000],
)  # fmt: skip
def test_a_value_stays_the_text_it_was_written_as(text: str):
    assert plain(tree(f"a: {text}\n")) == {"a": text}
    assert plain(tree(f"a: '{text}'\n")) == {"a": text}
    assert plain(tree(f"{text}: a\n")) == {text: "a"} if len(text) < 1000 else True


@pytest.mark.parametrize("text", ["", "~", "null", '""', "''"])
def test_nothing_written_is_nothing_said(text: str):
    root = tree(f"a: {text}\nb: c\n")
    assert plain(root) == {"a": None, "b": "c"}


def test_every_key_and_value_remembers_its_line_and_column():
    root = tree("# comment\nparts:\n  - {id: P01, name: Frame}\n  - id: P02\n    note: >\n      two\n      lines\n")
    assert isinstance(root, Block)
    key, parts = root.entries["parts"]
    assert (key.place.line, key.place.column) == (2, 1)
    assert isinstance(parts, Listing)
    first, second = parts.items
    assert isinstance(first, Block) and isinstance(second, Block)
    assert [(one.place.line, one.place.column) for one in (first, first.entries["name"][0], first.entries["name"][1])] == [
        (3, 5),
        (3, 15),
        (3, 21),
    ]
    assert first.entries["name"][1].place.text == "  - {id: P01, name: Frame}"
    note = second.get("note")
    assert isinstance(note, Scalar)
    assert (note.place.line, note.text) == (5, "two lines\n")


def test_places_count_characters_not_bytes_and_lines_of_every_kind():
    assert faults("a: ± °\r\nb: 日本 &x\r\nc: &x y\r\n") == [("yaml-anchor", 3, 4)]
    assert faults("\ufeffa: &x y\n") == [("file-bom", 0, 0), ("yaml-anchor", 1, 4)]


@pytest.mark.parametrize(
    ("text", "code", "line", "column"),
    [
        ("title: foo: bar\n", "yaml-syntax", 1, 11),
        ("a:\n  b: 1\n c: 2\n", "yaml-syntax", 3, 2),
        ("a: 1\n b: 2\n", "yaml-syntax", 2, 2),
        ("a: 1\nfoo\nb: 2\n", "yaml-syntax", 3, 1),
        ('a: "foo\nb: 2\n', "yaml-syntax", 1, 4),
        ("a: 'it's'\n", "yaml-syntax", 1, 8),
        ("a: [1, 2\nb: 3\n", "yaml-syntax", 1, 4),
        ("a: {b: 1 c: 2}\n", "yaml-syntax", 1, 4),
        ('a: "c:\\dir"\n', "yaml-syntax", 1, 7),
        ("a: @foo\n", "yaml-syntax", 1, 4),
        ("a: %foo\n", "yaml-syntax", 1, 4),
        ("a: `x`\n", "yaml-syntax", 1, 4),
        ("a: - b\n", "yaml-syntax", 1, 4),
        ("a: *\n", "yaml-syntax", 1, 5),
        ("a:\n\tb: 1\n", "yaml-tab", 2, 1),
        ("a:\n  b: 1\n  \tc: 2\n", "yaml-tab", 3, 3),
        ("a: &x 1\n", "yaml-anchor", 1, 4),
        ("a: !!python/object:os.system x\n", "yaml-tag", 1, 4),
        ("a: !important\n", "yaml-tag", 1, 4),
        ("a: 1\n---\nb: 2\n", "yaml-second-document", 2, 1),
        ("%YAML 1.1\n---\na: 1\n", "yaml-directive", 1, 1),
        ("%NOTE\na: 1\n", "yaml-directive", 1, 1),
        ("a: 1\nb: 2\na: 3\n", "yaml-duplicate-key", 3, 1),
        ("{a: 1, a: 2}\n", "yaml-duplicate-key", 1, 8),
        ("? [a]\n: b\n", "yaml-key-form", 1, 3),
        ("~: b\n", "yaml-key-form", 1, 1),
        ("[" * 2000, "yaml-depth", 1, 1001),
        ("a: " + "{a: " * 13, "yaml-depth", 1, 48),
        ("a: tank #3\n", "yaml-hash", 1, 9),
        ("day: #14513b\n", "yaml-hash", 1, 6),
        ("a: [62,013 mm]\n", "decimal-comma", 1, 8),
        ("a: {b: 62,013 mm}\n", "decimal-comma", 1, 11),
        ('a: "\\0"\n', "file-control", 1, 4),
        ("a: x\u202ey\n", "file-control", 1, 5),
        ("a: x\0\n", "file-nul", 1, 5),
    ],
)
def test_what_a_hand_slips_into_is_told_at_its_place(text: str, code: str, line: int, column: int):
    assert faults(text)[0] == (code, line, column)


def test_an_alias_bomb_is_refused_without_being_unrolled():
    lines = ["a: &a [x, x, x, x, x, x, x, x, x, x]"]
    for before, name in zip("abcdefgh", "bcdefghi", strict=True):
        lines.append(f"{name}: &{name} [{', '.join(['*' + before] * 10)}]")
    bomb = "\n".join(lines) + "\n"
    assert {code for code, _, _ in faults(bomb)} == {"yaml-anchor"}


@pytest.mark.parametrize(
    "text", ["a: 1 # comment\n", "a: 1 #\n", "a: #\n  b: 1\n", "a: '#3'\n", "# x\na: b#3\n", "a: >\n  tank #3\n", "a: 1 #--- x\n"]
)
def test_comments_and_quoted_or_inner_signs_are_let_be(text: str):
    assert faults(text) == []


@pytest.mark.parametrize("text", ["a: [1, 2, 3]\n", "a: [x,y]\n", "a: {b: 1, c: 2}\n", "a: [P01,P02]\n", "a: 1,2\n"])
def test_lists_of_separate_values_are_not_taken_for_torn_numbers(text: str):
    assert faults(text) == []


@pytest.mark.parametrize(
    "data", ["a: 850°\n".encode("latin-1"), "a: b\n".encode("utf-16"), "a: b\n".encode("utf-32"), b"a: \xed\xa0\x80\n", b"\xff"]
)
def test_bytes_that_are_not_utf_8_are_told(data: bytes):
    assert faults(data)[0][0] == "file-encoding"


def test_bytes_that_cannot_be_read_are_found_in_the_line_they_stand_in_whatever_ends_the_lines():
    assert faults(b"a: b\rc: d\r\ne: x\xb0\n") == [("file-encoding", 3, 5)]
    assert faults("a: b\u2028c: x\0\n") == [("file-nul", 2, 5)]


def test_a_file_with_comments_only_says_nothing():
    for text in ("", "\n", "# a\n", "---\n", "--- # a\n", "null\n", "~", '""'):
        root, problems = read_tree(text.encode(), "f.yaml")
        assert root is None
        assert [one.code for one in problems] == ["file-empty"]


FRAGMENTS = st.lists(
    st.sampled_from(
        ["a", "b:", ": ", "- ", "\n", "  ", "\t", "{", "}", "[", "]", ",", "&x ", "*x", "!", "!!str ", "#", " #x", "'", '"', "|", ">",
         "%", "@", "---", "...", "? ", "<<: ", "\\", "\\u0000", "\x00", "\x1b", "\ufeff", "\r", "\u2028",
         "0123", "1,5", "±", "\U0001f3cd", "~",
         "null"]
    ),
    max_size=40,
).map("".join)  # fmt: skip


@given(FRAGMENTS)
@example("? \n? \n")
@example("- - - - - - - - - - - - - - - x")
def test_whatever_is_written_reading_tells_faults_and_never_fails(text: str):
    root, problems = read_tree(text.encode("utf-8"), "f.yaml")
    for problem in problems:
        assert problem.lines()
        assert problem.place.column <= max(len(problem.place.text), 0) + 1 or not problem.place.text
    assert root is not None or problems


@given(st.binary(max_size=200))
def test_whatever_bytes_a_file_holds_reading_tells_faults_and_never_fails(data: bytes):
    root, problems = read_tree(data, "f.yaml")
    assert root is not None or problems
