"""Who does the work of an archive: this process, all cores of this machine, or a cluster of machines."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Any, TypeVar

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


def each(hands: Hands, work: Callable[[Job], Done], jobs: Iterable[Job], count: int) -> Iterator[Done]:
    """What comes of each of `count` jobs, as it is done; jobs are taken from the iterable only when they are about to be handed out.

    One job, or one core, is done here and costs no other process. What `work` raises is raised here, and ends the rest.
    """
    if hands.scheduler:
        from dossier.publish.cluster import each_on_cluster

        yield from each_on_cluster(hands.scheduler, work, jobs)
    elif hands.cores < 2 or count < 2:
        yield from map(work, jobs)
    else:
        yield from _each_on_cores(min(hands.cores, count), work, jobs)


def _each_on_cores(cores: int, work: Callable[[Job], Done], jobs: Iterable[Job]) -> Iterator[Done]:
    from concurrent.futures import FIRST_COMPLETED, wait
    from concurrent.futures.process import ProcessPoolExecutor
    from multiprocessing import get_context

    context: Any = get_context("forkserver" if hasattr(os, "fork") else "spawn")
    if hasattr(os, "fork"):
        context.set_forkserver_preload(list(_NEEDED))
    jobs = iter(jobs)
    pool = ProcessPoolExecutor(cores, mp_context=context, initializer=_stand_by)
    try:
        waiting = {pool.submit(work, job) for job in islice(jobs, cores * AHEAD)}
        while waiting:
            ready, waiting = wait(waiting, return_when=FIRST_COMPLETED)
            for one in ready:
                yield one.result()
                waiting |= {pool.submit(work, job) for job in islice(jobs, 1)}
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


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
