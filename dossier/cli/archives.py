"""Publishing an archive: each build by itself, on as many cores as there are, then the pages over all of them."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from dossier.cli.again import Before, Needs, Of, look_before, seen_again
from dossier.cli.door import bar, say_dead, told
from dossier.cli.one_build import Done, Work, carry_out

if TYPE_CHECKING:
    from dossier.publish.hands import Crew, Hands
    from dossier.publish.laid import LaidArchive, MadeBefore
    from dossier.publish.pictures.make import Begun


class NotClean(Exception):
    """Builds with errors, or photographs that cannot be published: nothing is published."""


@dataclass(frozen=True)
class Asked:
    """What is to be published: builds by their slugs in order, for whom, where to; `of` stands for the archive as a whole."""

    builds: dict[str, Path]
    of: Of
    out: Path
    kept: Path | None
    """Where pictures and readings are kept."""
    notes: Path | None
    """Where it is kept what was laid out."""

    def of_one(self, slug: str) -> Of:
        """Of what, for whom and by which program one dossier is published."""
        return (str(self.builds[slug].absolute()), *self.of[1:])

    def note(self, slug: str = "") -> Path | None:
        """Where the note of one dossier is kept, or that of the archive."""
        from dossier.publish.laid import note_of, note_within

        if self.notes is None:
            return None
        return note_within(self.notes, self.out, slug) if slug else note_of(self.notes, self.out)


@dataclass(frozen=True)
class First:
    """A build that needs pictures and nothing else, as it was looked at, and the first of its pictures, being made already."""

    slug: str
    before: Before
    begun: Begun | None


@dataclass
class Round:
    """What one publish of an archive has found and made so far."""

    asked: Asked
    warnings: dict[str, tuple[str, ...]] = field(default_factory=dict)
    needs: dict[str, Needs] = field(default_factory=dict)
    notes: dict[str, Path] = field(default_factory=dict)
    """By slug, the note of what was made for it this time."""
    unclean: dict[str, Done] = field(default_factory=dict)
    first: First | None = None
    """The first build that needs pictures and nothing else: most often it is the only one."""
    pages: LaidArchive | None = None
    """The archive's own as it stands, where it does."""

    def of_need(self, *needs: Needs) -> list[str]:
        """Slugs of the builds that need this, in their order."""
        return [slug for slug in self.asked.builds if self.needs[slug] in needs]

    def said(self) -> str:
        """One line on all builds: how many, clean or not, how many problems."""
        warned = {word for words in self.warnings.values() for word in words}
        wrong = {(one.code, one.place, one.message) for done in self.unclean.values() for one in done.errors}
        return told(len(self.asked.builds), {"error": len(wrong), "warning": len(warned)})


def look_round(asked: Asked) -> Round:
    """How every build stands, by what the last publish left; one after another, so that but one is in memory."""
    found = Round(asked, pages=_pages(asked))
    for slug in asked.builds:
        found.needs[slug] = Needs.ALL
        if note := asked.note(slug):
            before = look_before(asked.builds[slug], asked.of_one(slug), note, asked.out / slug)
            found.needs[slug] = _unless_unseen(before, note)
            if found.needs[slug] is Needs.PICTURES and not found.first:
                found.first = _begun(asked, slug, before)
            found.warnings[slug] = before.laid.warnings if before.laid else ()
    return found


def _begun(asked: Asked, slug: str, before: Before) -> First:
    from dossier.publish.again import begin

    assert before.laid is not None
    return First(slug, before, begin(before.laid, before.photos.values(), asked.kept and asked.kept / "pictures"))


def _pages(asked: Asked) -> LaidArchive | None:
    """The archive's own as it stands, where it was made by this program for this audience and nobody touched it."""
    from dossier.publish.laid import recall_archive, untouched

    pages = recall_archive(note) if (note := asked.note()) else None
    return pages if pages and pages.of == asked.of and untouched(pages.marks, asked.out, asked.builds) else None


def stands(found: Round) -> bool:
    """Whether nothing is to be done: every dossier stands, and the pages over them were made from just these."""
    from dossier.publish.archive_folder import digest_of, entries_in

    if found.pages is None or found.of_need(Needs.PICTURES, Needs.ALL):
        return False
    try:
        return found.pages.entries == digest_of(entries_in(found.asked.out, found.asked.builds))
    except OSError:
        return False


def _unless_unseen(before: Before, note: Path) -> Needs:
    """Photographs that this audience does not see need no pictures."""
    from dossier.publish.again import shows_any

    if before.needs is not Needs.PICTURES or before.laid is None or shows_any(before.laid, before.photos.values()):
        return before.needs
    from dossier.keep.standing import as_data
    from dossier.publish.laid import remember

    with seen_again(before) as found:
        now = found()
    if now is None:
        return Needs.ALL
    remember(note, replace(before.laid, standing=as_data(now)))
    return Needs.NOTHING


def make(found: Round, hands: Hands) -> None:
    """Make what is needed and put the whole in place in one step. NotClean where a build stands in the way: nothing is published."""
    from dossier.publish.archive_folder import attempts_beside, digest_of, entries_in, pages_over_all, take_over_pages
    from dossier.publish.exchange import published_whole
    from dossier.publish.hands import crew

    asked = found.asked
    with ExitStack() as afterwards:
        with crew(hands) as hired, published_whole(asked.out) as making:
            attempts = afterwards.enter_context(attempts_beside(asked.out))
            with ThreadPoolExecutor(1) as beside:
                standing = [beside.submit(_as_it_is, found, slug, making) for slug in found.of_need(Needs.NOTHING)]
                try:
                    for slug in found.of_need(Needs.PICTURES):
                        _new_pictures(found, slug, making, attempts)
                    _whole(found, hired, making, attempts)
                    if found.unclean:
                        raise NotClean
                    for one in standing:
                        one.result()
                finally:
                    beside.shutdown(cancel_futures=True)
            digest = digest_of(entries_in(making, asked.builds))
            if found.pages and found.pages.entries == digest:
                take_over_pages(found.pages.marks, asked.out, making)
                digests = found.pages.pages
            else:
                digests = hired.once(pages_over_all, making, list(asked.builds), _made_before(found))
        _keep_notes(found, digest, digests)


