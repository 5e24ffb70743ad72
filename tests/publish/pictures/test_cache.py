"""The cache of made pictures: what hits, what misses, and what a kill, a rival, a full disk or a meddler does to it."""

import errno
import hashlib
import os
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from dossier.model.picture import Mask, PublishedFile
from dossier.publish.pictures import cache as cache_module
from dossier.publish.pictures import recipe
from dossier.publish.pictures.cache import PictureCache
from dossier.publish.pictures.recipe import Size, recipe_name
from tests.publish.pictures.made import coded, detail, request, run_of


@pytest.fixture
def asked(tmp_path):
    for number in range(4):
        (tmp_path / f"p{number}.jpg").write_bytes(coded(detail(1400, 900, number), "jpeg"))
    return [request(tmp_path / f"p{number}.jpg") for number in range(4)]


def published(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in (folder / "out").iterdir()}


def kept(folder: Path) -> list[Path]:
    return sorted((folder / "cache").glob("*/*"))


def test_a_second_publish_makes_nothing_and_publishes_the_same(asked, tmp_path):
    first = run_of(asked, tmp_path, tmp_path / "cache")
    files = published(tmp_path)
    for path in (tmp_path / "out").iterdir():
        path.unlink()
    second = run_of(asked, tmp_path, tmp_path / "cache")
    assert (first.made, second.made) == (4, 0)
    assert second.renditions == first.renditions
    assert published(tmp_path) == files


def test_one_changed_photograph_costs_one_photograph(asked, tmp_path):
    run_of(asked, tmp_path, tmp_path / "cache")
    (tmp_path / "p2.jpg").write_bytes(coded(detail(1400, 900, 77), "jpeg"))
    asked[2] = request(tmp_path / "p2.jpg")
    assert run_of(asked, tmp_path, tmp_path / "cache").made == 1


HIT = """
import sys
from pathlib import Path
from dossier.publish.pictures.make import make_renditions
from dossier.publish.pictures.recipe import PictureRequest
path, sha256 = Path(sys.argv[1]), sys.argv[2]
run = make_renditions([PictureRequest("a", path, sha256)], path.parent / "out2", path.parent / "cache")
print(run.made, sorted(name for name in sys.modules if name.split(".")[0] in ("PIL", "pillow_heif", "numpy")))
"""


def test_a_hit_does_not_import_the_picture_library(asked, tmp_path):
    run_of(asked[:1], tmp_path, tmp_path / "cache")
    ran = subprocess.run([sys.executable, "-c", HIT, asked[0].source, asked[0].sha256], capture_output=True, check=True, text=True)
    assert ran.stdout == "0 []\n"


def test_the_name_of_a_recipe_changes_with_all_that_changes_the_bytes(asked, tmp_path, monkeypatch):
    one = asked[0]
    names = {
        recipe_name(one),
        recipe_name(replace(one, sha256="0" * 64)),
        recipe_name(replace(one, masks=(Mask("rectangle", ((0, 0), (1, 1))),))),
        recipe_name(replace(one, masks=(Mask("rectangle", ((0, 0), (1, 2))),))),
        recipe_name(replace(one, masks=(Mask("polygon", ((0, 0), (1, 1), (1, 2))),))),
        recipe_name(replace(one, sizes=(Size(480, "webp"), Size(2000, "jpeg")))),
    }
    for name in ("JPEG_QUALITY", "WEBP_QUALITY", "WEBP_METHOD", "RECIPE", "FILL", "BLOCK"):
        with monkeypatch.context() as changed:
            changed.setattr(recipe, name, getattr(recipe, name) + 1)
            names.add(recipe_name(one))
    with monkeypatch.context() as changed:
        changed.setattr(recipe, "installed", lambda: ("pillow-0.0",))
        recipe._libraries.cache_clear()
        names.add(recipe_name(one))
    recipe._libraries.cache_clear()
    assert len(names) == 13
    assert recipe_name(replace(one, key="other", source=Path("elsewhere"), mark=None)) == recipe_name(one)


