"""Runs read, figures and conform in that order, and keeps the whole: all that is known of one build."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from pathlib import Path

from dossier.conform.complete import completeness
from dossier.conform.judge import judge
from dossier.conform.lookup import Lookup
from dossier.figures.bench import KINDS, differs
from dossier.figures.bench import bench_list as bench_list
from dossier.figures.bench import instead_on_the_bench as instead_on_the_bench
from dossier.figures.bench import on_the_bench as on_the_bench
from dossier.figures.figure import FIGURES, Figure
from dossier.figures.value import count
from dossier.figures.values import instead_of, values_of
from dossier.figures.values_of_logs import apart_from_logs
from dossier.figures.work_out import work_out
from dossier.model.audience import Audience
from dossier.model.build import Build
from dossier.model.contrast import livery_faults
from dossier.model.forms.measurements import Entry, Role
from dossier.model.problems import Place, Problem, did_you_mean, in_order
from dossier.model.quantity import Quantity
from dossier.model.results import Value, Verdict, Warned, Worked
from dossier.model.units import signs_of
from dossier.read.files import fingerprint
from dossier.read.files import input_files as input_files
from dossier.read.folder import find_builds, read_build

Folder = Path
"""Where a build lies; rooms that look round in no folder pass it on by this name."""

_SLIP = 0.9
"""From this likeness on, a name that nothing knows is taken for a slip of the pen."""

@dataclass(frozen=True)
class Record:
    """Build as read, figures, verdicts, and every problem found on the way."""

    build: Build
    worked: tuple[Worked, ...]
    verdicts: tuple[Verdict, ...]
    problems: tuple[Problem, ...]
    missing_records: tuple[str, ...]
    what_if: tuple[tuple[str, tuple[Worked, ...]], ...]
    revision: str
    revised: datetime.date


def make_records(path: Path, kept: Path | None = None) -> tuple[list[tuple[Path, Record]], list[Problem]]:
    """A record for every build at `path` (a build, or a folder of builds) that can be read, and all problems of all of them.

    `kept` is a folder for what earlier readings found in the photographs.
    """
    records: list[tuple[Path, Record]] = []
    problems = _through(path, kept, lambda *one: records.append(one))
    return records, problems


def look_through(path: Path, kept: Path | None = None) -> tuple[int, list[Problem]]:
    """How many builds at `path` could be read, and all problems of all of them; but one is in memory at a time."""
    folders: list[Path] = []
    problems = _through(path, kept, lambda folder, _: folders.append(folder))
    return len(folders), problems


def _through(path: Path, kept: Path | None, take: Callable[[Path, Record], None]) -> list[Problem]:
    """Hand over the record of every build at a path that can be read; all problems."""
    folders, problems = find_builds(path), []
    slugs = [folder.resolve().name for folder in folders]
    groups: list[Problem] = []
    if not folders:
        advice = "name a build folder, which holds a machine.yaml, or a folder of such; `dossier begin FOLDER` begins one"
        problems.append(Problem("build-missing", f"there is no build in {path}", Place(str(path)), advice))
    for folder in folders:
        record, found = make_record(folder, kept)
        problems += found
        if record is not None:
            groups = _groups_of_nobody(record.build, slugs) if folders != [path] else []
            take(folder, record)
    return problems + groups


def _groups_of_nobody(build: Build, slugs: Sequence[str]) -> list[Problem]:
    """Builds that the workshop lays side by side and that are not there; one alone cannot tell."""
    says = "the group {!r} names {!r}, and no build is called so"
    return [
        Problem("group-unknown", says.format(group.name, name), group.written, did_you_mean(name, slugs), "builds")
        for group in build.workshop.side_by_side
        for name in group.builds
        if name not in slugs
    ]


def fingerprint_of(path: Path) -> str:
    """Changes whenever anything that is read of the builds at `path` changes."""
    return " ".join(fingerprint(folder) for folder in find_builds(path))


def make_record(path: Path, kept: Path | None = None) -> tuple[Record | None, list[Problem]]:
    """All that is known of the build folder at `path`, and all problems; no record where the folder cannot be read as a build."""
    build, problems = read_build(path, kept=kept)
    if build is None:
        return None, in_order(problems)
    revision, revised = latest_revision(build)
    whole = completeness(build)
    missing = whole.missing
    values = (
        *values_of(build, revised),
        count("records_present", whole.due - len(missing), audience=Audience.PUBLIC, title="Mandatory records there"),
        count("records_due", whole.due, audience=Audience.PUBLIC, title="Mandatory records"),
    )
    recipes = list(FIGURES.gather())
    worked = work_out(values, recipes, build.machine.engine.strokes)
    verdicts = judge(build, Lookup(build, values, worked), revision)
    found = [
        *problems,
        *livery_faults(build.machine),
        *_misfits(build, recipes),
        *_pins_to_nothing(build, recipes),
        *_apart_from_logs(build, values),
        *_warned(str(path), build, worked, verdicts),
        *(_missing(path, word, where) for word, where in zip(missing, whole.where, strict=True)),
    ]
    record = Record(build, worked, verdicts, tuple(in_order(found)), missing, _what_if(build, values, worked, recipes), revision, revised)
    return record, list(record.problems)


def latest_revision(build: Build) -> tuple[str, datetime.date]:
    """Name and day of the latest revision; before the first, the first day of the year of completion and no name."""
    revisions = build.custody.revisions
    if not revisions:
        return "none", datetime.date(max(1, build.machine.completed), 1, 1)
    last = max(revisions, key=lambda one: one.date)
    return last.rev, last.date


def _what_if(
    build: Build, values: Sequence[Value], worked: Sequence[Worked], recipes: Sequence[Figure]
) -> tuple[tuple[str, tuple[Worked, ...]], ...]:
    now = {(one.id, one.role): one for one in worked}
    out = []
    for block in build.measurements.what_if:
        then = work_out(instead_of(values, block.instead, build.workshop.instruments), recipes, build.machine.engine.strokes)
        out.append((block.id, tuple(one for one in then if one.role is Role.AS_BUILT and differs(now.get((one.id, one.role)), one))))
    return tuple(out)


def _misfits(build: Build, recipes: Sequence[Figure]) -> list[Problem]:
    """Values without a unit or of the wrong kind for the figures that take them in, and values that nothing here takes in."""
    strokes = build.machine.engine.strokes
    ours = {one.takes for recipe in recipes if not recipe.for_bench and recipe.strokes in ("both", strokes) for one in recipe.inputs}
    others = {one.takes for recipe in recipes if recipe.strokes not in ("both", strokes) for one in recipe.inputs}
    known = ours | {name for item in build.specification.items for name in (item.id, item.quantity) if name}
    known |= {one.holds_for for one in build.specification.concessions if one.holds_for}
    kinds = _kinds(recipes)
    out = [*_items_of_nothing(build, recipes)]
    for entry in _entries(build):
        if entry.what in others - known:
            said = f"{entry.what!r} goes into figures of the {KINDS['2' if strokes == '4' else '4']} alone, and this is a {KINDS[strokes]}"
            out.append(Problem("value-feeds-nothing", said, entry.written, "look whether the engine's strokes are right", "what"))
        elif entry.what not in known:
            out.append(_unknown(entry, known))
        wanted = set() if entry.lacks_unit else kinds.get(entry.what, set())  # else it is told already
        if misfit := next((one for one in entry.quantities if wanted and one.kind not in wanted), None):
            out.append(_misfit(entry, misfit, sorted(wanted)))
    return out


def _items_of_nothing(build: Build, recipes: Iterable[Figure]) -> list[Problem]:
    """Declared items whose quantity nobody measured and no figure works out, though the name looks like one that is known."""
    known = {entry.what for entry in _entries(build)} | {name for one in recipes for name in (one.name, *(put.takes for put in one.inputs))}
    out = []
    for item in build.specification.items:
        if item.quantity and item.quantity not in known:
            advice = did_you_mean(item.quantity, known, "leave it if it is still to be measured")
            said = f"no reading and no figure is called {item.quantity!r}"
            out.append(Problem("quantity-misspelt", said, item.written, advice, "quantity"))
    return out


def _kinds(recipes: Iterable[Figure]) -> dict[str, set[str]]:
    """For each name that a figure takes in, the kinds of quantity it may be; names of words are left out."""
    kinds: dict[str, set[str]] = {}
    for recipe in recipes:
        for one in recipe.inputs:
            if not one.words and not recipe.for_bench:
                kinds.setdefault(one.takes, set()).add(one.measured_in.kind)
    return kinds


def _entries(build: Build) -> tuple[Entry, ...]:
    measured = build.measurements
    instead = tuple(entry for block in measured.what_if for entry in block.instead)
    return (*measured.declared, *measured.donor, *measured.as_built, *measured.noted, *instead)


def _misfit(entry: Entry, quantity: Quantity, wanted: Sequence[str]) -> Problem:
    units = ", ".join(signs_of(wanted[0])[:4])
    if quantity.unit.sign == "":
        return Problem("unit-missing", f"{entry.what} of {quantity} has no unit", entry.written, f"write its unit: {units}", "value")
    message = f"{entry.what} of {quantity} is a {quantity.kind}; a {' or '.join(wanted)} is wanted"
    return Problem("dimension-wrong", message, entry.written, f"write it in {units}", "value")


def _unknown(entry: Entry, known: set[str]) -> Problem:
    """An id that no item has is an error; a name that looks like a slip a warning; any other a note."""
    if re.fullmatch(r"[A-Z]{1,4}-?[0-9]+", entry.what):
        return Problem("id-unknown", f"there is no declared item {entry.what!r}", entry.written, did_you_mean(entry.what, known), "what")
    slips = [name for name in known if sorted(name) == sorted(entry.what) or SequenceMatcher(None, name, entry.what).ratio() > _SLIP]
    if slips:
        advice = f"did you mean {' or '.join(sorted(slips)[:3])}?"
        return Problem("quantity-misspelt", f"no figure and no item takes in {entry.what!r}", entry.written, advice, "what")
    advice = did_you_mean(entry.what, known, "leave it if it is only to be kept; no figure and no item needs it")
    return Problem("value-feeds-nothing", f"no figure and no item takes in {entry.what!r}", entry.written, advice, "what")


def _missing(path: Path, word: str, where: str) -> Problem:
    file, _, field = where.partition(", ")
    return Problem("record-missing", f"a record is missing: {word}", Place(f"{path}/{file}"), f"write {field} there", field.split()[0])


def _apart_from_logs(build: Build, values: Sequence[Value]) -> list[Problem]:
    entries = {(entry.what, entry.tags): entry for entry in _entries(build)}
    out = []
    for mine, logged in apart_from_logs(build, values):
        entry = entries.get((mine.name, mine.tags))
        said = f"{mine.title.lower()} is {mine.shown:g} {mine.unit}; the log {logged.source} has {logged.shown:.{mine.decimals + 1}f} {logged.unit}"
        out.append(Problem("log-disagrees", said, entry.written if entry else Place(build.slug), "mend it, or leave it to the log", "value"))
    return out


def _pins_to_nothing(build: Build, recipes: Iterable[Figure]) -> list[Problem]:
    """Pins on photographs that lead to neither a declared item nor a figure."""
    known = {item.id for item in build.specification.items} | {recipe.name for recipe in recipes}
    return [
        Problem("id-unknown", f"there is no item or figure {pin.to!r}", pin.written, did_you_mean(pin.to, known, "name one of either"), "to")
        for photo in build.photos.photos
        for pin in photo.pins
        if pin.to.partition(".")[0] not in known
    ]


def _warned(path: str, build: Build, worked: Iterable[Worked], verdicts: Iterable[Verdict]) -> list[Problem]:
    """Warnings of figures and verdicts as problems of the folder: at the item's line, or at the folder where it is a figure."""
    items = {item.id: item.written for item in build.specification.items}
    folder = Place(path)
    out = [_problem(warned, f"figure {one.id}", folder) for one in worked for warned in one.warnings]
    out += [_problem(warned, f"item {one.item}", items.get(one.item, folder)) for one in verdicts for warned in one.warnings]
    return out


def _problem(warned: Warned, about: str, place: Place) -> Problem:
    return Problem(warned.code, f"{about}: {warned.text}", replace(place, column=max(1, place.column)) if place.line else place)
