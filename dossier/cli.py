"""The commands a person types: check, publish, preview, seal, verify, stamp, label, difference, figures, figure, explain, begin."""

from __future__ import annotations

import json
import sys
import tempfile
import traceback
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

if TYPE_CHECKING:
    from dossier.audience import Opened
    from dossier.keep.standing import Standing
    from dossier.model.problems import Problem
    from dossier.publish.dossier import Published
    from dossier.publish.laid import Laid

CLEAN, PROBLEMS, WRONG_USE, OUR_FAULT = 0, 1, 2, 3
AUDIENCES = ("public", "owner", "workshop")


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="dossier")
def main() -> None:
    """Turns the build folder of a replica racing motorcycle into a static provenance dossier.

    PATH is a build folder (with its machine.yaml) or a folder of builds. Exit code 0: clean; 1: the folder has problems;
    2: wrong use; 3: a fault of this program.
    """


@contextmanager
def _our_fault() -> Iterator[None]:
    """Whatever the program did not foresee is its own fault: said in one line, the rest in a file."""
    try:
        yield
    except (click.ClickException, click.exceptions.Exit, click.Abort, KeyboardInterrupt, SystemExit):
        raise
    except BaseException as fault:
        with tempfile.NamedTemporaryFile("w", prefix="dossier-fault-", suffix=".txt", delete=False, encoding="utf-8") as notes:
            traceback.print_exc(file=notes)
        click.echo(f"a fault of this program, not of your folder: {type(fault).__name__}: {fault}", err=True)
        click.echo(f"the details are in {notes.name}; what was published before is as it was", err=True)
        sys.exit(OUR_FAULT)


def _existing(context: click.Context, parameter: click.Parameter, value: Any) -> Any:
    many = value if isinstance(value, tuple) else (value,)
    for path in many:
        if path is not None and not path.is_dir():
            raise click.BadParameter(f"there is no folder {path}")
    return value


PATH = click.argument("path", type=click.Path(path_type=Path), callback=_existing)


@main.command()
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path), callback=_existing)
@click.option("--json", "as_json", is_flag=True, help="Print the problems as JSON, notes included.")
@click.option("--notes", is_flag=True, help="Print notes too.")
def check(paths: tuple[Path, ...], as_json: bool, notes: bool) -> None:
    """Say everything that is wrong in the folders, and what to write instead."""
    with _our_fault():
        from dossier.publish.laid import usual_cache

        opened, problems = _open_all(paths, usual_cache())
        if as_json:
            click.echo(json.dumps([problem.as_dict() for problem in problems], ensure_ascii=False, indent=1))
        else:
            _print([problem for problem in problems if notes or problem.severity.value != "note"], err=False)
            click.echo(_summary(len(opened), problems))
        sys.exit(PROBLEMS if _errors(problems) else CLEAN)


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
    with _our_fault():
        _refuse_within(path, out)
        standing, done = _published_again(path, out, audience, kept) if kept else (None, "")
        if done:
            click.echo(done)
            return
        opened, problems = _open_all((path,), kept)
        _print([problem for problem in problems if problem.severity.value == "error"], err=True)
        if _errors(problems) or not opened:
            click.echo(_summary(len(opened), problems) + "; nothing was published", err=True)
            sys.exit(PROBLEMS)
        published = _publish(path, opened, out, audience, kept)
        said = _summary(len(opened), problems)
        if kept and standing:
            _remember(path, opened, out, audience, kept, standing, said, published)
        click.echo(f"{said}; {audience} edition published: {out / 'index.html'}")


def _refuse_within(path: Path, out: Path) -> None:
    """A site is never written among the records it is made of, nor over the folder that holds them."""
    inside, records = out.resolve(), path.resolve()
    if inside == records or records in inside.parents or inside in records.parents:
        raise click.UsageError(f"{out} and the records in {path} lie within one another; publish into a folder apart")


def _published_again(path: Path, out: Path, audience: str, kept: Path) -> tuple[Standing, str]:
    """How the folder stands; and, where the last publish still holds or new pictures were all it lacked, what to say of it."""
    from dossier.keep import standing
    from dossier.publish import laid as notes
    from dossier.publish.program import program_mark

    now = standing.look(path, without=out)
    laid = notes.recall(kept, out)
    if laid is None or laid.of != (str(path.absolute()), audience, program_mark()) or not notes.untouched(laid, out):
        return now, ""
    then = standing.from_data(laid.standing)
    names = standing.changed(then, now, path)
    if names == ():
        if then.fresh:
            notes.remember(kept, out, replace(laid, standing=standing.as_data(standing.unchanged(then, now))))
        return now, f"{laid.said}; nothing changed, the {audience} edition stands: {out / 'index.html'}"
    found = standing.looked_again(then, now, names or (), path)
    if found is None:
        return now, ""
    return now, _new_pictures(path, out, audience, kept, laid, found, names or ())


