"""The commands a person types: what they print, their exit codes, and that a failed publish leaves the last good site as it was."""

from __future__ import annotations

import json
import shutil
from importlib import import_module
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dossier import cli
from dossier.cli import door
from dossier.model.codes import CODES

BUILDS = Path(__file__).resolve().parents[1] / "builds"


def run(*words: object) -> Result:
    return CliRunner().invoke(cli.main, [str(word) for word in words])


@pytest.fixture
def kestrane(tmp_path: Path) -> Path:
    """The smaller demo build in a folder of its own, free to be broken."""
    shutil.copytree(BUILDS / "kestrane-125-r", tmp_path / "builds" / "kestrane-125-r")
    shutil.copy(BUILDS / "workshop.yaml", tmp_path / "builds" / "workshop.yaml")
    return tmp_path / "builds" / "kestrane-125-r"


def test_the_door_knows_every_command_and_the_file_that_declares_it() -> None:
    for path in Path(door.__file__).parent.glob("[a-z]*.py"):
        import_module(f"dossier.cli.{path.stem}")
    declared: dict[str, list[str]] = {}
    for name, command in sorted(cli.main.commands.items()):
        declared.setdefault(command.callback.__module__.removeprefix("dossier.cli."), []).append(name)

    assert {file: tuple(names) for file, names in declared.items()} == door.FILES


def breaks(build: Path) -> None:
    path = build / "measurements.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("value: 54.006 mm", "value: 54,006 mm"), encoding="utf-8")


def test_the_demo_builds_are_clean() -> None:
    done = run("check", BUILDS)

    assert done.exit_code == 0
    assert "2 builds: clean" in done.output


def test_a_fault_is_told_with_code_place_line_caret_and_cure(kestrane: Path) -> None:
    breaks(kestrane)

    done = run("check", kestrane)

    assert done.exit_code == 1
    lines = done.output.splitlines()
    [at] = [n for n, line in enumerate(lines) if "error decimal-comma" in line]
    assert lines[at].startswith(f"{kestrane}/measurements.yaml:")
    assert "54,006" in lines[at + 1]
    assert lines[at + 1][lines[at + 2].index("^") :].startswith(("54,006", "006"))
    assert "54.006" in lines[at + 3]


def test_all_faults_of_all_builds_come_in_one_run_also_as_json(kestrane: Path) -> None:
    breaks(kestrane)
    photos = kestrane / "photos.yaml"
    photos.write_text(photos.read_text(encoding="utf-8").replace("seen_by:", "seen_bye:", 1), encoding="utf-8")

    done = run("check", kestrane.parent, "--json")

    told = json.loads(done.output)
    assert done.exit_code == 1
    assert {"decimal-comma", "key-unknown"} <= {one["code"] for one in told}
    assert all(one["line"] and one["instead"] for one in told if one["code"] in ("decimal-comma", "key-unknown"))


def test_a_value_without_its_unit_is_told_once_and_with_the_unit_of_its_uncertainty(kestrane: Path) -> None:
    path = kestrane / "measurements.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("value: 54.006 mm", "value: 54.006", 1), encoding="utf-8")

    [told] = [one for one in json.loads(run("check", kestrane, "--json").output) if one["severity"] == "error"]

    assert (told["code"], told["field"], told["instead"]) == ("unit-missing", "value", "write its unit too, such as 54.006 mm")


def test_a_link_of_a_note_that_leads_nowhere_is_told_and_no_fault_of_the_program(kestrane: Path, tmp_path: Path) -> None:
    (kestrane / "notes").mkdir(exist_ok=True)
    (kestrane / "notes" / "why.md").write_text("audience: public\n# Why\n[a](nosuch.html) [b](http://[y) ![c](https://example.org/x.png)\n")

    done = run("publish", kestrane, "--for", "public", "--out", tmp_path / "out", "--no-cache")

    assert done.exit_code == 0 and "a link leads nowhere: about: nosuch.html, no such page or file" in done.output
    assert "example.org" not in (tmp_path / "out" / "about.html").read_text(encoding="utf-8")


