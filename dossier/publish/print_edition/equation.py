"""A formula of a page as nodes that Typst sets as mathematics, and the same in one line of words for who cannot see it."""

from __future__ import annotations

from typing import Any

from dossier.publish.print_edition.marked import UnsetError, words_of

Node = dict[str, Any]

_SHUT = {"(": ")", "⌊": "⌋", "|": "|", "[": "]"}
_CLASSES = {
    "=": "relation",
    "≤": "relation",
    "≥": "relation",
    "≈": "relation",
    "+": "binary",
    "·": "binary",
    "×": "binary",
    ",": "punctuation",
}


def equation(element: Node) -> Node:
    """What a <math> element holds: `body`, nodes {"m": kind, …}, and `alt`, its words in one line. UnsetError where it is misshapen."""
    body = [_node(one) for one in _elements(element)]
    return {"body": _signed(body), "alt": "".join(map(_line, _elements(element)))}


def _elements(element: Node) -> list[Node]:
    return [one for one in element["inside"] if not isinstance(one, str)]


def _node(element: Node) -> Node:
    tag = element["tag"]
    match tag:
        case "mi" | "mn" | "mtext":
            unit = tag == "mtext" and "unit" in element["of"].get("class", "").split()
            return {"m": "unit" if unit else tag[1:], "of": words_of(element["inside"])}
        case "mo":
            sign = words_of(element["inside"])
            return {"m": "o", "of": sign, "class": _CLASSES.get(sign, "normal")}
        case "mspace":
            return {"m": "space", "of": float(element["of"].get("width", "0em").removesuffix("em"))}
        case "mrow" | "msqrt":
            return {"m": tag[1:], "of": _signed([_node(one) for one in _elements(element)])}
        case "mfrac" | "msub" | "msup" | "mover":
            first, second = _two(element)
            return {"m": tag[1:], "of": _node(first), "with": _node(second)}
    raise UnsetError(f"<{tag}> cannot be set in a formula")


def _signed(row: list[Node]) -> list[Node]:
    """A row in which a minus stands as a sign at its beginning and after another sign, and as an operator elsewhere; brackets grow."""
    for at, one in enumerate(row):
        if one["m"] == "o" and one["of"] in ("−", "-"):
            before = row[at - 1] if at else {"m": "o", "of": "("}
            one["class"] = "unary" if before["m"] == "o" and before["of"] not in (")", "°", "⌋", "]") else "binary"
    if len(row) > 2 and row[0]["m"] == row[-1]["m"] == "o" and _SHUT.get(row[0]["of"]) == row[-1]["of"]:
        return [{"m": "fence", "open": row[0]["of"], "shut": row[-1]["of"], "of": row[1:-1]}]
    return row


def _two(element: Node) -> tuple[Node, Node]:
    parts = _elements(element)
    if len(parts) != 2:
        raise UnsetError(f"<{element['tag']}> in a formula has two parts, not {len(parts)}")
    return parts[0], parts[1]


def _line(element: Node) -> str:
    """An element in one line, with brackets wherever a stroke or a height would show what belongs together."""
    tag, parts = element["tag"], _elements(element)
    inside = "".join(map(_line, parts))
    match tag:
        case "mspace":
            return " " if "unit" in element["of"] else "·" if element["of"].get("width") == "0.16em" else " "
        case "mo":
            sign = words_of(element["inside"])
            return f" {sign} " if sign in ("=", "+", "−") else f"{sign} " if sign == "," else sign
        case "mfrac":
            above, below = (_bracketed(one) for one in _two(element))
            return f"{above}/{below}"
        case "msub":
            base, foot = map(_line, _two(element))
            return f"{base}_{foot}"
        case "msup":
            base, height = (_bracketed(one) for one in _two(element))
            return base + {"2": "²", "3": "³"}.get(height, f"^{height}")
        case "msqrt":
            return f"√({inside})"
        case "mover":
            return f"mean({_line(parts[0])})"
        case "mrow":
            return inside
    return words_of(element["inside"])


def _bracketed(element: Node) -> str:
    line = _line(element).strip()
    bare = all(letter not in line for letter in " ·/−+,") or (line.startswith("(") and line.find(")") == len(line) - 1)
    return line if bare else f"({line})"
