"""The archive over several builds: one light site whose pages lead into the dossiers, each a site of its own."""

from __future__ import annotations

import calendar as calendars
import hashlib
import shutil
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from dossier.model.entry import Entry, Head, heads_of
from dossier.pages.archive.all_builds import owner_of
from dossier.pages.archive.due_soon import CALENDAR
from dossier.pages.archive.over_all import write_over_all
from dossier.pages.page import Page
from dossier.pages.parts.numbers import day
from dossier.publish.again import take_over
from dossier.publish.dossier import build_pages
from dossier.publish.due_calendar import due_calendar
from dossier.publish.heard import heard
from dossier.publish.laid import MadeBefore
from dossier.publish.search_all import search_all
from dossier.publish.staging import SiteFacts

AT_ONCE = 1_500_000
"""Letters of HTML handed on at once, beyond the listed pages."""


@dataclass(frozen=True)
class MadeOver:
    """What came of it: links that lead nowhere, and of each page a digest of all it shows."""

    dead_links: tuple[str, ...]
    digests: dict[str, str]


def publish_archive(entries: Sequence[Entry], out: Path, before: MadeBefore | None = None) -> MadeOver:
    """Make the archive's own pages in `out`, where each dossier lies or will lie in a folder named by its slug.

    `entries` are of one audience, in the order in which they are listed. Pages that would be what they were `before` are taken over.
    ValueError where there is no entry, or entries of several audiences, or two of one slug: what is for fewer eyes must not be listed for more.
    """
    heads = heads_of(entries)
    if not heads or len({one.audience for one in heads}) != 1 or len({one.slug for one in heads}) != len(heads):
        raise ValueError("an archive is made of one entry or more, all for one audience, each with a slug of its own")
    calendar = due_calendar(entries)
    with tempfile.TemporaryDirectory(prefix="dossier-") as aside:
        making = _Making(heads, Path(aside), before)
        listed, more = write_over_all(entries)
        making.listed(listed, {CALENDAR: calendar} if calendar else {})
        for some in _portions(page for page in more if not making.as_before(page)):
            making.continued(listed, some)
        search_all(entries, making.site)
        shutil.copytree(making.site, out, dirs_exist_ok=True)  # a site is built into an empty folder, and here the dossiers lie already
    if before is not None:
        take_over({name: before.marks[name] for name in making.kept}, before.folder, out)
    return MadeOver(tuple(one for one in making.dead if not (out / _page_of(one)).is_file()), making.digests)


class _Making:
    """An archive's own pages in the making: which of them are what they were, and the site of all others."""

    def __init__(self, heads: Sequence[Head], aside: Path, before: MadeBefore | None) -> None:
        self.aside, self.site, self.before, self.facts = aside, aside / "site", before, _facts(heads)
        self.there = [f"{one.slug}/{sheet}.html" for one in heads for sheet, _ in one.sheets]
        self.frame = repr(self.facts)
        self.digests: dict[str, str] = {}
        self.kept: list[str] = []
        self.dead: list[str] = []

    def as_before(self, page: Page) -> bool:
        """Whether a page would be what it was, frame and all; then it is to be taken over."""
        digest = hashlib.sha256(f"{self.frame}\n{page}".encode("utf-8", "surrogateescape")).hexdigest()
        self.digests[page.slug] = digest
        same = self.before is not None and self.before.digests.get(page.slug) == digest and f"{page.slug}.html" in self.before.marks
        if same:
            self.kept.append(f"{page.slug}.html")
        return same

    def listed(self, pages: Sequence[Page], files: dict[str, Path | bytes]) -> None:
        """Build the listed pages. Of one that is what it was, only what the search hears is given, and its own file is taken over."""
        self.frame += repr([(page.slug, page.title) for page in pages])  # which the frame of each lists
        some = [replace(page, html=heard(page.html), sections=()) if self.as_before(page) else page for page in pages]
        self.dead += build_pages(some, self.facts, files, self.site, self.aside, self.there)
        for name in self.kept:
            (self.site / name).unlink()

    def continued(self, listed: Sequence[Page], some: Sequence[Page]) -> None:
        """Build pages that continue others: as sheets of the same site, of which they alone are taken."""
        folder = Path(tempfile.mkdtemp(dir=self.aside))
        stubs = [replace(page, html="", sections=()) for page in listed]
        self.dead += build_pages([*stubs, *some], self.facts, {}, folder / "site", folder, self.there)
        for page in some:
            shutil.move(folder / "site" / f"{page.slug}.html", self.site / f"{page.slug}.html")
        shutil.rmtree(folder)


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


def _facts(entries: Sequence[Head]) -> SiteFacts:
    latest = max(one.revised for one in entries)
    notices = dict.fromkeys(one.notice for one in entries if one.notice)
    return SiteFacts(
        title=f"Archive of {owner_of(entries)}", short="All builds", build="", builder=owner_of(entries), edition=entries[0].audience.capitalize(),
        revision="", revised=day(latest), notice=" ".join(notices), epoch=max(0, calendars.timegm(latest.timetuple())),
    )  # fmt: skip
