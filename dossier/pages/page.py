"""What a page is: a decorated function from Edition to Page, or to None when this build has nothing to say there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from dossier.model.edition import Edition
from dossier.model.registry import Registry


@dataclass(frozen=True)
class Page:
    """One sheet of the dossier, complete before anything is written.

    `html` is the body as raw HTML blocks without blank lines inside a block; `sections` are (id, title) of its
    second-level headings, in order;
    `kind` is a class set on the sheet (`front`, `setup`, or empty); `lead` is one plain sentence. `under` is the slug of the sheet that
    this one continues, for which it is not listed by itself.
    """

    slug: str
    title: str
    html: str
    heading: str = ""
    lead: str = ""
    kind: str = ""
    sections: tuple[tuple[str, str], ...] = ()
    under: str = ""


@dataclass(frozen=True)
class PageKind:
    """A page as declared: where it comes in the dossier and the function that writes it."""

    slug: str
    order: int
    write: Callable[[Edition], Page | None]


PAGES: Registry[PageKind] = Registry("page", "dossier.pages")


def page(slug: str, order: int) -> Callable[[Callable[[Edition], Page | None]], Callable[[Edition], Page | None]]:
    """Declare the decorated function as the page `slug`, at place `order` (ascending) among the sheets."""

    def declare(write: Callable[[Edition], Page | None]) -> Callable[[Edition], Page | None]:
        PAGES.add(slug, PageKind(slug, order, write), write.__code__.co_filename)
        return write

    return declare


def write_pages(edition: Edition) -> list[Page]:
    """All pages this edition has something to say on, in their order; the front sheet is written last, knowing the others."""
    kinds = sorted(PAGES.gather(), key=lambda kind: (kind.order, kind.slug))
    others = [written for kind in kinds if kind.slug != "index" and (written := kind.write(edition)) is not None]
    known = replace(edition, sheets=tuple(one.slug for one in others))
    front = [written for kind in kinds if kind.slug == "index" and (written := kind.write(known)) is not None]
    return front + others
