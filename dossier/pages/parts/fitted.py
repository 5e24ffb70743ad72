"""What is fitted: the declared items of some groups that are no numbers, each with what was found and its verdict."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.pages.parts.links import link, linked
from dossier.pages.parts.numbers import esc
from dossier.pages.parts.tables import Column, Row, table
from dossier.pages.parts.verdicts import readings_cell, verdict_words


def fitted_table(edition: Edition, groups: tuple[str, ...], caption: str) -> str:
    """The items of those groups that declare a choice, a presence, a count or a finish; empty where there are none."""
    columns = [
        Column("No.", "c-no"), Column("Characteristic"), Column("Declared", "c-dec"), Column("As built", "c-built"),
        Column("Verdict", "c-verdict"),
    ]  # fmt: skip
    rows = []
    for item in edition.build.specification.items:
        verdict = edition.verdict(item.id)
        if item.group not in groups or item.kind == "numeric" or verdict is None:
            continue
        over = f"<br>by agreement {link(edition, verdict.concession)}" if verdict.concession else ""
        declared = linked(edition, item.declared.text) if item.declared else "open"
        rows.append(
            Row([link(edition, item.id), esc(item.title), declared, readings_cell(edition, verdict, 0), verdict_words(verdict.raw) + over])
        )
    return table(caption, columns, rows, css="fitted") if rows else ""
