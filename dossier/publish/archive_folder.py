"""The folder of an archive while it is made: dossiers taken over or put in place as they are done, then the pages over all of them."""

from __future__ import annotations

import hashlib
import json
import os
import secrets
import shutil
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from dossier.publish.again import take_over
from dossier.publish.exchange import MARK, ExchangeError, mark
from dossier.publish.laid import MadeBefore, Marks, marks_of

ENTRY = "archive-entry.json"
"""File of a dossier with all that an archive must know of it; what writes it says the same, and importing that takes longer."""
SITE, NOTE = "site", "note.json"
"""Within the folder of an attempt: the dossier as made, and what is to be remembered of it."""


class NotPublished(Exception):
    """Pages over all dossiers were asked for, and some are not there or for other eyes; the message names them."""


@contextmanager
def attempts_beside(out: Path) -> Iterator[Path]:
    """A folder for dossiers in the making, hidden beside `out` and gone afterwards; to be asked for while `out` is locked.

    Its name is used once: whoever goes on writing there for a run that was killed, on another machine perhaps, harms no later run.
    """
    start = f".{out.name}.attempts-"
    for left in out.absolute().parent.iterdir():
        if left.name.startswith(start):
            shutil.rmtree(left, ignore_errors=True)
    folder = out.absolute().with_name(start + secrets.token_hex(8))
    folder.mkdir(0o700)
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def put(attempt: Path, making: Path, slug: str) -> None:
    """Put the dossier of an attempt in its place in the archive being made."""
    (attempt / SITE).rename(making / slug)


def digest_of(entries: Iterable[tuple[str, bytes]]) -> str:
    """64 hexadecimal digits that change with every entry and with their order."""
    whole = hashlib.sha256()
    for slug, data in entries:
        whole.update(f"{len(data)} {slug}\n".encode("utf-8", "surrogateescape") + hashlib.sha256(data).digest())
    return whole.hexdigest()


def entries_in(folder: Path, slugs: Iterable[str]) -> Iterator[tuple[str, bytes]]:
    """The entries of dossiers published below a folder, by slug; OSError where there is none."""
    for slug in slugs:
        yield slug, (folder / slug / ENTRY).read_bytes()


def pages_over_all(making: Path, slugs: Sequence[str], before: MadeBefore | None = None) -> dict[str, str]:
    """Make the archive's own pages in `making`, where the dossiers lie, out of their entries; what is as `before` is taken over.

    A digest of each page, for the next time.
    """
    from dossier.publish.archive import publish_archive
    from dossier.publish.entries import EntriesThere

    return publish_archive(EntriesThere(making, slugs), making, before).digests


def own_marks(out: Path, slugs: Iterable[str]) -> Marks:
    """Marks of what is an archive's own: of the dossiers' folders only that they are there."""
    return marks_of(out, frozenset(slugs))


def take_over_pages(marks: Marks, out: Path, making: Path) -> list[str]:
    """Have the archive's own files of `out` in `making` as they are; names of those taken over."""
    return take_over(marks, out, making, lambda name: name != MARK)


# ------------------------------------------------------------ one dossier of an archive by itself


def room_for_one(out: Path, audience: str) -> None:
    """See that one dossier may be published into the archive at `out`: made here, or absent, and for the same audience.

    Raises ExchangeError at a folder that is not ours, NotPublished where dossiers for others lie there.
    """
    out.mkdir(parents=True, exist_ok=True)
    names = [name for name in sorted(os.listdir(out)) if not name.startswith(".")]  # noqa: PTH208
    if names and not (out / MARK).is_file():
        raise ExchangeError(f"{out} holds files that dossier did not write ({MARK} is missing); publish to another folder")
    if (out / ENTRY).is_file():
        raise ExchangeError(f"{out} is one dossier by itself; publish to another folder")
    if not names:
        mark(out)
    for name in names:
        if (out / name / ENTRY).is_file():
            if (there := audience_of(out / name)) != audience:
                raise NotPublished(f"{out} is an archive for the {there}, not for the {audience}; publish to another folder")
            break


def audience_of(dossier: Path) -> str:
    """For whom a published dossier is; empty where its entry does not say."""
    try:
        return str(json.loads((dossier / ENTRY).read_bytes())["audience"])
    except (OSError, ValueError, KeyError, TypeError):
        return ""


def audience_at(out: Path) -> str:
    """For whom the dossiers are that lie at `out`, one at its root or one in each folder: an archive is for one audience. Empty if none."""
    try:
        names = sorted(one.name for one in out.iterdir() if one.is_dir() and not one.name.startswith("."))
    except OSError:
        return ""
    return next((word for folder in (out, *(out / name for name in names)) if (word := audience_of(folder))), "")


def all_there(out: Path, slugs: Sequence[str], audience: str) -> None:
    """See that every dossier is published at `out` for that audience; NotPublished names those that are not."""
    said = {slug: audience_of(out / slug) for slug in slugs}
    if lacking := [slug for slug, word in said.items() if not word]:
        raise NotPublished(f"not yet published in {out}: {', '.join(lacking)}")
    if other := [f"{slug} ({word})" for slug, word in said.items() if word != audience]:
        raise NotPublished(f"published in {out} for others than the {audience}: {', '.join(other)}")
