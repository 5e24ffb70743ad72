"""What is said where an edition does not show every record of a kind: nobody is told there is none."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.pages.parts.numbers import in_words


def left_out(edition: Edition, *kinds: str) -> str:
    """How many whole records of these kinds are withheld, in words; empty where none is."""
    count = sum(edition.left_out.get(kind, 0) for kind in kinds)
    return f"{in_words(count)} withheld from this edition" if count else ""


def none_of(edition: Edition, kind: str, none: str = "none") -> str:
    """The word for none, unless some are withheld: then that none is shown, and how many are not."""
    hidden = left_out(edition, kind)
    return f"{none} shown; {hidden}" if hidden else none
