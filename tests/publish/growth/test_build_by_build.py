"""An archive made build by build: the same bytes however many hands, only what changed made anew, and whole or not at all."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image, ImageOps

from dossier import cli
from dossier.cli import archives
from dossier.cli.one_build import Work
from dossier.publish import archive_folder
from dossier.publish.pictures import encode
from tests.publish.growth.yard import PHOTO, SLUGS, Yard, inodes, tree

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture
def yard(tmp_path: Path) -> Yard:
    return Yard(tmp_path)


@pytest.fixture(scope="module")
def standing(tmp_path_factory: pytest.TempPathFactory) -> Yard:
    """An archive published once, which is changed and published again by one test after another."""
    yard = Yard(tmp_path_factory.mktemp("standing"))
    assert "3 builds: clean" in yard.publish()
    return yard


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The builds that were made anew in this process, by their slugs."""
    slugs: list[str] = []
    real = archives.carry_out

    def watched(work: Work):
        slugs.append(work.build.name)
        return real(work)

    monkeypatch.setattr(archives, "carry_out", watched)
    return slugs


@pytest.fixture
def indexed(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """One entry for each time the pages over all were made."""
    times: list[int] = []
    real = archive_folder.pages_over_all
    monkeypatch.setattr(archive_folder, "pages_over_all", lambda *given: (times.append(1), real(*given))[1])
    return times


def repainted(path: Path) -> None:
    with Image.open(path) as image:
        exif, other = image.getexif(), ImageOps.invert(image.convert("RGB"))
    other.save(path, quality=90, exif=exif)


# ------------------------------------------------------------ the same bytes


def test_on_all_cores_on_one_and_build_by_build_the_bytes_are_the_same(yard):
    whole = yard.cold()
    assert len([name for name in whole if name.endswith("archive-entry.json")]) == 3

    yard.publish("--cores", 3)
    assert tree(yard.out) == whole

    apart = yard.folder / "apart"
    for slug in reversed(SLUGS):
        assert "published" in yard.publish("--only", slug, "--no-cache", out=apart)
    assert not (apart / "index.html").exists()
    assert "pages over 3 dossiers made" in yard.publish("--index-only", "--no-cache", out=apart)
    assert tree(apart) == whole
    assert yard.left() == []


# ------------------------------------------------------------ only what changed


def test_with_nothing_changed_nothing_is_made(standing, made, indexed):
    before = inodes(standing.out), standing.out.stat().st_ino
    assert "nothing changed, the public edition stands" in standing.publish()
    assert (made, indexed) == ([], []) and (inodes(standing.out), standing.out.stat().st_ino) == before


def loaded(yard: Yard) -> set[str]:
    """Which of the large libraries a publish in a process of its own has loaded at its end."""
    words = ["publish", yard.path, "--for", "public", "--out", yard.out, "--cache", yard.cache]
    code = "import sys; from dossier.cli import main; main(standalone_mode=False); print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code, *map(str, words)], cwd=ROOT, check=True, capture_output=True, text=True)
    return {"mkdocs", "matplotlib", "pydantic", "PIL", "yaml", "concurrent.futures.process", "distributed"} & set(done.stdout.split())


def test_an_unchanged_archive_loads_no_library_and_one_build_no_pool_of_processes(standing):
    assert loaded(standing) == set()
    standing.write(SLUGS[0], "78.9 kg", "78.7 kg")
    assert loaded(standing) == {"mkdocs", "matplotlib", "pydantic", "PIL", "yaml"}


def test_one_build_changed_is_the_only_one_made_and_all_other_files_are_the_very_same(standing, made, indexed):
    before = inodes(standing.out)
    standing.write(SLUGS[1], "78.9 kg", "79.3 kg")

    assert "1 of 3 made anew" in standing.publish()

    assert made == [SLUGS[1]] and indexed == [1]
    assert tree(standing.out) == standing.cold()
    after = inodes(standing.out)
    others = [name for name in before if name.startswith((SLUGS[0], SLUGS[2]))]
    assert len(others) > 40 and all(after[name] == before[name] for name in others)
    own = {name for name in before if name.endswith(".html") and "/" not in name}
    assert {name for name in own if after[name] != before[name]} == {"side-by-side-1.html"} and len(own) == 4
    assert "nothing changed" in standing.publish()


def test_a_photograph_changed_costs_its_pictures_and_no_page_over_all(standing, made, indexed, monkeypatch):
    coded: list[int] = []
    real = encode.encode
    monkeypatch.setattr(encode, "encode", lambda data, *more, **named: (coded.append(1), real(data, *more, **named))[1])
    repainted(standing.path / SLUGS[2] / PHOTO)

    assert "new pictures, public edition published" in standing.publish()

    assert (made, indexed, len(coded)) == ([], [], 1)
    assert tree(standing.out) == standing.cold()
    assert "nothing changed" in standing.publish()


def test_a_photograph_that_this_audience_does_not_see_changes_nothing(standing, made, indexed):
    before = inodes(standing.out)
    repainted(standing.path / SLUGS[0] / "photos" / "stamped-number-k125r-031.jpg")

    assert "nothing changed" in standing.publish()
    assert (made, indexed) == ([], []) and inodes(standing.out) == before and tree(standing.out) == standing.cold()


def test_a_change_that_no_page_over_all_depends_on_leaves_those_as_they_are(standing, made, indexed):
    standing.write(SLUGS[2], "shows: ", "shows: The ", "photos.yaml")
    standing.publish()
    assert made == [SLUGS[2]] and indexed == []
    assert tree(standing.out) == standing.cold()


def test_a_build_gone_and_come_back_is_neither_listed_nor_lost(standing, made):
    away = standing.folder / "away"
    (standing.path / SLUGS[0]).rename(away)
    assert "2 builds: clean" in standing.publish()
    assert tree(standing.out) == standing.cold() and not (standing.out / SLUGS[0]).exists()

    away.rename(standing.path / SLUGS[0])
    made.clear()
    standing.publish()
    assert SLUGS[0] in made and tree(standing.out) == standing.cold()


@pytest.mark.parametrize("name", [f"{SLUGS[1]}/index.html", "index.html", f"{SLUGS[1]}/mine.txt", "mine.txt"])
def test_what_was_touched_by_hand_is_made_anew(standing, made, indexed, name):
    (standing.out / name).write_text("mine")
    standing.publish()
    assert made == ([SLUGS[1]] if "/" in name else [])
    assert tree(standing.out) == standing.cold()


def test_a_changed_workshop_file_makes_all_anew(standing):
    path = standing.path / "workshop.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("Harrowfen", "Harrowfern"), encoding="utf-8")
    said = standing.publish()
    assert "made anew" not in said and "published" in said
    assert tree(standing.out) == standing.cold()


def test_without_the_cache_all_is_made_anew_to_the_same_bytes(standing):
    shutil.rmtree(standing.cache)
    before, files = tree(standing.out), inodes(standing.out)
    assert "builds: clean" in standing.publish()
    after = inodes(standing.out)
    assert tree(standing.out) == before and all(after[name] != files[name] for name in after if name.endswith(".html"))


def test_on_a_disk_without_links_files_are_copied(standing, monkeypatch):
    def refused(*_: object) -> None:
        raise PermissionError

    monkeypatch.setattr(os, "link", refused)
    standing.write(SLUGS[0], "78.7 kg", "79.1 kg")
    standing.publish()
    assert tree(standing.out) == standing.cold()
    assert "nothing changed" in standing.publish()


# ------------------------------------------------------------ one build, and the pages over all


def test_one_build_published_by_itself_leaves_the_rest_until_the_pages_over_all_are_asked_for(standing):
    before = tree(standing.out)
    standing.write(SLUGS[2], "78.9 kg", "81.4 kg")
    assert "public edition published" in standing.publish("--only", SLUGS[2])
    assert "nothing changed" in standing.publish("--only", SLUGS[2])
    now = tree(standing.out)
    assert {name for name in now if now[name] != before.get(name)} <= {name for name in now if name.startswith(SLUGS[2])}

    assert "pages over 3 dossiers made" in standing.publish("--index-only")
    assert tree(standing.out) == standing.cold()
    assert "nothing changed" in standing.publish()


def test_after_one_build_by_itself_a_publish_of_all_makes_only_the_pages_over_all(standing, made, indexed):
    standing.write(SLUGS[2], "81.4 kg", "81.6 kg")
    standing.publish("--only", SLUGS[2])
    standing.publish()
    assert (made, indexed) == ([], [1])
    assert tree(standing.out) == standing.cold()


def test_what_another_machine_published_is_not_taken_for_ones_own(standing, made):
    standing.write(SLUGS[1], "79.3 kg", "79.4 kg")
    standing.publish("--only", SLUGS[1], "--cache", standing.folder / "other machine's cache")
    standing.publish("--index-only")
    standing.publish()
    assert made == [SLUGS[1]] and tree(standing.out) == standing.cold()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--only", "machine-0020"), "there is no build 'machine-0020'"),
        (("--only", SLUGS[0], "--for", "owner"), "holds what is for the public"),
        (("--index-only", "--for", "owner"), "holds what is for the public"),
    ],
)
def test_what_does_not_fit_the_archive_is_refused_and_it_stands(standing, words, said):
    before = inodes(standing.out)
    told = standing.publish(*words)
    assert told.startswith("exit 2") and said in told, told
    assert inodes(standing.out) == before


