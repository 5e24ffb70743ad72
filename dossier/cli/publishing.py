"""Publishing and showing: publish, preview, hosting."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dossier.cli import archives
from dossier.cli.again import Needs, keep_note, look_before, of_what, published_again
from dossier.cli.door import (
    AUDIENCES,
    PATH,
    PROBLEMS,
    bar,
    errors,
    main,
    nothing,
    open_all,
    our_fault,
    say,
    say_dead,
    summary,
)
from dossier.cli.one_build import warning_words

if TYPE_CHECKING:
    from dossier.audience import Opened
    from dossier.publish.dossier import Published
    from dossier.publish.hands import Hands


@dataclass(frozen=True)
class Way:
    """How it is published: with what is kept, on how many cores or by whose scheduler, and how much of an archive.

    `notes` is where it is kept what was laid out; `warnings` says more than what stands in the way.
    """

    kept: Path | None
    notes: Path | None
    cores: int | None = None
    scheduler: str = ""
    only: str = ""
    index_only: bool = False
    warnings: bool = False

    def hands(self) -> Hands:
        """Who does the work."""
        from dossier.publish.hands import Hands, all_cores

        return Hands(self.cores or all_cores(), self.scheduler)


@main.command()
@PATH
@click.option("--out", required=True, type=click.Path(path_type=Path), help="Folder of the site; exchanged whole or not at all.")
@click.option("--for", "audience", required=True, type=click.Choice(AUDIENCES), help="Who will read it.")
@click.option("--cache", type=click.Path(path_type=Path), help="Folder for what need not be made again; may be deleted at any time.")
@click.option("--no-cache", is_flag=True, help="Make everything anew and keep nothing.")
@click.option("--only", default="", metavar="SLUG", help="Of an archive, one build into its folder; the pages over all are left as they are.")
@click.option("--index-only", is_flag=True, help="Of an archive, the pages over all; every build must be published. Last, not beside --only.")
@click.option("--cores", type=click.IntRange(1), help="Builds published at a time; all cores if not said.")
@click.option("--scheduler", default="", metavar="ADDRESS", help="A Dask scheduler, tcp://host:port, whose workers do it instead.")
def publish(
    path: Path, out: Path, audience: str, cache: Path | None, no_cache: bool, only: str, index_only: bool, cores: int | None, scheduler: str
) -> None:
    """Publish the dossier of a build, or of all builds of a folder with the pages over all of them."""
    from dossier.publish.laid import usual_cache

    kept = None if no_cache else cache or usual_cache()
    way = Way(kept, kept, cores, scheduler, only, index_only)
    with our_fault():
        _refuse_within(path, out)
        _refuse_wider(out, audience)
        click.echo(f"{publish_all(path, out, audience, way)}: {out / 'index.html'}")


def _refuse_within(path: Path, out: Path) -> None:
    """A site is never written among the records it is made of, nor over the folder that holds them."""
    inside, records = out.resolve(), path.resolve()
    if inside == records or records in inside.parents or inside in records.parents:
        raise click.UsageError(f"{out} and the records in {path} lie within one another; publish into a folder apart")


def _refuse_wider(out: Path, audience: str) -> None:
    """Whoever was given a folder to read must not find more in it one day than was meant for him."""
    from dossier.publish.archive_folder import audience_at

    there = audience_at(out)
    if there in AUDIENCES[: AUDIENCES.index(audience)]:
        raise click.UsageError(f"{out} holds what is for the {there}; publish for the {audience} into another folder, or delete it first")


def publish_all(path: Path, out: Path, audience: str, way: Way) -> str:
    """Publish a build or a folder of builds; what to say of it. Ends with an exit code where something stands in the way."""
    from dossier.keep.standing import find_builds
    from dossier.publish.laid import note_of, note_within

    found = find_builds(path)
    if not found or found == [path]:
        if way.only or way.index_only:
            raise click.UsageError(f"{path} is no folder of builds; --only and --index-only are for an archive")
        return _one(path, out, audience, way, way.notes and note_of(way.notes, out))
    builds = {build.resolve().name: build for build in found}
    if len(builds) != len(found):
        raise click.UsageError(f"two builds in {path} bear one name")
    if taken := {"assets", "search"} & builds.keys():
        raise click.UsageError(f"{path / min(taken)}: the archive keeps a folder of its own by that name; rename the build's folder")
    asked = archives.Asked(builds, of_what(path, audience), out, way.kept, way.notes)
    if not way.only:
        return _archive(asked, way)
    if way.only not in builds:
        from dossier.model.problems import did_you_mean

        raise click.UsageError(f"there is no build {way.only!r} in {path}; {did_you_mean(way.only, builds)}")
    with _into(out):
        from dossier.publish.archive_folder import room_for_one
        from dossier.publish.exchange import within

        out.mkdir(parents=True, exist_ok=True)
        with within(out):
            room_for_one(out, audience)
            return _one(builds[way.only], out / way.only, audience, way, way.notes and note_within(way.notes, out, way.only))


def _archive(asked: archives.Asked, way: Way) -> str:
    audience, all_of_it = asked.of[1], len(asked.builds)
    with _into(asked.out):
        found = archives.as_they_lie(asked) if way.index_only else archives.look_round(asked)
        if archives.stands(found):
            said = f"pages over {all_of_it} dossiers" if way.index_only else found.said()
            return f"{said}; nothing changed, the {audience} edition stands"
        try:
            archives.make(found, way.hands())
        except archives.NotClean:
            _say_unclean(found)
    if way.index_only:
        return f"pages over {all_of_it} dossiers made, {audience} edition published"
    anew, pictures = len(found.of_need(Needs.ALL)), len(found.of_need(Needs.PICTURES))
    part = f"{anew} of {all_of_it} made anew, " if 0 < anew < all_of_it else ""
    return f"{found.said()}; {part}{'new pictures, ' if pictures else ''}{audience} edition published"


def _say_unclean(found: archives.Round) -> None:
    from dossier.model.problems import in_order

    unclean = archives.in_order_of(found)
    say(in_order(problem for one in unclean for problem in one.errors), err=True)
    for one in unclean:
        for id, fault in one.faults:
            click.echo(f"{one.build}: {id}: error {fault.code}: {fault.message}", err=True)
    nothing(found.said(), "published")


def _one(path: Path, out: Path, audience: str, way: Way, note: Path | None) -> str:
    before = look_before(path, of_what(path, audience), note, out) if note else None
    if way.kept and note and before and (done := published_again(before, note, out, way.kept / "pictures")):
        return done
    opened, problems = open_all((path,), way.kept)
    say([problem for problem in problems if way.warnings or problem.severity.value == "error"], err=True)
    if errors(problems) or not opened:
        nothing(summary(len(opened), problems), "published")
    published = _published(opened[0], out, audience, way)
    say_dead(path, published.dead_links)
    if note and before:
        keep_note(opened[0], warning_words(problems), out, note, before, published)
    # notes are for `check`: whether photographs look alike is not asked again when only a picture was made anew
    said = summary(1, [problem for problem in problems if problem.severity.value != "note"])
    return f"{said}; {audience} edition published"


def _published(one: Opened, out: Path, audience: str, way: Way) -> Published:
    """Publish one edition for an audience into `out`; ends with an exit code where pictures or the target stand in the way."""
    from dossier.model.audience import Audience
    from dossier.publish import dossiers
    from dossier.publish.dossier import PictureChangedError

    edition = one.edition(Audience[audience.upper()])
    try:
        with _into(out), bar("pictures") as progress:
            return dossiers.publish([edition], [one.path], out, True, way.kept and way.kept / "pictures", progress)[0]
    except PictureChangedError as changed:
        for id, fault in changed.faults.items():
            click.echo(f"{id}: error {fault.code}: {fault.message}", err=True)
        click.echo("nothing was published", err=True)
        sys.exit(PROBLEMS)


@contextmanager
def _into(out: Path) -> Iterator[None]:
    """A place that cannot be published to is wrong use, and said so."""
    from dossier.publish.archive_folder import NotPublished
    from dossier.publish.cluster import ClusterError
    from dossier.publish.exchange import ExchangeError

    try:
        yield
    except (NotPublished, ClusterError) as fault:
        raise click.UsageError(str(fault)) from fault
    except (ExchangeError, OSError) as fault:
        if not isinstance(fault, ExchangeError) and str(out.absolute().parent) not in str(fault.filename):
            raise
        raise click.UsageError(f"cannot publish into {out}: {fault}") from fault


@main.command()
@PATH
@click.option("--for", "audience", default="workshop", type=click.Choice(AUDIENCES), show_default=True)
@click.option("--port", default=8700, show_default=True, help="Port on this machine.")
def preview(path: Path, audience: str, port: int) -> None:
    """Publish aside and show it on this machine only; published again whenever the folder changes."""
    with our_fault():
        from dossier.audience import fingerprint_of
        from dossier.publish.laid import usual_cache
        from dossier.publish.preview import serve

        def make(out: Path) -> bool:
            try:
                publish_all(path, out, audience, Way(usual_cache(), out.parent, warnings=True))
            except SystemExit:  # said already
                return False
            return True

        serve(make, lambda: fingerprint_of(path), port, click.echo)


@main.command()
@click.argument("server", type=click.Choice(("caddy", "nginx")))
def hosting(server: str) -> None:
    """Print the settings that put a published folder behind a login, for one of two web servers."""
    from dossier.publish.hosting import settings

    click.echo(settings(server), nl=False)
