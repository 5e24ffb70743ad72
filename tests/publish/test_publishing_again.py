"""Publishing again: nothing is done twice, and whatever changed, the result is what a publish from nothing gives, byte for byte."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image, ImageOps

from dossier import cli
from dossier.publish import dossiers, program
from dossier.publish.pictures import encode

ROOT = Path(__file__).resolve().parents[2]
PHOTO = "photos/expansion-chamber.jpg"


def laid_out(folder: Path) -> Path:
    """The smaller demo build in a folder of its own, with a log and a note, free to be changed."""
    path = folder / "builds" / "kestrane-125-r"
    shutil.copytree(ROOT / "builds" / path.name, path)
    shutil.copy(ROOT / "builds" / "workshop.yaml", path.parent)
    (path / "logs").mkdir(exist_ok=True)
    shutil.copy(next((ROOT / "builds/talvera-350-gp/logs").glob("*.dyno_run.csv")), path / "logs" / "DY-7.dyno_run.csv")
    with (path / "running.yaml").open("a", encoding="utf-8") as running:
        running.write("dyno:\n  - {id: DY-7, date: 2024-08-10, at: rear wheel, log: DY-7.dyno_run}\n")
    (path / "notes" / "cooling.md").write_text("audience: public\n\n# Cooling\n\nThe fins were cleaned.\n", encoding="utf-8")
    return path


@pytest.fixture
def build(tmp_path: Path) -> Path:
    return laid_out(tmp_path)


class Desk:
    """Publishes one folder again and again to one place with one cache, and once from nothing beside it."""

    def __init__(self, path: Path, folder: Path, audience: str = "public") -> None:
        self.path, self.folder, self.audience = path, folder, audience
        self.out = folder / "site"

    def publish(self, out: Path | None = None, *words: str) -> str:
        words = words or ("--cache", str(self.folder / "cache"))
        done = CliRunner().invoke(cli.main, ["publish", str(self.path), "--for", self.audience, "--out", str(out or self.out), *words])
        return done.output if done.exit_code == 0 else f"exit {done.exit_code}: {done.output}"

    def cold(self) -> dict[str, tuple[int, bytes]]:
        shutil.rmtree(self.folder / "cold", ignore_errors=True)
        self.publish(self.folder / "cold", "--no-cache")
        return tree(self.folder / "cold")


def tree(folder: Path) -> dict[str, tuple[int, bytes]]:
    found = {}
    for path in sorted(folder.rglob("*")):
        found[str(path.relative_to(folder))] = (path.stat().st_mode, b"" if path.is_dir() else path.read_bytes())
    return found


@pytest.fixture
def desk(build: Path, tmp_path: Path) -> Desk:
    return Desk(build, tmp_path)


@pytest.fixture
def coded(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """One entry for each picture really made."""
    made: list[int] = []
    real = encode.encode
    monkeypatch.setattr(encode, "encode", lambda data, *more, **others: (made.append(len(data)), real(data, *more, **others))[1])
    return made


@pytest.fixture
def whole(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """One entry for each publish of the whole."""
    run: list[int] = []
    real = dossiers.publish
    monkeypatch.setattr(dossiers, "publish", lambda *many, **named: (run.append(1), real(*many, **named))[1])
    return run


def repainted(path: Path, turn: int = 0) -> None:
    """The photograph with other colours, its notes kept."""
    with Image.open(path) as image:
        exif = image.getexif()
        other = ImageOps.invert(image.convert("RGB"))
    (other.rotate(turn, expand=True) if turn else other).save(path, quality=90, exif=exif)


def test_with_nothing_changed_nothing_is_made_and_the_site_stands(desk, coded, whole):
    desk.publish()
    before, entries = tree(desk.out), desk.out.stat().st_ino
    coded.clear()
    whole.clear()

    assert "nothing changed, the public edition stands" in desk.publish()

    assert (coded, whole) == ([], [])
    assert tree(desk.out) == before and desk.out.stat().st_ino == entries


def test_to_another_place_with_the_same_cache_no_picture_is_made_anew(desk, coded):
    desk.publish()
    first = len(coded)

    desk.publish(desk.folder / "other")

    assert first > 0 and len(coded) == first
    assert tree(desk.folder / "other") == tree(desk.out)


@pytest.mark.parametrize("audience", ["public", "workshop"])
def test_one_photograph_changed_costs_one_photograph_and_gives_what_a_cold_publish_gives(build, tmp_path, coded, whole, audience):
    desk = Desk(build.parent, tmp_path, audience)
    desk.publish()
    for turn in range(2):
        coded.clear()
        whole.clear()
        repainted(build / PHOTO)
        assert "new pictures" in desk.publish()
        assert (len(coded), whole) == (1, [])
        assert tree(desk.out) == desk.cold(), turn
    assert "nothing changed" in desk.publish()


def test_a_photograph_that_this_audience_does_not_see_changes_nothing(desk, build, coded):
    desk.publish()
    before = tree(desk.out)
    coded.clear()
    repainted(build / "photos" / "stamped-number-k125r-031.jpg")

    desk.publish()

    assert coded == [] and tree(desk.out) == before == desk.cold()


def replaced(name: str, old: str, new: str) -> Callable[[Path], None]:
    def change(build: Path) -> None:
        text = (build / name).read_text(encoding="utf-8")
        assert old in text, name
        (build / name).write_text(text.replace(old, new, 1), encoding="utf-8")

    return change


def same_mark(build: Path) -> None:
    """A letter changed with size and time put back, as a careless copying program does."""
    path = build / "photos.yaml"
    state = path.stat()
    replaced("photos.yaml", "bare steel", "bare metal")(build)
    os.utime(path, ns=(state.st_atime_ns, state.st_mtime_ns))


CHANGES: dict[str, Callable[[Path], None]] = {
    "machine": replaced("machine.yaml", "Kestrane", "Kestrel"),
    "specification": replaced("specification.yaml", "title: ", "title: The "),
    "measurements": replaced("measurements.yaml", "54.006", "54.007"),
    "parts": replaced("parts.yaml", "name: ", "name: The "),
    "photos": replaced("photos.yaml", "sky blue over white", "white under sky blue"),
    "photos, by size and time the same": same_mark,
    "workshop": replaced("../workshop.yaml", "Harrowfen", "Harrowfern"),
    "a log": replaced("logs/DY-7.dyno_run.csv", "\n", "\n\n"),
    "a note": replaced("notes/cooling.md", "cleaned", "brushed"),
    "custody": lambda build: (build / "custody.yaml").write_text("revisions: [{rev: B, date: 2025-06-01, what: again}]\n"),
    "a new file": lambda build: (build / "life.yaml").write_text("lifed: []\n", encoding="utf-8"),
    "a photograph turned upright": lambda build: repainted(build / PHOTO, turn=90),
    "a photograph made small": lambda build: Image.new("RGB", (300, 200), "teal").save(build / PHOTO),
    "a photograph taken another day": lambda build: shutil.copy(build / "photos" / "cylinder-and-head.jpg", build / PHOTO),
    "a photograph and a word": lambda build: (repainted(build / PHOTO), replaced("photos.yaml", "Barrel", "The barrel")(build)),
    "two photographs": lambda build: (repainted(build / PHOTO), repainted(build / "photos" / "fuel-tank-painted.jpg")),
    "one photograph in place of another": lambda build: shutil.copy(build / "photos" / "complete-machine-right.jpg", build / PHOTO),
}


@pytest.fixture(scope="module")
def changing(tmp_path_factory) -> Desk:
    """One place that is published to after each change, one on top of the other."""
    folder = tmp_path_factory.mktemp("changing")
    desk = Desk(laid_out(folder), folder)
    assert "public edition published" in desk.publish()
    return desk


@pytest.mark.parametrize("what", CHANGES)
def test_after_any_change_the_site_is_what_a_cold_publish_gives(changing, what):
    CHANGES[what](changing.path)

    said = changing.publish()

    assert not said.startswith("exit") and "nothing changed" not in said
    assert tree(changing.out) == changing.cold()


@pytest.mark.parametrize("damage", [b"", b"\xff\xd8\xff\xe0 no picture"])
def test_a_photograph_that_became_unreadable_stops_the_publish_and_the_old_site_stands(desk, build, damage):
    desk.publish()
    before = tree(desk.out)
    (build / PHOTO).write_bytes(damage)

    assert desk.publish().startswith("exit 1")
    assert tree(desk.out) == before


@pytest.mark.parametrize("photo", [PHOTO, "photos/stamped-number-k125r-031.jpg"])
@pytest.mark.parametrize("audience", ["public", "workshop"])
def test_a_photograph_that_breaks_off_in_the_middle_stops_the_publish_whether_it_is_shown_or_not(build, tmp_path, photo, audience):
    desk = Desk(build, tmp_path, audience)
    desk.publish()
    before = tree(desk.out)
    data = (build / photo).read_bytes()
    (build / photo).write_bytes(data[: len(data) // 2])

    said = desk.publish()

    assert said.startswith("exit 1") and "photo-truncated" in said
    assert tree(desk.out) == before


@pytest.mark.parametrize("touch", ["changed", "removed", "added"])
def test_a_site_touched_by_hand_is_published_whole(desk, build, whole, touch):
    desk.publish()
    page = desk.out / "photographs.html"
    if touch == "changed":
        state = page.stat()
        page.write_bytes(page.read_bytes().replace(b"Expansion", b"Explosion", 1))
        os.utime(page, ns=(state.st_atime_ns, state.st_mtime_ns))
    elif touch == "removed":
        page.unlink()
    else:
        (desk.out / "mine.txt").write_text("mine")
    repainted(build / PHOTO)
    whole.clear()

    desk.publish()

    assert whole == [1]
    assert tree(desk.out) == desk.cold()


def test_another_program_publishes_the_whole(desk, whole, monkeypatch):
    desk.publish()
    monkeypatch.setattr(program, "program_mark", lambda: "another")
    desk.publish()
    assert whole == [1, 1]


@pytest.mark.parametrize("rubbish", [b"", b"{", b"[]", b'{"of": 1}'])
def test_a_damaged_note_of_the_last_publish_is_done_without(desk, whole, rubbish):
    desk.publish()
    [note] = (desk.folder / "cache" / "published").glob("*.json")
    note.write_bytes(rubbish)
    desk.publish()
    assert whole == [1, 1]
    assert "nothing changed" in desk.publish()


def test_the_cache_may_be_deleted_at_any_time(desk, build, whole):
    desk.publish()
    shutil.rmtree(desk.folder / "cache")
    repainted(build / PHOTO)
    desk.publish()
    assert whole == [1, 1]
    assert tree(desk.out) == desk.cold()


def test_nobody_else_may_look_into_the_cache(desk):
    desk.publish()
    files = [path for path in (desk.folder / "cache").rglob("*") if path.is_file()]
    assert len(files) > 4
    assert all(path.parent.stat().st_mode & 0o077 == 0 for path in files)


def test_no_cache_leaves_none(desk, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(desk.folder / "home"))
    desk.publish(None, "--no-cache")
    assert not (desk.folder / "home").exists()


def test_killed_at_any_moment_the_site_is_the_old_or_the_new_one_and_the_next_publish_is_whole(desk, build):
    desk.publish()
    words = ["publish", str(desk.path), "--for", "public", "--out", str(desk.out), "--cache", str(desk.folder / "cache")]
    states = []
    for _ in range(2):
        repainted(build / PHOTO)
        states.append(((build / PHOTO).read_bytes(), desk.cold()))
    before = tree(desk.out)
    for turn in range(10):
        photo, after = states[turn % 2]
        (build / PHOTO).write_bytes(photo)
        run = subprocess.Popen([sys.executable, "-c", "from dossier.cli import main; main()", *words], cwd=ROOT, stdout=subprocess.DEVNULL)
        try:
            run.wait(0.06 * (turn + 1))
        except subprocess.TimeoutExpired:
            run.send_signal(signal.SIGKILL)
            run.wait()
        assert tree(desk.out) in (before, after), turn
        desk.publish()
        assert tree(desk.out) == after, turn
        before = after
    assert {path.name for path in desk.folder.iterdir() if path.name.startswith(".")} == set()


def test_the_mark_of_the_program_changes_with_its_source_its_template_and_what_is_installed(tmp_path, monkeypatch):
    for name in ("dossier", "site_template"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    marks = [program.program_mark(tmp_path / "dossier"), program.program_mark(tmp_path / "dossier")]
    assert marks[0] == marks[1]
    for name in ("dossier/pages/front.py", "site_template/main.html", "site_template/assets/paper.css"):
        with (tmp_path / name).open("a") as file:
            file.write("\n")
        marks.append(program.program_mark(tmp_path / "dossier"))
    monkeypatch.setattr(program, "installed", lambda: ("pillow-0.0",))
    marks.append(program.program_mark(tmp_path / "dossier"))
    assert len(set(marks)) == 5
