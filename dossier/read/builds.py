"""Which build folders lie at a path; apart from all else, so that asking takes no time."""

from __future__ import annotations

from pathlib import Path


def find_builds(path: Path) -> list[Path]:
    """The build folders at `path`: itself where it has a machine.yaml, otherwise those of its folders that have one, by name."""
    try:
        if (path / "machine.yaml").is_file():
            return [path]
        return sorted(one for one in path.iterdir() if one.is_dir() and (one / "machine.yaml").is_file())
    except OSError:
        return []
