"""One build from its folder to its dossier: the piece of work that a core, or another machine, is given.

A pure function of the build's folder, the workshop file above it, and a cache that changes nothing but the time.
"""

from __future__ import annotations

import hashlib
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dossier.model.picture_faults import PhotoFault
    from dossier.model.problems import Problem


@dataclass(frozen=True)
class Work:
    """A build to be published. `of` says of what, for whom, by which program; `attempts` is where to, None where only to read it."""

    build: Path
    of: tuple[str, str, str]
    attempts: Path | None
    cache: Path | None


@dataclass(frozen=True)
class Done:
    """What came of it: a word for each warning, what stands in the way, and the folder of the attempt where nothing does."""

    build: Path
    warnings: tuple[str, ...]
    errors: tuple[Problem, ...] = ()
    faults: tuple[tuple[str, PhotoFault], ...] = ()
    attempt: Path | None = None
    dead_links: tuple[str, ...] = ()

    @property
    def clean(self) -> bool:
        """Whether it can be published."""
        return not self.errors and not self.faults


def carry_out(work: Work) -> Done:
    """Read one build, and publish it into a fresh folder among the attempts."""
    from dossier.audience import open_builds
    from dossier.keep.standing import as_data, look, read
    from dossier.model.audience import Audience
    from dossier.publish.archive_folder import NOTE, SITE
    from dossier.publish.dossier import PictureChangedError, publish_dossier
    from dossier.publish.exchange import mark
    from dossier.publish.laid import Laid, as_text

    before = look(work.build)
    opened, problems = open_builds(work.build, work.cache)
    errors = tuple(problem for problem in problems if problem.severity.value == "error")
    done = Done(work.build, warning_words(problems), errors)
    if errors or work.attempts is None:
        return done
    [one] = opened
    attempt = Path(tempfile.mkdtemp(prefix="", dir=work.attempts))
    try:
        made = publish_dossier(one.edition(Audience[work.of[1].upper()]), one.path, attempt / SITE, work.cache and work.cache / "pictures")
    except PictureChangedError as changed:
        return Done(work.build, done.warnings, faults=tuple(changed.faults.items()))
    mark(attempt / SITE)
    standing = as_data(read(before, work.build, {one.path: one.photographs}))
    note = as_text(Laid(work.of, done.warnings, {}, made.laid, standing))
    (attempt / NOTE).write_text(note, encoding="utf-8", errors="surrogateescape")
    return Done(work.build, done.warnings, attempt=attempt, dead_links=made.dead_links)


def warning_words(problems: Iterable[Problem]) -> tuple[str, ...]:
    """A word for each warning, the same for the same one: what the workshop file is warned of, every build of it is."""
    lines = (f"{one.code} {one.place} {one.message}" for one in problems if one.severity.value == "warning")
    return tuple(hashlib.sha256(line.encode("utf-8", "surrogateescape")).hexdigest()[:16] for line in lines)
