"""What reading finds in a photograph, and what publishing makes of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True)
class PhotoFacts:
    """A photograph as read: SHA-256 of the original's bytes, size in pixels as seen (turned upright), format, the camera's date."""

    sha256: str
    width: int
    height: int
    format: str
    taken: datetime | None = None


@dataclass(frozen=True)
class PublishedFile:
    """One published picture file: its name (from its own bytes), size in pixels and in bytes."""

    name: str
    width: int
    height: int
    size: int
    sha256: str


@dataclass(frozen=True)
class Rendition:
    """A photograph as published: its files from small to large."""

    files: tuple[PublishedFile, ...]

    @property
    def small(self) -> PublishedFile:
        """The smallest."""
        return self.files[0]

    @property
    def large(self) -> PublishedFile:
        """The largest."""
        return self.files[-1]
