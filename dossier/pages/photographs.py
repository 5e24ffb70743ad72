"""Photographs: a contact sheet for each subject in order of date, each picture leading to its large size."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.forms.photos import Photo
from dossier.pages.page import Page, page
from dossier.pages.parts import pictures
from dossier.pages.parts.links import ids, linked
from dossier.pages.parts.numbers import capital, counted, esc
from dossier.pages.parts.tables import Sheet

SUBJECTS = ("the original", "the build", "the finished machine", "on track", "stampings", "papers")


@page("photographs", order=110)
def photographs(edition: Edition) -> Page | None:
    """Every photograph this edition shows; none without one."""
    shown = [one for one in edition.build.photos.photos if one.id in edition.renditions]
    if not shown:
        return None
    sheet = Sheet()
    sheet.say("Each opens large.", "after on-screen")
    found = pictures.pairs(edition, shown)
    if found:
        sheet.section("Before and after", "pairs")
        sheet.add(*found)
    if pinned := [one for one in shown if one.pins]:
        sheet.section("Pointed out", "pointed-out")
        sheet.add(*(pictures.pointed(edition, one) for one in pinned))
    number = 0
    for subject in SUBJECTS:
        some = sorted((one for one in shown if one.subject == subject), key=lambda one: (str(one.date or ""), one.id))
        if some:
            sheet.section(capital(subject))
            sheet.add('<ol class="contact wide">' + "".join(_frame(edition, one, number + n + 1) for n, one in enumerate(some)) + "</ol>")
            number += len(some)
    _alike(edition, sheet)
    covered = sum(bool(one.masks) for one in edition.travels if one.photo in edition.renditions)
    if covered:
        sheet.say(f"In {counted(covered, 'picture')} an area is covered for this edition.", "after")
    withheld = edition.withheld.get("photographs", 0)
    if withheld:
        sheet.say(f"{capital(counted(withheld, 'photograph'))} withheld from this edition.", "after")
    lead = f"{capital(counted(len(shown), 'picture'))} in order of date. Dates are the camera’s unless they are said otherwise."
    return Page("photographs", "Photographs", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _alike(edition: Edition, sheet: Sheet) -> None:
    """Bursts of the camera, which the workshop may wish to thin."""
    alike = [one for one in edition.notices if one.code == "photos-alike"]
    if alike:
        sheet.section("Nearly the same", "nearly-the-same")
        for one in alike:
            sheet.say(linked(edition, f"{capital(one.text)}."), "after")


def _frame(edition: Edition, one: Photo, number: int) -> str:
    rendition = edition.renditions[one.id].small
    tall = ' class="tall"' if rendition.height > rendition.width else ""
    date = pictures.dated(one)
    owed = pictures.credited(one)
    credit = f" {owed}." if owed else ""
    belongs = ids(edition, one.belongs_to)
    caption = f"<b>{number}</b> {linked(edition, one.shows.rstrip('.'))}. {date + '.' if date else 'Undated.'}{credit}"
    quiet = f' <span class="quiet">{belongs}</span>' if belongs else ""
    image = pictures.image(edition, one, "(min-width: 64em) 17rem, 46vw")
    return f'<li id="{esc(one.id)}"{tall}><figure>{image}<figcaption>{caption}{quiet}</figcaption></figure></li>'
