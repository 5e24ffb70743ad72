"""Where a link in a note may lead: into the dossier, or openly to another place."""

from __future__ import annotations

import re
from urllib.parse import urlsplit

_OPENLY = frozenset({"http", "https", "mailto"})
# URL Standard, 4.4: a browser takes a backslash for a slash, and passes over tabs, line ends and control characters.
_HIDDEN = re.compile(r"[\\\x00-\x20\x7f]")


def may_lead(address: str) -> bool:
    """Whether a link may bear this address: a place in the dossier, or one that is named whole, with http, https or mailto."""
    if not address or _HIDDEN.search(address):
        return False
    try:
        scheme, host = urlsplit(address)[:2]
    except ValueError:
        return False
    return scheme in _OPENLY if scheme else not host and not address.startswith("/")
