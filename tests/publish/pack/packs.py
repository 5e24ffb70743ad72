"""Keys, small packs and the demo's two hand-overs, for the tests of sealed editions."""

from __future__ import annotations

import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

from dossier.audience import open_builds
from dossier.model.audience import Audience
from dossier.model.edition import Edition
from dossier.publish.pack import seal as sealing
from dossier.publish.pack.seal import Order, Sealed, seal

BUILDS = Path(__file__).resolve().parents[3] / "builds"


def new_key(folder: Path, name: str) -> Path:
    """A new key pair without a passphrase."""
    folder.mkdir(parents=True, exist_ok=True)
    subprocess.run(["ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-C", "", "-f", str(folder / name)], check=True)
    return folder / name


def kestrane(**changed: object) -> Edition:
    """The owner's edition of the smaller demo build."""
    [opened], _ = open_builds(BUILDS / "kestrane-125-r")
    return replace(opened.edition(Audience.OWNER), draft=False, missing_records=(), **changed)  # type: ignore[arg-type]


def with_revision(edition: Edition, rev: str) -> Edition:
    """The same with one more revision at the end, of the day after the last."""
    kept = edition.build.custody
    last = kept.revisions[-1]
    more = replace(last, rev=rev, date=last.date.replace(day=last.date.day + 1), what=f"revision {rev}")
    build = replace(edition.build, custody=replace(kept, revisions=(*kept.revisions, more)))
    return replace(edition, build=build, revision=rev, revised=more.date)


def few_files(edition: Edition, source: Path, out: Path, *rest: object) -> None:
    """Stands in for the site: three files, quick to write."""
    (out / "photographs").mkdir(parents=True)
    (out / "index.html").write_text(f"<h1>{edition.revision}</h1>\n", encoding="utf-8")
    (out / "dossier.json").write_text(f'{{"revision": "{edition.revision}"}}\n', encoding="utf-8")
    (out / "photographs" / "a.jpg").write_bytes(bytes(range(256)))


def small(monkeypatch: object, edition: Edition, key: Path, out: Path, **more: object) -> Sealed:
    """A small pack of an edition."""
    monkeypatch.setattr(sealing, "publish_dossier", few_files)  # type: ignore[attr-defined]
    monkeypatch.setattr(sealing, "print_edition", lambda edition, *rest: f"%PDF {edition.revision}".encode())  # type: ignore[attr-defined]
    return seal(Order(edition, BUILDS / edition.build.slug, key, **more), out)  # type: ignore[arg-type]


def talvera_as_handed_over(folder: Path) -> Path:
    """The larger demo build as it was at revision D: before it had a second owner."""
    shutil.copytree(BUILDS, folder)
    custody = folder / "talvera-350-gp" / "custody.yaml"
    text = custody.read_text(encoding="utf-8")
    start, end = text.index("  - since: 2025-10-04"), text.index("papers:")
    text = (text[:start] + "\n" + text[end:]).replace("    until: 2025-10-04\n", "")
    lines = [line for line in text.splitlines() if "DOC-060" not in line and "rev: E" not in line]
    custody.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return folder / "talvera-350-gp"


def commands_of(pack: Path) -> list[str]:
    """The commands that the pack's own VERIFY.txt gives."""
    text = (pack / "VERIFY.txt").read_text(encoding="utf-8")
    return [line.strip() for line in text.splitlines() if line.startswith("    ") and line[4] != " "]


def plain(pack: Path, whose: Path | None = None) -> list[tuple[int, str]]:
    """Exit code and output of each command of VERIFY.txt (that of the pack `whose`), in a shell that has nothing but the system's own tools."""
    out = []
    for command in commands_of(whose or pack):
        done = subprocess.run(
            ["/bin/sh", "-c", command], cwd=pack, env={"PATH": "/usr/bin:/bin"}, capture_output=True, text=True, check=False
        )
        out.append((done.returncode, done.stdout + done.stderr))
    return out


def all_bytes(folder: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}
