"""Entries of invented machines, made by hand, for the tests of the pages over all builds."""

from __future__ import annotations

import datetime
from dataclasses import replace
from typing import Any

from dossier.model.entry import FORM, Entry, Moment
from dossier.pages.page import Page

DAY = datetime.date.fromisoformat
SHEETS = tuple((slug, slug.capitalize()) for slug in ("index", "specification", "figures", "parts", "work", "care", "snags", "evidence"))
PLAIN = Entry(
    form=FORM, audience="workshop", slug="brennock", title="Orrisdale replica of the Brennock 250 (1961), completed 2024", short="Brennock replica",
    build_no="ORW-02", statement="This machine is a replica.", what_it_is="reproduction by another builder, called a replica in the trade",
    builder="Orrisdale Works", workshop="Orrisdale Works", completed=2024,
    copies=Moment("Brennock 250, machine no. 2", "Ilse Tarn", "Corvane Park", DAY("1961-06-04")), revision="B",
    revised=DAY("2025-05-03"), sheets=SHEETS,
)  # fmt: skip


def entry(slug: str, **changed: Any) -> Entry:
    """The plain entry under another slug, whose build number is the slug in capitals."""
    return replace(PLAIN, slug=slug, build_no=slug.upper(), **changed)


def html_of(pages: Any) -> str:
    """All sheets of a page one after another."""
    return "\n".join(page.html for page in pages)


def by_slug(pages: Any) -> dict[str, Page]:
    """Sheets by their slug."""
    return {page.slug: page for page in pages}