@pytest.mark.parametrize("damage", ["cut", "empty", "flipped", "rubbish", "folder"])
def test_a_damaged_entry_is_a_miss_and_is_made_again(damage, asked, tmp_path):
    first = run_of(asked, tmp_path, tmp_path / "cache")
    entry = tmp_path / "cache" / recipe_name(asked[1])[:2] / f"{recipe_name(asked[1])}.zip"
    data = entry.read_bytes()
    if damage == "folder":
        entry.unlink()
        entry.mkdir()
    else:
        middle = len(data) // 2
        flipped = data[:middle] + bytes([data[middle] ^ 1]) + data[middle + 1 :]
        entry.write_bytes({"cut": data[:middle], "empty": b"", "flipped": flipped, "rubbish": b"rubbish" * 99}[damage])
    shutil.rmtree(tmp_path / "out")
    second = run_of(asked, tmp_path, tmp_path / "cache")
    assert second.made == 1
    assert second.renditions == first.renditions


def test_an_entry_whose_bytes_were_exchanged_with_a_right_checksum_of_the_container_is_a_miss(asked, tmp_path):
    run_of(asked[:1], tmp_path, tmp_path / "cache")
    (entry,) = kept(tmp_path)
    with zipfile.ZipFile(entry) as opened:
        parts = {name: opened.read(name) for name in opened.namelist()}
    with zipfile.ZipFile(entry, "w") as forged:
        for name, data in parts.items():
            forged.writestr(name, data + b"x" if name.endswith(".jpg") else data)
    shutil.rmtree(tmp_path / "out")
    assert run_of(asked[:1], tmp_path, tmp_path / "cache").made == 1


def test_a_file_published_before_is_not_written_again_and_one_cut_short_is(asked, tmp_path):
    made = run_of(asked[:1], tmp_path, tmp_path / "cache").renditions[asked[0].key]
    whole, cut = (tmp_path / "out" / file.name for file in (made.small, made.large))
    inode, data = whole.stat().st_ino, cut.read_bytes()
    cut.write_bytes(data[:99])
    run_of(asked[:1], tmp_path, tmp_path / "cache")
    assert whole.stat().st_ino == inode
    assert cut.read_bytes() == data


def test_the_cache_may_be_deleted_between_and_while_publishing(asked, tmp_path):
    first = run_of(asked, tmp_path, tmp_path / "cache")
    shutil.rmtree(tmp_path / "cache")
    assert run_of(asked, tmp_path, tmp_path / "cache").renditions == first.renditions


@pytest.mark.parametrize("number", range(8))
def test_a_disk_that_fails_at_the_nth_step_of_keeping_costs_the_cache_only(number, asked, tmp_path, monkeypatch):
    steps = iter(range(1000))

    def failing(real):
        def step(*given, **more):
            if next(steps) == number:
                raise OSError(errno.ENOSPC, "No space left on device")
            return real(*given, **more)

        return step

    kept_with = PictureCache(tmp_path / "cache")
    for where, name in (
        (cache_module.tempfile, "mkstemp"), (cache_module.zipfile.ZipFile, "writestr"), (cache_module.os, "fdopen"),
        (Path, "replace"), (Path, "mkdir"), (cache_module.zipfile.ZipFile, "close"),
    ):  # fmt: skip
        monkeypatch.setattr(where, name, failing(getattr(where, name)))
    kept_with.keep("ab" * 32, [_Made(b"one"), _Made(b"two")])
    monkeypatch.undo()
    (tmp_path / "out").mkdir()
    found = kept_with.fetch("ab" * 32, tmp_path / "out")
    assert published(tmp_path) == ({"one.webp": b"one", "two.webp": b"two"} if found else {})
    assert not list((tmp_path / "cache").glob("*/*.part"))


