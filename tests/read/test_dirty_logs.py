"""Logs as they really come: other marks, encodings, titles and workbooks; what can be known is used and said, what cannot is asked."""

from __future__ import annotations

import datetime
import io
import math
from array import array
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dossier.model.build import LogTable
from dossier.model.rows import Rows
from dossier.read.files import Folder
from dossier.read.logs.body import RUN
from dossier.read.logs.table import read_log, read_logs

CLEAN = ((6000.0, 24.1), (7000.0, 28.0))
HEAD = "Engine speed [rpm],Torque [N·m]\n"


@pytest.fixture
def logs(tmp_path: Path):
    """Logs by name and text, read with a logs.yaml, as (tables, codes of the problems)."""

    def read(files: dict[str, str | bytes], wording: str = "") -> tuple[list[LogTable], list[str]]:
        (tmp_path / "logs").mkdir(exist_ok=True)
        for name, text in files.items():
            (tmp_path / "logs" / name).write_bytes(text if isinstance(text, bytes) else text.encode())
        if wording:
            (tmp_path / "logs.yaml").write_text(wording, encoding="utf-8")
        tables, problems = read_logs(Folder(tmp_path, ""))
        return tables, [one.code for one in problems]

    return read


DY = "DY-1.dyno_run.csv"


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        ("Engine speed [rpm];Torque [N·m]\n6000;24,1\n7000;28,0\n", ["log-comma"]),
        ("Engine speed [rpm]\tTorque [N·m]\n6000\t24,1\n7000\t28,0\n", ["log-comma"]),
        ((HEAD + "6000,24.1\n7000,28.0\n").encode("utf-16"), ["log-encoding"]),
        ("\ufeff" + HEAD + "6000,24.1\n7000,28.0\n", ["file-bom"]),
        (HEAD.replace("\n", "\r\n") + "\r\n6000,24.1\r\n\r\n7000,28.0\r\n", []),
        ("Engine speed,Torque\nrpm,N·m\n6000,24.1\n7000,28.0\n", []),
        ("Engine speed,Torque\n[RPM],[Nm]\n6000,24.1\n7000,28.0\n", []),
        ("Engine speed (rpm),Torque (N·m)\n6000,24.1\n7000,28.0\n", []),
        ("engine_speed rpm,torque Nm\n6000,24.1\n7000,28.0\n", []),
        ("RPM,Wheel-Torque [NM]\n6000,24.1\n7000,28.0\n", []),
        (HEAD + "6000,24.1\n" + HEAD + "7000,28.0\n", ["log-header-again"]),
        ("Roller test\n11 April;cold\n\n" + HEAD + "6000,24.1\n7000,28.0\n", ["log-lines-above"]),
        (HEAD + "6000,24.1,,,\n7000,28.0,,,\n", []),
        ("Torque [N·m],Air [°C],Engine speed [rpm]\n24.1,14,6000\n28.0,14,7000\n", ["log-columns"]),
        ("Engine speed [rpm],Torque [N·m],Note\n6000,24.1,\"steady, warm\"\n7000,28.0,\n", ["log-columns"]),
    ],
)
def test_a_dirty_file_reads_as_the_clean_one_and_what_was_found_out_is_said(text: str | bytes, codes: list[str], logs):
    tables, told = logs({DY: text})
    assert told == codes
    rows = [dict(zip([name for name, _ in tables[0].columns], row, strict=True)) for row in tables[0].rows]
    assert [(row["rpm"], row["torque"]) for row in rows] == list(CLEAN)
    assert len(tables[0].said) == len([code for code in codes if code not in ("file-bom", "log-encoding")])


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("Engine speed [rpm];Torque [N·m]\n6000;24,125\n7000;28,000\n", "log-decimal"),
        (HEAD + "6000,24,1\n7000,28,0\n", "log-decimal"),
        (HEAD + '6000,"24,1"\n7000,"28,0"\n', "log-decimal"),
        ((HEAD + "6000,24.1\n").encode("utf-16-le"), "file-nul"),
        ("Crank angle [°],Torque [N·m]\n6000,24.1\n".encode("cp1252"), "file-encoding"),
        ("Eng Spd [rpm],Torque [N·m]\n6000,24.1\n", "log-header"),
        ("GPS speed [km/h],Wheel speed [km/h],rpm\n100,101,5000\n", "log-header"),
    ],
)
def test_what_cannot_be_known_is_asked_and_nothing_is_read(text: str | bytes, code: str, logs):
    name = "TS-1.data_log.csv" if b"GPS" in (text if isinstance(text, bytes) else text.encode()) else DY
    assert logs({name: text}) == ([], [code])


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("Eng Spd,Torque [N·m]\n6000,24.1\n7000,28.0\n", "columns: ['Eng Spd = Engine speed [rpm]']"),
        ("Engine speed [rpm];Torque [N·m]\n6000;24,100\n7000;28,000\n", "decimal: comma"),
        ((HEAD + "6000,24.1\n7000,28.0\n").encode("utf-16-le"), "encoding: utf-16"),
        ("Engine speed [rpm],Torque [N·m]\n6000,24.1\n7000,28.0\n".encode("cp1252"), "encoding: windows-1252"),
        ("Engine speed [rpm]|Torque [N·m]\n6000|24.1\n7000|28.0\n", "separator: bar"),
        ("6000,24.1\n7000,28.0\n", "{header: no, columns: ['1 = Engine speed [rpm]', '2 = Torque [N·m]']"),
    ],
)
def test_a_line_in_logs_yaml_answers_the_question(text: str | bytes, line: str, logs):
    entry = line.strip("{}")
    tables, told = logs({DY: text}, f"logs:\n  - {{file: {DY}, {entry}}}\n")
    assert told == []
    assert tables[0].rows == CLEAN


