"""Reads the machine copies of two editions and tells what changed, as text or as a site of one sheet."""

from __future__ import annotations

import calendar
import datetime
import json
import tempfile
from pathlib import Path
from typing import Any

from dossier.pages.difference import Copy, NotComparable, difference_page, difference_text
from dossier.pages.parts.numbers import day
from dossier.publish.dossier import build_pages
from dossier.publish.exchange import published_whole
from dossier.publish.machine_copy import FORMAT
from dossier.publish.pack.names import DATA, EDITION, MACHINE_COPY
from dossier.publish.pack.verify import verify_pack
from dossier.publish.staging import SiteFacts


class CopyError(ValueError):
    """An edition that cannot be compared; the message says why."""


def tell_difference(older: Path, newer: Path, out: Path | None) -> str:
    """What changed from one edition to the other, as text, and as a site in `out` where that is given.

    Each is a sealed pack, a published folder or a dossier.json. CopyError where one cannot be read, a pack is not whole, or they are not
    of one build and audience.
    """
    one, other = _copy(older), _copy(newer)
    try:
        text = difference_text(one, other)
        if out is not None:
            _publish(one, other, out)
    except NotComparable as fault:
        raise CopyError(str(fault)) from fault
    except (KeyError, TypeError, AttributeError) as fault:
        raise CopyError(f"{newer} and {older} do not both hold what a dossier.json holds ({fault})") from fault
    return text


def _copy(path: Path) -> Copy:
    if (path / EDITION).is_file():
        if verify_pack(path).defects:
            raise CopyError(f"{path} is not whole; `dossier verify {path}` says what is wrong")
        path = path / DATA / MACHINE_COPY
    elif path.is_dir():
        path = path / MACHINE_COPY
    try:
        copy = json.loads(path.read_bytes())
    except (OSError, ValueError, RecursionError) as fault:
        raise CopyError(f"{path} cannot be read: {fault}") from fault
    if not isinstance(copy, dict) or copy.get("form") != FORMAT:
        raise CopyError(f"{path} is not a dossier.json of form {FORMAT}")
    return copy


def _publish(older: Copy, newer: Copy, out: Path) -> None:
    machine: dict[str, Any] = newer["build"]["machine"]
    revised = datetime.date.fromisoformat(newer["revised"])
    livery = machine["livery"]
    facts = SiteFacts(
        title=machine["title"], short=machine["short"], build=machine["build_no"], builder=machine["builder"],
        edition=str(newer["audience"]).capitalize() + (" (draft)" if newer.get("draft") else ""), revision=newer["revision"],
        revised=day(revised), livery_day=livery["day"], livery_night=livery["night"], notice=machine.get("notice", ""),
        language=(machine.get("languages") or ["en"])[0], epoch=max(0, calendar.timegm(revised.timetuple())),
    )  # fmt: skip
    with published_whole(out) as making, tempfile.TemporaryDirectory(prefix="dossier-") as aside:
        build_pages([difference_page(older, newer)], facts, {}, making, Path(aside))
