"""A build opened for the door: its problems, its figures for the workshop's own eyes, and an edition for each audience."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.audience.gate import let_out
from dossier.model.audience import Audience
from dossier.model.edition import Edition
from dossier.model.forms.photos import Photo
from dossier.model.problems import Problem
from dossier.model.results import Worked
from dossier.record import Folder, Record, make_records


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


def open_builds(path: Folder, kept: Folder | None = None) -> tuple[list[Opened], list[Problem]]:
    """Every build at `path` that can be read, and all problems; `kept` is a folder for what earlier readings found in photographs."""
    records, problems = make_records(path, kept)
    return [Opened(folder, record) for folder, record in records], problems