class _Made:
    """A made file with given bytes."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.file = PublishedFile(f"{data.decode()}.webp", 1, 1, len(data), hashlib.sha256(data).hexdigest())


def test_a_cache_that_cannot_be_written_is_done_without(asked, tmp_path):
    (tmp_path / "cache").write_text("a file stands here")
    run = run_of(asked, tmp_path, tmp_path / "cache")
    assert len(run.renditions) == 4


def test_the_cache_stays_within_its_size_and_lets_the_longest_unused_go(asked, tmp_path):
    run_of(asked, tmp_path, tmp_path / "cache")
    entries = kept(tmp_path)
    for age, path in enumerate(entries):
        os.utime(path, (1_700_000_000 + age, 1_700_000_000 + age))
    total = sum(path.stat().st_size for path in entries)
    PictureCache(tmp_path / "cache", most_bytes=total // 2).tidy()
    left = kept(tmp_path)
    assert 0 < sum(path.stat().st_size for path in left) <= total // 2
    assert left == entries[-len(left) :]


def test_a_hit_makes_an_old_entry_the_last_to_go(asked, tmp_path):
    run_of(asked, tmp_path, tmp_path / "cache")
    for path in kept(tmp_path):
        os.utime(path, (1_700_000_000, 1_700_000_000))
    run_of(asked[:1], tmp_path, tmp_path / "cache")
    newest = max(kept(tmp_path), key=lambda path: path.stat().st_mtime)
    assert newest.stem == recipe_name(asked[0])
    assert newest.stat().st_mtime > 1_700_000_000


def test_what_killed_publishers_left_is_swept_once_it_is_old(tmp_path):
    old, new = tmp_path / "ab" / "x.part", tmp_path / "ab" / "y.part"
    old.parent.mkdir()
    for path in (old, new):
        path.write_bytes(b"left over")
    os.utime(old, (1_700_000_000, 1_700_000_000))
    PictureCache(tmp_path).tidy()
    assert (old.exists(), new.exists()) == (False, True)


def test_the_cache_is_for_its_owner_only(asked, tmp_path):
    run_of(asked[:1], tmp_path, tmp_path / "cache")
    (entry,) = kept(tmp_path)
    assert entry.stat().st_mode & 0o077 == 0
    assert entry.parent.stat().st_mode & 0o077 == 0


PUBLISH = """
import sys
from pathlib import Path
from tests.publish.pictures.made import request
from dossier.publish.pictures.make import make_renditions
folder = Path(sys.argv[1])
print("begun", flush=True)
run = make_renditions([request(path) for path in sorted(folder.glob("*.jpg"))], folder / sys.argv[2], folder / "cache")
print(len(run.renditions), len(run.faults))
"""


def publisher(folder: Path, into: str) -> subprocess.Popen[str]:
    return subprocess.Popen([sys.executable, "-c", PUBLISH, folder, into], stdout=subprocess.PIPE, text=True)


def test_a_publisher_killed_at_any_moment_leaves_a_cache_that_serves_the_next_one(asked, tmp_path):
    reference = run_of(asked, tmp_path).renditions
    for moment in range(6):
        shutil.rmtree(tmp_path / "out")
        killed = publisher(tmp_path, "killed")
        assert killed.stdout is not None
        killed.stdout.readline()
        # The moments differ by what has been kept so far, not by the clock alone.
        until = time.monotonic() + 20
        while len(kept(tmp_path)) < moment % 4 and killed.poll() is None and time.monotonic() < until:
            time.sleep(0.001)
        killed.send_signal(signal.SIGKILL)
        killed.wait()
        killed.stdout.close()
        assert run_of(asked, tmp_path, tmp_path / "cache").renditions == reference
        if moment % 2:
            shutil.rmtree(tmp_path / "cache")


def test_two_publishers_at_once_publish_the_same(asked, tmp_path):
    both = [publisher(tmp_path, name) for name in ("one", "two")]
    for ran in both:
        assert ran.communicate()[0].splitlines()[-1] == "4 0"
    contents = [{path.name: path.read_bytes() for path in (tmp_path / name).iterdir()} for name in ("one", "two")]
    assert contents[0] == contents[1]
    assert len(contents[0]) == 12
    assert all(path.suffix == ".zip" for path in kept(tmp_path))
