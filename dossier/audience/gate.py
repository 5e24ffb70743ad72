"""Lets an edition out: of all that is known of a build, what one audience may see."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from typing import Protocol

from dossier.audience.forms import sieved
from dossier.audience.results import Results
from dossier.model.audience import Audience
from dossier.model.build import Build
from dossier.model.edition import Edition, Notice
from dossier.model.problems import Problem, Severity
from dossier.model.results import Verdict, Worked


class Known(Protocol):
    """All that is known of one build: what the gate takes in."""

    @property
    def build(self) -> Build:
        """As read."""

    @property
    def worked(self) -> tuple[Worked, ...]:
        """Every figure, of every role."""

    @property
    def verdicts(self) -> tuple[Verdict, ...]:
        """One on each declared item."""

    @property
    def problems(self) -> Iterable[Problem]:
        """Faults found in the folder."""

    @property
    def missing_records(self) -> tuple[str, ...]:
        """Mandatory records that are not there."""

    @property
    def what_if(self) -> tuple[tuple[str, tuple[Worked, ...]], ...]:
        """For each what-if block, by its id, the figures that change."""

    @property
    def revision(self) -> str:
        """The revision judged against."""

    @property
    def revised(self) -> datetime.date:
        """Its day."""


def let_out(record: Known, audience: Audience) -> Edition:
    """The edition for one audience. Raises NothingToShow where machine or workshop as a whole are kept from it."""
    sieve = sieved(record.build, audience)
    results = Results(sieve, record.worked, record.verdicts)
    shown = {block.id for block in sieve.passed.measurements.what_if}
    what_if = tuple((name, results.changed(changed)) for name, changed in record.what_if if name in shown)
    return Edition(
        audience=audience, build=sieve.passed, worked=results.worked, verdicts=results.verdicts,
        withheld={word: count for word, count in sorted((sieve.withheld + results.withheld).items()) if count},
        notices=_notices(results, record.problems, sieve.all_seen), revision=record.revision, revised=record.revised,
        draft=bool(record.missing_records), missing_records=record.missing_records, what_if=what_if,
        left_out={word: count for word, count in sorted(sieve.left_out.items()) if count},
        released=_release_lines(record.build) if sieve.all_seen else (), travels=tuple(sieve.travels()),
    )  # fmt: skip


def _release_lines(build: Build) -> tuple[str, ...]:
    lines = ((one, f": {one.why}" if one.why else "") for one in build.custody.releases)
    return tuple(f"{one.what} to {one.to.word}, by {one.by}, {one.on.isoformat()}{why}" for one, why in lines)


def _notices(shown: Results, problems: Iterable[Problem], all_seen: bool) -> tuple[Notice, ...]:
    """Warnings of the figures and verdicts shown. Problems quote what somebody wrote, so they are for the workshop alone."""
    out = [Notice(warning.code, warning.text, figure.id) for figure in shown.worked for warning in figure.warnings]
    out += [Notice(warning.code, warning.text, verdict.item) for verdict in shown.verdicts for warning in verdict.warnings]
    if all_seen:
        # a problem that only repeats the warning of a figure or an item ends in its words
        said = {(one.code, one.text) for one in out}
        rest = (one for one in problems if one.severity is not Severity.ERROR and (one.code, one.message.partition(": ")[2]) not in said)
        out += [Notice(one.code, one.message, _where(one)) for one in rest]
    return tuple(dict.fromkeys(out))


def _where(problem: Problem) -> str:
    """File within the build folder and line: where the folder lies is nobody's business, and must not change a byte."""
    file = problem.place.file.rpartition("/")[2]
    return f"{file}, line {problem.place.line}" if problem.place.line else ""
