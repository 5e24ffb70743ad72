"""Snags: what went wrong in the rider's words, why, what was done, and by what it was proved; open until verified."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.forms.photos import Photo
from dossier.model.forms.running import Snag
from dossier.pages.page import Page, page
from dossier.pages.parts import pictures
from dossier.pages.parts.left_out import none_of
from dossier.pages.parts.links import ids, link, linked
from dossier.pages.parts.numbers import capital, counted, day, esc, in_words, written
from dossier.pages.parts.tables import Column, Row, Sheet, table

ORDER = ("safety", "major", "minor", "cosmetic", None)


@page("snags", order=130)
def snags(edition: Edition) -> Page | None:
    """Open snags first, then by effect; then the parts refused and damage. None where nothing was found."""
    found = edition.build.running.snags
    rejected, damage = edition.build.parts.rejected, edition.build.running.damage
    if not (found or rejected or damage):
        return None
    sheet = Sheet()
    if found:
        sheet.say(_tally(edition), "tally")
        for snag in sorted(found, key=lambda one: (not one.open, ORDER.index(one.effect), str(one.found))):
            sheet.add(_snag(edition, sheet, snag))
    if rejected:
        sheet.section("Parts refused", "rejected-parts")
        sheet.add(_rejected(edition))
    if damage:
        sheet.section("Damage")
        columns = [
            Column("Date", "c-no"),
            Column("What happened"),
            Column("Hit", "c-why"),
            Column("Inspected", "c-why"),
            Column("Replaced", "c-why"),
        ]
        rows = [
            Row(
                [
                    day(one.date, short=True),
                    linked(edition, one.summary),
                    linked(edition, one.hit),
                    linked(edition, one.inspected),
                    ids(edition, one.replaced),
                ]
            )
            for one in damage
        ]
        sheet.add(table("Damage and what was done about it", columns, rows))
    lead = "What went wrong, why, what was done, and how it was proved. What is open stands first, then safety, major, minor."
    return Page("snags", "Snags", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _tally(edition: Edition) -> str:
    found = edition.build.running.snags
    still = [snag for snag in found if snag.open]
    again = sum(len(snag.reopened) for snag in found)
    came_back = f" Came back after they were closed: {in_words(again)}." if again else ""
    open_words = ", ".join(link(edition, one.id) for one in still) or none_of(edition, "snags")
    return (
        f"<b>Open: {open_words}.</b> Found and closed: {in_words(len(found) - len(still))}."
        f"{came_back} A snag is closed only when a later run has proved the cure."
    )


def _snag(edition: Edition, sheet: Sheet, one: Snag) -> str:
    title = capital(one.symptom)
    name = f"{one.id.lower()}-h"
    sheet.sections.append((name, title))
    suspected = "Cause, suspected" if one.cause_is == "suspected" else "Cause"
    steps = [
        (one.found, "Found", f" at {link(edition, one.where)}." if one.where else "."),
        (None, f"{suspected}:", f" {linked(edition, one.cause)}." if one.cause else " not known yet."),
        (one.fixed, "Mended:", f" {linked(edition, one.action)}." if one.action else ""),
        (one.verified, "Proved:", _proof(edition, one) if one.verified else ""),
        *((came_back, "Came back", ".") for came_back in one.reopened),
    ]
    chain = "".join(
        f'<li><span class="when">{day(when, short=True) if when else ""}</span><span class="what"><i>{word}</i>{rest}</span></li>'
        for when, word, rest in steps
        if rest
    )
    photo = next(iter(_photos(edition, one)), None)
    picture = pictures.figure(edition, photo) if photo else ""
    return (
        f'<section class="snag" aria-labelledby="{esc(name)}" id="{esc(one.id)}">'
        f'<h2 id="{esc(name)}"><span class="sn">{esc(one.id)}</span> {esc(title)}</h2>'
        f'<p class="state">{_state(edition, one)}</p><ol class="chain">{chain}</ol>{picture}</section>'
    )


def _proof(edition: Edition, one: Snag) -> str:
    said = linked(edition, one.verified_by) if one.verified_by else "nobody says by what"
    on = f" ({link(edition, one.verified_on)})" if one.verified_on and one.verified_on not in (one.verified_by or "") else ""
    return f" {said}{on}."


def _photos(edition: Edition, one: Snag) -> list[Photo]:
    named = pictures.photo(edition, one.photo)
    return [named] if named else pictures.photos_of(edition, one.id)


def _state(edition: Edition, one: Snag) -> str:
    effect = f"<b>{esc(capital(one.effect))}</b>" if one.effect else "Effect not said"
    state = "<b>open</b>" if one.open else "closed"
    words = [f"{effect}, {state}" + (f", leaves agreement {link(edition, one.concession)}" if one.concession else "")]
    if one.found and one.fixed:
        words.append(capital(counted((one.fixed - one.found).days, "day")) + " to mend")
    if one.fixed and one.verified:
        words[-1] += f", {in_words((one.verified - one.fixed).days)} more to prove"
    return ". ".join(words) + "."


def _rejected(edition: Edition) -> str:
    rejected = edition.build.parts.rejected
    hours = [one.hours_lost for one in rejected if one.hours_lost is not None]
    columns = [Column("Part"), Column("Origin", "c-why"), Column("Found", "c-why"), Column("What became of it", "c-why", "Became")]
    suppliers = any(one.supplier for one in rejected)
    columns += [Column("Supplier", "c-why")] if suppliers else []
    columns += [Column("Hours lost", "num")] if hours else []
    rows = []
    for one in rejected:
        became = esc(one.outcome) + (f"; {linked(edition, one.replaced_by)} instead" if one.replaced_by else "")
        cells = [f'<span class="pid">{esc(one.id)}</span> {esc(one.name)}', esc(one.origin), linked(edition, one.found), became]
        cells += [esc(one.supplier or "")] if suppliers else []
        cells += [written(one.hours_lost) if one.hours_lost else ""] if hours else []
        rows.append(Row(cells, id=one.id))
    total = f"{sum(one.to('h') for one in hours):g} h"
    foot = ["In all", *[""] * (len(columns) - 2), total] if hours else []
    caption = f"{capital(counted(len(rejected), 'part'))} that came in and were refused, or cost work before they could be used"
    return table(caption, columns, rows, css="rejects", foot=foot)
