"""Our sites made of sheets that are written already: the half of a publish that another maker of sites would do as well.

Run as `python tests/bench/written_sheets.py PUBLISHED OUT`: the sheets are taken from a published archive, and made into the same sites
again, on all cores, with the pages over all of them. Nothing is read, worked out, drawn or decoded.
"""

from __future__ import annotations

import json
import re
import shutil
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from dossier.pages.page import Page
from dossier.publish.archive_folder import ENTRY, pages_over_all
from dossier.publish.dossier import build_pages
from dossier.publish.hands import Hands, all_cores, each
from dossier.publish.staging import SiteFacts

BODY = re.compile(r'<div class="sheet-body">\n(?P<body>.*)\n</div>.*?</article>', re.DOTALL)
FACTS = SiteFacts(title="A machine", short="A machine", build="", builder="", edition="Public", revision="A", revised="3 May 2025")


@dataclass(frozen=True)
class Written:
    """One published dossier, and where its site is to be made again."""

    published: Path
    out: Path


def sheets_of(published: Path) -> list[tuple[str, str, str]]:
    """Name, title and body of every sheet of a published dossier."""
    named = json.loads((published / ENTRY).read_bytes())["sheets"]
    found = []
    for name, title in named:
        body = BODY.search((published / f"{name}.html").read_text(encoding="utf-8"))
        if body is None:
            raise ValueError(f"{published / name} is no sheet")
        found.append((name, title, body["body"]))
    return found


def make(one: Written) -> str:
    """The site of one dossier; its slug."""
    pictures = [f"photographs/{path.name}" for path in one.published.glob("photographs/*")]
    pages = [Page(name, title, body) for name, title, body in sheets_of(one.published)]
    with tempfile.TemporaryDirectory() as aside:
        build_pages(pages, FACTS, {}, one.out, Path(aside), [*pictures, "dossier.json"])
    shutil.copytree(one.published / "photographs", one.out / "photographs")
    shutil.copyfile(one.published / ENTRY, one.out / ENTRY)
    return one.published.name


def main() -> None:
    """Make every site again, then the pages over all."""
    published, out = map(Path, sys.argv[1:3])
    out.mkdir()
    jobs = [Written(entry.parent, out / entry.parent.name) for entry in sorted(published.glob(f"*/{ENTRY}"))]
    pages_over_all(out, sorted(each(Hands(all_cores()), make, jobs, len(jobs))))


if __name__ == "__main__":
    main()