def test_a_mapping_gives_record_and_kind_to_a_file_of_any_name(logs):
    tables, told = logs({"roller 11 April.txt": HEAD + "6000,24.1\n"}, "logs:\n  - {file: roller 11 April.txt, of: DY-7, kind: dyno_run}\n")
    assert told == []
    assert (tables[0].id, tables[0].belongs_to, tables[0].kind) == ("DY-7.dyno_run", "DY-7", "dyno_run")


@pytest.mark.parametrize(
    "wording",
    [
        "logs:\n  - {file: DY-2.dyno_run.csv}\n",
        "logs:\n  - {file: DY-1.dyno_run.csv}\n  - {file: DY-1.dyno_run.csv}\n",
        "logs:\n  - {file: DY-1.dyno_run.csv, columns: ['Drehzahl = Engine speed [rpm]']}\n",
        "logs:\n  - {file: DY-1.dyno_run.csv, columns: [Engine speed]}\n",
    ],
)
def test_a_mapping_that_speaks_of_nothing_there_is_refused(wording: str, logs):
    assert "log-mapping" in logs({DY: HEAD + "6000,24.1\n"}, wording)[1]


def workbook(*sheets: list[list[object]], percent: bool = False) -> bytes:
    book = openpyxl.Workbook()
    book.remove(book.active)
    for rows in sheets:
        sheet = book.create_sheet()
        for row in rows:
            sheet.append(row)
        if percent:
            for cell in sheet["D"][1:]:
                cell.number_format = "0%"
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def test_a_workbook_of_the_same_form_reads_as_the_csv_does(logs):
    rows: list[list[object]] = [["Engine speed [rpm]", "Torque [N·m]"], [6000, 24.1], [7000, 28]]
    tables, told = logs({"DY-1.dyno_run.xlsx": workbook(rows)})
    assert told == []
    assert tables[0].rows == CLEAN


def test_per_cents_and_times_of_a_workbook_are_what_the_sheet_shows(logs):
    rows: list[list[object]] = [["Time", "Engine speed [rpm]", "Speed [km/h]", "Throttle [%]"]]
    rows += [[datetime.time(10, 0, second), 5000, 100.5, 0.45] for second in (1, 2)]
    tables, told = logs({"TS-1.data_log.xlsx": workbook(rows, percent=True)})
    assert told == []
    assert tables[0].rows == ((36001.0, 5000.0, 100.5, 45.0), (36002.0, 5000.0, 100.5, 45.0))


