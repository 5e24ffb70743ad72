"""Photographs on a page: one with its caption, a before/after pair, a contact sheet. Each leads to its largest size as a plain link."""

from __future__ import annotations

from collections.abc import Iterable

from dossier.model.edition import Edition
from dossier.model.forms.photos import Photo
from dossier.model.picture import Rendition
from dossier.model.quantity import Quantity
from dossier.pages.parts.links import href, ids, linked
from dossier.pages.parts.numbers import day, esc, figure_href
from dossier.pages.parts.workings import title

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


def credited(one: Photo) -> str:
    """Whom a picture is owed to and under which licence; empty where nothing is said."""
    return ", ".join(esc(words) for words in (one.credit, one.licence) if words)


def caption(edition: Edition, one: Photo) -> str:
    """What, when, by whom, which part."""
    bits = [
        linked(edition, one.shows.rstrip(".")),
        dated(one),
        esc(person(edition, one.by)) if one.by else "",
        credited(one),
    ]
    text = ". ".join(bit for bit in (bits[0], ", ".join(bit for bit in bits[2:3] + bits[1:2] if bit), bits[3]) if bit) + "."
    belongs = ids(edition, one.belongs_to)
    return text + (f' <span class="quiet">{belongs}</span>' if belongs else "")


def figure(edition: Edition, one: Photo, css: str = "small", sizes: str = "(min-width: 64em) 24rem, 92vw", eager: bool = False) -> str:
    """One photograph with its caption."""
    return f'<figure class="photo {css}">{image(edition, one, sizes, eager)}<figcaption>{caption(edition, one)}</figcaption></figure>'


def pointed(edition: Edition, one: Photo, css: str = "wide", sizes: str = "(min-width: 64em) 60rem, 92vw", eager: bool = False) -> str:
    """One photograph standing large, its numbered pins drawn over it and listed below, each leading to its item or figure."""
    marks: list[str] = []
    lines: list[str] = []
    for pin in one.pins:
        address, words = _pointed_at(edition, pin.to)
        if not address:
            continue
        number = len(marks) + 1
        at = f"left:{_per_cent(pin.x)};top:{_per_cent(pin.y)}"
        marks.append(f'<a class="pin" href="{esc(address)}" style="{at}" aria-label="{number}: {esc(words)}">{number}</a>')
        lines.append(f'<li><a href="{esc(address)}">{esc(words)}</a></li>')
    if not marks:
        return figure(edition, one, css, sizes, eager)
    picture = f'<div class="pinned">{image(edition, one, sizes, eager)}{"".join(marks)}</div>'
    legend = f'<ol class="pins">{"".join(lines)}</ol>'
    return f'<figure class="photo {css}">{picture}<figcaption>{caption(edition, one)}</figcaption>{legend}</figure>'


def _pointed_at(edition: Edition, to: str) -> tuple[str, str]:
    """Address and words of what a pin leads to; empty where this edition has neither such an item nor such a figure."""
    item = next((item for item in edition.build.specification.items if item.id == to), None)
    if item is not None:
        return href(edition, to), f"{to} {item.title}"
    worked = next((worked for worked in edition.worked if worked.id == to and worked.role.value == "as built"), None)
    return (figure_href(worked), title(worked)) if worked is not None else ("", "")


def _per_cent(number: Quantity) -> str:
    """A coordinate as a style states it."""
    return f"{float(number.number) if number.unit.sign in ('', '%') else number.si * 100:g}%"


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
