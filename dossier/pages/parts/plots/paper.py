"""The wide drawing of a plot as an SVG file of its own, in fixed opaque colours, for print engines."""

from __future__ import annotations

import re
from dataclasses import dataclass

_RULE = re.compile(r"([^{}@]+)\{([^{}]*)\}")
_NOT_FOR_PAPER = ("display", "margin", "width", "height", "overflow")


@dataclass(frozen=True)
class Inks:
    """Colours on white paper, as CSS writes them, and the family of the letters."""

    accent: str
    ink: str = "#000"
    pencil: str = "#444"
    hair: str = "#aaa"
    paper: str = "#fff"
    plain: str = "Archivo Narrow"


def _rules(sheet: str, inks: Inks) -> str:
    """The rules of the plots' style sheet outside any media query, with every variable filled in."""
    sheet = re.sub(r"/\*.*?\*/", "", sheet, flags=re.DOTALL)
    sheet = re.sub(r"@media[^{]*\{(?:[^{}]*\{[^{}]*\})*\s*\}", "", sheet)
    values = {
        "accent": inks.accent,
        "ink": inks.ink,
        "pencil": inks.pencil,
        "hair": inks.hair,
        "paper": inks.paper,
        "plain": f"'{inks.plain}'",
    }
    sheet = re.sub(r"var\(--(\w+)\)", lambda found: values[found[1]], sheet)
    out = []
    for selector, body in _RULE.findall(sheet):
        if "only-" in selector:
            continue
        kept = [d.strip() for d in body.split(";") if d.strip() and d.split(":")[0].strip() not in _NOT_FOR_PAPER]
        kept = [d for d in kept if not d.startswith("margin-")]
        if kept:
            selector = selector.strip().replace("svg.plot ", "").replace("svg.plot", "svg")
            out.append(f"{selector}{{{';'.join(kept)}}}")
    return "".join(out)


def paper_drawing(plot: str, sheet: str, inks: Inks) -> str:
    """The first drawing in `plot` (what a plot function returned) as a whole SVG document.

    `sheet` is the text of `assets/plots.css`; a variable in it that `Inks` does not know is a KeyError.
    """
    found = re.match(r"<svg class=\"plot only-wide\" viewBox=\"0 0 ([\d.]+) ([\d.]+)\"(.*?)</svg>", plot)
    if not found:
        raise ValueError("this is no plot: it does not begin with a wide drawing")
    width, height, rest = found.groups()
    rest = rest.replace(' data-search-exclude=""', "")
    head = f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 {width} {height}"'
    opening, body = rest.split(">", 1)
    return f"{head}{opening}><style>{_rules(sheet, inks)}</style>{body}</svg>\n"
