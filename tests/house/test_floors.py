"""The house stands as drawn: lint, types, floors, sizes, captions."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
MODULES = sorted((ROOT / "dossier").rglob("*.py"))


def run(*command: str) -> None:
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_ruff_finds_nothing() -> None:
    run(sys.executable, "-m", "ruff", "check", ".")


def test_types_hold() -> None:
    run(sys.executable, "-m", "mypy")


def test_no_arrow_crosses_a_floor() -> None:
    run(str(Path(sys.executable).with_name("lint-imports")))


def test_the_top_level_is_as_agreed() -> None:
    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False).stdout.split("\n")
    if not tracked[0]:
        pytest.skip("not a checkout")
    top = {name.partition("/")[0] for name in tracked if name and not name.startswith(".")}
    assert top == {"README.md", "DEVELOPERS.md", "pyproject.toml", "dossier", "site_template", "builds", "tests"}


@pytest.mark.parametrize("module", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_a_module_has_a_caption_and_is_not_above_400_lines(module: Path) -> None:
    text = module.read_text(encoding="utf-8")
    assert ast.get_docstring(ast.parse(text)), "a module opens with one sentence that says what it is for"
    assert text.count("\n") <= 400


def test_only_the_gate_compares_audiences() -> None:
    guilty = []
    for module in MODULES:
        if module.relative_to(ROOT).parts[1] in ("audience", "model"):
            continue
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            ordered = isinstance(node, ast.Compare) and any(isinstance(op, (ast.Lt, ast.LtE, ast.Gt, ast.GtE)) for op in node.ops)
            if ordered and "audience" in ast.unparse(node).lower():
                guilty.append(f"{module.relative_to(ROOT)}:{node.lineno}")
    assert not guilty