def test_a_build_that_a_group_names_and_that_is_not_there_is_told_once(tmp_path: Path) -> None:
    shutil.copytree(BUILDS, tmp_path / "builds")
    workshop = tmp_path / "builds" / "workshop.yaml"
    workshop.write_text(workshop.read_text(encoding="utf-8").replace("builds: [talvera-350-gp,", "builds: [talvera-350-pg,"), encoding="utf-8")

    [told] = [one for one in json.loads(run("check", tmp_path / "builds", "--json").output) if one["code"] == "group-unknown"]

    line = workshop.read_text(encoding="utf-8").splitlines()[told["line"] - 1]
    assert told["severity"] == "warning" and "talvera-350-pg" in line and "talvera-350-gp" in told["instead"]
    assert "group-unknown" not in run("check", tmp_path / "builds" / "kestrane-125-r", "--json").output


@pytest.mark.parametrize(
    "words",
    [
        ("check",),
        ("check", "no-such-folder"),
        ("publish", BUILDS),
        ("publish", BUILDS, "--out", "x", "--for", "everybody"),
        ("explain", "no-such"),
        ("figure", "no-such-figure"),
        ("figure", "swept_volume", "bore=62"),
        ("publish", BUILDS, "--out", BUILDS / "site", "--for", "public"),
        ("publish", BUILDS / "kestrane-125-r", "--out", BUILDS, "--for", "public"),
        ("publish", BUILDS / "kestrane-125-r", "--out", "/proc/dossier", "--for", "public"),
    ],
)
def test_wrong_use_is_exit_code_2(words: tuple[object, ...]) -> None:
    assert run(*words).exit_code == 2


def test_a_fault_of_the_program_is_exit_code_3_without_a_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    def fall(*anything: object) -> None:
        raise RuntimeError("the floor gave way")

    monkeypatch.setattr("dossier.audience.look_through", fall)

    done = run("check", BUILDS)

    assert done.exit_code == 3
    assert "a fault of this program" in done.output
    assert "Traceback" not in done.output
    details = done.output.split("the details are in ")[1].split(";")[0]
    assert "the floor gave way" in Path(details).read_text(encoding="utf-8")


