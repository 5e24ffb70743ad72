"""A small archive of thin builds, published again and again to one place, and once from nothing beside it."""

from __future__ import annotations

import shutil
from pathlib import Path

from click.testing import CliRunner

from dossier import cli
from tests.bench.made_builds import make_build, slug_of

THIN = (2, 4, 6)
"""Builds that are made from the thinner of the demo builds: quickly published."""
SLUGS = tuple(map(slug_of, THIN))
PHOTO = "photos/expansion-chamber.jpg"

Tree = dict[str, tuple[int, bytes]]


class Yard:
    """A folder of builds, the place it is published to, and the cache."""

    def __init__(self, folder: Path, audience: str = "public") -> None:
        self.folder, self.audience = folder, audience
        self.path, self.out, self.cache = folder / "builds", folder / "site", folder / "cache"
        self.path.mkdir()
        shutil.copy(Path(__file__).resolve().parents[3] / "builds" / "workshop.yaml", self.path)
        for number in THIN:
            make_build(self.path, number)

    def publish(self, *words: object, out: Path | None = None) -> str:
        """What a publish says, its exit code before it where that is not nought."""
        cache = () if "--no-cache" in words else ("--cache", self.cache)
        line = ["publish", self.path, "--for", self.audience, "--out", out or self.out, *cache, *words]
        done = CliRunner().invoke(cli.main, [str(word) for word in line])
        return done.output if done.exit_code == 0 else f"exit {done.exit_code}: {done.output}"

    def cold(self) -> Tree:
        """The bytes of a publish from nothing, in one process."""
        shutil.rmtree(self.folder / "cold", ignore_errors=True)
        said = self.publish("--no-cache", "--cores", 1, out=self.folder / "cold")
        assert "public edition published" in said, said
        return tree(self.folder / "cold")

    def write(self, slug: str, old: str, new: str, name: str = "measurements.yaml") -> None:
        """Change a word of a build."""
        path = self.path / slug / name
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new, 1), encoding="utf-8")

    def left(self) -> list[str]:
        """What lies hidden beside the place published to, which should be nothing."""
        return sorted(path.name for path in self.folder.iterdir() if path.name.startswith("."))


def tree(folder: Path) -> Tree:
    """Every file and folder below a folder, with its mode and bytes."""
    return {
        str(path.relative_to(folder)): (path.stat().st_mode, b"" if path.is_dir() else path.read_bytes())
        for path in sorted(folder.rglob("*"))
    }


def inodes(folder: Path) -> dict[str, int]:
    """The inode of every file."""
    return {str(path.relative_to(folder)): path.stat().st_ino for path in folder.rglob("*") if path.is_file()}
