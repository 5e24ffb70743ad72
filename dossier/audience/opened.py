"""A build opened for the door: its problems, its figures for the workshop's own eyes, and an edition for each audience."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.audience.gate import let_out
from dossier.model.audience import Audience
from dossier.model.edition import Edition
from dossier.model.forms.photos import Photo
from dossier.model.problems import Problem
from dossier.model.results import Worked
from dossier.record import Folder, Record, input_files, make_records


@dataclass(frozen=True)
class Opened:
    """A build that could be read: where it lies and all that is known of it."""

    path: Folder
    record: Record

    @property
    def slug(self) -> str:
        """Name of its folder."""
        return self.record.build.slug

    @property
    def title(self) -> str:
        """Title of the machine."""
        return self.record.build.machine.title

    @property
    def worked(self) -> tuple[Worked, ...]:
        """Every figure, for the workshop."""
        return self.record.worked

    @property
    def photographs(self) -> tuple[Photo, ...]:
        """Every photograph, for the workshop."""
        return self.record.build.photos.photos

    def edition(self, audience: Audience) -> Edition:
        """What that audience may see."""
        return let_out(self.record, audience)

    def files(self, audience: Audience) -> tuple[str, ...]:
        """Which of the folder's own files that audience may have, by name within it: all for the workshop, for nobody else any.

        A file holds fields for several audiences and originals of photographs; what passes of them is in the edition.
        """
        return tuple(input_files(self.path)) if audience is Audience.WORKSHOP else ()


def open_builds(path: Folder, kept: Folder | None = None) -> tuple[list[Opened], list[Problem]]:
    """Every build at `path` that can be read, and all problems; `kept` is a folder for what earlier readings found in photographs."""
    records, problems = make_records(path, kept)
    return [Opened(folder, record) for folder, record in records], problems