def _new_pictures(path: Path, out: Path, audience: str, kept: Path, laid: Laid, found: Standing, names: Sequence[str]) -> str:
    from dossier.keep.standing import as_data
    from dossier.publish.again import Fresh, NotAgain, publish_again
    from dossier.publish.exchange import ExchangeError
    from dossier.publish.laid import remember

    fresh = {
        (dossier.folder, one.id): Fresh(path / build / "photos" / one.file, one.facts.sha256, one.facts.mark)
        for (build, photos), dossier in zip(found.photos.items(), laid.dossiers, strict=True)
        for one in photos
        if f"{build}/photos/{one.file}".lstrip("/") in names
    }
    try:
        after = publish_again(laid, fresh, out, kept / "pictures")
    except NotAgain:
        return ""
    except ExchangeError as fault:
        raise click.ClickException(str(fault)) from fault
    remember(kept, out, replace(after, standing=as_data(found)))
    return f"{laid.said}; new pictures, {audience} edition published: {out / 'index.html'}"


def _remember(
    path: Path, opened: Sequence[Opened], out: Path, audience: str, kept: Path, before: Standing, said: str, published: Sequence[Published]
) -> None:
    from dossier.keep import standing
    from dossier.publish import laid as notes
    from dossier.publish.program import program_mark

    read = standing.read(before, path, {one.path: one.photographs for one in opened})
    of = (str(path.absolute()), audience, program_mark())
    notes.remember(kept, out, notes.Laid(of, said, notes.marks_of(out), tuple(one.laid for one in published), standing.as_data(read)))


def _publish(path: Path, opened: Sequence[Opened], out: Path, audience: str, kept: Path | None) -> list[Published]:
    from dossier.model.audience import Audience
    from dossier.publish import dossiers
    from dossier.publish.dossier import PictureChangedError
    from dossier.publish.exchange import ExchangeError

    editions = [one.edition(Audience[audience.upper()]) for one in opened]
    single = opened[0].path.resolve() == path.resolve()
    try:
        with _bar("pictures") as progress:
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
@click.option("--for", "audience", required=True, type=click.Choice(AUDIENCES), help="Who will have it.")
@click.option("--key", required=True, type=click.Path(path_type=Path), help="OpenSSH private key that seals it.")
@click.option("--out", required=True, type=click.Path(path_type=Path), help="Folder of the pack; must not be there yet.")
@click.option("--older", type=click.Path(path_type=Path), callback=_existing, help="Pack of the edition that this one supersedes.")
@click.option("--old-key", type=click.Path(path_type=Path), help="The key that sealed the edition before, where the key has changed.")
@click.option("--seller", type=click.Path(path_type=Path), help="Public key of the seller, who signs the finished pack.")
@click.option("--buyer", type=click.Path(path_type=Path), help="Public key of the buyer, who signs the finished pack.")
@click.option("--draft", is_flag=True, help="Seal although records that are due are missing; every page then says draft.")
@click.option("--zip", "as_zip", is_flag=True, help="Write the pack as one zip too, beside the folder.")
@click.option("--to", "recipient", help="Write it as an age file for this SSH public key or age recipient too.")
@click.option("--cache", type=click.Path(path_type=Path), help="Folder for pictures already made; may be deleted at any time.")
def seal(path: Path, audience: str, draft: bool, **options: Any) -> None:
    """Seal an edition of one build: a pack that standard tools can show whole, and by whom it was sealed."""
    with _our_fault():
        from dossier.audience import fingerprint_of

        before = fingerprint_of(path)
        opened, problems = _open_all((path,))
        _print([problem for problem in problems if problem.severity.value == "error"], err=True)
        if _errors(problems) or len(opened) != 1:
            one = "" if len(opened) == 1 else "; one build is sealed at a time"
            _nothing(_summary(len(opened), problems) + one, "sealed")
        missing = opened[0].record.missing_records
        if missing and not draft:
            _nothing("records that are due are missing: " + ", ".join(missing) + "; --draft seals it as a draft", "sealed")
        _seal(opened[0], audience, lambda: fingerprint_of(path) == before, options)


def _nothing(why: str, done: str) -> NoReturn:
    click.echo(f"{why}; nothing was {done}", err=True)
    sys.exit(PROBLEMS)


