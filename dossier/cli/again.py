"""Publishing again: what the last publish of one dossier left to be known, so that nothing is made twice."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING

from dossier.cli.door import told

if TYPE_CHECKING:
    from dossier.audience import Opened
    from dossier.keep.standing import FreshPhoto, Standing
    from dossier.publish.dossier import Published
    from dossier.publish.laid import Laid

Of = tuple[str, str, str]
"""Of what, for whom and by which program is published."""


class Needs(Enum):
    """What a dossier published before needs: nothing, new pictures and nothing else, or to be made anew."""

    NOTHING = "nothing"
    PICTURES = "pictures"
    ALL = "all"


@dataclass(frozen=True)
class Before:
    """One dossier before it is published: its folder, what is known of the last publish, and how the folder stands now."""

    build: Path
    of: Of
    now: Standing
    laid: Laid | None
    needs: Needs
    photos: dict[str, FreshPhoto]


def of_what(path: Path, audience: str) -> Of:
    """Of what, for whom and by which program it is about to be published."""
    from dossier.publish.program import program_mark

    return (str(path.absolute()), audience, program_mark())


def look_before(build: Path, of: Of, note: Path, out: Path) -> Before:
    """How a build stands, and what its dossier at `out` needs by the note of the last publish."""
    from dossier.keep import standing
    from dossier.publish import laid as notes

    now = standing.look(build)
    laid = notes.recall(note)
    if laid is None or laid.of != of or not notes.untouched(laid.marks, out):
        return Before(build, of, now, None, Needs.ALL, {})
    then = standing.from_data(laid.standing)
    names = standing.changed(then, now, build)
    if names == ():
        if then.fresh:
            laid = replace(laid, standing=standing.as_data(standing.unchanged(then, now)))
            notes.remember(note, laid)
        return Before(build, of, now, laid, Needs.NOTHING, {})
    photos = standing.fresh_photos(then, now, names, build) if names else None
    return Before(build, of, now, laid, Needs.PICTURES if photos else Needs.ALL, photos or {})


@contextmanager
def seen_again(before: Before) -> Iterator[Callable[[], Standing | None]]:
    """How the build stands with what is found in its changed photographs; None where more than their pixels differs.

    Found out while the body runs, which makes pictures meanwhile of all of them that are shown.
    """
    from concurrent.futures import ThreadPoolExecutor

    from dossier.keep import standing

    assert before.laid is not None
    then = standing.from_data(before.laid.standing)
    alike, shown = before.of[1] == "workshop", {photo.file for photo in before.laid.dossier.photos}
    with ThreadPoolExecutor(1) as beside:
        found = beside.submit(standing.looked_again, then, before.now, before.photos, before.build, alike, encoded=shown)
        yield found.result


def published_again(before: Before, note: Path, out: Path, pictures: Path) -> str:
    """What to say where the last publish still holds, or new pictures were all it lacked; nothing where the whole is to be published."""
    if before.laid is None or before.needs is Needs.ALL:
        return ""
    said = told(1, {"warning": len(before.laid.warnings)})
    if before.needs is Needs.NOTHING:
        return f"{said}; nothing changed, the {before.of[1]} edition stands"
    from dossier.keep.standing import as_data
    from dossier.publish.again import NotAgain, begin, publish_again
    from dossier.publish.laid import remember

    photos = before.photos.values()
    begun = begin(before.laid, photos, pictures)
    with seen_again(before) as found:
        try:
            after = publish_again(before.laid, photos, out, pictures, lambda: found() is not None, begun)
        except (NotAgain, OSError):
            return ""  # what stands in the way, the whole publish says
        if stands := found():
            remember(note, replace(after, standing=as_data(stands)))
    return f"{said}; new pictures, {before.of[1]} edition published"


def keep_note(opened: Opened, warnings: tuple[str, ...], out: Path, note: Path, before: Before, published: Published) -> None:
    """Keep how the folder stood and what came of it, for the next publish."""
    from dossier.keep.standing import as_data, read
    from dossier.publish import laid as notes

    stood = as_data(read(before.now, before.build, {opened.path: opened.photographs}))
    notes.remember(note, notes.Laid(before.of, warnings, notes.marks_of(out), published.laid, stood))
