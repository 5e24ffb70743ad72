"""The same folder gives the same bytes wherever, whenever and by whomever it is published."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def published(folder: Path, out: Path, **surroundings: str) -> dict[str, str]:
    """Digests of all files published by a process of its own, in given surroundings."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **surroundings}
    command = [sys.executable, "-m", "dossier.cli", "publish", str(folder), "--out", str(out), "--for", "workshop"]
    subprocess.run(command, env=environment, check=True, capture_output=True, cwd=out.parent)
    return {str(path.relative_to(out)): hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(out.rglob("*")) if path.is_file()}


def test_path_zone_locale_hash_seed_home_and_umask_change_no_byte(tmp_path: Path) -> None:
    other = tmp_path / "another place, with blanks" / "machines"
    shutil.copytree(ROOT / "builds", other)
    (tmp_path / "home").mkdir()

    here = published(ROOT / "builds", tmp_path / "here", TZ="UTC", LC_ALL="C.UTF-8", PYTHONHASHSEED="1")
    old = os.umask(0o077)
    try:
        there = published(other, tmp_path / "there", TZ="Pacific/Kiritimati", LC_ALL="C", PYTHONHASHSEED="99", HOME=str(tmp_path / "home"))
    finally:
        os.umask(old)

    assert here == there
    assert len(here) > 100
