"""Evidence timeline: every source by its date against the reference day, marked by what it speaks of."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from dossier.pages.parts.plots.days import DayScale, day_words
from dossier.pages.parts.plots.lettering import fit, signed
from dossier.pages.parts.plots.pen import Board, Form, Stamp, something, two_drawings

KEY = "Each source by its date; the number is its distance from the reference day. Strokes across the scale: years left out."

Subject = Literal["this", "sister", "type"]
_SUBJECTS: dict[Subject, str] = {
    "this": "of the reference machine itself",
    "sister": "of a sister machine",
    "type": "of the model in general",
}


@dataclass(frozen=True)
class Source:
    """One piece of evidence: id, title, date (None when undated), and what it speaks of."""

    id: str
    title: str
    day: date | None
    subject: Subject = "this"


@dataclass(frozen=True)
class EvidenceTimeline:
    """All sources, in any order, and the day that is being replicated."""

    sources: tuple[Source, ...]
    reference: date
    reference_name: str = "reference day"
    title: str = "Evidence against the reference day"


def evidence_timeline(line: EvidenceTimeline, stamp: Stamp, prefix: str = "evidence") -> str:
    """The timeline as two SVG drawings; days."""
    something(line.sources, "sources")
    return two_drawings(lambda form: draw_evidence(line, stamp, form), prefix, line.title, _said(line))


def _distance(source: Source, line: EvidenceTimeline) -> str:
    if source.day is None:
        return "undated"
    days = (source.day - line.reference).days
    return "same day" if days == 0 else f"{signed(days)} day{'s' if abs(days) != 1 else ''}"


def _ordered(line: EvidenceTimeline) -> list[Source]:
    return sorted(line.sources, key=lambda s: (s.day is None, s.day or line.reference, s.id))


def _said(line: EvidenceTimeline) -> str:
    said = "; ".join(f"{s.id} {s.title}, {_SUBJECTS[s.subject]}: {_distance(s, line)}" for s in _ordered(line))
    return f"The {line.reference_name} is {day_words(line.reference)}. {said}."


def draw_evidence(line: EvidenceTimeline, stamp: Stamp, form: Form) -> Board:
    """One drawing of the timeline."""
    wide, sources = not form.narrow, _ordered(line)
    used = [subject for subject in _SUBJECTS if any(s.subject == subject for s in sources)]
    legend = 24 if wide else 20 * len(used)
    pitch, top = (26, legend + 34) if wide else (44, legend + 36)
    bottom = top + pitch * len(sources) + 6
    board = Board(form, bottom + 66, stamp)
    days = [s.day for s in sources if s.day] + [line.reference]
    scale = DayScale(days, 372 if wide else 10, 975 if wide else 320, form)
    scale.draw(board, top, bottom)
    _legend(board, used, form)
    x = scale.at(line.reference)
    board.sheet.strokes("lim", [(x, top - 8), (x, bottom)])
    words = f"{line.reference_name}, {day_words(line.reference)}"
    half = form.width_of(words) / 2
    board.write(min(max(x, half), form.width - half), top - 14, words, "t-lab", "middle")
    for n, source in enumerate(sources):
        _source(board, source, line, scale, top + pitch * n, form)
    return board


def _legend(board: Board, used: list[Subject], form: Form) -> None:
    x, y = 6.0, 12.0
    for subject in used:
        marker(board, subject, x, y - 5)
        board.write(x + 14, y, _SUBJECTS[subject], "t-lab quiet")
        if form.narrow:
            y += 20
        else:
            x += form.width_of(_SUBJECTS[subject]) + 44


def marker(board: Board, subject: Subject, x: float, y: float) -> None:
    """Dot: the machine itself. Ring: a sister machine. Square: the model in general."""
    if subject == "this":
        board.sheet.dots("f", [(x, y)], 5)
    elif subject == "sister":
        board.sheet.dots("o", [(x, y)], 4)
    else:
        board.sheet.box_at("open", (x - 4, y - 4), (x + 4, y + 4))


def _source(board: Board, source: Source, line: EvidenceTimeline, scale: DayScale, top: float, form: Form) -> None:
    distance = _distance(source, line)
    base, y = (top + 17, top + 12) if not form.narrow else (top + 15, top + 30)
    start = max(36.0, form.width_of(source.id, "t-num") + 8)
    board.write(0, base, source.id, "t-num quiet")
    board.write(start, base, fit(source.title, (352 if not form.narrow else form.width) - start, form.label))
    if source.day is None:
        board.write(scale.stretches[0].left - 6, y + 5, distance, "t-num quiet")
        return
    x = scale.at(source.day)
    marker(board, source.subject, x, y)
    width, reference = form.width_of(distance, "t-num"), scale.at(line.reference)
    crosses = x < reference - 6 and x + 10 + width > reference and x - 10 - width > scale.stretches[0].left - 8
    ends = crosses or x + 10 + width > form.width
    board.write(x - 10 if ends else x + 10, y + 5, distance, "t-num quiet", "end" if ends else "start")
