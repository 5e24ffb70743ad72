"""Who does the work of an archive: this process, all cores of this machine, or a cluster of machines."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from concurrent.futures.process import ProcessPoolExecutor

Job = TypeVar("Job")
Done = TypeVar("Done")

AHEAD = 2
"""Pieces of work handed out beforehand for each that is being done, so that nobody waits and little is in memory."""
_NEEDED = (
    "dossier.audience", "dossier.keep.standing", "dossier.publish.archive_folder", "dossier.publish.dossier", "dossier.publish.pictures.encode",
    "material.plugins.offline.plugin", "material.plugins.search.plugin", "matplotlib.backends.backend_svg", "matplotlib.figure",
)  # fmt: skip
"""Imported once for all processes, where they can be had before the first piece of work."""


@dataclass(frozen=True)
class Hands:
    """Cores to use, at least one; or the address of a scheduler, which then knows how many there are."""

    cores: int = 1
    scheduler: str = ""


def all_cores() -> int:
    """Cores this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


class Crew:
    """Whoever does the work, hired as soon as there is work for more than one, and kept until the end of it."""

    def __init__(self, hands: Hands) -> None:
        self.hands = hands
        self._pool: ProcessPoolExecutor | None = None

    def each(self, work: Callable[[Job], Done], jobs: Iterable[Job], count: int) -> Iterator[Done]:
        """What comes of each of `count` jobs, as it is done; jobs are taken from the iterable only when they are about to be handed out.

        One job, or one core, is done here and costs no other process. What `work` raises is raised here, and ends the rest.
        """
        if self.hands.scheduler:
            from dossier.publish.cluster import each_on_cluster

            yield from each_on_cluster(self.hands.scheduler, work, jobs)
        elif self.hands.cores < 2 or count < 2:
            yield from map(work, jobs)
        else:
            self._pool = self._pool or _hired(min(self.hands.cores, count))
            yield from _each_by(self._pool, min(self.hands.cores, count), work, jobs)

    def once(self, work: Callable[..., Done], *given: object) -> Done:
        """One piece of work: by a process that stands ready, where there is one, with all imported and the memory for it; else here."""
        return self._pool.submit(work, *given).result() if self._pool else work(*given)

    def go(self) -> None:
        """Let all go once they are done with what they are at."""
        if self._pool:
            self._pool.shutdown(wait=True, cancel_futures=True)
            self._pool = None


@contextmanager
def crew(hands: Hands) -> Iterator[Crew]:
    """A crew for as long as there is work."""
    hired = Crew(hands)
    try:
        yield hired
    finally:
        hired.go()


def each(hands: Hands, work: Callable[[Job], Done], jobs: Iterable[Job], count: int) -> Iterator[Done]:
    """The same with a crew for this work alone."""
    with crew(hands) as hired:
        yield from hired.each(work, jobs, count)


def _hired(cores: int) -> ProcessPoolExecutor:
    from concurrent.futures.process import ProcessPoolExecutor
    from multiprocessing import get_context

    context: Any = get_context("forkserver" if hasattr(os, "fork") else "spawn")
    if hasattr(os, "fork"):
        context.set_forkserver_preload(list(_NEEDED))
    return ProcessPoolExecutor(cores, mp_context=context, initializer=_stand_by)


def _each_by(pool: ProcessPoolExecutor, cores: int, work: Callable[[Job], Done], jobs: Iterable[Job]) -> Iterator[Done]:
    from concurrent.futures import FIRST_COMPLETED, wait

    jobs = iter(jobs)
    waiting = {pool.submit(work, job) for job in islice(jobs, cores * AHEAD)}
    while waiting:
        ready, waiting = wait(waiting, return_when=FIRST_COMPLETED)
        for one in ready:
            yield one.result()
            waiting |= {pool.submit(work, job) for job in islice(jobs, 1)}


def _stand_by() -> None:
    """Leave Ctrl-C to the process that hands out the work, and end with it however it ends."""
    import signal
    import threading

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    import multiprocessing

    if parent := multiprocessing.parent_process():
        parent.join()
    os._exit(1)
