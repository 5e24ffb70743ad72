"""Benchmark of an archive's growth: what a build costs among 1, 10, 100 … builds, in time and memory, and what an unchanged archive costs.

Run from the root: `python tests/bench/bench_growth.py [--thin] [--cores N] [--in FOLDER] SIZE …`. The builds are made first
(made_builds.py); with `--thin` all of them from the smaller demo build, otherwise from both in turn. Each publish is a command of its
own, for the public. CPU seconds are those of all its processes; memory is the peak of the first of them, which grows with what an
archive has to remember, and the highest peak among the others, which do the work. Wall times on a shared machine say little.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from made_builds import make_build

ROOT = Path(__file__).resolve().parents[2]
COMMAND = "from dossier.cli import main; main()"
_TICKS = os.sysconf("SC_CLK_TCK")


@dataclass
class Cost:
    """Seconds on the wall and of CPU, and MB at most in the first process and in any other."""

    wall: float = 0.0
    cpu: float = 0.0
    first: float = 0.0
    others: float = 0.0


def cost(*words: object, cache: Path) -> Cost:
    """What a command of ours costs, all its processes together."""
    return cost_of([sys.executable, "-c", COMMAND, *words], {"XDG_CACHE_HOME": cache})


def cost_of(words: Sequence[object], surroundings: Mapping[str, object]) -> Cost:
    """What any command costs."""
    env = {**os.environ, "PYTHONPATH": str(ROOT), **{name: str(value) for name, value in surroundings.items()}}
    began = time.perf_counter()
    run = subprocess.Popen([*map(str, words)], stdout=subprocess.DEVNULL, env=env, cwd=ROOT, start_new_session=True)
    seen: dict[int, tuple[float, float]] = {}
    while run.poll() is None:
        for pid in _session(run.pid):
            if (state := _state(pid)) and state[1]:  # nothing is told of the memory of one that has just ended
                seen[pid] = state
        time.sleep(0.05 if time.perf_counter() - began < 5 else 0.3)
    if run.returncode:
        raise SystemExit(f"exit {run.returncode}: {words}")
    first = seen.get(run.pid, (0.0, 0.0))[1]
    others = max((memory for pid, (_, memory) in seen.items() if pid != run.pid), default=0.0)
    return Cost(time.perf_counter() - began, sum(cpu for cpu, _ in seen.values()), first, others)


def _session(leader: int) -> list[int]:
    found = []
    for name in os.listdir("/proc"):  # noqa: PTH208
        if name.isdigit():
            try:
                if os.getsid(int(name)) == leader:
                    found.append(int(name))
            except OSError:
                continue
    return found


def _state(pid: int) -> tuple[float, float] | None:
    """CPU seconds so far and the peak of memory in MB (proc(5): stat, status)."""
    try:
        fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
        status = Path(f"/proc/{pid}/status").read_text()
    except OSError:
        return None
    peak = next((int(line.split()[1]) for line in status.splitlines() if line.startswith("VmHWM:")), 0)
    return (int(fields[11]) + int(fields[12])) / _TICKS, peak / 1000


def measured(work: Path, numbers: list[int], cores: int) -> tuple[Cost, Cost, Cost]:
    """Costs of a first publish, of one with nothing changed, and of one with one build changed."""
    builds, out, cache = work / "builds", work / "out", work / "cache"
    publish = ("publish", builds, "--for", "public", "--out", out, "--cores", cores)
    cold = cost(*publish, cache=cache)
    time.sleep(2.5)  # until the files have come to rest
    cost(*publish, cache=cache)
    same = cost(*publish, cache=cache)
    changing = builds / f"machine-{numbers[len(numbers) // 2]:04d}" / "machine.yaml"
    changing.write_text(changing.read_text(encoding="utf-8").replace("short: ", "short: The "), encoding="utf-8")
    return cold, same, cost(*publish, cache=cache)


def main() -> None:
    """Make the builds, publish each size, print a Markdown table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("sizes", nargs="+", type=int)
    asked.add_argument("--thin", action="store_true")
    asked.add_argument("--cores", type=int, default=len(os.sched_getaffinity(0)))
    asked.add_argument("--in", dest="folder", type=Path)
    given = asked.parse_args()
    print("| builds | wall, s a build | CPU, s a build | first process, MB | others, MB | unchanged, % of first | one changed, wall s |")
    print("|---|---|---|---|---|---|---|")
    with tempfile.TemporaryDirectory(dir=given.folder) as temporary:
        for size in given.sizes:
            work = Path(temporary) / str(size)
            numbers = [number * 2 if given.thin else number for number in range(1, size + 1)]
            for number in numbers:
                make_build(_with_workshop(work / "builds"), number)
            cold, same, one = measured(work, numbers, given.cores)
            print(
                f"| {size} | {cold.wall / size:.2f} | {cold.cpu / size:.2f} | {cold.first:.0f} | {cold.others:.0f} "
                f"| {100 * same.wall / cold.wall:.2f} | {one.wall:.1f} |",
                flush=True,
            )
            shutil.rmtree(work)


def _with_workshop(folder: Path) -> Path:
    if not folder.exists():
        folder.mkdir(parents=True)
        shutil.copy(ROOT / "builds" / "workshop.yaml", folder)
    return folder


if __name__ == "__main__":
    main()
