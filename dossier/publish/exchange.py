"""Puts a published folder in place whole or not at all, whatever fails and whenever the machine stops."""

from __future__ import annotations

import ctypes
import errno
import fcntl
import itertools
import logging
import os
import shutil
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path

_LOG = logging.getLogger(__name__)

# linux/fs.h and linux/fcntl.h, as in renameat2(2)
_RENAME_EXCHANGE = 2
_AT_FDCWD = -100
# renameat2(2): the kernel, or this filesystem, does not know the exchange.
_CANNOT = frozenset({errno.ENOSYS, errno.EINVAL, errno.EOPNOTSUPP})

_AT_ONCE = 16
_PATIENCE_S = 2.0
_IN_HAND = 1024
"""Paths held at a time: an archive has as many files as it has."""

MARK = "written-by-dossier.txt"
_MARK_TEXT = "This folder is written whole by dossier: whatever is put into it by hand is gone after the next publish.\n"


class ExchangeError(OSError):
    """The place to publish to cannot be used; what stood there stands there still."""


@contextmanager
def published_whole(out: Path) -> Iterator[Path]:
    """Yield an empty folder to publish into; on leaving, it stands at `out` in one step and what stood there is removed.

    The folder lies hidden beside `out`, on the same filesystem. Whatever fails before the step, in the body too, leaves
    `out` as it was. What a killed run left behind goes at the start of the next. Raises ExchangeError when `out` is not
    a folder of ours, or another run is publishing to it; other faults of the disk come as OSError.
    """
    out = out.absolute()
    out.parent.mkdir(parents=True, exist_ok=True)
    making, leaving = (out.with_name(f".{out.name}.{word}") for word in ("making", "leaving"))
    with _alone(out):
        _mend(out, making, leaving)
        _refuse_foreign(out)
        try:
            making.mkdir(0o755)
            yield making
            mark(making)
            _settle(making, out)
            _put_in_place(making, out, leaving)
        except BaseException:
            _remove(making)
            raise
        _sync(out.parent)
        _remove(making)
        _remove(leaving)


@contextmanager
def within(out: Path) -> Iterator[None]:
    """For one folder within `out` to be published by itself: others may do so meanwhile, but nobody puts a whole folder in the place of `out`.

    Raises ExchangeError while somebody does.
    """
    with _locked(out.absolute(), fcntl.LOCK_SH):
        yield


@contextmanager
def _alone(out: Path) -> Iterator[None]:
    with _locked(out, fcntl.LOCK_EX):
        yield


@contextmanager
def _locked(out: Path, kind: int) -> Iterator[None]:
    """Hold the lock beside `out`. The kernel lets go of it when the run ends, however it ends."""
    path = out.with_name(f".{out.name}.lock")
    patient = time.monotonic() + (_PATIENCE_S if kind == fcntl.LOCK_SH else 0)
    while True:
        handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o644)
        try:
            fcntl.flock(handle, kind | fcntl.LOCK_NB)
            if _is_still(path, handle):
                break
        except BlockingIOError as busy:
            os.close(handle)
            if time.monotonic() < patient:  # one that leaves holds it alone for a moment
                time.sleep(0.01)
                continue
            raise ExchangeError(f"another run is publishing to {out}; wait until it has ended") from busy
        except BaseException:
            os.close(handle)
            raise
        os.close(handle)  # the run before took its lock file away between our opening and our locking it
    try:
        yield
    finally:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)  # the last of several takes the file away
            path.unlink(missing_ok=True)  # while still locked, so that nobody else's goes
        except BlockingIOError:
            pass
        except OSError as fault:
            _LOG.warning("the lock file %s could not be removed (%s); it does no harm", path, fault)
        os.close(handle)


def _is_still(path: Path, handle: int) -> bool:
    try:
        return os.path.samestat(path.stat(), os.fstat(handle))
    except FileNotFoundError:
        return False


def _mend(out: Path, making: Path, leaving: Path) -> None:
    """Undo what a killed run left: bring the last good folder back if it was caught between two renames, drop the rest."""
    if _there(leaving) and not _there(out):
        leaving.rename(out)
        _sync(out.parent)
    for left in (making, leaving):
        if _there(left):
            shutil.rmtree(left)


def _there(path: Path) -> bool:
    return os.path.lexists(path)


def _refuse_foreign(out: Path) -> None:
    if not _there(out):
        return
    if out.is_symlink() or not out.is_dir():
        raise ExchangeError(f"{out} is not a folder; publish to a folder that is absent, empty, or published before")
    if not (out / MARK).is_file() and any(out.iterdir()):
        raise ExchangeError(f"{out} holds files that dossier did not write ({MARK} is missing); publish to another folder")


def mark(folder: Path) -> None:
    """Say in a folder whose it is, and that it is written whole."""
    (folder / MARK).write_text(_MARK_TEXT, encoding="utf-8")
    (folder / MARK).chmod(0o644)
    folder.chmod(0o755)


def _settle(folder: Path, out: Path) -> None:
    """Have the disk hold every file, then every folder, before the step is taken; what is linked from `out` it holds already.

    The disk is told many things at once, of which it makes few rounds; one after another each would be a round of its own.
    """
    with ThreadPoolExecutor(_AT_ONCE) as pool:
        for paths in (_fresh(folder, out), _folders(folder)):
            while some := list(itertools.islice(paths, _IN_HAND)):
                for _ in pool.map(_sync, some):
                    pass


def _fresh(folder: Path, out: Path) -> Iterator[Path]:
    for below, _, names in os.walk(folder, onerror=_raise):
        before = out / os.path.relpath(below, folder)
        for name in names:
            if not _linked(Path(below, name), before / name):
                yield Path(below, name)


def _folders(folder: Path) -> Iterator[Path]:
    for below, _, _ in os.walk(folder, topdown=False, onerror=_raise):
        yield Path(below)
    yield folder.parent


def _linked(file: Path, before: Path) -> bool:
    state = file.stat()
    try:
        return state.st_nlink > 1 and os.path.samestat(state, before.stat())
    except OSError:
        return False


def _raise(fault: OSError) -> None:
    raise fault


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY | os.O_CLOEXEC)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _put_in_place(making: Path, out: Path, leaving: Path) -> None:
    if not _there(out):
        making.rename(out)
        return
    try:
        _exchange(making, out)
    except OSError as fault:
        if fault.errno not in _CANNOT:
            raise
        _LOG.warning(
            "this system cannot exchange two folders in one step (%s): %s is renamed away, then the new one renamed to it; "
            "for that moment nothing stands there, and a run stopped just then is put right by the next",
            fault.strerror,
            out,
        )
        _rename_twice(making, out, leaving)


def _exchange(one: Path, other: Path) -> None:
    """Let two folders change places in one step: renameat2(2) with RENAME_EXCHANGE; OSError where that is not to be had."""
    call = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if call is None:
        raise OSError(errno.ENOSYS, os.strerror(errno.ENOSYS))
    call.argtypes = [ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_uint]
    if call(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE) != 0:
        code = ctypes.get_errno()
        raise OSError(code, os.strerror(code), str(one), None, str(other))


def _rename_twice(making: Path, out: Path, leaving: Path) -> None:
    out.rename(leaving)
    try:
        making.rename(out)
    except OSError:
        leaving.rename(out)
        raise


def _remove(folder: Path) -> None:
    """Remove what is no longer needed; failing that only says so, for the next run tries again."""
    try:
        if _there(folder):
            shutil.rmtree(folder)
    except OSError as fault:
        _LOG.warning("%s could not be removed (%s); the next publish removes it", folder, fault)
