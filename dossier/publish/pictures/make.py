"""All pictures of an edition made at once: on every core, one picture in memory for each, nothing made twice, nothing
made of a changed source."""

from __future__ import annotations

import hashlib
import os
import time
from collections.abc import Callable, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from dossier.model.picture import MOST_BYTES, FileMark, Rendition
from dossier.model.picture_faults import PhotoFault, photo_fault
from dossier.publish.pictures.cache import PictureCache
from dossier.publish.pictures.put import is_there, put
from dossier.publish.pictures.recipe import PictureRequest, recipe_name

if TYPE_CHECKING:
    from dossier.publish.pictures.encode import Encoded

Progress = Callable[[int, int], None]

_TIDY_EVERY_S = 60.0
"""Looking through the cache takes as long as it is large: once for a publish, and now and then where one process publishes many."""
_TIDIED: dict[Path, float] = {}


@dataclass(frozen=True, slots=True)
class PictureRun:
    """What came of it: renditions and faults by the requests' keys (each key in one of the two), and how many pictures
    were made anew."""

    renditions: dict[str, Rendition]
    faults: dict[str, PhotoFault]
    made: int


@dataclass(frozen=True, slots=True)
class Begun:
    """A picture being made before there is a folder for it: what was asked for, and what will come of it."""

    request: PictureRequest
    encoded: Future[list[Encoded]]


def begin(request: PictureRequest, cache: Path | None) -> Begun | None:
    """Begin to make one picture beside whatever else is to be done first; None where it is kept already. Raises nothing."""
    if cache and PictureCache(cache).has(recipe_name(request)):
        return None
    # Imported before anything is begun: a thread would have to share the interpreter for it with whoever goes on.
    import dossier.publish.pictures.encode  # noqa: F401

    pool = ThreadPoolExecutor(1)
    encoded = pool.submit(_encoded_beside, request)
    pool.shutdown(wait=False)
    return Begun(request, encoded)


def _encoded_beside(request: PictureRequest) -> list[Encoded]:
    """One picture coded, while it is seen to that its source is the one that was read."""
    data = _bytes(request)
    with ThreadPoolExecutor(1) as beside:
        same = beside.submit(_refuse_other, request, data)
        try:
            return _encoded(request, data, idle=True)
        finally:
            same.result()


def make_renditions(
    requests: Sequence[PictureRequest],
    into: Path,
    cache: Path | None = None,
    progress: Progress | None = None,
    workers: int | None = None,
    begun: Begun | None = None,
) -> PictureRun:
    """Write all published files of all requests into the folder `into`; `progress` is told (done, all) after each
    picture. One of them may have been `begun`.

    Never raises at a user's file; a fault (changed since reading, unreadable) is for the caller to refuse the publish
    over. OSError when `into`
    cannot be written. ValueError when two requests bear one key. Memory: `workers` (all cores by default) times one
    picture.
    """
    if len({request.key for request in requests}) != len(requests):
        raise ValueError("two pictures bear one key")
    into.mkdir(parents=True, exist_ok=True)
    kept = PictureCache(cache) if cache else None
    results: dict[str, Rendition | PhotoFault] = {}
    made = 0
    workers = workers or _cores()
    idle = len(requests) < workers
    if kept and begun:
        _tidy_at_times(kept)  # while it is being made, for the cache is sure to be added to
    with ThreadPoolExecutor(max_workers=workers) as pool:
        waiting: dict[Future[tuple[Rendition | PhotoFault, bool]], str] = {
            pool.submit(_make_one, request, into, kept, idle, begun if begun and begun.request == request else None): request.key
            for request in requests
        }
        try:
            while waiting:
                for ready in wait(waiting, return_when=FIRST_COMPLETED).done:
                    key = waiting.pop(ready)
                    results[key], anew = ready.result()
                    made += anew
                    if progress:
                        progress(len(results), len(requests))
        except BaseException:
            pool.shutdown(wait=True, cancel_futures=True)
            raise
    if kept and made:
        _tidy_at_times(kept)
    ordered = [(request.key, results[request.key]) for request in requests]
    return PictureRun(
        {key: one for key, one in ordered if isinstance(one, Rendition)},
        {key: one for key, one in ordered if isinstance(one, PhotoFault)},
        made,
    )


def _tidy_at_times(kept: PictureCache) -> None:
    now = time.monotonic()
    if now - _TIDIED.get(kept.folder, -_TIDY_EVERY_S) >= _TIDY_EVERY_S:
        _TIDIED[kept.folder] = now
        kept.tidy()


def _make_one(
    request: PictureRequest, into: Path, cache: PictureCache | None, idle: bool, begun: Begun | None
) -> tuple[Rendition | PhotoFault, bool]:
    """One picture from the cache or anew; the second value says whether it was made anew. `idle`: there are cores to spare."""
    try:
        recipe = recipe_name(request)
        if begun:
            return _make_anew(begun.encoded.result, recipe, into, cache), True
        # A mark equal to that at reading spares reading the file; on a hit the kept picture is of the very content that
        # was read in any case.
        data = None if _unchanged(request) else _read(request)
        if cache and (found := cache.fetch(recipe, into)):
            return Rendition(found), False
        read = data if data is not None else _read(request)
        return _make_anew(lambda: _encoded(request, read, idle), recipe, into, cache), True
    except _RefusedSourceError as refused:
        return refused.fault, False


def _make_anew(encoded: Callable[[], list[Encoded]], recipe: str, into: Path, cache: PictureCache | None) -> Rendition | PhotoFault:
    """Keep and write what one picture is coded as; the picture library is imported here, so that hits do without it."""
    from dossier.publish.pictures.open_picture import UnfitPictureError

    try:
        made = encoded()
    except (UnfitPictureError, MemoryError) as error:
        return photo_fault("photo-unreadable", str(error) or "not enough memory")
    if cache:
        cache.keep(recipe, made)
    for one in made:
        if not is_there(one.file, into):
            put(one.file, one.data, into)
    return Rendition(tuple(one.file for one in made))


def _encoded(request: PictureRequest, data: bytes, idle: bool) -> list[Encoded]:
    from dossier.publish.pictures.encode import encode

    return encode(data, request.masks, request.sizes, beside=idle)


def _unchanged(request: PictureRequest) -> bool:
    """Whether the file system says that the source was not written to since reading; False when it is not there."""
    try:
        state = request.source.stat()
    except OSError:
        return False
    return request.mark == FileMark(state.st_size, state.st_mtime_ns, state.st_ctime_ns, state.st_ino)


def _read(request: PictureRequest) -> bytes:
    """The bytes of the source, refused unless they are those that were read before."""
    data = _bytes(request)
    _refuse_other(request, data)
    return data


def _bytes(request: PictureRequest) -> bytes:
    try:
        return request.source.read_bytes() if request.source.stat().st_size <= MOST_BYTES else b""
    except OSError as error:
        raise _RefusedSourceError(photo_fault("photo-missing")) from error


def _refuse_other(request: PictureRequest, data: bytes) -> None:
    if hashlib.sha256(data).hexdigest() != request.sha256:
        raise _RefusedSourceError(photo_fault("photo-changed"))


def _cores() -> int:
    """Cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


class _RefusedSourceError(Exception):
    """The source is not what was read."""

    def __init__(self, fault: PhotoFault) -> None:
        super().__init__(fault.message)
        self.fault = fault
