"""Letters on a drawing: how wide a line of words is, how it is shortened or broken, and how labels are moved apart."""

from __future__ import annotations

import math
from collections.abc import Sequence

# Advance widths of Archivo Narrow 400, thousandths of an em, read from the font's own metrics and rounded to 20.
# A letter that is not listed counts as wide as a digit.
_ADVANCES = {
    180: "jl‘’‚'′",
    220: "!,./:;I[\\]fit| ¦·ÌÍÎÏìíîïı",
    280: '()-r{}¡²³¹“”„•‹›"ªº″',
    320: "*",
    400: "Jcksvxyz°çýÿ^",
    460: "#$0123456789?L_abdeghnopqu£§«µ»àáâãäåèéêëñòóôõöøùúûü–",
    480: "+<=>~×−",
    500: "FTZß",
    540: "&ABEKPSVXY±ÀÁÂÃÄÅÈÉÊËÝ",
    600: "CDHNRUwÇÑÙÚÛÜ",
    640: "GOQÒÓÔÕÖØ",
    680: "Mm¼½¾",
    720: "%æ",
    780: "Wœ",
    820: "ÆŒ—…",
    840: "@",
}
_ADVANCE = {letter: width for width, letters in _ADVANCES.items() for letter in letters}
_SEMIBOLD = 1.045  # mean of the widths of weight 600 over those of weight 400, from the same tables


def width_of(words: str, size: float, strong: bool = False) -> float:
    """Width in pixels of one line of `words` set in Archivo Narrow at `size` pixels."""
    ems = sum(_ADVANCE.get(letter, 460) for letter in words) / 1000
    return ems * size * (_SEMIBOLD if strong else 1.0)


def fit(words: str, room: float, size: float, strong: bool = False) -> str:
    """`words`, shortened at its end with an ellipsis when it is wider than `room` pixels."""
    if width_of(words, size, strong) <= room:
        return words
    kept = words
    while kept and width_of(kept + "…", size, strong) > room:
        kept = kept[:-1]
    return kept.rstrip(" ,;:·-") + "…"


def broken(words: str, room: float, size: float, strong: bool = False) -> list[str]:
    """`words` broken at blanks into lines of at most `room` pixels; a single longer word is shortened."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, size, strong) <= room:
            lines[-1] = longer
        else:
            lines.append(fit(word, room, size, strong))
    return lines


def spread(wanted: Sequence[float], gap: float, low: float = -math.inf, high: float = math.inf) -> list[float]:
    """Places nearest (least squares) to `wanted`, in the same order, at least `gap` apart, inside `low` to `high`."""
    return spread_apart(wanted, [gap] * len(wanted), low, high)


def spread_apart(wanted: Sequence[float], sizes: Sequence[float], low: float = -math.inf, high: float = math.inf) -> list[float]:
    """As `spread`, for labels of different `sizes`: middles keep half of either size between them.

    Where the room between `low` and `high` is too small, `low` gives way last.
    """
    order = sorted(range(len(wanted)), key=lambda i: (wanted[i], i))
    offsets: list[float] = []
    for n, i in enumerate(order):
        offsets.append(0.0 if n == 0 else offsets[-1] + (sizes[order[n - 1]] + sizes[i]) / 2)
    blocks: list[list[float]] = []  # each: sum of targets, count
    for n, i in enumerate(order):
        blocks.append([wanted[i] - offsets[n], 1])
        while len(blocks) > 1 and blocks[-2][0] / blocks[-2][1] > blocks[-1][0] / blocks[-1][1]:
            total, count = blocks.pop()
            blocks[-1][0] += total
            blocks[-1][1] += count
    ceiling = high - (offsets[-1] if offsets else 0.0)
    placed = [0.0] * len(wanted)
    n = 0
    for total, count in blocks:
        for _ in range(int(count)):
            placed[order[n]] = max(min(total / count, ceiling), low) + offsets[n]
            n += 1
    return placed


def plain(value: float, digits: int = 0) -> str:
    """A number as the sheets print it: commas between thousands, a true minus; `digits` after the point."""
    words = f"{value:,.{digits}f}"
    if float(words.replace(",", "")) == 0:
        words = words.removeprefix("-")
    return words.replace("-", "−")


def signed(value: float, digits: int = 0) -> str:
    """As `plain`, with a plus before what is above nothing."""
    words = plain(value, digits)
    return words if words.startswith("−") or not any(c in "123456789" for c in words) else f"+{words}"


def short(value: float, digits: int = 2) -> str:
    """As `plain`, with at most `digits` after the point and no needless noughts."""
    words = plain(value, digits)
    return words.rstrip("0").rstrip(".") if "." in words else words