def _made_before(found: Round) -> MadeBefore | None:
    from dossier.publish.laid import MadeBefore

    return MadeBefore(found.asked.out, found.pages.marks, found.pages.pages) if found.pages else None


def _whole(found: Round, hired: Crew, making: Path, attempts: Path) -> None:
    """Builds made anew; once one stands in the way, the rest are only read, so that all that is wrong is said at once."""
    from dossier.publish.archive_folder import NOTE, put

    asked, slugs = found.asked, found.of_need(Needs.ALL)
    slug_of = {build: slug for slug, build in asked.builds.items()}

    def jobs() -> Iterator[Work]:
        for slug in slugs:
            yield Work(asked.builds[slug], asked.of_one(slug), None if found.unclean else attempts, asked.kept)

    with bar("builds") as progress:
        for number, done in enumerate(hired.each(carry_out, jobs(), len(slugs)), start=1):
            slug = slug_of[done.build]
            found.warnings[slug] = done.warnings
            say_dead(done.build, done.dead_links)
            if not done.clean:
                found.unclean[slug] = done
            elif done.attempt is not None:
                put(done.attempt, making, slug)
                found.notes[slug] = done.attempt / NOTE
            if progress:
                progress(number, len(slugs))


def _new_pictures(found: Round, slug: str, making: Path, attempts: Path) -> None:
    """One dossier with new pictures and nothing else; where that is not enough, it needs all."""
    from dossier.keep.standing import as_data
    from dossier.publish.again import NotAgain, renew
    from dossier.publish.archive_folder import NOTE, SITE, put
    from dossier.publish.laid import as_text

    asked, note = found.asked, found.asked.note(slug)
    assert note is not None
    begun = None
    if found.first and found.first.slug == slug:
        before, begun = found.first.before, found.first.begun
    else:
        before = look_before(asked.builds[slug], asked.of_one(slug), note, asked.out / slug)
    found.needs[slug] = Needs.ALL
    if before.laid is None or before.needs is not Needs.PICTURES:
        return
    attempt = Path(tempfile.mkdtemp(prefix="", dir=attempts))
    with seen_again(before) as seen:
        try:
            kept = asked.kept and asked.kept / "pictures"
            dossier, taken = renew(before.laid, before.photos.values(), asked.out / slug, attempt / SITE, kept, begun)
        except (NotAgain, OSError):
            return
        now = seen()
    if now is None:
        return
    marks = {name: before.laid.marks[name] for name in taken}
    text = as_text(replace(before.laid, marks=marks, dossier=dossier, standing=as_data(now)))
    (attempt / NOTE).write_text(text, encoding="utf-8", errors="surrogateescape")
    put(attempt, making, slug)
    found.notes[slug], found.needs[slug] = attempt / NOTE, Needs.PICTURES


def _as_it_is(found: Round, slug: str, making: Path) -> None:
    from dossier.publish.again import take_over
    from dossier.publish.laid import marks_of, recall

    note = found.asked.note(slug)
    laid = recall(note) if note else None
    old = found.asked.out / slug
    take_over(laid.marks if laid else marks_of(old), old, making / slug)


def _keep_notes(found: Round, digest: str, pages: dict[str, str]) -> None:
    """Keep what came of it for the next publish; nothing of a dossier whose files are not what was laid out."""
    from dossier.publish.archive_folder import own_marks
    from dossier.publish.laid import LaidArchive, keep_only, marks_of, recall, remember, same_files

    asked = found.asked
    if asked.notes is None or (whole := asked.note()) is None:
        return
    for slug in asked.builds:
        if (note := asked.note(slug)) and (laid := recall(found.notes.get(slug, note))):
            marks = marks_of(asked.out / slug)
            if same_files((name for name in laid.marks if not name.endswith("/")), laid.marks, marks):
                remember(note, replace(laid, marks=marks))
            else:
                note.unlink(missing_ok=True)
    keep_only(asked.notes, asked.out, asked.builds)
    remember(whole, LaidArchive(asked.of, digest, own_marks(asked.out, asked.builds), pages))


def as_they_lie(asked: Asked) -> Round:
    """A round in which every dossier is taken as it lies at `out`, wherever it was made; NotPublished where one is not there."""
    from dossier.publish.archive_folder import all_there
    from dossier.publish.laid import recall, untouched

    all_there(asked.out, list(asked.builds), asked.of[1])
    found = Round(asked, needs=dict.fromkeys(asked.builds, Needs.NOTHING), pages=_pages(asked))
    for slug in asked.builds:
        if (note := asked.note(slug)) and (laid := recall(note)) and not untouched(laid.marks, asked.out / slug):
            note.unlink(missing_ok=True)  # another machine published it since
    return found


def in_order_of(found: Round) -> Sequence[Done]:
    """What stands in the way, in the order of the builds."""
    return [found.unclean[slug] for slug in found.asked.builds if slug in found.unclean]