def _seal(one: Opened, audience: str, unchanged: Callable[[], bool], options: dict[str, Any]) -> None:
    from dossier.model.audience import Audience
    from dossier.publish.dossier import PictureChangedError
    from dossier.publish.pack import send
    from dossier.publish.pack.names import NAMESPACE, SEALED, SIGNATURES
    from dossier.publish.pack.seal import Order, SealError, seal
    from dossier.publish.pack.signature import SigningError, fingerprint_of, public_key

    who, out = Audience[audience.upper()], options["out"].absolute()
    try:
        send.to_write(out, options["as_zip"], options["recipient"])
        parties = {word: public_key(options[word]) for word in ("seller", "buyer") if options[word]}
        order = Order(
            one.edition(who), one.path, options["key"], one.files(who), options["older"], options["old_key"], parties, unchanged
        )
        with _bar("pictures") as progress:
            sealed = seal(order, out, options["cache"], progress)
    except (SealError, SigningError, PictureChangedError, send.SendError, OSError) as fault:
        _nothing(str(fault), "sealed")
    draft = "DRAFT, " if order.edition.draft else ""
    click.echo(f"{draft}{audience} edition {sealed.number} sealed, {sealed.files} files, {sealed.size / 1e6:.1f} MB: {out}")
    click.echo(f"key {fingerprint_of(sealed.key)}\ndigest, to be put on paper: {sealed.digest}")
    for word in parties:
        click.echo(f"the {word} signs with: ssh-keygen -Y sign -n {NAMESPACE} -f KEY < {SEALED} > {SIGNATURES[word]}")
    for file in send.send(out, options["as_zip"], options["recipient"]):
        click.echo(f"wrote {file}")


@main.command()
@click.argument("pack", type=click.Path(path_type=Path), callback=_existing)
@click.option("--against", type=click.Path(path_type=Path), callback=_existing, help="Pack of an earlier edition that one holds.")
@click.option("--signers", type=click.Path(path_type=Path, exists=True), help="File of the keys one trusts (as for ssh-keygen -Y verify).")
def verify(pack: Path, against: Path | None, signers: Path | None) -> None:
    """Say everything that is wrong with a sealed pack; exit code 0 only when it is whole."""
    with _our_fault():
        from dossier.publish.pack.signature import fingerprint_of
        from dossier.publish.pack.verify import verify_pack

        with _bar("files") as progress:
            seen = verify_pack(pack, against, signers, progress)
        for defect in seen.defects:
            click.echo(f"{pack}/{defect}")
        if seen.defects or seen.link is None:
            click.echo(f"{len(seen.defects)} defect{'' if len(seen.defects) == 1 else 's'}: the pack is not whole")
            sys.exit(PROBLEMS)
        record, key = seen.link.record, seen.link.record["keys"]["sealer"]
        draft = ", DRAFT" if record["draft"] else ""
        click.echo(f"whole: {record['audience']} edition {record['number']}, revision {record['revision']}, {record['date']}{draft}")
        trusted = "in the file of signers" if signers else "compare it with the one the builder gave you by another way"
        click.echo(f"sealed by {fingerprint_of(key)} ({trusted})\ndigest {seen.link.digest} (compare it with the one on paper)")


@main.command()
@click.argument("pack", type=click.Path(path_type=Path), callback=_existing)
@click.option("--token", required=True, type=click.Path(path_type=Path, exists=True), help="Time-stamp token over the sealed list (RFC 3161).")
@click.option("--authority", required=True, type=click.Path(path_type=Path, exists=True), help="Certificates of its authority, PEM.")
def stamp(pack: Path, token: Path, authority: Path) -> None:
    """Attach a time-stamp token to a sealed pack, if it fits."""
    with _our_fault():
        from dossier.publish.pack.time_stamp import StampError, attach

        try:
            click.echo(f"attached: the edition was there on {attach(pack, token, authority):%Y-%m-%d %H:%M:%S} UTC")
        except StampError as fault:
            _nothing(str(fault), "attached")


@main.command()
@click.argument("pack", type=click.Path(path_type=Path), callback=_existing)
@click.option("--out", required=True, type=click.Path(path_type=Path), help="File of the label, PDF.")
@click.option("--address", default="", help="Where the dossier is to be found, as a second QR code; at most 40 letters.")
def label(pack: Path, out: Path, address: str) -> None:
    """Make the A6 label of a sealed pack that travels with the machine."""
    with _our_fault():
        from dossier.publish.print_edition.label import LabelError, label

        try:
            out.write_bytes(label(pack, address))
        except (LabelError, OSError) as fault:
            raise click.ClickException(str(fault)) from fault
        click.echo(f"label: {out}")


