"""Paper: print."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dossier.cli.door import AUDIENCES, PATH, PROBLEMS, bar, errors, main, nothing, open_all, our_fault, say, summary

if TYPE_CHECKING:
    from dossier.audience import Opened


@main.command("print")
@PATH
@click.option("--for", "audience", required=True, type=click.Choice(AUDIENCES), help="Who will read it.")
@click.option("--out", required=True, type=click.Path(path_type=Path, dir_okay=False), help="File of the print edition, PDF; written over.")
@click.option("--cache", type=click.Path(path_type=Path), help="Folder for pictures already made; may be deleted at any time.")
@click.option("--no-cache", is_flag=True, help="Make every picture anew and keep nothing.")
def print_(path: Path, audience: str, out: Path, cache: Path | None, no_cache: bool) -> None:
    """Make the print edition of one build: every page and every plot as one PDF, made for paper."""
    with our_fault():
        from dossier.publish.laid import usual_cache

        kept = None if no_cache else cache or usual_cache()
        opened, problems = open_all((path,), kept)
        say([problem for problem in problems if problem.severity.value == "error"], err=True)
        if errors(problems) or len(opened) != 1:
            one = "" if len(opened) == 1 else "; one build is printed at a time"
            nothing(summary(len(opened), problems) + one, "printed")
        _print(opened[0], audience, out, kept and kept / "pictures")


def _print(one: Opened, audience: str, out: Path, pictures: Path | None) -> None:
    from dossier.model.audience import Audience
    from dossier.publish.dossier import PictureChangedError
    from dossier.publish.print_edition.edition import print_edition

    edition = one.edition(Audience[audience.upper()])
    try:
        with bar("pictures") as progress:
            pdf = print_edition(edition, one.path, pictures, progress)
    except PictureChangedError as changed:
        for id, fault in changed.faults.items():
            click.echo(f"{id}: error {fault.code}: {fault.message}", err=True)
        click.echo("nothing was printed", err=True)
        sys.exit(PROBLEMS)
    try:
        out.write_bytes(pdf)
    except OSError as fault:
        raise click.UsageError(f"cannot write {out}: {fault}") from fault
    draft = "DRAFT, " if edition.draft else ""
    click.echo(f"{draft}{audience} edition on paper, {len(pdf) / 1e6:.1f} MB: {out}")
