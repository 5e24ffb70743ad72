"""What one audience may see: the only value that passes from the making wing to the showing wing."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field

from dossier.model.audience import Audience
from dossier.model.build import Build
from dossier.model.picture import FileMark, Mask, Rendition
from dossier.model.results import Verdict, Worked


@dataclass(frozen=True)
class Notice:
    """A warning or note about the build's own data that this audience may read: code, sentence, what it concerns."""

    code: str
    text: str
    about: str = ""


@dataclass(frozen=True)
class Travelling:
    """A photograph's original on its way to being published: its file within the build folder, its checksum at reading, and its masks."""

    photo: str
    file: str
    sha256: str
    masks: tuple[Mask, ...] = ()
    mark: FileMark | None = None
    """What the file system said of the file at reading."""


@dataclass(frozen=True)
class Edition:
    """A build as one audience may see it, complete before the first page is written.

    `build` holds only fields this audience may see (all else at its default). `withheld` counts, per section, the
    entries and fields that are not shown.
    `photos` in `build` are those that may be shown; `renditions` (by photo id) are filled in by publishing.
    """

    audience: Audience
    build: Build
    worked: tuple[Worked, ...]
    verdicts: tuple[Verdict, ...]
    withheld: Mapping[str, int]
    notices: tuple[Notice, ...]
    revision: str
    revised: datetime.date
    draft: bool
    """True while a mandatory record is missing: every page then says draft."""
    missing_records: tuple[str, ...] = ()
    renditions: Mapping[str, Rendition] = field(default_factory=dict)
    what_if: tuple[tuple[str, tuple[Worked, ...]], ...] = ()
    """For each what-if block of the build, by its id: the figures that change."""
    released: tuple[str, ...] = ()
    """Release lines, for the workshop."""
    left_out: Mapping[str, int] = field(default_factory=dict)
    """Whole records that this edition does not show, by kind: `snags`, `items`, `lifed` …"""
    sheets: tuple[str, ...] = ()
    """Slugs of the other sheets of this edition; known when the front sheet is written, which is last."""
    travels: tuple[Travelling, ...] = ()
    """Originals of the photographs that may be shown, with what must be masked: for publishing, never for a page."""

    def figure(self, name: str, *tags: str, role: str = "as built") -> Worked | None:
        """The worked figure of that name and those tags (values of any axis), or None."""
        for one in self.worked:
            if one.name == name and one.role.value == role and set(tags) == {tag for _, tag in one.tags}:
                return one
        return None

    def figures(self, name: str, role: str = "as built") -> tuple[Worked, ...]:
        """All worked figures of that name, in the order of their tags."""
        return tuple(one for one in self.worked if one.name == name and one.role.value == role)

    def verdict(self, item: str) -> Verdict | None:
        """The verdict on that item, or None."""
        return next((verdict for verdict in self.verdicts if verdict.item == item), None)
