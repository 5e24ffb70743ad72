"""The template is found in a checkout and in an installed wheel, and its absence is said plainly."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from dossier.publish.template import TemplateMissing, template_folder

ROOT = Path(__file__).parents[2]


def test_in_a_checkout_the_template_stands_beside_the_package():
    assert template_folder() == ROOT / "site_template"


def test_an_installation_without_its_template_says_where_it_looked(tmp_path):
    with pytest.raises(TemplateMissing, match=r"dossier/site_template nor in .*/site_template"):
        template_folder(tmp_path / "dossier")


def test_a_wheel_carries_the_whole_template_and_finds_it_once_installed(tmp_path):
    pytest.importorskip("hatchling", reason="hatchling is not installed")
    source = tmp_path / "source"
    for name in ("dossier", "site_template"):
        shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", source)
    (source / "README.md").write_text("dossier\n")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path / "out")],
        cwd=source,
        check=True,
        capture_output=True,
    )
    (wheel,) = (tmp_path / "out").glob("*.whl")
    installed = tmp_path / "installed"
    with zipfile.ZipFile(wheel) as pack:
        pack.extractall(installed)
    carried = {path.relative_to(installed / "dossier/site_template") for path in (installed / "dossier/site_template").rglob("*")}
    assert carried == {path.relative_to(ROOT / "site_template") for path in (ROOT / "site_template").rglob("*")}
    assert all((installed / "dossier/publish/hosting" / name).is_file() for name in ("Caddyfile", "nginx.conf"))
    said = subprocess.run(
        [sys.executable, "-c", "from dossier.publish.template import template_folder; print(template_folder())"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(installed)},
        check=True,
        capture_output=True,
        text=True,
    )
    assert said.stdout.strip() == str(installed / "dossier/site_template")
