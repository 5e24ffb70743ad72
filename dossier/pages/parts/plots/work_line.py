"""Build timeline: operations, sessions, snags and revisions on one scale of days."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from dossier.pages.parts.plots.days import DayScale, day_words
from dossier.pages.parts.plots.lettering import fit
from dossier.pages.parts.plots.pen import Board, Form, Stamp, something, two_drawings

KEY = "Dot: a day's work. Hatched: from found to mended. Ring: proved. An arrow: still open."


@dataclass(frozen=True)
class WorkEvent:
    """Something of one day, or from `start` to `end`; `proved`: when it was shown to hold; `open`: no end yet."""

    id: str
    label: str
    start: date
    end: date | None = None
    proved: date | None = None
    open: bool = False


@dataclass(frozen=True)
class WorkLane:
    """Events of one kind under one heading, such as Operations, Running, Snags, Revisions."""

    name: str
    events: tuple[WorkEvent, ...]


@dataclass(frozen=True)
class WorkLine:
    """The lanes from top to bottom."""

    lanes: tuple[WorkLane, ...]
    title: str = "The build in order of days"


def work_line(line: WorkLine, stamp: Stamp, prefix: str = "work") -> str:
    """The timeline as two SVG drawings; days."""
    something([e for lane in line.lanes for e in lane.events], "events")
    return two_drawings(lambda form: draw_work(line, stamp, form), prefix, line.title, _said(line))


def _event_words(event: WorkEvent) -> str:
    words = f"{event.id} {event.label}, {day_words(event.start)}"
    if event.end and event.end != event.start:
        words += f" to {day_words(event.end)}"
    if event.proved:
        words += f", proved {day_words(event.proved)}"
    return words + (", open" if event.open else "")


def _said(line: WorkLine) -> str:
    return " ".join(f"{lane.name}: {'; '.join(_event_words(e) for e in lane.events)}." for lane in line.lanes)


def draw_work(line: WorkLine, stamp: Stamp, form: Form) -> Board:
    """One drawing of the timeline."""
    wide = not form.narrow
    pitch, head, top = (25, 30, 6) if wide else (42, 30, 6)
    lanes = [lane for lane in line.lanes if lane.events]
    bottom = top + sum(head + pitch * len(lane.events) for lane in lanes) + 6
    board = Board(form, bottom + 66, stamp)
    days = [d for lane in lanes for e in lane.events for d in (e.start, e.end, e.proved) if d]
    scale = DayScale(days, 372 if wide else 12, 975 if wide else 318, form)
    scale.draw(board, top, bottom)
    y = float(top)
    for lane in lanes:
        board.write(0, y + 20, lane.name, "t-lab strong")
        y += head
        for event in sorted(lane.events, key=lambda e: (e.start, e.id)):
            _event(board, event, scale, y, form)
            y += pitch
    return board


def _event(board: Board, event: WorkEvent, scale: DayScale, top: float, form: Form) -> None:
    base, y = (top + 17, top + 12) if not form.narrow else (top + 13, top + 28)
    start = max(52.0, form.width_of(event.id, "t-num") + 8)
    board.write(0, base, event.id, "t-num quiet")
    board.write(start, base, fit(event.label, (352 if not form.narrow else form.width) - start, form.label))
    sheet, x = board.sheet, scale.at(event.start)
    ends = [x]
    if event.open:
        edge = scale.stretches[-1].right + 8
        sheet.box_at("gain", (x, y - 5), (edge - 8, y + 5), "hatch")
        sheet.shape("arrow", [(edge, y), (edge - 8, y - 4), (edge - 8, y + 4)])
        ends.append(edge)
    elif event.end and event.end != event.start:
        ends.append(scale.at(event.end))
        sheet.box_at("gain", (x, y - 5), (ends[-1], y + 5), "hatch")
    if event.proved:
        proved = scale.at(event.proved)
        sheet.strokes("u", [(ends[-1], y), (proved, y)])
        sheet.dots("o", [(proved, y)], 4)
        ends.append(proved)
    if len(ends) == 1:
        sheet.dots("f", [(x, y)], 5)
    words = "open" if event.open else f"{event.start.day} {day_words(event.start).split()[1]}"
    kind = "t-num strong" if event.open else "t-num quiet"
    over = max(ends) + 10 + form.width_of(words, kind) > form.width
    board.write(min(ends) - 10 if over else max(ends) + 10, y + 5, words, kind, "end" if over else "start")