def test_a_published_site_survives_a_publish_that_fails(kestrane: Path, tmp_path: Path) -> None:
    out = tmp_path / "site"
    assert run("publish", kestrane, "--out", out, "--for", "public").exit_code == 0
    before = {path: path.read_bytes() for path in out.rglob("*") if path.is_file()}
    breaks(kestrane)

    done = run("publish", kestrane, "--out", out, "--for", "public")

    assert done.exit_code == 1
    assert "nothing was published" in done.output
    assert {path: path.read_bytes() for path in out.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize("path", ["kestrane-125-r", "."], ids=["one build", "an archive"])
def test_a_folder_once_published_for_some_is_not_published_over_for_more_trusted_readers(kestrane: Path, tmp_path: Path, path: str) -> None:
    source, out = kestrane.parent / path, tmp_path / "site"
    assert run("publish", source, "--out", out, "--for", "owner").exit_code == 0

    wider, narrower = run("publish", source, "--out", out, "--for", "workshop"), run("publish", source, "--out", out, "--for", "public")

    assert wider.exit_code == 2
    assert "holds what is for the owner" in wider.output
    assert narrower.exit_code == 0


def test_publishing_twice_gives_the_same_bytes(kestrane: Path, tmp_path: Path) -> None:
    sites = []
    for name in ("one", "another place"):
        out = tmp_path / name
        assert run("publish", kestrane, "--out", out, "--for", "owner").exit_code == 0
        sites.append({str(path.relative_to(out)): path.read_bytes() for path in out.rglob("*") if path.is_file()})

    assert sites[0] == sites[1]


def test_without_the_statement_of_what_it_is_nothing_is_published(kestrane: Path, tmp_path: Path) -> None:
    machine = kestrane / "machine.yaml"
    lines = machine.read_text(encoding="utf-8").splitlines(keepends=True)
    machine.write_text("".join(line for line in lines if not line.startswith("this_machine_is")), encoding="utf-8")

    done = run("publish", kestrane, "--out", tmp_path / "site", "--for", "public")

    assert done.exit_code == 1
    assert "this_machine_is" in done.output
    assert not (tmp_path / "site").exists()


def test_a_figure_is_worked_out_on_the_bench_as_a_person_would_write_it() -> None:
    done = run("figure", "swept_volume", "bore=6.8 cm", "stroke=7.5 cm", "cylinders=4")

    assert done.exit_code == 0
    assert "1,089.50 cc" in done.output
    assert "π/4" in done.output


def test_a_figure_on_the_bench_as_json_carries_uncertainty_and_its_shares() -> None:
    done = run("figure", "compression_ratio", "cylinder_volume=174.54 ± 0.06 cc", "clearance_volume=17.70 ± 0.15 cc", "--json")

    told = json.loads(done.output)
    assert told["value"] == pytest.approx(10.861, abs=0.0005)
    assert told["u"] == pytest.approx(((174.54 / 17.7**2 * 0.15) ** 2 + (0.06 / 17.7) ** 2) ** 0.5, rel=1e-6)
    assert sum(one["share"] for one in told["contributions"]) == pytest.approx(1)
    assert {"unit", "k", "formula", "worked", "inputs", "warnings", "source"} <= set(told)


def test_instead_gives_each_figure_that_changes_before_and_after_with_its_warnings() -> None:
    words = ("swept_volume", "bore=62.0 mm", "stroke=57.8 mm", "cylinders=2", "class_limit=350 cc")

    done = run("figure", *words, "--instead", "bore=62.25 mm", "--json")

    told = {one["name"]: one for one in json.loads(done.stdout)}
    # pi/4 * 2 * 57.8 mm * (62.0 mm or 62.25 mm) squared, by hand
    assert told["swept_volume"]["before"]["value"] == pytest.approx(349.0046, abs=5e-5)
    assert told["swept_volume"]["after"]["value"] == pytest.approx(351.8248, abs=5e-5)
    assert told["headroom"]["warnings"] == ["-1.82 cc is below the usual 0 cc: over the class limit"]
    assert "bore_limit" not in told, "it takes in no bore and does not change"


def test_instead_reads_on_paper_as_a_table_of_before_and_after() -> None:
    words = ("trail", "front_wheel_radius=298.6 mm", "rake=27.2°", "fork_offset=47 mm", "--instead", "fork_offset=40 mm")

    done = run("figure", *words)

    assert "With fork_offset=40 mm instead:" in done.output
    assert "sin(27.2°" in done.output
    assert "100.6 mm  ->  108.5 mm" in done.output


@pytest.mark.parametrize(("name", "strokes", "kind"), [("blowdown", "4", "two-stroke"), ("overlap", "2", "four-stroke")])
def test_a_two_stroke_and_a_four_stroke_refuse_each_others_figures_on_the_bench(name: str, strokes: str, kind: str) -> None:
    done = run("figure", name, f"strokes={strokes}", "exhaust_duration=194°", "transfer_duration=128°", "IO=52°", "EC=46°")

    assert done.exit_code == 2
    assert f"{name} is a figure of the {kind}" in done.output


def test_a_figure_of_one_kind_of_engine_says_so() -> None:
    assert "a figure of two-strokes" in run("figure", "blowdown", "exhaust_duration=194°", "transfer_duration=128°").output


def test_an_input_that_is_missing_is_named_with_the_sheet_that_would_supply_it() -> None:
    done = run("figure", "swept_volume", "bore=62 mm", "stroke=57.8 mm")

    assert done.exit_code == 2
    assert "swept_volume needs cylinders" in done.output
    assert "machine.yaml" in done.output


def test_a_slip_in_a_name_is_refused_and_a_value_of_another_figure_only_noted() -> None:
    slip = run("figure", "swept_volume", "bore=62 mm", "stroke=57.8 mm", "cylindres=2")
    spare = run("figure", "swept_volume", "bore=62 mm", "stroke=57.8 mm", "cylinders=2", "rod_length=112 mm")

    assert slip.exit_code == 2 and "did you mean cylinders" in slip.output
    assert spare.exit_code == 0 and "does not need rod_length" in spare.stderr


def test_the_list_gives_name_symbol_unit_and_source_of_each_figure() -> None:
    [line] = [one for one in run("figure", "--list").output.splitlines() if one.startswith("permissible_shift ")]

    assert "e_per" in line and "µm" in line and "ISO 1940-1" in line and "published source seen" in line


def test_figures_of_a_folder_are_listed_by_build() -> None:
    told = json.loads(run("figures", BUILDS, "--json").output)

    assert set(told) == {"kestrane-125-r", "talvera-350-gp"}
    assert any(one["id"] == "swept_volume" and one["u"] for one in told["talvera-350-gp"])


@pytest.mark.parametrize("code", sorted(CODES))
def test_every_code_is_explained(code: str) -> None:
    done = run("explain", code)

    assert done.exit_code == 0
    assert len(done.output.split()) > 12


def test_a_first_build_is_begun_filled_in_and_published_as_a_draft(tmp_path: Path) -> None:
    folder = tmp_path / "workshop" / "first"
    machine = folder / "machine.yaml"

    assert run("begin", folder).exit_code == 0
    untouched = run("check", folder)
    assert run("publish", folder, "--out", tmp_path / "site", "--for", "owner").exit_code == 1

    what = "reproduction by another builder, called a replica in the trade"
    text = machine.read_text(encoding="utf-8").replace("this_machine_is: to be filled in", f"this_machine_is: {what}")
    lines = [
        "title: Some Workshop replica of the Other 250, completed 1900" if line.startswith("title:") else line for line in text.splitlines()
    ]
    lines = ["statement: This machine is a replica." if line.startswith("statement:") else line for line in lines]
    machine.write_text("\n".join(lines).replace("to be filled in", "something true") + "\n", encoding="utf-8")
    for path in (folder.parent / "workshop.yaml", *folder.glob("*.yaml")):
        path.write_text(path.read_text(encoding="utf-8").replace("to be filled in", "something true"), encoding="utf-8")

    assert untouched.exit_code == 1
    assert "still-to-fill" in untouched.output
    assert run("check", folder).exit_code == 0
    assert run("publish", folder, "--out", tmp_path / "site", "--for", "owner").exit_code == 0
    assert "Draft" in (tmp_path / "site" / "index.html").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("rod_length, value: 110.0 mm, u: 0.1 mm", "rod_length, value: 110.0", "unit-missing"),
        ("rod_length, value: 110.0 mm, u: 0.1 mm", "rod_length, value: 110.0 kg", "dimension-wrong"),
        ("{what: rod_length", "{what: rod_lenght", "quantity-misspelt"),
        ("{what: rod_length", "{what: D99", "id-unknown"),
    ],
)
def test_a_measured_value_that_no_figure_can_take_in_is_told(kestrane: Path, old: str, new: str, code: str) -> None:
    path = kestrane / "measurements.yaml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")

    done = run("check", kestrane)

    assert f" {code}:" in done.output
    assert done.exit_code == (0 if code == "quantity-misspelt" else 1)


