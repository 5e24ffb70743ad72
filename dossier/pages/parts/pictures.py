"""Photographs on a page: one with its caption, a before/after pair, a contact sheet. Each leads to its largest size as a plain link."""

from __future__ import annotations

from collections.abc import Iterable

from dossier.model.edition import Edition
from dossier.model.forms.photos import Photo
from dossier.model.picture import Rendition
from dossier.pages.parts.links import ids, linked
from dossier.pages.parts.numbers import day, esc

FOLDER = "photographs"
"""Folder of the site in which the pictures lie."""


def photo(edition: Edition, id: str | None) -> Photo | None:
    """The photograph of that id, if this edition shows it."""
    return next((one for one in edition.build.photos.photos if one.id == id and one.id in edition.renditions), None)


def photos_of(edition: Edition, id: str) -> list[Photo]:
    """The photographs that belong to a record, oldest first."""
    found = [one for one in edition.build.photos.photos if id in one.belongs_to and one.id in edition.renditions]
    return sorted(found, key=lambda one: (str(one.date or ""), one.id))


def image(edition: Edition, one: Photo, sizes: str, eager: bool = False) -> str:
    """A picture as a link to its largest size, with `srcset`, width and height."""
    made: Rendition = edition.renditions[one.id]
    screen = [file for file in made.files if file.name.endswith(".webp")] or list(made.files)
    small, middle = screen[0], screen[-1]
    srcset = ", ".join(f"{FOLDER}/{file.name} {file.width}w" for file in screen)
    return (
        f'<a class="large" href="{FOLDER}/{esc(made.large.name)}"><img src="{FOLDER}/{esc(small.name)}" '
        f'srcset="{esc(srcset)}" sizes="{esc(sizes)}" '
        f'width="{middle.width}" height="{middle.height}" alt="{esc(one.alt or one.shows)}" '
        f'loading="{"eager" if eager else "lazy"}" decoding="async"></a>'
    )


def dated(one: Photo) -> str:
    """The day of a photograph, corrected by hand, said in words, or the camera's; empty when nobody knows."""
    if one.date_said:
        return esc(one.date_said)
    return day(one.date) if one.date else ""


def person(edition: Edition, id: str) -> str:
    """A person as the person is shown."""
    return next((one.shown_as for one in edition.build.workshop.people if one.id == id), id)


def caption(edition: Edition, one: Photo) -> str:
    """What, when, by whom, which part."""
    bits = [
        linked(edition, one.shows.rstrip(".")),
        dated(one),
        esc(person(edition, one.by)) if one.by else "",
        esc(one.credit) if one.credit else "",
    ]
    text = ". ".join(bit for bit in (bits[0], ", ".join(bit for bit in bits[2:3] + bits[1:2] if bit), bits[3]) if bit) + "."
    belongs = ids(edition, one.belongs_to)
    return text + (f' <span class="quiet">{belongs}</span>' if belongs else "")


def figure(edition: Edition, one: Photo, css: str = "small", sizes: str = "(min-width: 64em) 24rem, 92vw", eager: bool = False) -> str:
    """One photograph with its caption."""
    return f'<figure class="photo {css}">{image(edition, one, sizes, eager)}<figcaption>{caption(edition, one)}</figcaption></figure>'


def pair(edition: Edition, before: Photo, after: Photo) -> str:
    """Before and after at one size, side by side."""
    sides = "".join(
        f"<div>{image(edition, one, '(min-width: 52em) 36rem, 92vw')}<p><b>{word}.</b> {caption(edition, one)}</p></div>"
        for word, one in (("Before", before), ("After", after))
    )
    return f'<figure class="pair wide">{sides}</figure>'


def pairs(edition: Edition, among: Iterable[Photo]) -> list[str]:
    """All complete pairs among some photographs, in the order of their names."""
    sides: dict[str, dict[str, Photo]] = {}
    for one in among:
        if one.pair and one.side and one.id in edition.renditions:
            sides.setdefault(one.pair, {})[one.side] = one
    return [pair(edition, both["before"], both["after"]) for _, both in sorted(sides.items()) if len(both) == 2]


def plates(edition: Edition, many: Iterable[str], used: set[str]) -> str:
    """The photographs of those ids that this edition shows and that are not in `used` yet: pairs first, then the others in a row."""
    some = [one for id in dict.fromkeys(many) if id not in used and (one := photo(edition, id)) is not None]
    used.update(one.id for one in some)
    paired = pairs(edition, some)
    names = {one.pair for one in some if one.pair and one.side}
    whole = {name for name in names if {one.side for one in some if one.pair == name} == {"before", "after"}}
    single = "".join(figure(edition, one, "plate", "(min-width: 64em) 20rem, 92vw") for one in some if one.pair not in whole)
    return "\n".join([*paired, *([f'<div class="plates">{single}</div>'] if single else [])])
