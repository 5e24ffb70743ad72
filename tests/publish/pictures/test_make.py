"""A run over many pictures: what is refused, what goes on, what is told, and how much memory it takes."""

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from dossier.model.picture import FileMark
from dossier.publish.pictures import encode
from dossier.publish.pictures.make import begin, make_renditions
from tests.publish.pictures.made import coded, detail, request, run_of


def sources(folder: Path, count: int, width: int = 600, height: int = 400) -> list[Path]:
    paths = [folder / f"p{number}.jpg" for number in range(count)]
    for number, path in enumerate(paths):
        path.write_bytes(coded(detail(width, height, number), "jpeg"))
    return paths


def mark(path: Path) -> FileMark:
    state = path.stat()
    return FileMark(state.st_size, state.st_mtime_ns, state.st_ctime_ns, state.st_ino)


def test_a_source_that_changed_since_reading_is_refused_and_the_others_go_on(tmp_path):
    asked = [request(path) for path in sources(tmp_path, 3)]
    (tmp_path / "p1.jpg").write_bytes(coded(detail(600, 400, 9), "jpeg"))
    run = run_of(asked, tmp_path)
    assert list(run.renditions) == ["p0.jpg", "p2.jpg"]
    assert run.faults["p1.jpg"].code == "photo-changed"


@pytest.mark.parametrize("with_cache", [False, True])
def test_a_change_that_keeps_size_and_date_is_noticed_all_the_same(with_cache, tmp_path):
    cache = tmp_path / "cache" if with_cache else None
    (path,) = sources(tmp_path, 1)
    asked = replace(request(path), mark=mark(path))
    run_of([asked], tmp_path, cache)
    before, data = path.stat(), bytearray(path.read_bytes())
    data[-20] ^= 1
    path.write_bytes(data)
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert run_of([asked], tmp_path, cache).faults["p0.jpg"].code == "photo-changed"


def test_a_source_that_was_only_copied_elsewhere_and_back_is_not_refused(tmp_path):
    (path,) = sources(tmp_path, 1)
    asked = replace(request(path), mark=mark(path))
    data = path.read_bytes()
    path.unlink()
    path.write_bytes(data)
    assert not run_of([asked], tmp_path).faults


def test_a_picture_begun_before_there_is_a_folder_for_it_is_made_once_and_is_the_same(tmp_path, monkeypatch):
    asked = [request(path) for path in sources(tmp_path, 3, 3000, 2000)]
    plain = run_of(asked, tmp_path).renditions
    begun = begin(asked[1], tmp_path / "cache")
    begun.encoded.result()
    made = []
    monkeypatch.setattr(encode, "encode", lambda data, *more, real=encode.encode, **named: (made.append(1), real(data, *more, **named))[1])

    run = make_renditions(asked, tmp_path / "again", tmp_path / "cache", begun=begun)

    assert (run.renditions, len(made), run.made) == (plain, 2, 3)
    names = {file.name for one in plain.values() for file in one.files}
    assert {path.name for path in (tmp_path / "again").iterdir()} == names
    assert all((tmp_path / "again" / name).read_bytes() == (tmp_path / "out" / name).read_bytes() for name in names)
    assert begin(asked[1], tmp_path / "cache") is None, "it is kept now"


@pytest.mark.parametrize(
    ("damage", "code"), [(lambda data: data + b"\0", "photo-changed"), (lambda data: data[: len(data) // 2], "photo-unreadable")]
)
def test_what_stands_in_the_way_of_a_picture_begun_is_a_fault_like_any_other(damage, code, tmp_path):
    (path,) = sources(tmp_path, 1)
    whole = path.read_bytes()
    if code == "photo-unreadable":
        path.write_bytes(damage(whole))
    asked = request(path)
    if code == "photo-changed":
        path.write_bytes(damage(whole))

    run = make_renditions([asked], tmp_path / "out", begun=begin(asked, None))

    assert not run.renditions and run.faults["p0.jpg"].code == code


def test_a_source_that_is_gone_is_a_fault(tmp_path):
    asked = [request(path) for path in sources(tmp_path, 2)]
    (tmp_path / "p0.jpg").unlink()
    assert run_of(asked, tmp_path).faults["p0.jpg"].code == "photo-missing"


def test_two_pictures_under_one_key_are_our_own_mistake(tmp_path):
    (path,) = sources(tmp_path, 1)
    with pytest.raises(ValueError, match="one key"):
        make_renditions([request(path, "a"), request(path, "a")], tmp_path / "out")


def test_one_photograph_asked_for_twice_is_published_once(tmp_path):
    (path,) = sources(tmp_path, 1, 1500, 1000)
    run = run_of([request(path, "a"), request(path, "b")], tmp_path)
    assert run.renditions["a"] == run.renditions["b"]
    assert len(list((tmp_path / "out").iterdir())) == 3


def test_progress_is_told_after_every_picture(tmp_path):
    told = []
    make_renditions([request(path) for path in sources(tmp_path, 4)], tmp_path / "out", progress=lambda *now: told.append(now))
    assert told == [(1, 4), (2, 4), (3, 4), (4, 4)]


def test_nothing_asked_is_nothing_made(tmp_path):
    run = make_renditions([], tmp_path / "out", tmp_path / "cache")
    assert (run.renditions, run.faults, run.made) == ({}, {}, 0)


def test_a_failing_progress_ends_the_run_with_its_own_error(tmp_path):
    def fail(done: int, all: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        make_renditions([request(path) for path in sources(tmp_path, 6)], tmp_path / "out", progress=fail)


PEAK = """
import sys
from pathlib import Path
from dossier.publish.pictures.make import begin, make_renditions
from tests.publish.pictures.made import request
path = Path(sys.argv[1])
make_renditions([request(path, str(n)) for n in range(int(sys.argv[2]))], path.parent / "out", workers=2)
print(next(line.split()[1] for line in open("/proc/self/status") if line.startswith("VmHWM")))
"""


def test_memory_is_bounded_by_the_workers_not_by_the_number_of_pictures(tmp_path):
    # Not the resource module's figure: a child process starts with its parent's peak there.
    if not Path("/proc/self/status").exists():
        pytest.skip("this system does not tell a process's peak of memory")
    (path,) = sources(tmp_path, 1, 2600, 2000)

    def peak(count: int) -> int:
        ran = subprocess.run([sys.executable, "-c", PEAK, path, str(count)], capture_output=True, check=True, text=True)
        return int(ran.stdout)

    few, many = peak(2), peak(12)
    # One decoded picture has 16 MB; ten more of them kept would be 160 MB.
    assert many < few + 60_000