def test_pages_over_all_name_the_builds_not_yet_published(yard):
    yard.publish("--only", SLUGS[0])
    told = yard.publish("--index-only")
    assert told.startswith("exit 2") and all(slug in told for slug in SLUGS[1:]) and SLUGS[0] not in told.split("not yet")[1]


def test_a_build_may_not_bear_the_name_of_a_folder_of_the_archives_own(yard):
    (yard.path / SLUGS[0]).rename(yard.path / "search")
    told = yard.publish()
    assert told.startswith("exit 2") and "rename the build's folder" in told and not yard.out.exists()


def test_one_build_is_not_put_into_a_dossier_that_stands_by_itself(yard):
    single = yard.folder / "single"
    words = ["publish", str(yard.path / SLUGS[0]), "--for", "public", "--out", str(single), "--no-cache"]
    assert CliRunner().invoke(cli.main, words).exit_code == 0
    before = tree(single)
    told = yard.publish("--only", SLUGS[1], out=single)
    assert told.startswith("exit 2") and "by itself" in told and tree(single) == before


def test_one_build_is_not_put_among_the_files_of_others(yard):
    yard.out.mkdir()
    (yard.out / "letters.txt").write_text("kept")
    told = yard.publish("--only", SLUGS[0])
    assert told.startswith("exit 2") and "did not write" in told
    assert [path.name for path in yard.out.iterdir()] == ["letters.txt"]


