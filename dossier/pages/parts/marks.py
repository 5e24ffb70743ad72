"""Small drawings inside the text: the mark beside a verdict, and the bar of a share."""

from __future__ import annotations

from html import escape
from typing import Literal

Outcome = Literal["conforms", "fails", "undecided", "agreed", "conflicting", "unmeasured"]

# The deviation chart in miniature: two strokes are the limits, the dot is the reading.
_LIMITS = '<path d="M8 1.5v11M18 1.5v11"/>'
_MARKS: dict[str, str] = {
    "conforms": _LIMITS + '<circle class="f" cx="13" cy="7" r="2.6"/>',
    "fails": _LIMITS + '<circle class="f" cx="24" cy="7" r="2.6"/>',
    "undecided": _LIMITS + '<path d="M12.5 7h11"/><circle class="o" cx="18" cy="7" r="2.6"/>',
    "agreed": _LIMITS + '<path class="thin" d="M18 12.5h9.2M27.2 1.5v11"/><circle class="f" cx="22.6" cy="7" r="2.6"/>',
    "conflicting": '<path d="M5 1.5v4.6M15 1.5v4.6M11 7.9v4.6M21 7.9v4.6"/>',
    "unmeasured": _LIMITS,
}


def verdict_mark(outcome: Outcome) -> str:
    """The mark of an outcome, 28 by 14, one colour, hidden from screen readers: the word always stands beside it."""
    if outcome not in _MARKS:
        raise ValueError(f"no mark for {outcome!r}; there are {', '.join(_MARKS)}")
    return f'<svg class="mark" viewBox="0 0 28 14" aria-hidden="true" focusable="false">{_MARKS[outcome]}</svg>'


def verdict(outcome: Outcome, words: str) -> str:
    """A verdict as it stands in a table: the mark, then the words (plain text, escaped here)."""
    return f'<span class="verdict v-{outcome}">{verdict_mark(outcome)}<span>{escape(words, quote=False)}</span></span>'


def share_bar(per_cent: float, of: float = 100.0, words: str = "") -> str:
    """A bar whose full width is `of` per cent, never longer; `words` for screen readers, else the share is said."""
    width = min(max(100 * per_cent / of, 0.0), 100.0) if of > 0 else 0.0
    said = escape(words or f"{per_cent:.1f} per cent")
    return f'<span class="life" role="img" aria-label="{said}"><i style="width:{width:.1f}%"></i></span>'
