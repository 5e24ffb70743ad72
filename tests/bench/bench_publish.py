"""Benchmark of publishing again: whole commands, against the import of the site host, in one run.

Run from the root: `python tests/bench/bench_publish.py [folder]`. Ratios of one run count, absolute times do not: the machine may
be shared. Two folders are published for the public: the demo as it is, and the demo with 40 photographs of 12 and 24 megapixels,
which are made first, in the folder named or in a temporary one. Each figure is the median of seven runs in turn.
"""

from __future__ import annotations

import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from bench_pictures import make_photos

ROOT = Path(__file__).resolve().parents[2]
TURNS = 7
HOST = "import mkdocs.commands.build, material"
COMMAND = "from dossier.cli import main; main()"


def seconds(*words: object, cache: Path) -> float:
    """Seconds on the wall of a fresh Python, which finds compiled whatever one before it imported, as an installed program does."""
    env = {**os.environ, "XDG_CACHE_HOME": str(cache), "PYTHONPATH": str(ROOT), "PYTHONPYCACHEPREFIX": str(cache / "compiled")}
    env.pop("PYTHONDONTWRITEBYTECODE", None)
    began = time.perf_counter()
    subprocess.run([sys.executable, "-c", *map(str, words)], check=True, stdout=subprocess.DEVNULL, env=env)
    return time.perf_counter() - began


def builds(into: Path, photos: Path | None) -> Path:
    """A copy of the demo, its smaller build with the photographs of a folder as well; the one that will be changed is returned."""
    shutil.copytree(ROOT / "builds", into)
    if photos is None:
        return into / "talvera-350-gp" / "photos" / "carburettor-pair.jpg"
    build = into / "kestrane-125-r"
    lines = []
    for number, path in enumerate(sorted(photos.glob("*.jpg"))):
        shutil.copy(path, build / "photos" / path.name)
        lines.append(f"  - {{id: PH-{1000 + number}, file: {path.name}, shows: Grain and shades for measuring, seen_by: public}}\n")
    with (build / "photos.yaml").open("a", encoding="utf-8") as listed:
        listed.writelines(lines)
    return build / "photos" / min(path.name for path in photos.glob("*.jpg"))


def measured(work: Path, photos: Path | None, audience: str) -> dict[str, list[float]]:
    """Seconds of each kind of publish, and of the import between them."""
    changing = builds(work / "builds", photos)
    publish = (COMMAND, "publish", work / "builds", "--for", audience, "--out", work / "out")
    found: dict[str, list[float]] = {"first": [seconds(*publish, cache=work / "cache")], "host": [], "same": [], "changed": []}
    seconds(*publish, cache=work / "cache")
    seconds(HOST, cache=work / "cache")
    for _ in range(TURNS):
        found["host"].append(seconds(HOST, cache=work / "cache"))
        found["same"].append(seconds(*publish, cache=work / "cache"))
        changing.write_bytes(changing.read_bytes() + b"\0")
        found["changed"].append(seconds(*publish, cache=work / "cache"))
        seconds(*publish, cache=work / "cache")
    return found


def main() -> None:
    """Make the photographs, publish both folders again and again, print a Markdown table."""
    with tempfile.TemporaryDirectory() as temporary:
        photos = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(temporary) / "photos"
        photos.mkdir(parents=True, exist_ok=True)
        make_photos(photos)
        print("| published again | host's import, s | nothing changed ÷ host | one photograph changed ÷ host | first publish, s |")
        print("|---|---|---|---|---|")
        for name, of, audience in (
            ("demo, public", None, "public"),
            ("demo, workshop", None, "workshop"),
            ("demo and 40 of 12 and 24 MP, public, one of 12 MP changed", photos, "public"),
        ):
            with tempfile.TemporaryDirectory(dir=temporary) as work:
                found = measured(Path(work), of, audience)
            host, same, changed = (statistics.median(found[kind]) for kind in ("host", "same", "changed"))
            print(f"| {name} | {host:.2f} | {same / host:.2f} | {changed / host:.2f} | {found['first'][0]:.1f} |", flush=True)


if __name__ == "__main__":
    main()
