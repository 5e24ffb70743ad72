"""One edition made into one site: pictures first, then the pages, then the site with its machine copy, all in a folder given."""

from __future__ import annotations

import calendar
import tempfile
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from dossier.model.edition import Edition
from dossier.model.picture_faults import PhotoFault
from dossier.pages.page import Page, write_pages
from dossier.pages.parts.numbers import day
from dossier.pages.parts.pictures import FOLDER
from dossier.publish.machine_copy import machine_copy
from dossier.publish.pictures.make import make_renditions
from dossier.publish.pictures.recipe import PictureRequest
from dossier.publish.site import build_site
from dossier.publish.staging import SiteFacts, stage


class PictureChangedError(Exception):
    """Photographs that could not be published: changed since reading, or unreadable; faults by photograph id."""

    def __init__(self, faults: dict[str, PhotoFault]) -> None:
        super().__init__("; ".join(f"{id}: {fault}" for id, fault in faults.items()))
        self.faults = faults


@dataclass(frozen=True)
class Published:
    """What came of a publish: how many sheets and photographs, how many pictures were made anew, and links that lead nowhere."""

    sheets: int
    photographs: int
    made: int
    dead_links: tuple[str, ...]


def publish_dossier(
    edition: Edition, source: Path, out: Path, cache: Path | None = None, progress: Callable[[int, int], None] | None = None
) -> Published:
    """Make the edition's site in `out` (empty or absent). `source` is the build folder the photographs lie in.

    PictureChangedError when a photograph is not what was read; SiteError and StagingError are faults of the program.
    """
    with tempfile.TemporaryDirectory(prefix="dossier-") as aside:
        made_in = Path(aside) / "pictures"
        requests = [PictureRequest(one.photo, source / "photos" / one.file, one.sha256, masks=one.masks) for one in edition.travels]
        run = make_renditions(requests, made_in, cache, progress)
        if run.faults:
            raise PictureChangedError(run.faults)
        shown = replace(edition, renditions=run.renditions)
        pages = write_pages(shown)
        names = sorted({file.name for rendition in run.renditions.values() for file in rendition.files})
        files: dict[str, Path | bytes] = {f"{FOLDER}/{name}": made_in / name for name in names}
        files["dossier.json"] = machine_copy(shown)
        dead = build_pages(pages, site_facts(edition), files, out, Path(aside))
    return Published(len(pages), len(requests), run.made, dead)


def build_pages(pages: list[Page], facts: SiteFacts, files: dict[str, Path | bytes], out: Path, aside: Path) -> tuple[str, ...]:
    """Stage pages and build them into `out`; returns links that lead nowhere."""
    dead = stage(pages, facts, aside / "staged", files)
    build_site(aside / "staged", out)
    return dead


def site_facts(edition: Edition) -> SiteFacts:
    """What stands on every sheet of this edition."""
    machine = edition.build.machine
    word = edition.audience.word.capitalize() + (" (draft)" if edition.draft else "")
    return SiteFacts(
        title=machine.title, short=machine.short, build=machine.build_no, builder=machine.builder, edition=word, revision=edition.revision,
        revised=day(edition.revised), livery_day=machine.livery.day, livery_night=machine.livery.night, notice=machine.notice or "",
        language=machine.languages[0] if machine.languages else "en", epoch=epoch_of(edition),
    )  # fmt: skip


def epoch_of(edition: Edition) -> int:
    """The edition's date as seconds since 1970-01-01 UTC, never before it: the only date that goes into published bytes."""
    return max(0, calendar.timegm(edition.revised.timetuple()))
