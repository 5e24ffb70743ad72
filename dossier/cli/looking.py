"""Looking at build folders: check, figures of a folder, explain, begin."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from dossier.cli.door import (
    CLEAN,
    PATH,
    PROBLEMS,
    errors,
    existing,
    main,
    open_all,
    our_fault,
    say,
    summary,
)


@main.command()
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path), callback=existing)
@click.option("--json", "as_json", is_flag=True, help="Print the problems as JSON, notes included.")
@click.option("--notes", is_flag=True, help="Print notes too.")
def check(paths: tuple[Path, ...], as_json: bool, notes: bool) -> None:
    """Say everything that is wrong in the folders, and what to write instead."""
    with our_fault():
        from dossier.audience import look_through
        from dossier.model.problems import in_order
        from dossier.publish.laid import usual_cache

        seen = [look_through(path, usual_cache()) for path in paths]
        problems = in_order(problem for _, found in seen for problem in found)
        if as_json:
            click.echo(json.dumps([problem.as_dict() for problem in problems], ensure_ascii=False, indent=1))
        else:
            say([problem for problem in problems if notes or problem.severity.value != "note"], err=False)
            click.echo(summary(sum(count for count, _ in seen), problems))
        sys.exit(PROBLEMS if errors(problems) else CLEAN)


@main.command()
@PATH
@click.option("--json", "as_json", is_flag=True, help="Print the figures as JSON.")
def figures(path: Path, as_json: bool) -> None:
    """List every figure worked out of a build or of a folder of builds."""
    with our_fault():
        from dossier.publish.bench_sheet import figure_line, figure_record

        opened, problems = open_all((path,))
        if as_json:
            click.echo(json.dumps({one.slug: [figure_record(w) for w in one.worked] for one in opened}, ensure_ascii=False, indent=1))
        for one in () if as_json else opened:
            click.echo(one.title)
            for worked in one.worked:
                if worked.value is not None or worked.no_verdict:
                    click.echo("  " + figure_line(worked))
        if errors(problems):
            say([problem for problem in problems if problem.severity.value == "error"], err=True)
            sys.exit(PROBLEMS)


@main.command()
@click.argument("code")
def explain(code: str) -> None:
    """Explain a problem code."""
    from dossier.model.codes import CODES
    from dossier.model.problems import did_you_mean

    if code not in CODES:
        raise click.UsageError(f"there is no code {code!r}; {did_you_mean(code, CODES, 'all codes: ' + ', '.join(sorted(CODES)))}")
    row = CODES[code]
    click.echo(f"{code} ({row.severity}): {row.title}\n\n{click.wrap_text(row.explanation, 96)}")


@main.command()
@click.argument("folder", type=click.Path(path_type=Path))
def begin(folder: Path) -> None:
    """Begin a build folder: forms with a remark on each field; never over what is there."""
    with our_fault():
        from dossier.keep.begin import begin as begin_folder

        for written in begin_folder(folder):
            click.echo(f"wrote {written}")
