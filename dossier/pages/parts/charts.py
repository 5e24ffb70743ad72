"""Plots framed for a page: the stamp every plot bears, the figure around it, and its caption."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.pages.parts.plots.pen import Stamp


def stamp(edition: Edition) -> Stamp:
    """What stands at the corner of every plot of this edition."""
    return Stamp(edition.build.machine.build_no, edition.revision)


def plot_figure(drawings: str, caption: str) -> str:
    """A plot with its caption (HTML); the data table is the caller's."""
    return f'<figure class="plotfig wide">{drawings}<figcaption>{caption}</figcaption></figure>'
