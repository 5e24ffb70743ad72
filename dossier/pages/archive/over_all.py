"""What a page over all builds is: a decorated function from the entries to its sheets, none where the builds have nothing to say there."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from dossier.model.entry import Entry
from dossier.model.registry import Registry
from dossier.pages.page import Page

Write = Callable[[Sequence[Entry]], Iterable[Page]]
"""The first page that it gives is listed; all others continue it, and are written only as they are asked for."""


@dataclass(frozen=True)
class OverAll:
    """A page over all builds as declared: where it comes in the archive and the function that writes it, on as many sheets as it takes."""

    slug: str
    order: int
    write: Write


OVER_ALL: Registry[OverAll] = Registry("page over all builds", "dossier.pages.archive")


def over_all(slug: str, order: int) -> Callable[[Write], Write]:
    """Declare the decorated function as the archive page `slug`, at place `order` (ascending)."""

    def declare(write: Write) -> Write:
        OVER_ALL.add(slug, OverAll(slug, order, write), write.__code__.co_filename)
        return write

    return declare


def write_over_all(entries: Sequence[Entry]) -> tuple[list[Page], Iterator[Page]]:
    """The listed pages over the builds, in their order, the list of all builds first; and, as they are asked for, those that continue them."""
    kinds = sorted(OVER_ALL.gather(), key=lambda kind: (kind.order, kind.slug))
    written = [iter(kind.write(entries)) for kind in kinds]
    listed = [page for pages in written for page in itertools.islice(pages, 1)]
    return listed, itertools.chain.from_iterable(written)
