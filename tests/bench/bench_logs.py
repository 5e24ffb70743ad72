"""Benchmark of a million-row log: read, its gears and slip found, its chart drawn; time and the most memory used.

Run from the root: `python tests/bench/bench_logs.py [rows]`. Each step runs in a process of its own on the same file; ratios of one
run count, absolute times do not: the machine may be shared.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

LARGEST = 500
"""Megabytes that no step may pass."""

START = """
import sys
from pathlib import Path
from dossier.read.files import Folder
from dossier.read.logs.table import read_log
table, problems = read_log(Folder(Path(sys.argv[1]), ""), "logs/TS-1.data_log.csv")
assert table is not None and len(table.rows) == int(sys.argv[2]), problems[:3]
"""
SUMMED = START + """
from dossier.figures.values_of_curves import of_data_log
from dossier.model.audience import Audience
values = list(of_data_log(table, "TS-1", None, (), Audience.PUBLIC))
assert values
"""
TOLD = """
import resource
(Path(sys.argv[1]) / "memory").write_text(str(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000))
"""
STEPS = {"read": START, "read, gears and slip found": SUMMED}


def make(file: Path, rows: int, dirty: bool) -> None:
    """A log of that many rows at 50 Hz: six gears, cruising and pulling; with blank throttles and a text column where it is dirty."""
    rng = np.random.default_rng(7)
    ratios = np.array([142.1, 114.4, 99.3, 86.9, 79.9, 73.5])
    block = np.repeat(np.arange(rows // 500 + 1), 500)[:rows]
    gear = rng.integers(0, 6, block[-1] + 1)[block]
    speed = np.clip(60 + 18 * gear + 15 * np.sin(np.arange(rows) / 180) + rng.normal(0, 0.05, rows), 20, None).round(1)
    rpm = (speed * ratios[gear] + rng.normal(0, 12, rows)).round().astype(int)
    throttle = np.where(block % 3 == 0, 100, 40)
    with file.open("w", encoding="utf-8") as out:
        out.write("Time [s],Engine speed [rpm],Speed [km/h],Throttle [%]" + (",Remark" if dirty else "") + "\n")
        for n in range(rows):
            held = "" if dirty and n % 50 == 0 else throttle[n]
            out.write(f"{n / 50:.2f},{rpm[n]},{speed[n]},{held}" + (",x" if dirty else "") + "\n")


def main() -> None:
    """Make the files, run every step on each, print a Markdown table; exit 1 where a step takes more memory than allowed."""
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    worst = 0.0
    print(f"| {rows:,} rows | wall s | most memory, MB |\n|---|---|---|")
    with tempfile.TemporaryDirectory() as temporary:
        for word, dirty in (("clean", False), ("blank cells, a column more", True)):
            folder = Path(temporary) / word.split(",")[0].replace(" ", "-")
            (folder / "logs").mkdir(parents=True)
            make(folder / "logs" / "TS-1.data_log.csv", rows, dirty)
            for name, program in STEPS.items():
                began = time.perf_counter()
                subprocess.run([sys.executable, "-c", program + TOLD, str(folder), str(rows)], check=True)
                memory = float((folder / "memory").read_text())
                worst = max(worst, memory)
                print(f"| {word}: {name} | {time.perf_counter() - began:.1f} | {memory:.0f} |")
    sys.exit(worst > LARGEST)


if __name__ == "__main__":
    main()
