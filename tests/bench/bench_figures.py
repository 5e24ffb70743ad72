"""Benchmark of worked figures: ours against the same closed forms written bare with `uncertainties`, how time grows with their number,
and all figures of the demo builds against one import of matplotlib.

Run from the root: `python tests/bench/bench_figures.py`. CPU time of one process, both sides in turn, the better of several rounds:
the machine may be shared, so ratios of one run count and absolute times do not.

What is measured: ten closed forms on a thousand sets of values each. Bare: make the numbers, write the formula, read the best value, the
standard uncertainty and each input's part of it. Ours: make the values with their names, put all recipes on them, and get every figure
with its uncertainty, budget, formula, inputs as shown and printed, bounds, warnings and audience.
"""

from __future__ import annotations

import gc
import math
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from uncertainties import ufloat, umath  # noqa: E402

from dossier.figures.figure import FIGURES  # noqa: E402
from dossier.figures.work_out import work_out  # noqa: E402
from dossier.model.forms.measurements import Role  # noqa: E402
from dossier.model.quantity import variable  # noqa: E402
from dossier.model.results import Value, at_once  # noqa: E402
from dossier.model.units import UNITS  # noqa: E402

SETS = 1000
ROUNDS = 9
NAMES = (
    "cylinder_volume", "compression_ratio", "effective_compression_ratio", "liner_wall", "piston_clearance", "leak_down", "final_ratio",
    "overall_ratio", "road_speed", "chain_links",
)  # fmt: skip
SHARED = (
    ("stroke", 57.79, 0.02, "mm"), ("rod_length", 112.0, 0.1, "mm"), ("liner_outside_diameter", 67.6, 0.02, "mm"),
    ("leakdown_supply", 5.5, 0.02, "bar"),
    ("primary_ratio", 2.5, 0.001, ""), ("gear_ratio", 1.0, 0.001, ""), ("rpm_max_power", 9800.0, 0.0, "rpm"),
    ("rear_rolling_circumference", 1905.0, 3.0, "mm"), ("chain_centre", 605.0, 1.0, "mm"), ("chain_pitch", 15.875, 0.0, "mm"),
)  # fmt: skip
PER_CYLINDER = (
    ("bore", 62.0, 0.004, "mm"), ("clearance_volume", 17.7, 0.15, "cc"), ("inlet_closes", 77.0, 1.0, "°"), ("piston_diameter", 61.95, 0.003, "mm"),
    ("leakdown_cylinder", 5.28, 0.02, "bar"),
)  # fmt: skip
PER_FINAL = (("final_driver_teeth", 17.0, 0.0, "teeth"), ("final_driven_teeth", 40.0, 0.0, "teeth"))


def value(name: str, number: float, u: float, sign: str, *tags: tuple[str, str]) -> Value:
    unit = UNITS[sign]
    si = variable(number * unit.scale, u * unit.scale, f"{name} {tags}")
    return at_once(Value, {"name": name, "tags": tags, "role": Role.AS_BUILT, "number": si, "unit": sign, "shown": number, "u": u, "title": name})


def values(sets: int) -> list[Value]:
    out = [value(*one) for one in SHARED]
    for k in range(sets):
        out += [value(name, x * (1 + k * 1e-7), u, sign, ("cylinder", str(k))) for name, x, u, sign in PER_CYLINDER]
        out += [value(name, x, u, sign, ("final", str(k))) for name, x, u, sign in PER_FINAL]
    return out


def worked(made: list[Value]) -> int:
    return len(work_out(made, [FIGURES[name] for name in NAMES], "4"))


def ours(sets: int) -> int:
    return worked(values(sets))


def read(y) -> tuple[float, float, dict]:
    return y.nominal_value, y.std_dev, {source.tag: part for source, part in y.error_components().items()}


