"""Benchmark of the published pictures: CPU time against vipsthumbnail and a pyvips cascade on the same 40 photographs.

Run from the root: `python tests/bench/bench_pictures.py [folder]`. Ratios of one run count, absolute times do not: the machine
may be shared. The 40 JPEGs (20 of 12 and 20 of 24 megapixels) are made first, in the folder named or in a temporary one.
bench_publish.py measures publishing again, as whole commands.
"""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from PIL import Image

COUNT = 20
SHAPES = ((4000, 3000), (6000, 4000))

OURS = """
import sys
from pathlib import Path
from dossier.publish.pictures.make import make_renditions
from dossier.publish.pictures.recipe import PictureRequest
from dossier.read.picture_index import probe_all
photos, out, cache = map(Path, sys.argv[1:4])
found = probe_all(sorted(photos.glob("*.jpg")), cache / "index.json") if len(sys.argv) == 4 else {}
if not found:
    import hashlib
    asked = [PictureRequest(p.name, p, hashlib.sha256(p.read_bytes()).hexdigest()) for p in sorted(photos.glob("*.jpg"))]
else:
    asked = [PictureRequest(path.name, path, facts.sha256, facts.mark) for path, (facts, _) in found.items()]
run = make_renditions(asked, out, cache)
assert len(run.renditions) == len(asked) and not run.faults
print(run.made)
"""

CASCADE = """
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
import pyvips
out = Path(sys.argv[2])
def make(path):
    large = pyvips.Image.thumbnail(str(path), 2400, height=2400, size="down").copy_memory()
    large.jpegsave(str(out / (path.stem + "-2400.jpg")), Q=80, interlace=True, optimize_coding=True, strip=True)
    middle = large.thumbnail_image(1200, height=1200, size="down").copy_memory()
    middle.webpsave(str(out / (path.stem + "-1200.webp")), Q=80, effort=2, strip=True)
    small = middle.thumbnail_image(480, height=480, size="down")
    small.webpsave(str(out / (path.stem + "-480.webp")), Q=80, effort=2, strip=True)
with ThreadPoolExecutor(int(sys.argv[3])) as pool:
    list(pool.map(make, sorted(Path(sys.argv[1]).glob("*.jpg"))))
"""

def make_photos(folder: Path) -> None:
    """The 40 photographs: soft shapes and edges under grain, coded as a camera does (quality 92, 4:2:0)."""
    random = np.random.default_rng(7)
    for width, height in SHAPES:
        grain = Image.fromarray(random.normal(128, 22, (height, width)).clip(0, 255).astype(np.uint8))
        for number in range(COUNT):
            path = folder / f"{width}-{number:02}.jpg"
            if path.exists():
                continue
            soft = Image.fromarray(random.integers(0, 255, (9, 12, 3), dtype=np.uint8)).resize((width, height), Image.Resampling.BICUBIC)
            edges = Image.fromarray(random.integers(60, 200, (150, 200), dtype=np.uint8)).resize((width, height), Image.Resampling.BILINEAR)
            picture = Image.blend(Image.blend(soft, edges.convert("RGB"), 0.4), grain.convert("RGB"), 0.25)
            picture.save(path, quality=92)


def spent(work: Callable[[], object]) -> tuple[float, float]:
    """CPU seconds of all child processes, and seconds on the wall, of a piece of work."""
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    work()
    wall, after = time.perf_counter() - began, resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, wall


def python(code: str, *given: object) -> Callable[[], object]:
    """A fresh Python that runs `code`."""
    command = [sys.executable, "-c", code, *map(str, given)]
    return lambda: subprocess.run(command, check=True, stdout=subprocess.DEVNULL)


def vipsthumbnail(photos: Path, out: Path) -> None:
    """Three processes for each photograph, one a size."""
    sizes = (
        (2400, "jpg[Q=80,interlace,optimize_coding,strip]"),
        (1200, "webp[Q=80,effort=2,strip]"),
        (480, "webp[Q=80,effort=2,strip]"),
    )
    for path in sorted(photos.glob("*.jpg")):
        for edge, coding in sizes:
            target = f"{out}/{path.stem}-{edge}.{coding}"
            subprocess.run(["vipsthumbnail", str(path), "--size", f"{edge}x{edge}>", "-o", target], check=True)


def rows(work: Path, photos: Path) -> list[tuple[str, float, float]]:
    """All contenders in one run: name, CPU seconds, seconds on the wall."""
    found: list[tuple[str, float, float]] = []

    def run(name: str, what: Callable[[], object]) -> None:
        found.append((name, *spent(what)))

    def fresh(name: str) -> Path:
        shutil.rmtree(work / name, ignore_errors=True)
        (work / name).mkdir(parents=True)
        return work / name

    cores = len(os.sched_getaffinity(0))
    for path in photos.glob("*.jpg"):
        path.read_bytes()  # all contenders find the files in the system's memory
    run("ours, pictures made", python(OURS, photos, fresh("ours"), fresh("no-cache"), "no index"))
    if shutil.which("vipsthumbnail"):
        run("vipsthumbnail, three processes each", lambda: vipsthumbnail(photos, fresh("vips")))
    try:
        import pyvips  # noqa: F401

        run("pyvips cascade", python(CASCADE, photos, fresh("cascade"), cores))
    except (ImportError, OSError):
        print("pyvips or libvips is not installed", file=sys.stderr)
    run("ours, read and made, empty cache", python(OURS, photos, fresh("first"), fresh("cache")))
    return found


def main() -> None:
    """Make the photographs, run everything once, print a Markdown table."""
    with tempfile.TemporaryDirectory() as temporary:
        photos = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(temporary) / "photos"
        photos.mkdir(parents=True, exist_ok=True)
        make_photos(photos)
        found = rows(Path(temporary), photos)
    mine = found[0][1]
    print("| 40 photographs (20 × 12 MP, 20 × 24 MP) | CPU s | wall s | ours ÷ this, CPU |")
    print("|---|---|---|---|")
    for name, cpu, wall in found:
        ratio = f"{mine / cpu:.2f}" if name.startswith(("vips", "pyvips")) else ""
        print(f"| {name} | {cpu:.2f} | {wall:.2f} | {ratio} |")


if __name__ == "__main__":
    main()
