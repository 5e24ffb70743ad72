"""A time-stamp token over an edition's sealed list (RFC 3161), checked by openssl as of the token's own time."""

from __future__ import annotations

import datetime
import re
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

from dossier.publish.pack.chain import Defect, Link, read_link
from dossier.publish.pack.names import AUTHORITY, TOKEN

_TIME = re.compile(r"^Time stamp: (\w{3} +\d+ \d\d:\d\d:\d\d)(?:\.\d+)? (\d{4}) GMT$", re.MULTILINE)


class StampError(RuntimeError):
    """A token that cannot be attached; the message says why."""


def attach(pack: Path, token: Path, authority: Path) -> datetime.datetime:
    """Lay a token and the certificates of its authority beside the sealed list; the time it states. StampError where it does not fit."""
    try:
        sealed = read_link(pack).sealed
        time = time_of(token)
    except (ValueError, OSError) as fault:
        raise StampError(str(fault)) from fault
    if (pack / TOKEN).exists():
        raise StampError(f"{pack / TOKEN} is there already; a token is never written over")
    if what := _wrong_with(sealed, token, authority):
        raise StampError(f"{token}: {what}")
    (pack / AUTHORITY).write_bytes(authority.read_bytes())
    (pack / TOKEN).write_bytes(token.read_bytes())
    return time


def token_defects(pack: Path, link: Link) -> Iterator[Defect]:
    """What is wrong with the token of one edition, where it has one."""
    token, authority = pack / link.at(TOKEN), pack / link.at(AUTHORITY)
    if not token.is_file():
        if authority.is_file():
            yield Defect(link.at(AUTHORITY), "extra: there is no time-stamp token that it belongs to")
        return
    if not authority.is_file():
        yield Defect(link.at(AUTHORITY), "missing: the time-stamp token cannot be judged without it")
    elif what := _wrong_with(link.sealed, token, authority):
        yield Defect(link.at(TOKEN), what)


def time_of(token: Path) -> datetime.datetime:
    """The time that a token states, in UTC. ValueError where it is no token."""
    said = _TIME.search(_run("-reply", "-in", str(token), "-text").stdout.decode("utf-8", "replace"))
    if said is None:
        raise ValueError(f"{token.name} is not a time-stamp token")
    return datetime.datetime.strptime(f"{said[1]} {said[2]} +0000", "%b %d %H:%M:%S %Y %z")


def _wrong_with(sealed: bytes, token: Path, authority: Path) -> str:
    try:
        time = time_of(token)
    except ValueError:
        return "altered: it is not a time-stamp token"
    with tempfile.TemporaryDirectory(prefix="dossier-") as aside:
        (Path(aside) / "list").write_bytes(sealed)
        words = ("-data", str(Path(aside) / "list"), "-in", str(token), "-CAfile", str(authority))
        # at its own time: the authority's certificate is allowed to have run out since
        done = _run("-verify", *words, "-attime", str(int(time.timestamp())))
    return "" if done.returncode == 0 else "altered: openssl does not find that this token is over this list"


def _run(*words: str) -> subprocess.CompletedProcess[bytes]:
    try:
        return subprocess.run(("openssl", "ts", *words), capture_output=True, check=False)
    except FileNotFoundError as fault:
        raise StampError("openssl is not installed, and a time-stamp token cannot be judged without it") from fault
