"""The set-up sheet on paper of its own, A5, for the toolbox."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.pages.parts.numbers import day
from dossier.pages.set_up import set_up
from dossier.publish.dossier import epoch_of
from dossier.publish.print_edition.marked import tree_of
from dossier.publish.print_edition.press import press

_SOURCE = r"""
#let d = json(bytes(sys.inputs.data))
#let narrow = ("Archivo", "Vollkorn", "Vollkorn Greek")
#set document(title: d.title + ", set-up sheet", author: d.builder, date: auto)
#set page(width: 148mm, height: 210mm, margin: (x: 11mm, top: 9mm, bottom: 13mm), footer: context [
  #set text(font: narrow, size: 7.5pt)
  #grid(columns: (1fr, auto), column-gutter: 4mm, d.foot, [#counter(page).display() of #counter(page).final().first()])])
#set text(font: ("Vollkorn", "Vollkorn Greek", "Archivo"), size: 9pt, lang: d.language, hyphenate: false, number-type: "lining")
#set par(leading: 0.5em, spacing: 0.7em)
#show heading.where(level: 1): set text(size: 13pt)
#show heading.where(level: 2): set text(size: 10.5pt)

#let render(one) = {
  if type(one) == str { return one }
  let tag = one.tag
  let body = one.inside.map(render).join()
  if tag == "p" { par(body) }
  else if tag == "h2" { heading(level: 2, body) }
  else if tag == "b" { strong(body) }
  else if tag == "i" { emph(body) }
  else if tag == "sub" { sub(body) }
  else if tag == "sup" { super(body) }
  else if tag == "small" { h(1.5mm) + text(font: narrow, size: 8pt, body) }
  else if tag == "ul" { list(marker: box(width: 2.4mm, height: 2.4mm, stroke: 0.5pt), ..one.inside.map(item => item.inside.map(render).join())) }
  else if tag == "dl" {
    table(columns: (auto, 1fr), inset: (x: 1mm, y: 0.9mm), stroke: (x, y) => (bottom: 0.3pt), align: (left + top, left + top),
      ..one.inside.map(pair => (
        text(font: narrow, pair.inside.at(0).inside.map(render).join()),
        text(size: 10.5pt, pair.inside.at(1).inside.map(render).join()))).flatten())
  }
  else { body }
}
#text(font: narrow, size: 12pt, weight: 600)[REPLICA]#if d.draft [ #h(1fr) #text(font: narrow, size: 12pt, weight: 600)[DRAFT]]
= #d.title
#par[Set-up sheet. A record of what was done, not an instruction; local law, club rules and a competent person come first.]
#d.body.map(render).join()
#if d.notice != "" { par(text(size: 7.5pt, d.notice)) }
"""


def set_up_sheet(edition: Edition) -> bytes | None:
    """The sheet as PDF of size A5 (148 × 210 mm), or None where the edition has no set-up to show."""
    page = set_up(edition)
    if page is None:
        return None
    machine = edition.build.machine
    draft = ", DRAFT" if edition.draft else ""
    revision = f"revision {edition.revision}, {day(edition.revised)}"
    data = {
        "title": machine.title, "builder": machine.builder, "draft": edition.draft, "notice": machine.notice or "",
        "language": (machine.languages[0] if machine.languages else "en")[:2], "body": tree_of(page.html),
        "foot": f"REPLICA. {machine.build_no}. {edition.audience.word.capitalize()} edition{draft}, {revision}",
    }  # fmt: skip
    return press(_SOURCE, data, epoch_of(edition))
