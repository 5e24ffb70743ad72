"""One figure on the bench: figure."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence

import click

from dossier.cli.door import (
    WRONG_USE,
    main,
    our_fault,
    say,
)


@main.command()
@click.argument("name", required=False)
@click.argument("values", nargs=-1)
@click.option("--instead", multiple=True, metavar="NAME=VALUE", help="Work it out again with this value in place.")
@click.option("--list", "list_all", is_flag=True, help="List all figures with symbol, unit and source.")
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
def figure(name: str | None, values: tuple[str, ...], instead: tuple[str, ...], list_all: bool, as_json: bool) -> None:
    """Work one figure out on the bench: dossier figure swept_volume bore='62 mm' stroke='57.8 mm' cylinders=2."""
    with our_fault():
        from dossier.audience import bench_list, on_the_bench
        from dossier.publish.bench_sheet import bench_sheet, figure_record, list_line

        if list_all:
            for recipe in bench_list():
                click.echo(list_line(recipe))
            return
        if not name:
            raise click.UsageError("which figure? `dossier figure --list` names them all")
        if instead:
            _figure_instead(name, values, instead, as_json)
            return
        worked, problems = on_the_bench(name, values)
        say(problems, err=True)
        if not worked:
            sys.exit(WRONG_USE)
        records = [figure_record(one) for one in worked]
        if as_json:
            click.echo(json.dumps(records[0] if len(records) == 1 else records, ensure_ascii=False, indent=1))
        else:
            click.echo("\n\n".join(bench_sheet(one) for one in worked))


def _figure_instead(name: str, values: Sequence[str], others: Sequence[str], as_json: bool) -> None:
    from dossier.audience import instead_on_the_bench
    from dossier.publish.bench_sheet import change_record, instead_sheet

    changes, problems = instead_on_the_bench(name, values, others)
    say(problems, err=True)
    if not changes:
        sys.exit(WRONG_USE)
    if as_json:
        click.echo(json.dumps([change_record(one) for one in changes], ensure_ascii=False, indent=1))
    else:
        click.echo(instead_sheet(changes, others))
