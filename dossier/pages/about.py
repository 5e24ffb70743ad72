"""About this dossier: how to read it, what is withheld, its rules and words, what it is not, and the workshop's own notes."""

from __future__ import annotations

import html
import xml.etree.ElementTree as ElementTree

import markdown
from markdown.treeprocessors import Treeprocessor

from dossier.model.audience import Audience
from dossier.model.edition import Edition
from dossier.model.links import may_lead
from dossier.pages.page import Page, page
from dossier.pages.parts.cautions import CAUTIONS, WORDING, cautions_for
from dossier.pages.parts.links import linked
from dossier.pages.parts.numbers import capital, day, door, esc, joined
from dossier.pages.parts.tables import Column, Row, Sheet, table
from dossier.pages.parts.workings import title

WORDS = (
    ("Replica", "In the trade, an exact copy by anybody. The international historic-vehicle federation’s technical code, as seen in a Czech edition, "
     "keeps the word for a copy by the original maker and calls a copy by somebody else a reproduction; others say copy."),
    ("Declared", "What the workshop believes the machine was on the day copied, and will be held to."),
    ("U", "Expanded uncertainty, k = 2: the true value is expected within it about 19 times in 20."),
    ("Guard band", "A strip as wide as U inside each limit. A reading in it is not shown to conform."),
    ("Cannot be decided", "The reading lies so near a limit that its uncertainty reaches across."),
    ("Concession", "An agreement, after making, to a deviation; a deviation permit is one made before."),
    ("Rework, repair, scrap", "Rework makes it conform, repair makes it usable, scrap does neither."),
    ("Lifed part", "A part that is inspected or renewed at a limit of hours, years or distance."),
    ("Not recorded", "A blank: nobody wrote it down. It never means nought."),
)  # fmt: skip


@page("about", order=180)
def about(edition: Edition) -> Page | None:
    """The last sheet of every dossier."""
    sheet = Sheet()
    sheet.section("What this is", "what")
    machine = edition.build.machine
    sheet.say(f"<b>{esc(machine.title)}</b>. {esc(capital(machine.this_machine_is))}. {esc(machine.statement)}")
    edition_words = f"This is the {edition.audience.word} edition at revision {esc(edition.revision)}, {day(edition.revised)}."
    missing = f" It is a draft: still missing are {esc(joined(list(edition.missing_records)))}." if edition.draft else ""
    sheet.say(edition_words + missing + " The same content for machines is <a href='dossier.json'>dossier.json</a>.")
    _withheld(edition, sheet)
    sheet.section("How it is read", "how")
    sheet.say(
        "Five questions are kept apart and never rolled into one score: does it match what was declared; how old is the metal and where from; in "
        "what condition is it; will a club let it run; what does the law say. Every number that was worked out leads to its working on "
        "<a href='figures.html'>Figures</a>. Numbers are rounded for print only; every decision is made on the unrounded ones."
    )
    sheet.section("Words")
    sheet.add(table("Words used here", [Column("Word"), Column("Meaning", "c-why")], [Row([esc(word), esc(text)]) for word, text in WORDS]))
    _looked_at_again(edition, sheet)
    for note in edition.build.notes:
        sheet.section(note.title, f"note-{note.id}")
        sheet.add(f'<div class="note">{free_text(note.text)}</div>')
    _releases(edition, sheet)
    sheet.section("Limits of this dossier", "limits")
    sheet.add(cautions_for("about"))
    shown = ", ".join(f"{one.hazard} ({', '.join(one.sheets)})" for one in CAUTIONS.values())
    sheet.say(f"Cautions shown in this dossier, wording {WORDING}: {esc(shown)}.", "quiet")
    lead = "How to read it, what is withheld from this edition, the words it uses, and what it does not say."
    return Page("about", "About this dossier", sheet.html, lead=lead, sections=tuple(sheet.sections))


def free_text(text: str) -> str:
    """A note's Markdown as HTML; raw HTML in it is shown as text, its headings stand two levels lower, pictures and scripts cannot come in."""
    reader = markdown.Markdown(extensions=["sane_lists", "tables"], output_format="html")
    reader.treeprocessors.register(_WordsAlone(reader), "words alone", 0)
    shown = reader.convert(text.replace("&", "&amp;").replace("<", "&lt;"))
    for level in (4, 3, 2, 1):
        shown = shown.replace(f"<h{level}>", f"<h{min(level + 2, 6)}>").replace(f"</h{level}>", f"</h{min(level + 2, 6)}>")
    return "\n".join(line for line in shown.split("\n") if line.strip())


class _WordsAlone(Treeprocessor):
    """Leaves a link where a reader sees whither it leads; of any other, and of a picture, the words alone."""

    def run(self, root: ElementTree.Element) -> None:
        for picture in root.iter("img"):
            picture.tag, picture.text = "span", picture.get("alt", "")
            picture.attrib.clear()
        for link in root.iter("a"):
            if not may_lead(html.unescape(link.get("href", ""))):
                link.tag = "span"
                link.attrib.clear()


def _withheld(edition: Edition, sheet: Sheet) -> None:
    counts = {section: count for section, count in sorted(edition.withheld.items()) if count}
    sheet.section("What is withheld", "withheld")
    if not counts:
        sheet.say(
            "Nothing: this edition shows all that is recorded."
            if edition.audience is Audience.WORKSHOP
            else "Nothing is withheld from this edition."
        )
        return
    columns = [Column("Section"), Column("Withheld", "num")]
    rows = [Row([esc(capital(section)), str(count)]) for section, count in counts.items()]
    sheet.add(
        table(f"Entries and fields that this edition does not show: {sum(counts.values())}", columns, rows, kind="plain", css="counts")
    )


def _looked_at_again(edition: Edition, sheet: Sheet) -> None:
    if not edition.notices:
        return
    sheet.section("To be looked at again", "again")
    said: dict[tuple[str, str], list[str]] = {}
    for notice in edition.notices:
        said.setdefault((notice.code, notice.text), []).append(_about(edition, notice.about))
    columns = [Column("What was noticed", "c-why"), Column("About"), Column("Code", "c-why")]
    rows = [Row([linked(edition, capital(text)), ", ".join(dict.fromkeys(about)), esc(code)]) for (code, text), about in said.items()]
    sheet.add(table("Things noticed that are no verdict", columns, rows, css="notices"))


def _about(edition: Edition, about: str) -> str:
    worked = next((one for one in edition.worked if one.id == about), None)
    return door(worked, esc(title(worked))) if worked is not None else linked(edition, about) or "the folder"


def _releases(edition: Edition, sheet: Sheet) -> None:
    if edition.released:
        sheet.section("Releases")
        sheet.say("Shown to more eyes than its form allows: " + "; ".join(esc(line) for line in edition.released) + ".")
