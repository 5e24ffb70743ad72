"""Takes from an SVG that Matplotlib wrote only what the pen drew; how it looks is left to the style sheet."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Sequence
from html import escape

_SVG = "{http://www.w3.org/2000/svg}"
_COMMAND = re.compile(r"([MLCz])([^MLCz]*)")
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e[-+]?\d+)?")
_FORTY_FIVE = ' patternTransform="rotate(45)"'


def _pattern(side: int, inside: str, turn: str = _FORTY_FIVE) -> str:
    return f'<pattern id="{{id}}" width="{side}" height="{side}" patternUnits="userSpaceOnUse"{turn}>{inside}</pattern>'


# Hatches, by the name a fill is asked for; `{id}` is filled in for each drawing.
PATTERNS = {
    "hatch": _pattern(5, '<path class="hatch" d="M0 0V5"/>'),
    "fine": _pattern(4, '<path class="hatch" d="M0 0V4"/>'),
    "dense": _pattern(4, '<path class="dense" d="M0 0V4"/>'),
    "cross": _pattern(6, '<path class="hatch" d="M0 0V6M0 0H6"/>'),
    "level": _pattern(5, '<path class="hatch" d="M0 2.5H5"/>', ""),
    "points": _pattern(6, '<circle class="point" cx="3" cy="3" r="1.1"/>'),
}


def coordinate(value: float) -> str:
    """A coordinate to a tenth of a pixel, without needless noughts."""
    words = f"{value:.1f}".removesuffix(".0")
    return "0" if words == "-0" else words


def _points(words: str) -> list[tuple[float, float]]:
    flat = [float(number) for number in _NUMBER.findall(words)]
    return list(zip(flat[::2], flat[1::2], strict=True))


def spare_path(d: str) -> str:
    """The same path with coordinates to a tenth of a pixel and level or upright strokes as H and V."""
    out: list[str] = []
    here = ("", "")
    for command, words in _COMMAND.findall(d):
        if command == "z":
            out.append("z")
            continue
        pairs = [(coordinate(x), coordinate(y)) for x, y in _points(words)]
        if command == "C":
            out.append("C" + " ".join(f"{x} {y}" for x, y in pairs))
        elif command == "M":
            out.append(f"M{pairs[0][0]} {pairs[0][1]}")
        elif pairs[0] == here:
            continue
        elif pairs[0][1] == here[1]:
            out.append(f"H{pairs[0][0]}")
        elif pairs[0][0] == here[0]:
            out.append(f"V{pairs[0][1]}")
        else:
            out.append(f"L{pairs[0][0]} {pairs[0][1]}")
        here = pairs[-1]
    return "".join(out)


def _filled(fill: str, prefix: str) -> str:
    return f' style="fill:url(#{prefix}-{fill})"' if fill else ""


def _rectangle(node: ElementTree.Element, kind: str, fill: str) -> str:
    points = _points(node.get("d", ""))
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    top, bottom = min(y for _, y in points), max(y for _, y in points)
    place = " ".join(f'{k}="{coordinate(v)}"' for k, v in (("x", left), ("y", top), ("width", right - left), ("height", bottom - top)))
    return f'<rect class="{kind}"{fill} {place}/>'


def _place(node: ElementTree.Element) -> tuple[str, str]:
    return coordinate(float(node.get("x", ""))), coordinate(float(node.get("y", "")))


def _element(group: ElementTree.Element, shape: str, kind: str, extra: str, prefix: str) -> str:
    if shape == "dot":
        places = [_place(use) for use in group.iter(f"{_SVG}use")]
        return "".join(f'<circle class="{kind}" cx="{x}" cy="{y}" r="{extra}"/>' for x, y in places)
    out = []
    for node in group.iter(f"{_SVG}path"):
        if shape == "rect":
            out.append(_rectangle(node, kind, _filled(extra, prefix)))
        else:
            out.append(f'<path class="{kind}"{_filled(extra, prefix)} d="{spare_path(node.get("d", ""))}"/>')
    return "".join(out)


def letters(words: str, x: float, y: float, kind: str, anchor: str) -> str:
    """One line of letters at a pixel: the reader's font draws them, so that Matplotlib, which would measure them with its own, is not asked."""
    where = f' text-anchor="{anchor}"' if anchor in ("middle", "end") else ""
    return f'<text class="{kind}" x="{coordinate(x)}" y="{coordinate(y)}"{where}>{escape(words, quote=False)}</text>'


def spare_drawing(raw: str, prefix: str, lettered: Sequence[tuple[int, str]] = ()) -> str:
    """The pen's own elements of the SVG text `raw` and its letters by their numbers, in the order they were drawn, with the patterns they use.

    A group's id reads `number|shape|classes|extra`; ids of patterns begin with `prefix`.
    """
    drawn = [(number, "", words) for number, words in lettered]
    for group in ElementTree.fromstring(raw).iter(f"{_SVG}g"):
        if group.get("id", "").count("|") == 3:
            number, shape, kind, extra = group.get("id", "").split("|")
            fill = extra if shape in ("rect", "path") else ""
            drawn.append((int(number), fill, _element(group, shape, kind, extra, prefix)))
    used = {fill for _, fill, _ in drawn}
    patterns = "".join(words.format(id=f"{prefix}-{name}") for name, words in PATTERNS.items() if name in used)
    return (f"<defs>{patterns}</defs>" if patterns else "") + "".join(words for _, _, words in sorted(drawn, key=lambda e: e[0]))
