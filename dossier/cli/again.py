"""Publishing again: what the last publish left to be known, so that nothing is made twice."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from concurrent.futures import Future

    from dossier.audience import Opened
    from dossier.keep.standing import FreshPhoto, Standing
    from dossier.publish.dossier import Published
    from dossier.publish.laid import Laid

Before = tuple[tuple[str, str, str], "Standing"]
"""Of what, for whom and by which program is published; and how the folder stood before it was read."""


def stands(path: Path, audience: str) -> Before:
    """Of what, for whom and by which program it is about to be published, and how the folder stands before it is read."""
    from dossier.keep.standing import look
    from dossier.publish.program import program_mark

    return (str(path.absolute()), audience, program_mark()), look(path)


def published_again(path: Path, out: Path, kept: Path, before: Before) -> str:
    """What to say where the last publish still holds, or new pictures were all it lacked; nothing where the whole is to be published."""
    from dossier.keep import standing
    from dossier.publish import laid as notes

    of, now = before
    laid = notes.recall(kept, out)
    if laid is None or laid.of != of or not notes.untouched(laid, out):
        return ""
    then = standing.from_data(laid.standing)
    names = standing.changed(then, now, path)
    if names == ():
        if then.fresh:
            notes.remember(kept, out, replace(laid, standing=standing.as_data(standing.unchanged(then, now))))
        return f"{laid.said}; nothing changed, the {of[1]} edition stands"
    photos = standing.fresh_photos(then, now, names, path) if names else None
    if not photos:
        return ""
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(1) as beside:  # what is seen in the photographs is found out while their pictures are made
        found = beside.submit(standing.looked_again, then, now, photos, path, alike=of[1] == "workshop")
        return _new_pictures(out, kept, laid, photos.values(), found)


def _new_pictures(out: Path, kept: Path, laid: Laid, photos: Collection[FreshPhoto], found: Future[Standing | None]) -> str:
    """What to say once the pictures are made anew; nothing where that is not enough."""
    from dossier.keep.standing import as_data
    from dossier.publish.again import NotAgain, publish_again
    from dossier.publish.laid import remember

    try:
        after = publish_again(laid, photos, out, kept / "pictures", sure=lambda: found.result() is not None)
    except (NotAgain, OSError):
        return ""  # what stands in the way, the whole publish says
    if stands := found.result():
        remember(kept, out, replace(after, standing=as_data(stands)))
    return f"{laid.said}; new pictures, {laid.of[1]} edition published"


def keep_note(
    path: Path, opened: Sequence[Opened], out: Path, kept: Path, before: Before, said: str, published: Sequence[Published]
) -> None:
    """Keep how the folder stood and what came of it, for the next publish."""
    from dossier.keep.standing import as_data, read
    from dossier.publish import laid as notes

    stood = as_data(read(before[1], path, {one.path: one.photographs for one in opened}))
    notes.remember(kept, out, notes.Laid(before[0], said, notes.marks_of(out), tuple(one.laid for one in published), stood))
