"""Publishing and showing: publish, preview, hosting."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dossier.cli.again import keep_note, published_again, stands
from dossier.cli.door import (
    AUDIENCES,
    PATH,
    PROBLEMS,
    bar,
    errors,
    main,
    open_all,
    our_fault,
    say,
    summary,
)

if TYPE_CHECKING:
    from dossier.audience import Opened
    from dossier.publish.dossier import Published


@main.command()
@PATH
@click.option("--out", required=True, type=click.Path(path_type=Path), help="Folder of the site; exchanged whole or not at all.")
@click.option("--for", "audience", required=True, type=click.Choice(AUDIENCES), help="Who will read it.")
@click.option("--cache", type=click.Path(path_type=Path), help="Folder for what need not be made again; may be deleted at any time.")
@click.option("--no-cache", is_flag=True, help="Make everything anew and keep nothing.")
def publish(path: Path, out: Path, audience: str, cache: Path | None, no_cache: bool) -> None:
    """Publish the dossier of a build, or of all builds of a folder with their archive page."""
    from dossier.publish.laid import usual_cache

    kept = None if no_cache else cache or usual_cache()
    with our_fault():
        _refuse_within(path, out)
        before = stands(path, audience) if kept else None
        if kept and before and (done := published_again(path, out, kept, before)):
            click.echo(f"{done}: {out / 'index.html'}")
            return
        opened, problems = open_all((path,), kept)
        say([problem for problem in problems if problem.severity.value == "error"], err=True)
        if errors(problems) or not opened:
            click.echo(summary(len(opened), problems) + "; nothing was published", err=True)
            sys.exit(PROBLEMS)
        published = publish_all(path, opened, out, audience, kept)
        # notes are for `check`: whether photographs look alike is not asked again when only a picture was made anew
        said = summary(len(opened), [problem for problem in problems if problem.severity.value != "note"])
        if kept and before:
            keep_note(path, opened, out, kept, before, said, published)
        click.echo(f"{said}; {audience} edition published: {out / 'index.html'}")


def _refuse_within(path: Path, out: Path) -> None:
    """A site is never written among the records it is made of, nor over the folder that holds them."""
    inside, records = out.resolve(), path.resolve()
    if inside == records or records in inside.parents or inside in records.parents:
        raise click.UsageError(f"{out} and the records in {path} lie within one another; publish into a folder apart")


def publish_all(path: Path, opened: Sequence[Opened], out: Path, audience: str, kept: Path | None) -> list[Published]:
    """Publish editions for one audience into `out`; ends with an exit code where pictures or the target stand in the way."""
    from dossier.model.audience import Audience
    from dossier.publish import dossiers
    from dossier.publish.dossier import PictureChangedError
    from dossier.publish.exchange import ExchangeError

    editions = [one.edition(Audience[audience.upper()]) for one in opened]
    single = opened[0].path.resolve() == path.resolve()
    try:
        with bar("pictures") as progress:
            sources, pictures = [one.path for one in opened], kept and kept / "pictures"
            return dossiers.publish(editions, sources, out, single=single, cache=pictures, progress=progress)
    except PictureChangedError as changed:
        for id, fault in changed.faults.items():
            click.echo(f"{id}: error {fault.code}: {fault.message}", err=True)
        click.echo("nothing was published", err=True)
        sys.exit(PROBLEMS)
    except (ExchangeError, OSError) as fault:
        if isinstance(fault, OSError) and str(out.absolute().parent) not in str(fault.filename):
            raise
        raise click.UsageError(f"cannot publish into {out}: {fault}") from fault


@main.command()
@PATH
@click.option("--for", "audience", default="workshop", type=click.Choice(AUDIENCES), show_default=True)
@click.option("--port", default=8700, show_default=True, help="Port on this machine.")
def preview(path: Path, audience: str, port: int) -> None:
    """Publish aside and show it on this machine only; published again whenever the folder changes."""
    with our_fault():
        from dossier.publish.laid import usual_cache
        from dossier.publish.preview import serve

        def make(out: Path) -> bool:
            opened, problems = open_all((path,), usual_cache())
            say(problems, err=True)
            if opened and not errors(problems):
                publish_all(path, opened, out, audience, usual_cache())
            return bool(opened) and not errors(problems)

        from dossier.audience import fingerprint_of

        serve(make, lambda: fingerprint_of(path), port, click.echo)


@main.command()
@click.argument("server", type=click.Choice(("caddy", "nginx")))
def hosting(server: str) -> None:
    """Print the settings that put a published folder behind a login, for one of two web servers."""
    from dossier.publish.hosting import settings

    click.echo(settings(server), nl=False)
