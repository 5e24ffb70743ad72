"""The exchange: whatever fails, and wherever the run is killed, a whole folder stands at the place published to."""

from __future__ import annotations

import errno
import fcntl
import logging
import os
import shutil
import signal
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from dossier.publish import exchange
from dossier.publish.exchange import MARK, ExchangeError, published_whole, within
from dossier.publish.site import build_site
from tests.publish.sheets import built

# Every way in which the exchange touches the disc, as it is called from there.
TOUCHES = ("open", "close", "fsync", "mkdir", "rename", "unlink", "rmdir", "scandir")


def publish(out: Path, edition: str) -> None:
    with published_whole(out) as folder:
        (folder / "sub").mkdir()
        for name in ("index.html", "sub/page.html"):
            (folder / name).write_text(edition)


def standing(out: Path) -> str:
    """The edition that stands at `out`, '' when nothing does; fails unless it is whole."""
    if not out.exists():
        return ""
    names = sorted(str(path.relative_to(out)) for path in out.rglob("*") if path.is_file())
    assert names == ["index.html", "sub/page.html", MARK]
    one, other = ((out / name).read_text() for name in names[:2])
    assert one == other
    return one


def beside(out: Path) -> list[str]:
    return sorted(path.name for path in out.parent.iterdir() if path != out)


