"""What every command shares: the group itself, exit codes, opening builds, saying problems, the progress bar."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

if TYPE_CHECKING:
    from dossier.audience import Opened
    from dossier.model.problems import Problem

CLEAN, PROBLEMS, WRONG_USE, OUR_FAULT = 0, 1, 2, 3
AUDIENCES = ("public", "owner", "workshop")


FILES = {
    "bench": ("figure",),
    "looking": ("begin", "check", "explain", "figures"),
    "packs": ("difference", "label", "seal", "stamp", "verify"),
    "printing": ("print",),
    "publishing": ("hosting", "preview", "publish"),
}
"""The files of this room that declare commands, each with those it declares."""


class Door(click.Group):
    """The group of all commands; a file is imported when a command of it is asked for, since importing all takes as long as a picture."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """All commands by their names."""
        return sorted(name for names in FILES.values() for name in names)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, or None."""
        for file, names in FILES.items():
            if cmd_name in names:
                import_module(f"dossier.cli.{file}")
        return super().get_command(ctx, cmd_name)


@click.group(cls=Door, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="dossier")
def main() -> None:
    """Turns the build folder of a replica racing motorcycle into a static provenance dossier.

    PATH is a build folder (with its machine.yaml) or a folder of builds. Exit code 0: clean; 1: the folder has problems;
    2: wrong use; 3: a fault of this program.
    """


@contextmanager
def our_fault() -> Iterator[None]:
    """Whatever the program did not foresee is its own fault: said in one line, the rest in a file."""
    try:
        yield
    except (click.ClickException, click.exceptions.Exit, click.Abort, KeyboardInterrupt, SystemExit):
        raise
    except BrokenPipeError:  # whoever read our output has read enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    except BaseException as fault:
        import tempfile
        import traceback

        with tempfile.NamedTemporaryFile("w", prefix="dossier-fault-", suffix=".txt", delete=False, encoding="utf-8") as notes:
            traceback.print_exc(file=notes)
        click.echo(f"a fault of this program, not of your folder: {type(fault).__name__}: {fault}", err=True)
        click.echo(f"the details are in {notes.name}; what was published before is as it was", err=True)
        sys.exit(OUR_FAULT)


def existing(context: click.Context, parameter: click.Parameter, value: Any) -> Any:
    """Folders named on the command line must be there: wrong use otherwise."""
    many = value if isinstance(value, tuple) else (value,)
    for path in many:
        if path is not None and not path.is_dir():
            raise click.BadParameter(f"there is no folder {path}")
    return value


PATH = click.argument("path", type=click.Path(path_type=Path), callback=existing)


def open_all(paths: Sequence[Path], kept: Path | None = None) -> tuple[list[Opened], list[Problem]]:
    """Every build at the paths that can be read, and all problems in order; `kept` holds what earlier readings found."""
    from dossier.audience import open_builds
    from dossier.model.problems import in_order

    opened: list[Opened] = []
    problems: list[Problem] = []
    for path in paths:
        more, faults = open_builds(path, kept)
        opened += more
        problems += faults
    return opened, in_order(problems)


def errors(problems: Sequence[Problem]) -> int:
    """How many of the problems stop publishing."""
    return sum(problem.severity.value == "error" for problem in problems)


def say(problems: Sequence[Problem], err: bool) -> None:
    """Print problems as a person reads them."""
    for problem in problems:
        click.echo("\n".join(problem.lines()), err=err)


def say_dead(build: Path, links: Sequence[str]) -> None:
    """Print links of a dossier that lead nowhere: those of its notes, since all others are made by the program."""
    for link in links:
        click.echo(f"{build}: a link leads nowhere: {link}", err=True)


def summary(builds: int, problems: Sequence[Problem]) -> str:
    """One line: how many builds, whether clean, how many problems of each weight."""
    return told(builds, {word: sum(problem.severity.value == word for problem in problems) for word in ("error", "warning", "note")})


def told(builds: int, counts: Mapping[str, int]) -> str:
    """The same from counts by weight."""
    said = ", ".join(f"{count} {word}{'' if count == 1 else 's'}" for word, count in counts.items() if count)
    clean = "" if counts.get("error") else "clean"
    return f"{builds} build{'' if builds == 1 else 's'}: " + "; ".join(filter(None, [clean, said]))


@contextmanager
def bar(label: str) -> Iterator[Callable[[int, int], None] | None]:
    """A progress bar on a terminal; nothing in a pipe."""
    if not sys.stderr.isatty():
        yield None
        return
    with click.progressbar(length=1, label=label, file=sys.stderr) as bar:

        def tell(done: int, all: int) -> None:
            bar.length = all
            bar.update(done - bar.pos)

        yield tell


def nothing(why: str, done: str) -> NoReturn:
    """Say why nothing was done, and end with the exit code of a folder with problems."""
    click.echo(f"{why}; nothing was {done}", err=True)
    sys.exit(PROBLEMS)
