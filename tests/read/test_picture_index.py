"""The index of what was read: an unchanged file is not opened again, a changed one always is."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from dossier.read import pictures
from dossier.read.picture_index import probe_all
from tests.publish.pictures.made import coded, detail

LONG_AGO = 1_700_000_000


@pytest.fixture
def opened(monkeypatch):
    """Names of the files that were really opened."""
    names = []
    real = pictures.probe
    monkeypatch.setattr(pictures, "probe", lambda path: (names.append(path.name), real(path))[1])
    return names


@pytest.fixture
def settled(monkeypatch):
    """Files count as still at once, so that a test need not wait."""
    monkeypatch.setattr("dossier.read.picture_index._SETTLED_NS", -10_000_000_000)


@pytest.fixture
def photos(tmp_path):
    paths = [tmp_path / f"p{number}.jpg" for number in range(3)]
    for number, path in enumerate(paths):
        path.write_bytes(coded(detail(90, 60, number), "jpeg", 6) if number else b"no picture")
    return paths


def test_unchanged_files_are_not_opened_again_and_give_the_same(photos, opened, settled, tmp_path):
    first = probe_all(photos, tmp_path / "index" / "photos.json")
    assert sorted(opened) == ["p0.jpg", "p1.jpg", "p2.jpg"]
    opened.clear()
    assert probe_all(photos, tmp_path / "index" / "photos.json") == first
    assert opened == []
    assert first[photos[0]][1][0].code == "photo-unreadable"
    assert first[photos[1]][0].taken is not None


def test_a_file_changed_in_content_only_is_opened_again(photos, opened, settled, tmp_path):
    index = tmp_path / "photos.json"
    before = probe_all(photos, index)
    state = photos[1].stat()
    data = bytearray(photos[1].read_bytes())
    data[-30] ^= 1
    photos[1].write_bytes(data)
    os.utime(photos[1], ns=(state.st_atime_ns, state.st_mtime_ns))
    opened.clear()
    after = probe_all(photos, index)
    assert opened == ["p1.jpg"]
    assert after[photos[1]][0].sha256 != before[photos[1]][0].sha256


def test_a_file_written_a_moment_ago_is_opened_again_since_its_clock_may_not_have_ticked(photos, opened, tmp_path):
    probe_all(photos, tmp_path / "photos.json")
    opened.clear()
    probe_all(photos, tmp_path / "photos.json")
    assert len(opened) == 3


@pytest.mark.parametrize(
    "rubbish", [b"", b"{", b"[]", b'{"made_with": "x", "files": {}}', b"\xff" * 40, b'{"made_with": 1, "files": {"a": 2}}']
)
def test_a_damaged_or_foreign_index_is_made_anew(rubbish, photos, opened, settled, tmp_path):
    index = tmp_path / "photos.json"
    index.write_bytes(rubbish)
    first = probe_all(photos, index)
    opened.clear()
    assert probe_all(photos, index) == first
    assert opened == []


def test_the_index_holds_no_more_than_the_files_asked_for(photos, settled, tmp_path):
    index = tmp_path / "photos.json"
    probe_all(photos, index)
    probe_all(photos[:1], index)
    assert b"p0.jpg" in index.read_bytes()
    assert b"p1.jpg" not in index.read_bytes()


def test_an_index_that_cannot_be_written_is_done_without(photos, tmp_path):
    (tmp_path / "file").write_text("in the way")
    assert len(probe_all(photos, tmp_path / "file" / "photos.json")) == 3


def test_a_name_that_is_not_utf_8_is_read_and_remembered(opened, settled, tmp_path):
    path = Path(os.fsdecode(os.fsencode(tmp_path) + b"/m\xfcll.jpg"))
    path.write_bytes(coded(detail(90, 60), "jpeg"))
    first = probe_all([path], tmp_path / "photos.json")
    opened.clear()
    assert probe_all([path], tmp_path / "photos.json") == first
    assert opened == []


ALL_KNOWN = """
import sys
from pathlib import Path
from dossier.read import picture_index
picture_index._SETTLED_NS = -10_000_000_000
for turn in range(2):
    for name in [name for name in sys.modules if turn and name.split(".")[0] == "PIL"]:
        del sys.modules[name]
    picture_index.probe_all([Path(sys.argv[1])], Path(sys.argv[2]))
print([name for name in sys.modules if name.split(".")[0] == "PIL"])
"""


def test_when_all_is_known_the_picture_library_is_not_imported(photos, tmp_path):
    ran = subprocess.run([sys.executable, "-c", ALL_KNOWN, photos[1], tmp_path / "i.json"], capture_output=True, check=True, text=True)
    assert ran.stdout == "[]\n"


def test_only_the_indexes_of_the_folders_read_last_are_kept(photos, settled, tmp_path, monkeypatch):
    monkeypatch.setattr("dossier.read.picture_index.MOST_INDEXES", 2)
    for number in range(4):
        probe_all(photos[:1], tmp_path / "kept" / f"{number}.json")
        os.utime(tmp_path / "kept" / f"{number}.json", (LONG_AGO + number, LONG_AGO + number))
    assert sorted(path.name for path in (tmp_path / "kept").iterdir()) == ["2.json", "3.json"]