def test_of_two_filled_sheets_the_one_named_is_read(logs):
    rows: list[list[object]] = [["Engine speed [rpm]", "Torque [N·m]"], [6000, 24.1]]
    files = {"DY-1.dyno_run.xlsx": workbook(rows, [*rows, [7000, 28]])}
    assert logs(files) == ([], ["log-sheet"])
    tables, told = logs(files, "logs:\n  - {file: DY-1.dyno_run.xlsx, sheet: Sheet1}\n")
    assert told == []
    assert tables[0].rows == CLEAN


def test_times_of_day_count_from_the_midnight_before_the_first(logs):
    text = "Time,Engine RPM [RPM],Vehicle speed [km/h]\n2025-05-31 23:59:59.5,5000,100\n2025-06-01 00:00:00.5,5000,100\n00:00:01,5000,100\n"
    tables, _ = logs({"TS-1.data_log.csv": text})
    assert list(tables[0].numbers("time")) == [86399.5, 86400.5, 1.0]


def test_gaps_jumps_and_spikes_are_told_and_no_row_is_lost(logs):
    rows = [(n * 0.1, 5000 + 10 * (n % 7), 100.0) for n in range(200)]
    rows[50] = (rows[50][0], 14800, 100.0)
    rows[120:] = [(t + 9, r, v) for t, r, v in rows[120:]]
    rows[160:] = [(t - 20, r, v) for t, r, v in rows[160:]]
    text = "Time [s],rpm,Speed [km/h]\n" + "".join(f"{t:.1f},{r},{v}\n" for t, r, v in rows)
    tables, told = logs({"TS-1.data_log.csv": text})
    assert sorted(told) == ["log-clock", "log-gap", "log-spike"]
    assert len(tables[0].rows) == 200


def test_a_smooth_pull_through_the_gears_has_no_spike(logs):
    speed = [40 + 0.8 * n for n in range(150)]
    rpm = [v * k for v, k in zip(speed, [110] * 40 + [85] * 50 + [70] * 60, strict=True)]
    text = "Time [s],rpm,Speed [km/h]\n" + "".join(f"{n * 0.1:.1f},{r:.0f},{v:.1f}\n" for n, (r, v) in enumerate(zip(rpm, speed, strict=True)))
    assert logs({"TS-1.data_log.csv": text})[1] == []


def test_rows_far_down_are_left_out_at_their_own_line(logs):
    lines = [f"{n},{n / 10}" for n in range(1, 2 * RUN)]
    lines[RUN + 10] = "x,1"
    tables, _ = logs({DY: HEAD + "\n".join(lines) + "\n"})
    assert [line for line, _ in tables[0].left_out] == [RUN + 12]
    assert len(tables[0].rows) == 2 * RUN - 2


@given(st.lists(st.tuples(st.floats(-1e6, 1e6), st.one_of(st.none(), st.text("ab", min_size=1))), max_size=20))
def test_rows_kept_by_column_read_like_the_tuples_they_were(pairs: list[tuple[float, str | None]]):
    rows = Rows([array("d", [x for x, _ in pairs]), [word for _, word in pairs]], len(pairs))
    assert list(rows) == pairs
    assert rows == tuple(pairs)
    assert [rows[n] for n in range(len(rows))] == pairs
    assert list(rows[1:]) == pairs[1:]


def test_a_blank_number_reads_as_none_and_counts_as_not_a_number():
    table = LogTable("a", "data_log", "t", (("throttle", "%"),), Rows([array("d", [math.nan, 1.0])], 2))
    assert list(table.rows) == [(None,), (1.0,)]
    assert math.isnan(table.numbers("throttle")[0])
    assert LogTable("a", "k", "t", (("throttle", "%"),), ((2.0,), (None,))).numbers("throttle")[0] == 2.0


@pytest.mark.parametrize("inside", [b"PK\x03\x04 and nothing more", b"\xd0\xcf\x11\xe0 an older one", bytes(300), b""])
def test_a_log_that_is_no_workbook_inside_is_told(tmp_path: Path, inside: bytes):
    (tmp_path / "logs").mkdir()
    (tmp_path / "logs" / "DY-1.dyno_run.xlsx").write_bytes(inside)
    table, problems = read_log(Folder(tmp_path, ""), "logs/DY-1.dyno_run.xlsx")
    assert table is None
    assert [one.code for one in problems] == ["log-workbook"]
