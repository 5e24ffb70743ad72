"""Every problem code has a row in the table and a bad folder that raises it, and nothing else, at the line expected."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from dossier.model.codes import CODES
from dossier.model.picture import MOST_BYTES
from dossier.read.folder import read_build
from dossier.read.text import CONTROL

BAD = Path(__file__).parent.parent / "bad"
RAISED_ELSEWHERE = {
    "calibration-failed", "calibration-out", "choice-unlisted", "concession-lapsed", "concession-unproven", "eye-unnamed", "figure-extrapolates",
    "figure-impossible", "figure-unusual", "group-unknown", "ledger-open",
    "livery-contrast", "log-disagrees", "no-evidence", "photo-changed", "record-missing",
    "simple-acceptance", "single-source", "strokes-other", "tolerance-finer-than-evidence", "uncertainty-too-wide",
    "uncertainty-wide",
    "value-feeds-nothing", "quantity-misspelt",
}  # fmt: skip
"""Codes of other rooms: their bad folders are tried where they are raised."""


def _sparse(name: str, size: int) -> Callable[[Path], None]:
    """A file too large to keep in the repository, made when the case is laid out."""

    def make(root: Path) -> None:
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        with (root / name).open("wb") as file:
            file.truncate(size)

    return make


MADE: dict[str, Callable[[Path], None]] = {
    "file-too-large": _sparse("build/parts.yaml", 8_000_001),
    "photo-too-large": _sparse("build/photos/frame.jpg", MOST_BYTES + 1),
}


def cases() -> list[str]:
    return sorted(one.name for one in BAD.iterdir() if one.is_dir() and not one.name.startswith("_"))


def lay_out(case: str, root: Path) -> Path:
    """The base with the case laid over it: `NAME.absent` takes NAME away. Returns the build folder."""
    shutil.copytree(BAD / "_base", root)
    shutil.copytree(BAD / case, root, dirs_exist_ok=True, symlinks=True)
    for absent in root.rglob("*.absent"):
        absent.with_suffix("").unlink()
        absent.unlink()
    if case in MADE:
        MADE[case](root)
    return root / ("nowhere" if case == "build-missing" else "build")


def expected(case: str) -> list[tuple[str, str, int]]:
    lines = (BAD / case / "expected").read_text(encoding="utf-8").splitlines()
    found = []
    for line in lines:
        code, _, place = line.partition(" ")
        file, _, number = place.partition(":")
        found.append((code, file, int(number or 0)))
    return sorted(found)


@pytest.mark.parametrize("case", cases())
def test_a_bad_folder_raises_its_own_code_at_its_line_and_nothing_else(case: str, tmp_path: Path):
    build = lay_out(case, tmp_path / "case")
    _, problems = read_build(build, shown="nowhere" if case == "build-missing" else "build")
    found = sorted((one.code, os.path.normpath(one.place.file), one.place.line) for one in problems)
    assert found == expected(case)
    assert {one.code for one in problems} == {case}


@pytest.mark.parametrize("case", cases())
def test_every_fault_says_what_is_wrong_and_shows_the_very_line(case: str, tmp_path: Path):
    build = lay_out(case, tmp_path / "case")
    for problem in read_build(build)[1]:
        assert problem.message
        assert not problem.message.endswith(".")
        if problem.place.line:
            file = build / Path(problem.place.file).relative_to(build)
            line = file.read_bytes().decode("cp1252" if case == "file-encoding" else "utf-8").splitlines()[problem.place.line - 1]
            assert problem.place.text == CONTROL.sub("\ufffd", line)
            assert 1 <= problem.place.column <= len(line) + 1
            assert problem.lines()[2].index("^") == 4 + problem.place.column - 1


def test_table_and_bad_folders_name_the_same_codes():
    assert set(cases()) == set(CODES) - RAISED_ELSEWHERE
    assert set(CODES) >= RAISED_ELSEWHERE


def test_the_base_of_the_bad_folders_is_without_a_fault(tmp_path: Path):
    shutil.copytree(BAD / "_base", tmp_path / "case")
    assert read_build(tmp_path / "case" / "build")[1] == []
