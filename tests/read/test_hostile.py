"""Whatever shape or bytes a build folder has, reading it tells faults and never fails."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dossier.model.forms.workshop import WorkshopFile
from dossier.model.problems import Place
from dossier.read.folder import FORMS, read_build
from dossier.read.places import Block, Listing, Node, Scalar
from dossier.read.shapes import is_form, keys_of, listed
from dossier.read.specs import fill_in

BASE = Path(__file__).parent.parent / "bad" / "_base"
ALL_FORMS = {**FORMS, "workshop": WorkshopFile}
HERE = Place("f.yaml", 1, 1, "x")
TEXTS = st.sampled_from(
    ["x", "P01", "D02", "E01", "A", "B", "2", "4", "1", "yes", "no", "62.0 mm", "62.0 ± 0.1 mm", "1 kg", "3 h", "2025-05-31", "1966-06-11",
     "numeric", "public", "owner", "reproduction", "front", "52-76 / 78-46", "62 to 63 mm", "open", "#14513b", "", "~", "62,0", "1e3", None]
)  # fmt: skip


def shaped(hint: Any, depth: int = 0) -> st.SearchStrategy[Node]:
    """Trees that are nearly of a form's shape, now and then not at all."""
    scalar = TEXTS.map(lambda text: Scalar(HERE, text))
    odd = st.sampled_from([Listing(HERE, ()), Listing(HERE, (Scalar(HERE, None),)), Block(HERE, {}), Listing(HERE, (Listing(HERE, ()),))])
    if depth > 4:
        return scalar
    if (inner := listed(hint)) is not None:
        usual: st.SearchStrategy[Node] = st.lists(shaped(inner, depth + 1), max_size=2).map(lambda items: Listing(HERE, tuple(items)))
    elif is_form(hint):
        keys = {key: shaped(kind, depth + 1) for key, kind in keys_of(hint).items()}
        keys |= {"written": scalar, "facts": scalar, "with_": scalar, "": scalar}
        usual = st.lists(st.sampled_from(sorted(keys)), unique=True, max_size=10).flatmap(
            lambda names: st.fixed_dictionaries({name: keys[name] for name in names}).map(
                lambda found: Block(HERE, {name: (Scalar(HERE, name), node) for name, node in found.items()})
            )
        )
    else:
        usual = scalar
    return st.one_of(usual, usual, usual, odd, scalar)


@pytest.mark.parametrize("subject", sorted(ALL_FORMS))
def test_a_tree_of_any_shape_is_filled_in_or_its_faults_are_told(subject: str):
    form = ALL_FORMS[subject]

    @given(shaped(form))
    @settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
    def tried(root: Node) -> None:
        sheet = fill_in(form, root, "f.yaml")
        assert sheet.form is not None or sheet.problems
        for problem in sheet.problems:
            assert problem.place.file == "f.yaml"
            assert problem.lines()

    tried()


@pytest.mark.parametrize("subject", [*sorted(FORMS), "../workshop"])
def test_any_bytes_in_any_file_are_told_and_never_fail(subject: str, tmp_path: Path):
    shutil.copytree(BASE, tmp_path / "case")
    build = tmp_path / "case" / "build"
    valid = b"".join(file.read_bytes() for file in sorted(BASE.rglob("*.yaml")))

    @given(
        st.one_of(st.binary(max_size=80), st.tuples(st.integers(0, 900), st.binary(max_size=4)).map(lambda cut: valid[: cut[0]] + cut[1]))
    )
    @settings(max_examples=25, deadline=None)
    def tried(data: bytes) -> None:
        (build / f"{subject}.yaml").write_bytes(data)
        read, problems = read_build(build)
        assert read is not None or problems

    tried()


NAMES = st.sampled_from(["DY-1.dyno_run.csv", "x.lap_times.csv", "L.bore_readings.csv", "TS.data_log.csv", "r.run_log.csv", "odd.csv"])
CELLS = st.sampled_from(
    ["Engine speed [rpm]", "Torque [N·m]", "Torque", "Lap", "Lap time", "Time [s]", "6000", "24.1", "24,1", "1:41.8", "x", "", '"', '"a',
     "[", "]",     "Height", "2025-01-01", "\t", "\x0b", "\u2028", "nan", "1e5", "=1+1"]
)  # fmt: skip


def test_any_log_is_read_or_its_faults_are_told(tmp_path: Path):
    shutil.copytree(BASE, tmp_path / "case")
    logs = tmp_path / "case" / "build" / "logs"
    logs.mkdir()

    @given(NAMES, st.lists(st.lists(CELLS, max_size=4), max_size=5), st.sampled_from([",", ";", "\t"]), st.binary(max_size=3))
    @settings(max_examples=150, deadline=None)
    def tried(name: str, rows: list[list[str]], mark: str, tail: bytes) -> None:
        (logs / name).write_bytes("\n".join(mark.join(row) for row in rows).encode() + tail)
        read, problems = read_build(logs.parent)
        (logs / name).unlink()
        assert read is not None
        for log in read.logs:
            assert all(len(row) == len(log.columns) for row in log.rows)
            assert all(line > 0 and reason for line, reason in log.left_out)
        assert read.logs or problems

    tried()


def test_odd_files_and_folders_are_told_and_never_fail(tmp_path: Path):
    shutil.copytree(BASE, tmp_path / "case")
    build = tmp_path / "case" / "build"
    (build / "parts.yaml").mkdir()
    (build / "life.yaml").symlink_to("life.yaml")
    (build / "custody.yaml").symlink_to("/etc/hostname")
    (build / "work.yaml").symlink_to("nowhere")
    (build / "photos").write_text("a file, no folder")
    (build / "logs").mkdir()
    (build / "logs" / "DY-1.dyno_run.csv").mkdir()
    (build / "notes").symlink_to("..")
    (build / "bad\udcff.txt").write_text("x")
    _, problems = read_build(build)
    codes = [(one.code, Path(one.place.file).name) for one in problems]
    assert ("file-unreadable", "parts.yaml") in codes
    assert ("file-outside", "custody.yaml") in codes
    assert {code for code, name in codes if name in ("life.yaml", "work.yaml")} <= {"file-unreadable", "file-outside"}
    assert all(one.lines() for one in problems)
