"""Symbols as they are printed: Greek letters for their names, a foot set low, a difference written with its Δ in front."""

from __future__ import annotations

import html

GREEK = {
    "pi": "π", "epsilon": "ε", "theta": "θ", "omega": "ω", "mu": "μ", "alpha": "α", "phi": "φ", "eta": "η", "rho": "ρ", "lam": "λ",
    "Delta": "Δ", "delta": "δ", "gamma": "γ", "sigma": "σ", "beta": "β", "psi": "ψ", "Phi": "Φ", "nu": "ν",
}  # fmt: skip


def _parts(symbol: str) -> tuple[str, str, str]:
    """What stands before the letter (Δ or nothing), the letter, its foot: `Delta_A_c` is the difference of `A_c`."""
    head, _, rest = symbol.partition("_")
    before = "Δ" if head == "Delta" and rest else ""
    letter, _, foot = (rest if before else symbol).partition("_")
    return before, GREEK.get(letter, letter), foot.replace("_", " ")


def symbol_text(symbol: str) -> str:
    """A symbol in plain text: `V_c` stays, Greek names become letters, `Delta_A_c` becomes `ΔA_c`."""
    before, letter, foot = _parts(symbol)
    return before + letter + (f"_{foot}" if foot else "")


def symbol_mathml(symbol: str) -> str:
    """A symbol as MathML, its foot as a subscript."""
    before, letter, foot = _parts(symbol)
    shown = f"<mi>{html.escape(letter)}</mi>"
    shown = f"<msub>{shown}<mtext>{html.escape(foot)}</mtext></msub>" if foot else shown
    return f"<mrow><mi>{before}</mi>{shown}</mrow>" if before else shown


def symbol_html(symbol: str) -> str:
    """A symbol as HTML, its foot as a subscript."""
    before, letter, foot = _parts(symbol)
    return before + html.escape(letter) + (f"<sub>{html.escape(foot)}</sub>" if foot else "")
