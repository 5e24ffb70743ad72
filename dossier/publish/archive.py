"""The archive over several builds: one light site whose pages lead into the dossiers, each a site of its own."""

from __future__ import annotations

import calendar as calendars
import shutil
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from dossier.model.entry import Entry
from dossier.pages.archive.all_builds import owner_of
from dossier.pages.archive.due_soon import CALENDAR
from dossier.pages.archive.over_all import write_over_all
from dossier.pages.page import Page
from dossier.pages.parts.numbers import day
from dossier.publish.dossier import build_pages
from dossier.publish.due_calendar import due_calendar
from dossier.publish.search_all import search_all
from dossier.publish.staging import SiteFacts

AT_ONCE = 6_000_000
"""Letters of HTML handed on at once, beyond the listed pages."""


def publish_archive(entries: Sequence[Entry], out: Path) -> tuple[str, ...]:
    """Make the archive's own pages in `out`, where each dossier lies or will lie in a folder named by its slug.

    `entries` are of one audience, in the order in which they are listed. Returns links that lead nowhere. ValueError where there is no
    entry, or entries of several audiences, or two of one slug: what is for fewer eyes must not be listed for more.
    """
    if not entries or len({one.audience for one in entries}) != 1 or len({one.slug for one in entries}) != len(entries):
        raise ValueError("an archive is made of one entry or more, all for one audience, each with a slug of its own")
    there = [f"{one.slug}/{sheet}.html" for one in entries for sheet, _ in one.sheets]
    files: dict[str, Path | bytes] = {CALENDAR: calendar} if (calendar := due_calendar(entries)) else {}
    with tempfile.TemporaryDirectory(prefix="dossier-") as aside:
        made = Path(aside) / "site"
        listed, more = write_over_all(entries)
        dead = build_pages(listed, _facts(entries), files, made, Path(aside), there)
        for n, some in enumerate(_portions(more)):
            dead += _continued(some, listed, _facts(entries), made, Path(aside, str(n)), there)
        dead = tuple(one for one in dead if not (made / _page_of(one)).is_file())
        search_all(entries, made)
        shutil.copytree(made, out, dirs_exist_ok=True)  # a site is built into an empty folder, and here the dossiers lie already
    return dead


def _page_of(dead: str) -> str:
    """The page that a link leads to that was dead when its own page was built; another portion may hold it."""
    address = dead.partition(": ")[2].rpartition(", ")[0]
    return address.partition("#")[0] or "."


def _portions(pages: Iterable[Page]) -> Iterator[list[Page]]:
    """Pages by the handful, so that thousands of machines take no more memory than a few."""
    some: list[Page] = []
    for page in pages:
        some.append(page)
        if sum(len(one.html) for one in some) > AT_ONCE:
            yield some
            some = []
    if some:
        yield some


def _continued(
    some: Sequence[Page], listed: Sequence[Page], facts: SiteFacts, made: Path, aside: Path, there: Sequence[str]
) -> tuple[str, ...]:
    """Build pages that continue others: as sheets of the same site, of which they alone are taken over. Returns links that lead nowhere."""
    aside.mkdir()
    stubs = [replace(page, html="", sections=()) for page in listed]
    dead = build_pages([*stubs, *some], facts, {}, aside / "site", aside, there)
    for page in some:
        shutil.move(aside / "site" / f"{page.slug}.html", made / f"{page.slug}.html")
    shutil.rmtree(aside)
    return dead


def _facts(entries: Sequence[Entry]) -> SiteFacts:
    latest = max(one.revised for one in entries)
    notices = dict.fromkeys(one.notice for one in entries if one.notice)
    return SiteFacts(
        title=f"Archive of {owner_of(entries)}", short="All builds", build="", builder=owner_of(entries), edition=entries[0].audience.capitalize(),
        revision="", revised=day(latest), notice=" ".join(notices), epoch=max(0, calendars.timegm(latest.timetuple())),
    )  # fmt: skip
