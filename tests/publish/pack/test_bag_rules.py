"""Rules of RFC 8493 that a bag can break, each broken once: verify refuses and names the file. Rules rebuilt from the text of the RFC."""

from __future__ import annotations

import contextlib
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from dossier.publish.pack import seal as sealing
from dossier.publish.pack.verify import verify_pack
from tests.publish.pack.packs import kestrane, new_key, small


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("bag")
    with pytest.MonkeyPatch.context() as monkeypatch:
        small(monkeypatch, kestrane(), new_key(folder, "key"), folder / "pack")
    return folder / "pack"


def edited(name: str, change: Callable[[str], str]) -> Callable[[Path], None]:
    def edit(pack: Path) -> None:
        (pack / name).write_text(change((pack / name).read_text(encoding="utf-8")), encoding="utf-8")

    return edit


RULES: dict[str, tuple[Callable[[Path], object], str]] = {
    "2.1.1 the bag declares its version": (lambda p: (p / "bagit.txt").unlink(), "bagit.txt"),
    "2.1.1 the declaration has two lines": (edited("bagit.txt", lambda t: t.splitlines()[0] + "\n"), "bagit.txt"),
    "2.1.1 the version is one that is known": (edited("bagit.txt", lambda t: t.replace("1.0", "9.9")), "bagit.txt"),
    "2.1.1 no byte-order mark before it": (edited("bagit.txt", lambda t: "\ufeff" + t), "bagit.txt"),
    "2.1.2 there is a payload": (lambda p: shutil.rmtree(p / "data"), "data/dossier.json"),
    "2.1.3 there is a payload manifest": (lambda p: (p / "manifest-sha512.txt").unlink(), "manifest-sha512.txt"),
    "2.1.3 a file is listed once": (edited("manifest-sha256.txt", lambda t: t + t.splitlines()[-1] + "\n"), "manifest-sha256.txt"),
    "2.1.3 every payload file is listed in every manifest": (
        edited("manifest-sha256.txt", lambda t: "".join(t.splitlines(keepends=True)[1:])), "manifest-sha256.txt",
    ),
    "2.1.3 a digest is hexadecimal of full length": (edited("manifest-sha256.txt", lambda t: t[1:]), "manifest-sha256.txt"),
    "2.2.3 nothing is fetched": (lambda p: (p / "fetch.txt").write_text("http://example.org/x 1 data/x\n"), "fetch.txt"),
    "5.1 no name leads out of the bag": (edited("manifest-sha512.txt", lambda t: t + "0" * 128 + "  data/../../x\n"), "manifest-sha512.txt"),
    "5.1 no name is absolute": (edited("manifest-sha512.txt", lambda t: t + "0" * 128 + "  /etc/hostname\n"), "manifest-sha512.txt"),
    "5.1 no name begins at somebody's home": (edited("manifest-sha512.txt", lambda t: t + "0" * 128 + "  ~root/x\n"), "manifest-sha512.txt"),
    "5.1 no file is a door to elsewhere": (lambda p: os.mkfifo(p / "data/pipe"), "data/pipe"),
}  # fmt: skip


@pytest.mark.parametrize("rule", RULES)
def test_a_bag_that_breaks_a_rule_is_refused_and_the_file_named(rule: str, whole: Path, tmp_path: Path) -> None:
    shutil.copytree(whole, tmp_path / "pack")
    breaks, file = RULES[rule]
    breaks(tmp_path / "pack")

    assert file in {one.file for one in verify_pack(tmp_path / "pack").defects}


def test_whatever_write_fails_while_sealing_nothing_stands_at_the_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    key, real, count = new_key(tmp_path / "keys", "key"), os.fsync, 0
    for fails_at in range(1, 60):
        count = 0

        def failing(handle: int, fails_at: int = fails_at) -> None:
            nonlocal count
            count += 1
            if count == fails_at:
                raise OSError(28, "No space left on device")
            real(handle)

        with monkeypatch.context() as broken:
            broken.setattr(sealing.os, "fsync", failing)
            with contextlib.suppress(OSError):
                small(broken, kestrane(), key, tmp_path / "out" / "pack")
        if count < fails_at:
            break
        # the last of all is that of the folder around it: by then the pack stands whole
        if (tmp_path / "out/pack").exists():
            assert verify_pack(tmp_path / "out/pack").defects == ()
            shutil.rmtree(tmp_path / "out/pack")
        assert list((tmp_path / "out").iterdir()) == []

    assert 10 < fails_at < 59
    assert verify_pack(tmp_path / "out/pack").defects == ()