@main.command()
@click.argument("older", type=click.Path(path_type=Path, exists=True))
@click.argument("newer", type=click.Path(path_type=Path, exists=True))
@click.option("--out", type=click.Path(path_type=Path), help="Write it as a page into this folder too.")
def difference(older: Path, newer: Path, out: Path | None) -> None:
    """Say what changed between two editions: sealed packs, published folders or files dossier.json."""
    with _our_fault():
        from dossier.publish.exchange import ExchangeError
        from dossier.publish.pack.difference import CopyError, tell_difference

        try:
            click.echo(tell_difference(older, newer, out), nl=False)
        except (CopyError, ExchangeError) as fault:
            raise click.ClickException(str(fault)) from fault


@main.command()
@PATH
@click.option("--for", "audience", default="workshop", type=click.Choice(AUDIENCES), show_default=True)
@click.option("--port", default=8700, show_default=True, help="Port on this machine.")
def preview(path: Path, audience: str, port: int) -> None:
    """Publish aside and show it on this machine only; published again whenever the folder changes."""
    with _our_fault():
        from dossier.publish.laid import usual_cache
        from dossier.publish.preview import serve

        def make(out: Path) -> bool:
            opened, problems = _open_all((path,), usual_cache())
            _print(problems, err=True)
            if opened and not _errors(problems):
                _publish(path, opened, out, audience, usual_cache())
            return bool(opened) and not _errors(problems)

        from dossier.audience import fingerprint_of

        serve(make, lambda: fingerprint_of(path), port, click.echo)


@main.command()
@PATH
@click.option("--json", "as_json", is_flag=True, help="Print the figures as JSON.")
def figures(path: Path, as_json: bool) -> None:
    """List every figure worked out of a build or of a folder of builds."""
    with _our_fault():
        from dossier.publish.bench_sheet import figure_line, figure_record

        opened, problems = _open_all((path,))
        if as_json:
            click.echo(json.dumps({one.slug: [figure_record(w) for w in one.worked] for one in opened}, ensure_ascii=False, indent=1))
        for one in () if as_json else opened:
            click.echo(one.title)
            for worked in one.worked:
                if worked.value is not None or worked.no_verdict:
                    click.echo("  " + figure_line(worked))
        if _errors(problems):
            _print([problem for problem in problems if problem.severity.value == "error"], err=True)
            sys.exit(PROBLEMS)


@main.command()
@click.argument("name", required=False)
@click.argument("values", nargs=-1)
@click.option("--instead", multiple=True, metavar="NAME=VALUE", help="Work it out again with this value in place.")
@click.option("--list", "list_all", is_flag=True, help="List all figures with symbol, unit and source.")
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
def figure(name: str | None, values: tuple[str, ...], instead: tuple[str, ...], list_all: bool, as_json: bool) -> None:
    """Work one figure out on the bench: dossier figure swept_volume bore='62 mm' stroke='57.8 mm' cylinders=2."""
    with _our_fault():
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
        _print(problems, err=True)
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
    _print(problems, err=True)
    if not changes:
        sys.exit(WRONG_USE)
    if as_json:
        click.echo(json.dumps([change_record(one) for one in changes], ensure_ascii=False, indent=1))
    else:
        click.echo(instead_sheet(changes, others))


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
    with _our_fault():
        from dossier.keep.begin import begin as begin_folder

        for written in begin_folder(folder):
            click.echo(f"wrote {written}")


def _open_all(paths: Sequence[Path], kept: Path | None = None) -> tuple[list[Opened], list[Problem]]:
    from dossier.audience import open_builds
    from dossier.model.problems import in_order

    opened: list[Opened] = []
    problems: list[Problem] = []
    for path in paths:
        more, faults = open_builds(path, kept)
        opened += more
        problems += faults
    return opened, in_order(problems)


def _errors(problems: Sequence[Problem]) -> int:
    return sum(problem.severity.value == "error" for problem in problems)


def _print(problems: Sequence[Problem], err: bool) -> None:
    for problem in problems:
        click.echo("\n".join(problem.lines()), err=err)


def _summary(builds: int, problems: Sequence[Problem]) -> str:
    counts = {word: sum(problem.severity.value == word for problem in problems) for word in ("error", "warning", "note")}
    said = ", ".join(f"{count} {word}{'' if count == 1 else 's'}" for word, count in counts.items() if count)
    clean = "" if counts["error"] else "clean"
    return f"{builds} build{'' if builds == 1 else 's'}: " + "; ".join(filter(None, [clean, said]))


@contextmanager
def _bar(label: str) -> Iterator[Callable[[int, int], None] | None]:
    """A progress bar on a terminal; nothing in a pipe."""
    if not sys.stderr.isatty():
        yield None
        return
    with click.progressbar(length=1, label=label, file=sys.stderr) as bar:

        def tell(done: int, all: int) -> None:
            bar.length = all
            bar.update(done - bar.pos)

        yield tell


if __name__ == "__main__":
    main()