# ------------------------------------------------------------ whole or not at all


@pytest.mark.parametrize("cores", [1, 2])
def test_all_that_is_wrong_in_all_builds_is_said_in_the_order_of_the_builds_and_nothing_is_published(standing, cores):
    before = inodes(standing.out)
    wrong = [standing.path / slug / "measurements.yaml" for slug in (SLUGS[2], SLUGS[0])]
    texts = [path.read_text(encoding="utf-8") for path in wrong]
    try:
        for path, text in zip(wrong, texts, strict=True):
            path.write_text(text.replace("110.0 mm", "110,0 mm"), encoding="utf-8")
        told = standing.publish("--cores", cores)
        checked = CliRunner().invoke(cli.main, ["check", str(standing.path)]).output
    finally:
        for path, text in zip(wrong, texts, strict=True):
            path.write_text(text, encoding="utf-8")
    assert told.startswith("exit 1") and told.endswith("; nothing was published\n")
    errors = [line for line in checked.splitlines() if " error " in line]
    assert len({line.split("/measurements")[0] for line in errors}) == 2
    assert [line for line in told.removeprefix("exit 1: ").splitlines() if " error " in line] == errors
    assert checked.splitlines()[-1].split(";")[0].split(",")[0] in told
    assert inodes(standing.out) == before and standing.left() == []


def test_a_fault_of_the_program_in_another_process_leaves_the_last_good_archive(standing, monkeypatch):
    before = inodes(standing.out)
    for slug in SLUGS[:2]:
        standing.write(slug, "110.0 mm", "110.1 mm")
    monkeypatch.setattr(archives, "carry_out", _killed)
    told = standing.publish("--cores", 2)
    assert told.startswith("exit 3") and "BrokenProcessPool" in told and inodes(standing.out) == before and standing.left() == []


def _killed(work: Work) -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def test_killed_at_any_moment_the_archive_is_the_old_or_the_new_one_and_nobody_works_on(standing):
    standing.publish()
    words = ["publish", standing.path, "--for", "public", "--out", standing.out, "--cache", standing.cache, "--cores", 2]
    command = [sys.executable, "-c", "from dossier.cli import main; main()", *map(str, words)]
    path, states = standing.path / "workshop.yaml", []
    for turn in range(5):
        text = path.read_text(encoding="utf-8")
        path.write_text(re.sub(r"(?m)^name: .*$", f"name: Workshop number {turn}", text), encoding="utf-8")  # makes every build anew
        run = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL, start_new_session=True)
        try:
            run.wait(1.2 * (turn + 1))
        except subprocess.TimeoutExpired:
            run.send_signal(signal.SIGKILL)
            run.wait()
        _none_left(run.pid)
        names = {json.loads(entry.read_bytes())["workshop"] for entry in standing.out.glob("*/archive-entry.json")}
        assert len(names) == 1 and all(name in (standing.out / "index.html").read_text(encoding="utf-8") for name in names)
        states.append((names.pop(), run.returncode))
    assert {code for _, code in states} >= {-signal.SIGKILL}
    standing.publish()
    assert tree(standing.out) == standing.cold() and standing.left() == []


def _none_left(session: int) -> None:
    """Wait until no process of a session is left; fail where one goes on."""
    for _ in range(100):
        if not [pid for pid in os.listdir("/proc") if pid.isdigit() and _session(pid) == session]:  # noqa: PTH208
            return
        time.sleep(0.05)
    raise AssertionError("a process works on for a run that was killed")


def _session(pid: str) -> int:
    try:
        return os.getsid(int(pid))
    except OSError:
        return -1
