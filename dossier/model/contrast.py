"""Whether a livery can be read on its paper: the contrast ratio of WCAG 2.2, success criterion 1.4.3, and its formula of relative luminance."""

from __future__ import annotations

from dossier.model.forms.machine import Machine
from dossier.model.problems import Problem

PAPERS = {"day": ("#f8f7f2", "#efede5"), "night": ("#171916", "#21241f")}
"""Paper and sunk ground of the day and the night scheme."""
LEAST = 4.5
"""Least contrast ratio of text at level AA."""


def luminance(colour: str) -> float:
    """Relative luminance of a colour written `#rrggbb`, 0 (black) to 1 (white)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def livery_faults(machine: Machine) -> list[Problem]:
    """A problem for each of the two livery values that falls short on its paper, saying by how much."""
    out = []
    for scheme, papers in PAPERS.items():
        colour = getattr(machine.livery, scheme)
        worst = min(contrast(colour, paper) for paper in papers)
        if worst < LEAST:
            message = f"the {scheme} livery {colour} has a contrast of {worst:.2f} on its paper; {LEAST} is needed"
            darker = "darker" if scheme == "day" else "lighter"
            advice = f"write a {darker} tone of the same colour; the contrast ratio must rise by {LEAST - worst:.2f}"
            out.append(Problem("livery-contrast", message, machine.livery.written, advice, f"livery.{scheme}"))
    return out
