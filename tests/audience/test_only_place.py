"""The gate is the only place that orders audiences."""

import ast

from tests.audience.given import ROOT


def _orders_audiences(node):
    ordering = (ast.Lt, ast.LtE, ast.Gt, ast.GtE)
    words = ("audience", "seen_by", "rung")
    return (
        isinstance(node, ast.Compare)
        and any(isinstance(op, ordering) for op in node.ops)
        and any(word in ast.unparse(node).lower() for word in words)
    )


def test_no_other_room_orders_audiences():
    found = [
        f"{path.relative_to(ROOT)}:{node.lineno}"
        for path in sorted((ROOT / "dossier").rglob("*.py"))
        if "audience" not in path.relative_to(ROOT / "dossier").parts[0]
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if _orders_audiences(node)
    ]

    assert found == []


def test_the_search_for_orderings_would_find_one():
    assert _orders_audiences(ast.parse("mark <= edition.audience", mode="eval").body)
    assert not _orders_audiences(ast.parse("edition.audience is Audience.PUBLIC", mode="eval").body)
