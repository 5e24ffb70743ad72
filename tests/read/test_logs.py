"""CSV logs: every kind is read with its units; what cannot be read is told at its cell, and no row is guessed."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from dossier.model.build import LogTable
from dossier.model.problems import Problem
from dossier.model.units import UNITS
from dossier.read.files import Folder
from dossier.read.logs.kind import LOG_KINDS
from dossier.read.logs.table import TOLD, read_log

BASE = Path(__file__).parent.parent / "bad" / "_base"

SAMPLES = {
    "bore_readings": ("Cylinder,Height,Direction,Diameter [mm]\nleft,top,along,62.013\n", ("left", "top", "along", 62.013)),
    "data_log": ("Time [s],Engine speed [rpm],Speed [km/h],Throttle [%],Gear\n0.02,8640,158.0,100,6\n", (0.02, 8640.0, 158.0, 100.0, 6.0)),
    "dyno_run": ("Engine speed [rpm],Torque [N·m]\n6000,24.1\n", (6000.0, 24.1)),
    "lap_times": ("Lap,Lap time\n1,1:41.8\n", (1.0, 101.8)),
    "run_log": ("Date,What,Running time [h]\n2025-03-29,first start,0.8\n", ("2025-03-29", "first start", 0.8)),
    "spring_test": ("Force [N],Deflection [mm]\n300,20.3\n", (300.0, 20.3)),
    "torque_log": ("Joint,Torque [N·m],Wrench\ncylinder head nuts,24,M8\n", ("cylinder head nuts", 24.0, "M8")),
    "axle_scales": ("Wheel,State,Load [kg]\nfront,with rider,89.2\n", ("front", "with rider", 89.2)),
    "cam_readings": ("Cylinder,Valve,Crank angle [°],Lift [mm]\nleft,inlet,-51,1.00\n", ("left", "inlet", -51.0, 1.0)),
    "colour_readings": (
        "Part,Sample,L*,a*,b*\nfairing,part,36.1,-28.4,9.7\nfragment,reference,36.9,-27.2,9.1\n", ("fairing", "part", 36.1, -28.4, 9.7)
    ),
    "compression_test": ("Cylinder,Pressure [bar]\nleft,12.4\n", ("left", 12.4)),
    "leak_down": ("Cylinder,Supply [bar],Held [bar],Where it leaks\nleft,5.5,5.28,breather\n", ("left", 5.5, 5.28, "breather")),
    "paint_thickness": ("Part,Place,Thickness [µm]\ntank,left,112\n", ("tank", "left", 112.0)),
    "port_map": ("Port,Top edge from TDC [mm],Height [mm],Width [mm]\nExhaust,27.0,27.0,38.5\n", ("exhaust", 27.0, 27.0, 38.5)),
    "spoke_check": ("Wheel,Spoke,Side,Tone [Hz]\nfront,1,left,412\n", ("front", 1.0, "left", 412.0)),
    "temperatures": ("Where,Temperature [°C],When\noil,92,after lap 8\n", ("oil", 92.0, "after lap 8")),
    "wheel_truing": ("Wheel,Plane,Angle [°],Reading [mm]\nfront,radial,30,0.12\n", ("front", "radial", 30.0, 0.12)),
    "weigh_sheet": ("Part,Before [g],After [g]\nP16,618,431\n", ("P16", 618.0, 431.0)),
}


@pytest.fixture
def log(tmp_path: Path):
    """A log of that name and text as read, with its problems as (code, line, column)."""
    shutil.copytree(BASE, tmp_path / "case")
    (tmp_path / "case" / "build" / "logs").mkdir()

    def read(name: str, text: str | bytes) -> tuple[LogTable | None, list[tuple[str, int, int]]]:
        folder = Folder(tmp_path / "case" / "build", "")
        (folder.path / "logs" / name).write_bytes(text if isinstance(text, bytes) else text.encode())
        table, problems = read_log(folder, f"logs/{name}")
        return table, [told(one) for one in problems]

    def told(problem: Problem) -> tuple[str, int, int]:
        return problem.code, problem.place.line, problem.place.column

    return read


@pytest.mark.parametrize("kind", LOG_KINDS.names())
def test_every_kind_of_log_reads_a_row_of_its_own(kind: str, log):
    text, row = SAMPLES[kind]
    table, problems = log(f"X-1.{kind}.csv", text)
    assert problems == []
    assert table is not None
    assert (table.rows[0], table.left_out, table.belongs_to, table.id) == (row, (), "X-1", f"X-1.{kind}")


@pytest.mark.parametrize("kind", LOG_KINDS.names())
def test_every_kind_of_log_says_what_it_is_and_its_columns_are_of_known_kinds(kind: str):
    one = LOG_KINDS[kind]
    assert one.title and one.yields and one.belongs_to in ("machine", "dyno", "sessions")
    titles = [title.casefold() for column in one.columns for title in {column.title, column.name, *column.aliases}]
    assert len({column.name for column in one.columns}) == len(one.columns)
    for column in one.columns:
        assert column.kind in {"words", "date", *(unit.kind for unit in UNITS.values())}
    assert len(set(titles)) >= len(one.columns)


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        ("Torque [lbf·ft];Revs [1/min]\n17.8;6000\n", ((17.8, 6000.0),)),
        ("\ufeffrpm [rpm],torque [Nm]\r\n6000,24.1\r\n\r\n7000,28.0\r\n", ((6000.0, 24.1), (7000.0, 28.0))),
        ('"Engine speed [rpm]", "Torque [N·m]"\n"6000", "24.1"\n', ((6000.0, 24.1),)),
        ("\n\nEngine speed [rpm],Torque [N·m],\n6000,24.1,\n,,\n", ((6000.0, 24.1),)),
    ],
)
def test_marks_order_and_names_of_columns_may_differ(text: str, rows: tuple[object, ...], log):
    table, problems = log("DY-1.dyno_run.csv", text)
    assert [one for one in problems if one[0] != "file-bom"] == []
    assert table is not None
    assert table.rows == rows


HEAD = "Engine speed [rpm],Torque [N·m]\n"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Engine speed [rpm]\n6000\n", [("log-header", 1, 1)]),
        ("Engine speed [rpm],Torque\n6000,24\n", [("log-unit", 1, 20)]),
        ("Engine speed [rpm],Torque [kg]\n6000,24\n", [("log-unit", 1, 20)]),
        ("Engine speed [rpm],Torque [N·m],Torque [N·m]\n6000,24,24\n", [("log-header", 1, 33)]),
        ("6000,24.1\n", [("log-header", 1, 1), ("log-header", 1, 1)]),
        (
            HEAD + "6000,24.1\n7000,\n8000,1e3\n9000\n9500,1,2\n",
            [("log-number", 3, 6), ("log-number", 4, 6), ("log-row", 5, 1), ("log-row", 6, 1)],
        ),
        (HEAD + "6000,nan\n", [("log-number", 2, 6), ("log-empty", 0, 0)]),
        (HEAD, [("log-empty", 0, 0)]),
        ("", [("log-empty", 0, 0)]),
    ],
)
def test_what_cannot_be_read_is_told_at_its_cell(text: str, expected: list[tuple[str, int, int]], log):
    table, problems = log("DY-1.dyno_run.csv", text)
    assert problems == expected
    if table is not None:
        assert len(table.left_out) == sum(code in ("log-row", "log-number") for code, _, _ in problems)


def test_a_flood_of_bad_rows_is_listed_whole_and_told_in_part(log):
    table, problems = log("DY-1.dyno_run.csv", HEAD + "6000,24.1\n" + "x,y\n" * 500)
    assert table is not None
    assert (len(table.rows), len(table.left_out)) == (1, 500)
    assert len(problems) == TOLD + 1


def test_a_comma_among_numbers_with_points_is_no_decimal_mark(log):
    table, problems = log("DY-1.dyno_run.csv", "Engine speed [rpm];Torque [N·m]\n6000;24,1\n7000;28.0\n")
    assert table is not None
    assert (table.rows, problems) == (((7000.0, 28.0),), [("log-number", 2, 6)])
    table, problems = log("DY-2.dyno_run.csv", HEAD + "6000,24,1\n7000,28.0\n")
    assert table is not None
    assert (table.rows, problems) == (((7000.0, 28.0),), [("log-row", 2, 1)])


@pytest.mark.parametrize(("name", "code"), [("dyno.csv", "log-name"), (".dyno_run.csv", "log-name"), ("DY-1.dyno.csv", "log-kind-unknown")])
def test_a_name_that_does_not_say_record_and_kind_is_told(name: str, code: str, log):
    assert log(name, HEAD)[1] == [(code, 0, 0)]
