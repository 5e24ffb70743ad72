"""Sealed packs: seal, verify, stamp, label, difference."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from dossier.cli.door import (
    AUDIENCES,
    PATH,
    PROBLEMS,
    bar,
    errors,
    existing,
    main,
    nothing,
    open_all,
    our_fault,
    say,
    summary,
)

if TYPE_CHECKING:
    from dossier.audience import Opened


@main.command()
@PATH
@click.option("--for", "audience", required=True, type=click.Choice(AUDIENCES), help="Who will have it.")
@click.option("--key", required=True, type=click.Path(path_type=Path), help="OpenSSH private key that seals it.")
@click.option("--out", required=True, type=click.Path(path_type=Path), help="Folder of the pack; must not be there yet.")
@click.option("--older", type=click.Path(path_type=Path), callback=existing, help="Pack of the edition that this one supersedes.")
@click.option("--old-key", type=click.Path(path_type=Path), help="The key that sealed the edition before, where the key has changed.")
@click.option("--seller", type=click.Path(path_type=Path), help="Public key of the seller, who signs the finished pack.")
@click.option("--buyer", type=click.Path(path_type=Path), help="Public key of the buyer, who signs the finished pack.")
@click.option("--draft", is_flag=True, help="Seal although records that are due are missing; every page then says draft.")
@click.option("--zip", "as_zip", is_flag=True, help="Write the pack as one zip too, beside the folder.")
@click.option("--to", "recipient", help="Write it as an age file for this SSH public key or age recipient too.")
@click.option("--cache", type=click.Path(path_type=Path), help="Folder for pictures already made; may be deleted at any time.")
def seal(path: Path, audience: str, draft: bool, **options: Any) -> None:
    """Seal an edition of one build: a pack that standard tools can show whole, and by whom it was sealed."""
    with our_fault():
        from dossier.audience import fingerprint_of

        before = fingerprint_of(path)
        opened, problems = open_all((path,))
        say([problem for problem in problems if problem.severity.value == "error"], err=True)
        if errors(problems) or len(opened) != 1:
            one = "" if len(opened) == 1 else "; one build is sealed at a time"
            nothing(summary(len(opened), problems) + one, "sealed")
        missing = opened[0].record.missing_records
        if missing and not draft:
            nothing("records that are due are missing: " + ", ".join(missing) + "; --draft seals it as a draft", "sealed")
        _seal(opened[0], audience, lambda: fingerprint_of(path) == before, options)


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
        order = Order(one.edition(who), one.path, options["key"], one.files(who), options["older"], options["old_key"], parties, unchanged)
        with bar("pictures") as progress:
            sealed = seal(order, out, options["cache"], progress)
    except (SealError, SigningError, PictureChangedError, send.SendError, OSError) as fault:
        nothing(str(fault), "sealed")
    draft = "DRAFT, " if order.edition.draft else ""
    click.echo(f"{draft}{audience} edition {sealed.number} sealed, {sealed.files} files, {sealed.size / 1e6:.1f} MB: {out}")
    click.echo(f"key {fingerprint_of(sealed.key)}\ndigest, to be put on paper: {sealed.digest}")
    for word in parties:
        click.echo(f"the {word} signs with: ssh-keygen -Y sign -n {NAMESPACE} -f KEY < {SEALED} > {SIGNATURES[word]}")
    for file in send.send(out, options["as_zip"], options["recipient"]):
        click.echo(f"wrote {file}")


@main.command()
@click.argument("pack", type=click.Path(path_type=Path), callback=existing)
@click.option("--against", type=click.Path(path_type=Path), callback=existing, help="Pack of an earlier edition that one holds.")
@click.option("--signers", type=click.Path(path_type=Path, exists=True), help="File of the keys one trusts (as for ssh-keygen -Y verify).")
def verify(pack: Path, against: Path | None, signers: Path | None) -> None:
    """Say everything that is wrong with a sealed pack; exit code 0 only when it is whole."""
    with our_fault():
        from dossier.publish.pack.signature import fingerprint_of
        from dossier.publish.pack.verify import verify_pack

        with bar("files") as progress:
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
@click.argument("pack", type=click.Path(path_type=Path), callback=existing)
@click.option(
    "--token", required=True, type=click.Path(path_type=Path, exists=True), help="Time-stamp token over the sealed list (RFC 3161)."
)
@click.option("--authority", required=True, type=click.Path(path_type=Path, exists=True), help="Certificates of its authority, PEM.")
def stamp(pack: Path, token: Path, authority: Path) -> None:
    """Attach a time-stamp token to a sealed pack, if it fits."""
    with our_fault():
        from dossier.publish.pack.time_stamp import StampError, attach

        try:
            click.echo(f"attached: the edition was there on {attach(pack, token, authority):%Y-%m-%d %H:%M:%S} UTC")
        except StampError as fault:
            nothing(str(fault), "attached")


@main.command()
@click.argument("pack", type=click.Path(path_type=Path), callback=existing)
@click.option("--out", required=True, type=click.Path(path_type=Path), help="File of the label, PDF.")
@click.option("--address", default="", help="Where the dossier is to be found, as a second QR code; at most 40 letters.")
def label(pack: Path, out: Path, address: str) -> None:
    """Make the A6 label of a sealed pack that travels with the machine."""
    with our_fault():
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
    with our_fault():
        from dossier.publish.exchange import ExchangeError
        from dossier.publish.pack.difference import CopyError, tell_difference

        try:
            click.echo(tell_difference(older, newer, out), nl=False)
        except (CopyError, ExchangeError) as fault:
            raise click.ClickException(str(fault)) from fault