def at_touch(number: int, strike: Callable[[], None], monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Let the strike happen at the `number`th touch of the disc, counted from now; the touches so far, as they come."""
    touched: list[str] = []

    def watched(name: str, real: Callable) -> Callable:
        def touch(*given, **named):
            touched.append(name)
            if len(touched) == number:
                strike()
            return real(*given, **named)

        return touch

    for name in TOUCHES:
        monkeypatch.setattr(os, name, watched(name, getattr(os, name)))
    monkeypatch.setattr(exchange, "_exchange", watched("exchange", exchange._exchange))
    return touched


def fail() -> None:
    raise OSError(errno.EIO, "the disc failed")


def without_exchange(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(one: Path, other: Path) -> None:
        raise OSError(errno.EINVAL, "not on this filesystem")

    monkeypatch.setattr(exchange, "_exchange", refused)


def count_touches(out: Path, prepare: Callable[[pytest.MonkeyPatch], None]) -> int:
    with pytest.MonkeyPatch.context() as patch:
        prepare(patch)
        touched = at_touch(0, fail, patch)
        publish(out, "new")
    return len(touched)


def nothing(_: pytest.MonkeyPatch) -> None:
    pass


WAYS = pytest.mark.parametrize("prepare", [nothing, without_exchange], ids=["exchange", "two renames"])


def test_a_first_publish_puts_the_folder_there_and_leaves_nothing_beside_it(tmp_path):
    publish(tmp_path / "deep/site", "first")
    assert standing(tmp_path / "deep/site") == "first"
    assert beside(tmp_path / "deep/site") == []


@WAYS
def test_a_later_publish_replaces_the_whole_folder(tmp_path, monkeypatch, prepare):
    publish(tmp_path / "site", "old")
    prepare(monkeypatch)
    publish(tmp_path / "site", "new")
    assert standing(tmp_path / "site") == "new"
    assert beside(tmp_path / "site") == []


def test_a_fault_while_the_pages_are_written_leaves_the_last_good_site(tmp_path):
    publish(tmp_path / "site", "old")
    with pytest.raises(KeyError), published_whole(tmp_path / "site") as folder:
        (folder / "index.html").write_text("half")
        raise KeyError
    assert standing(tmp_path / "site") == "old"
    assert beside(tmp_path / "site") == []


@WAYS
@pytest.mark.parametrize("before", ["", "old"])
def test_a_failure_of_any_single_file_operation_leaves_a_whole_site(tmp_path, prepare, before):
    def fresh(number: int) -> Path:
        out = tmp_path / str(number) / "site"
        if before:
            publish(out, before)
        else:
            out.parent.mkdir()
        return out

    touches = count_touches(fresh(0), prepare)
    assert touches > 20
    outcomes = set()
    for number in range(1, touches + 1):
        out = fresh(number)
        with pytest.MonkeyPatch.context() as patch:
            prepare(patch)
            at_touch(number, fail, patch)
            try:
                publish(out, "new")
                raised = False
            except OSError:
                raised = True
        assert standing(out) in {before, "new"}
        assert raised or standing(out) == "new", "a run that raises nothing must have published"
        outcomes.add((raised, standing(out)))
        publish(out, "next")
        assert standing(out) == "next"
        assert beside(out) == []
    assert {(True, before), (False, "new")} <= outcomes


@WAYS
def test_a_run_killed_at_any_file_operation_leaves_a_whole_site_or_one_the_next_run_finds(tmp_path, prepare):
    publish(tmp_path / "0/site", "old")
    touches = count_touches(tmp_path / "0/site", prepare)
    outcomes = set()
    for number in range(1, touches + 1):
        out = tmp_path / str(number) / "site"
        publish(out, "old")
        killed = os.fork()
        if killed == 0:
            with pytest.MonkeyPatch.context() as patch:
                prepare(patch)
                at_touch(number, lambda: os.kill(os.getpid(), signal.SIGKILL), patch)
                publish(out, "new")
            os._exit(0)
        assert os.waitstatus_to_exitcode(os.waitpid(killed, 0)[1]) == -signal.SIGKILL
        outcomes.add(standing(out))
        if not standing(out):
            with pytest.raises(KeyError), published_whole(out):
                raise KeyError
            assert standing(out) == "old", "the last good site comes back even if the next run fails"
        publish(out, "next")
        assert standing(out) == "next"
        assert beside(out) == []
    assert outcomes == ({"old", "new"} if prepare is nothing else {"old", "new", ""})


def test_files_are_on_the_disc_before_the_step_and_the_folder_above_after_it(tmp_path, monkeypatch):
    publish(tmp_path / "site", "old")
    touched = at_touch(0, fail, monkeypatch)
    publish(tmp_path / "site", "new")
    step = touched.index("exchange")
    assert touched[:step].count("fsync") == 6  # three files, two folders, the folder above
    assert touched[step:].count("fsync") == 1
    assert "unlink" not in touched[:step]


def test_two_renames_instead_of_one_step_are_said(tmp_path, monkeypatch, caplog):
    publish(tmp_path / "site", "old")
    without_exchange(monkeypatch)
    with caplog.at_level(logging.WARNING):
        publish(tmp_path / "site", "new")
    assert "cannot exchange two folders in one step" in caplog.text


def test_the_one_step_really_exchanges_on_this_system(tmp_path):
    for name in ("a", "b"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "who").write_text(name)
    try:
        exchange._exchange(tmp_path / "a", tmp_path / "b")
    except OSError as fault:
        if fault.errno in exchange._CANNOT:
            pytest.skip("this system has no renameat2 with RENAME_EXCHANGE")
        raise
    assert (tmp_path / "a/who").read_text() == "b"
    assert (tmp_path / "b/who").read_text() == "a"


def test_a_second_publisher_is_refused_while_the_first_is_at_work(tmp_path):
    out = tmp_path / "site"
    with published_whole(out) as folder:
        (folder / "sub").mkdir()
        for name in ("index.html", "sub/page.html"):
            (folder / name).write_text("first")
        with pytest.raises(ExchangeError, match="another run is publishing"):
            publish(out, "second")
    assert standing(out) == "first"


def test_publishers_that_run_at_once_leave_one_whole_site_and_nothing_beside_it(tmp_path):
    out = tmp_path / "site"
    outcomes: list[str] = []

    def run(edition: str) -> None:
        for _ in range(20):
            try:
                publish(out, edition)
                outcomes.append("published")
            except ExchangeError:
                outcomes.append("refused")

    runs = [threading.Thread(target=run, args=(edition,)) for edition in ("a", "b", "c")]
    for each in runs:
        each.start()
    for each in runs:
        each.join()
    assert len(outcomes) == 60 and "published" in outcomes
    assert standing(out) in {"a", "b", "c"}
    assert beside(out) == []


def test_a_lock_file_taken_away_while_it_was_being_locked_is_not_trusted(tmp_path, monkeypatch):
    out, real, calls = tmp_path / "site", fcntl.flock, []

    def late(handle: int, how: int) -> None:
        if not calls:
            (tmp_path / ".site.lock").unlink()  # the run before ends just here
        calls.append(how)
        real(handle, how)

    monkeypatch.setattr(fcntl, "flock", late)
    with published_whole(out), pytest.raises(ExchangeError, match="another run"):
        publish(out, "second")
    assert calls == [fcntl.LOCK_EX | fcntl.LOCK_NB] * 4  # refused, taken, the second refused, and given back


def test_several_publish_within_a_folder_at_once_and_nobody_puts_another_in_its_place(tmp_path):
    out = tmp_path / "site"
    publish(out, "first")
    with within(out), within(out):
        publish(out / "one", "of many")
        with pytest.raises(ExchangeError, match="another run is publishing"):
            publish(out, "second")
    with published_whole(out) as folder:
        (folder / "sub").mkdir()
        for name in ("index.html", "sub/page.html"):
            (folder / name).write_text("third")
        with pytest.raises(ExchangeError, match="another run is publishing"), within(out):
            pass
    assert standing(out) == "third" and beside(out) == []


def test_two_sites_in_one_folder_do_not_wait_for_each_other(tmp_path):
    with published_whole(tmp_path / "one"):
        publish(tmp_path / "two", "x")
    assert standing(tmp_path / "two") == "x"


def test_a_folder_that_dossier_did_not_write_is_never_replaced(tmp_path):
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters/kept.txt").write_text("kept")
    with pytest.raises(ExchangeError, match="holds files that dossier did not write"):
        publish(tmp_path / "letters", "new")
    assert [path.name for path in (tmp_path / "letters").iterdir()] == ["kept.txt"]


@pytest.mark.parametrize("kind", ["file", "link"])
def test_a_file_or_a_link_is_never_replaced(tmp_path, kind):
    (tmp_path / "real").mkdir()
    (tmp_path / "site").write_text("kept") if kind == "file" else (tmp_path / "site").symlink_to(tmp_path / "real")
    with pytest.raises(ExchangeError, match="is not a folder"):
        publish(tmp_path / "site", "new")
    assert beside(tmp_path / "site") == ["real"]


def test_an_empty_folder_may_be_published_to(tmp_path):
    (tmp_path / "site").mkdir()
    publish(tmp_path / "site", "new")
    assert standing(tmp_path / "site") == "new"


def test_an_old_site_that_cannot_be_removed_does_not_spoil_the_new_one(tmp_path, monkeypatch, caplog):
    publish(tmp_path / "site", "old")
    with monkeypatch.context() as patch:
        patch.setattr(shutil, "rmtree", lambda _: fail())
        publish(tmp_path / "site", "new")
    assert standing(tmp_path / "site") == "new"
    assert "could not be removed" in caplog.text
    publish(tmp_path / "site", "next")
    assert beside(tmp_path / "site") == []


def test_a_site_published_through_the_exchange_is_the_built_one_with_its_mark(tmp_path):
    direct = built(tmp_path / "direct")
    out = tmp_path / "published"
    before = os.umask(0o077)
    try:
        for _ in ("first", "again"):
            with published_whole(out) as folder:
                build_site(tmp_path / "direct/staged", folder)
    finally:
        os.umask(before)
    assert {path.relative_to(out) for path in out.rglob("*")} == {path.relative_to(direct) for path in direct.rglob("*")} | {Path(MARK)}
    assert all((out / path.relative_to(direct)).read_bytes() == path.read_bytes() for path in direct.rglob("*") if path.is_file())
    assert out.stat().st_mode & 0o777 == 0o755 and (out / MARK).stat().st_mode & 0o777 == 0o644


def test_every_file_then_every_folder_is_told_to_the_disk_once_few_at_a_time(tmp_path, monkeypatch):
    told: list[Path] = []
    real = exchange._sync
    monkeypatch.setattr(exchange, "_IN_HAND", 3)
    monkeypatch.setattr(exchange, "_sync", lambda path: (told.append(path), real(path)))
    making = tmp_path / ".site.making"
    with published_whole(tmp_path / "site") as folder:
        for number in range(7):
            (folder / f"{number}").mkdir()
            (folder / f"{number}" / "page.html").write_text("x")
    files = [making / MARK, *(making / f"{number}" / "page.html" for number in range(7))]
    folders = [*(making / f"{number}" for number in range(7)), making]
    assert sorted(told[:8]) == sorted(files)
    assert sorted(told[8:16]) == sorted(folders) and told[15] == making
    assert told[16:] == [tmp_path, tmp_path]  # before and after the step


def test_those_who_publish_within_a_folder_never_refuse_each_other(tmp_path):
    refused: list[str] = []

    def enter() -> None:
        for _ in range(300):
            try:
                with within(tmp_path / "site"):
                    pass
            except ExchangeError as fault:
                refused.append(str(fault))

    threads = [threading.Thread(target=enter) for _ in range(4)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert refused == []
