"""Published check cases, and their inputs as a person would type them on the bench."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml

CASES: list[dict[str, Any]] = yaml.safe_load((Path(__file__).parent.parent / "data" / "cases.yaml").read_text("utf-8"))
BY_ID = {case["id"]: case for case in CASES}
SIGNS = {"cm3": "cc", "in3": "cu in", "m3": "m³", "1": "", "text": "", "um": "µm", "g mm": "g·mm", "g mm/kg": "µm", "mm2/s": "", "kPa": ""}
"""Units of the cases and how they are written here."""


def of(*numbers: int, status: str = "verified") -> list[dict[str, Any]]:
    """The cases of these computations with one status."""
    return [case for case in CASES if int(case["computation"].split()[0]) in numbers and case["status"].startswith(status)]


def label(case: dict[str, Any]) -> str:
    """Id, title and source: the test's name."""
    return f"{case['id']} {case['title']} [{case['source'][:90]}]"


def sign(unit: str) -> str:
    """The unit sign: `deg ABDC` is °, a remark in brackets falls away."""
    unit = unit.split(" (")[0]
    return "°" if unit.startswith("deg") else SIGNS.get(unit, unit)


def line(case: dict[str, Any], *leave: str, **renamed: str) -> list[str]:
    """The inputs as `name=value unit`, some left out, some under another name."""
    words = []
    for name, said in case["inputs"].items():
        if name not in leave:
            words.append(f"{renamed.get(name, name)}={written(said['value'])} {sign(str(said['unit']))}".rstrip())
    return words


def written(value: Any) -> str:
    """A number without powers of ten."""
    return value if isinstance(value, str) else f"{value:.12f}".rstrip("0").rstrip(".")