def test_a_withheld_snag_is_not_told_as_none_and_not_named_in_free_text(tmp_path: Path) -> None:
    shutil.copytree(BUILDS, tmp_path / "builds")
    running = tmp_path / "builds" / "talvera-350-gp" / "running.yaml"
    text = running.read_text(encoding="utf-8")
    text = text.replace("  - id: SN-01\n", "  - id: SN-01\n    audience: workshop\n").replace(
        "id: SN-01,", "id: SN-01, audience: workshop,"
    )
    running.write_text(text, encoding="utf-8")

    assert run("publish", tmp_path / "builds" / "talvera-350-gp", "--out", tmp_path / "site", "--for", "public").exit_code == 0

    front = (tmp_path / "site" / "index.html").read_text(encoding="utf-8")
    assert "none shown; one withheld from this edition" in front
    assert not [path for path in (tmp_path / "site").rglob("*") if path.suffix in (".html", ".json") and b"SN-01" in path.read_bytes()]


def test_a_pipe_stays_quiet_while_publishing(kestrane: Path, tmp_path: Path) -> None:
    done = run("publish", kestrane, "--out", tmp_path / "site", "--for", "public")

    assert len(done.output.splitlines()) == 1


def test_a_figure_that_was_drawn_says_so_on_the_bench_and_in_its_json() -> None:
    words = ("ignition_travel", "ignition_advance=1 ± 2 °", "stroke=57.79 mm", "rod_length=112 mm")

    told = json.loads(run("figure", *words, "--json").stdout)

    assert "JCGM 101" in told["method"] and "fixed seed" in told["method"]
    assert "JCGM 101" in run("figure", *words).output
    assert run("figure", *words).output == run("figure", *words).output