def bare(sets: int) -> int:
    s, rod, liner, supply = ufloat(57.79, 0.01, "s"), ufloat(112.0, 0.05, "l"), ufloat(67.6, 0.01, "o"), ufloat(5.5, 0.01, "p")
    ip, ik, c, x = ufloat(2.5, 0.0005, "ip"), ufloat(1.0, 0.0005, "ik"), ufloat(1905.0, 1.5, "c"), ufloat(605.0, 0.5, "x")
    out = []
    for k in range(sets):
        more = 1 + k * 1e-7
        b, vc, ivc = ufloat(62.0 * more, 0.002, "b"), ufloat(17.7 * more, 0.075, "vc"), ufloat(math.radians(77.0 * more), math.radians(0.5), "ivc")
        d, pc = ufloat(61.95 * more, 0.0015, "d"), ufloat(5.28 * more, 0.01, "pc")
        z1, z2 = 17.0, 40.0
        v1 = math.pi / 4 * b**2 * s / 1000
        turned = math.pi - ivc
        travel = s / 2 * (1 - umath.cos(turned)) + rod - umath.sqrt(rod**2 - (s / 2 * umath.sin(turned)) ** 2)
        overall = ip * ik * (z2 / z1)
        figures = (
            v1, (v1 + vc) / vc, (math.pi / 4 * b**2 * travel / 1000 + vc) / vc, (liner - b) / 2, b - d, 100 * (1 - pc / supply),
            overall, 9800 / 60 * c / overall * 0.0036, 2 * x / 15.875 + (z1 + z2) / 2 + ((z2 - z1) / (2 * math.pi)) ** 2 * 15.875 / x,
        )  # fmt: skip
        out += [read(y) for y in figures]
        out.append((z2 / z1, 0.0, {}))
    return len(out)


def clocked(run: Callable[[int], int], sets: int) -> float:
    """CPU seconds of one run."""
    gc.collect()
    start = time.process_time()
    assert run(sets) == sets * len(NAMES), run
    return time.process_time() - start


def compared() -> None:
    found = dict.fromkeys((ours, bare), math.inf)
    for _ in range(ROUNDS):
        for run in found:
            found[run] = min(found[run], clocked(run, SETS))
    count = SETS * len(NAMES)
    print(f"{count} figures, microseconds each: ours {1e6 * found[ours] / count:.1f}, bare {1e6 * found[bare] / count:.1f}; "
          f"ratio {found[ours] / found[bare]:.2f} (wanted: at most 2)")  # fmt: skip


def growth() -> None:
    print("\nfigures   CPU s   microseconds each, the values made beforehand")
    for sets in (100, 300, 1000, 3000, 10_000):
        made = values(sets)
        took = min(clocked(lambda sets, made=made: worked(made), sets) for _ in range(2))
        print(f"{sets * len(NAMES):7}  {took:6.3f}   {1e6 * took / (sets * len(NAMES)):6.1f}")


DEMO = """
import time
from pathlib import Path
from dossier.figures.figure import FIGURES
from dossier.figures.values import values_of
from dossier.figures.work_out import work_out
from dossier.record import latest_revision
from dossier.read.folder import read_build
import numpy
FIGURES.gather()
builds = [read_build(path)[0] for path in sorted(Path("builds").iterdir()) if path.is_dir()]
start, found = time.process_time(), 0
for build in builds:
    found += len(work_out(values_of(build, latest_revision(build)[1]), list(FIGURES), build.machine.engine.strokes))
print(time.process_time() - start, found)
"""
MATPLOTLIB = """
import time
import numpy
start = time.process_time()
import matplotlib.figure, matplotlib.backends.backend_svg
print(time.process_time() - start)
"""


def fresh(code: str) -> list[float]:
    """Numbers that a fresh interpreter prints."""
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    return [float(one) for one in done.stdout.split()]


def demo() -> None:
    took, found = min(fresh(DEMO) for _ in range(ROUNDS))
    [against] = min(fresh(MATPLOTLIB) for _ in range(ROUNDS))
    print(f"\nall {found:.0f} figures of the demo builds {took:.3f} s, one import of matplotlib {against:.3f} s; ratio {took / against:.2f}")


if __name__ == "__main__":
    FIGURES.gather()
    compared()
    growth()
    demo()
