"""The demo builds as editions, opened once for all tests of the sheets."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from dossier.audience import Opened, open_builds
from dossier.model.audience import Audience
from dossier.model.edition import Edition

BUILDS = Path(__file__).parents[2] / "builds"


@cache
def opened() -> tuple[Opened, ...]:
    return tuple(open_builds(BUILDS)[0])


@cache
def demo(slug: str, audience: Audience = Audience.WORKSHOP) -> Edition:
    """The edition of the build whose folder begins with `slug`."""
    return next(one for one in opened() if one.slug.startswith(slug)).edition(audience)


def plain(html: str) -> str:
    """A sheet as a reader sees it: one line a row, cells parted by bars, drawings left out."""
    text = re.sub(r"<svg.*?</svg>", "", html, flags=re.S)
    text = re.sub(r"</tr>|</p>|</h2>|</figcaption>", "\n", text)
    text = re.sub(r"</t[dh]>", "|", text)
    return re.sub(r"[ \t]*\|[ \t]*", "|", re.sub(r"<[^>]+>", "", text))


def row(html: str, head: str) -> list[str]:
    """The cells of the first row whose head begins with `head`."""
    found = next(line.strip() for line in plain(html).split("\n") if line.strip().startswith(head))
    return [cell.strip() for cell in found.split("|")][1:-1]
