"""One edition made into one site: pictures first, then the pages, then the site with its machine copy, all in a folder given."""

from __future__ import annotations

import calendar
import shutil
import tempfile
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from dossier.model.edition import Edition
from dossier.model.entry import Entry
from dossier.model.picture import Rendition
from dossier.model.picture_faults import PhotoFault
from dossier.pages.page import Page, write_pages
from dossier.pages.parts.numbers import day
from dossier.pages.parts.pictures import FOLDER
from dossier.publish.blanks import Place, blanks_for, filled
from dossier.publish.entry import NAME, entry_of, to_bytes
from dossier.publish.laid import LaidDossier, LaidPhoto
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
    laid: LaidDossier
    """What lies where, for the next publish."""
    entry: Entry
    """What an archive must know of it; its file lies beside the pages."""


def publish_dossier(
    edition: Edition, source: Path, out: Path, cache: Path | None = None, progress: Callable[[int, int], None] | None = None
) -> Published:
    """Make the edition's site in `out` (empty or absent). `source` is the build folder the photographs lie in.

    PictureChangedError when a photograph is not what was read; SiteError and StagingError are faults of the program.
    """
    with tempfile.TemporaryDirectory(prefix="dossier-") as aside:
        made_in = Path(aside) / "pictures"
        requests = [PictureRequest(one.photo, source / "photos" / one.file, one.sha256, one.mark, one.masks) for one in edition.travels]
        run = make_renditions(requests, made_in, cache, progress)
        if run.faults:
            raise PictureChangedError(run.faults)
        made = [run.renditions[one.photo] for one in edition.travels]

        def with_pictures(some: Sequence[Rendition]) -> Edition:
            return replace(edition, renditions={one.photo: rendition for one, rendition in zip(edition.travels, some, strict=True)})

        salt, blanks, copy = blanks_for(made, lambda some: machine_copy(with_pictures(some)))
        shown = with_pictures(blanks)
        pages = write_pages(shown)
        later = {f"{FOLDER}/{file.name}" for one in blanks for file in one.files}
        entry = entry_of(edition, [(one.slug, one.title) for one in pages])
        files: dict[str, Path | bytes] = {"dossier.json": copy, NAME: to_bytes(entry)}
        dead = build_pages(pages, site_facts(edition), files, out, Path(aside), later)
        places = _fill(out, salt, made)
        _put_beside(made_in, made, out / FOLDER)
    photos = tuple(LaidPhoto(one.photo, one.file, one.masks, files) for one, files in zip(edition.travels, made, strict=True))
    return Published(len(pages), len(requests), run.made, dead, LaidDossier(photos, places), entry)


def _fill(out: Path, salt: str, made: Sequence[Rendition]) -> dict[str, tuple[Place, ...]]:
    """Fill in the blanks of every page, of the search's list and of the machine copy; where they were, by file."""
    places = {}
    for path in sorted(out.rglob("*")):
        if path.suffix in (".html", ".json", ".js") and path.is_file() and salt.encode() in (page := path.read_bytes()):
            page, some = filled(page, salt, made)
            path.write_bytes(page)
            places[path.relative_to(out).as_posix()] = tuple(some)
    return places


def _put_beside(made_in: Path, made: Sequence[Rendition], folder: Path) -> None:
    if made:
        folder.mkdir(exist_ok=True)
        folder.chmod(0o755)
    for name in sorted({file.name for one in made for file in one.files}):
        shutil.copyfile(made_in / name, folder / name)
        (folder / name).chmod(0o644)


def build_pages(
    pages: list[Page], facts: SiteFacts, files: dict[str, Path | bytes], out: Path, aside: Path, later: Iterable[str] = ()
) -> tuple[str, ...]:
    """Stage pages and build them into `out`, where files named `later` will come; returns links that lead nowhere."""
    dead = stage(pages, facts, aside / "staged", files, later)
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
